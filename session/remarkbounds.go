package session

import (
	"time"

	"ebbline/unit"
)

// When the readings of a run are remarked on. A figure that the unit can set
// is used only where the unit set none, and the words then say whose it is.
const (
	// venousFall and venousRise are against the running value at the same
	// blood flow. A fall of 20 to 30 mmHg is when to look (common practice).
	// That pressure monitoring often misses a fallen needle, and that access,
	// needles and lines are looked at before anything is reset: EDTNA/ERCA
	// recommendations on venous needle dislodgement (Van Waeleghem JP et al.,
	// J Ren Care 2008;34:163–8, from memory). The rise is ours.
	venousFall unit.Pressure = 20
	venousRise unit.Pressure = 30
	// arterialFall: ours, between 30 and 50 mmHg more negative.
	arterialFall unit.Pressure = 40
	// arterialGone is the arterial pressure above which, and arterialRise the rise of
	// it at the same flow from which, a needle may be out or a line open. Ours.
	arterialGone unit.Pressure = -50
	arterialRise unit.Pressure = 60
	// venousGone is the venous pressure under which a needle may be out, from a blood
	// flow of goneFlow on. A fistula runs at 50 to 200 mmHg (from memory). Ours.
	venousGone unit.Pressure = 20
	goneFlow   unit.Flow     = 100
	// slid is how far a pressure may come by small steps from the value with which
	// it began at this flow, and how far a venous pressure may lie below what a
	// lower flow explains: an alarm window is about 50 mmHg round the running value
	// (from memory).
	slid unit.Pressure = 50
	// sameFlow is how far two blood flows may lie apart to be compared. Ours.
	sameFlow unit.Flow = 10
	// offLine is how far from the planned line a removal may lie, in percent,
	// and offLineMl at least: early on a tenth of little is nothing. Ours.
	offLine                = 10
	offLineMl  unit.Volume = 100
	offLineMin             = 30 * time.Minute
	// overGoal is how far over the goal a removal may read. Ours.
	overGoal unit.Volume = 50
	// lowFlow is how far below the prescribed one a blood flow may lie, in
	// percent, and settled is when the flow should have been raised. Ours.
	lowFlow = 10
	settled = 15 * time.Minute
	// tmpRise over more than tmpRun readings running, each above the one before but
	// for tmpStill of them, which dip by tmpDip at most. Ours.
	tmpRise  unit.Pressure = 50
	tmpRun   int           = 3
	tmpStill int           = 2
	tmpDip   unit.Pressure = 5
	// alike is how many readings running are remarked on when a body and a
	// needle are said to have given the same five figures each time. Ours.
	alike = 3
	// checkGrace is how late a reading may come. Ours.
	checkGrace = 15 * time.Minute
)

// Low pressure. The rule where the unit set none is ours, from the figures of
// common practice (under 100, or a fall of 30; from memory) and the definition
// tied to death.
const (
	// fallBelow is low for everybody; fallBelowHigh for a session that began at
	// fallHighStart or over; fallBy is how far under the start is low.
	fallBelow     unit.Pressure = 90
	fallBelowHigh unit.Pressure = 100
	fallHighStart unit.Pressure = 120
	fallBy        unit.Pressure = 30
	// fallNear is how far from the start two readings running may lie to be
	// inside for a person whose start is itself low. Ours.
	fallNear unit.Pressure = 10
	// sameFall is how far apart a low pressure and the trouble of that name may be
	// written to be one. Ours.
	sameFall = time.Minute
	// nadir is the lowest systolic that does not count as low pressure of the
	// session, nadirHigh that of people who start at nadirStart or more: the
	// definition tied to death (Flythe JE et al., J Am Soc Nephrol
	// 2015;26:724–34).
	nadir      unit.Pressure = 90
	nadirHigh  unit.Pressure = 100
	nadirStart unit.Pressure = 160
	// nadirFall is how far under the start one lies that holds the removal.
	nadirFall unit.Pressure = 20
)

// What lies out of bounds while running. A value equal to its bound is inside,
// but for fever, which begins at its figure.
const (
	// tooCold is the fluid temperature under which it is asked whether that is
	// meant. Ours; 35 to 37 °C is usual. [water.FluidHot] is the upper bound.
	tooCold unit.Temperature = 340
	// tmpHigh and arterialLow: ours. A pressure before the pump of no less than
	// −200 to −250 mmHg is a guideline's (KDOQI 2006, from memory).
	tmpHigh     unit.Pressure = 300
	arterialLow unit.Pressure = -250
	// feverFrom and feverRise are a body temperature while running, and its
	// rise over the temperature before the session: the definition of a febrile
	// reaction after Evers (Nephron 1995;69:110, as quoted).
	feverFrom unit.Temperature = 380
	feverRise unit.Temperature = 5
)

// How much further out a value must lie than the furthest one said to be said
// again while it stays out. Ours.
const (
	againPressure    = 10 // mmHg of blood pressure
	againPulse       = 15 // a minute
	againConduct     = 30 // hundredths of mS/cm
	againTemperature = 5  // tenths of °C
	againTMP         = 50 // mmHg
	againArterial    = 30 // mmHg
	againChlorine    = 1  // thousandths of mg/L: any higher one
)
