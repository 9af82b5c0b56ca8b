package session

import (
	"fmt"

	"ebbline/fluid"
	"ebbline/unit"
)

// Heparin is what to draw up for the prescribed dose from the vial in hand.
type Heparin struct {
	Strength  unit.Strength
	Bolus     unit.Dose
	Line      unit.Dose  // for the pump, until it stops
	BolusVol  unit.Drawn // to 0.01 mL
	LineVol   unit.Drawn
	ReadAgain bool   // the strength is another than last time or than prescribed
	Why       string // which, in words
}

// DrawHeparin gives the volumes that hold the prescribed heparin at the
// strength read from the vial this time:
//
//	line = hourly dose · (length − stop before the end), to the whole IU
//	mL   = IU / (IU/mL), to the hundredth
//
// It proposes no dose: without a prescribed one, without a strength, or with
// low-molecular-weight heparin that is not prescribed in IU it returns an
// [*unit.InputError]. ReadAgain asks to read the label aloud and type the
// strength a second time.
func DrawHeparin(rx *Prescription, strength unit.Strength, last *unit.Strength, length unit.Minutes) (Heparin, error) {
	if rx == nil || rx.Heparin == "" || rx.Heparin == "none" {
		return Heparin{}, unit.Refuse("heparin", "none", "a heparin that your unit prescribed")
	}
	if strength <= 0 {
		return Heparin{}, unit.Refuse("strength_iu_ml", strength, "the strength on the vial in your hand, in IU/mL")
	}
	h := Heparin{Strength: strength, Line: lineDose(rx, length)}
	if rx.HepBolus != nil {
		h.Bolus = *rx.HepBolus
	}
	if h.Bolus <= 0 && h.Line <= 0 {
		return Heparin{}, unit.Refuse("heparin_bolus_iu", "no dose", "a dose in IU in the prescription")
	}
	var err error
	if h.BolusVol, err = volumeFor(h.Bolus, strength); err != nil {
		return Heparin{}, err
	}
	if h.LineVol, err = volumeFor(h.Line, strength); err != nil {
		return Heparin{}, err
	}
	h.Why = strengthChange(rx, strength, last)
	h.ReadAgain = h.Why != ""
	return h, nil
}

// lineDose is the pump's prescribed dose over a session of this length.
func lineDose(rx *Prescription, length unit.Minutes) unit.Dose {
	if rx.HepHourly == nil || *rx.HepHourly <= 0 {
		return 0
	}
	minutes := int64(length)
	if rx.HepStop != nil {
		minutes -= int64(*rx.HepStop)
	}
	return unit.Dose((int64(*rx.HepHourly)*max(minutes, 0) + 30) / 60)
}

// volumeFor gives the volume of a dose to the hundredth of a millilitre.
func volumeFor(dose unit.Dose, strength unit.Strength) (unit.Drawn, error) {
	if dose <= 0 {
		return 0, nil
	}
	drawn, err := fluid.Draw(fluid.DrawInput{
		Dose:     fluid.Amount{Value: dose.Float(), Unit: fluid.IU},
		Strength: fluid.Amount{Value: strength.Float(), Unit: fluid.IUPerMl},
	})
	if err != nil {
		return 0, err
	}
	return unit.Drawn(0).Near(drawn.DrawMl), nil
}

// strengthChange says which strength this one differs from, or nothing.
func strengthChange(rx *Prescription, strength unit.Strength, last *unit.Strength) string {
	switch {
	case last != nil && *last != strength:
		return "last time it was " + strengthText(*last)
	case rx != nil && rx.HepStrength != nil && *rx.HepStrength != strength:
		return "prescribed is " + strengthText(*rx.HepStrength)
	}
	return ""
}

// LabelAgain says why the label of the vial is to be read aloud and its strength
// typed again, and is empty when it need not be, or when it was: a strength that
// is another than last time's, or than the prescribed one, is where ten times too
// much comes from.
func LabelAgain(rx *Prescription, b HeparinDrawn, last *unit.Strength) string {
	why := strengthChange(rx, b.Strength, last)
	switch {
	case why == "":
		return ""
	case b.LabelRead == nil:
		return fmt.Sprintf("%s; %s. Read the label aloud, type it again.", strengthText(b.Strength), why)
	case *b.LabelRead != b.Strength:
		return fmt.Sprintf("Strength typed %s, then %s. Read the label again.", strengthText(b.Strength), strengthText(*b.LabelRead))
	}
	return ""
}

// HeparinAgainst compares heparin in the syringe with the prescription and
// says each thing that is not as it should be. The pump's dose may be drawn for
// the whole session or only until it stops.
func HeparinAgainst(rx *Prescription, b HeparinDrawn, last *unit.Strength, length unit.Minutes) []string {
	var found []string
	say := func(format string, args ...any) { found = append(found, fmt.Sprintf(format, args...)) }
	if b.Strength <= 0 {
		say("No strength. Read it off the vial.")
		return found
	}
	if again := LabelAgain(rx, b, last); again != "" {
		found = append(found, again)
	}
	if rx.HepBolus != nil && b.Bolus != *rx.HepBolus {
		say("Bolus %s, prescribed %s. Draw up anew.", doseText(b.Bolus), doseText(*rx.HepBolus))
	}
	if rx.HepBolus == nil && rx.Heparin == "unfractionated" && b.Bolus > 0 {
		say("Bolus %s, none prescribed.", doseText(b.Bolus))
	}
	if length > 0 || rx.HepHourly == nil {
		least, whole := lineDose(rx, length), lineDose(&Prescription{HepHourly: rx.HepHourly}, length)
		if b.Line < least || b.Line > whole {
			say("Pump %s, prescribed %s. Draw up anew.", doseText(b.Line), doseText(least))
		}
	}
	for _, p := range []struct {
		what string
		dose unit.Dose
		vol  unit.Drawn
	}{{"Bolus", b.Bolus, b.BolusVol}, {"Pump", b.Line, b.LineVol}} {
		want, err := volumeFor(p.dose, b.Strength)
		if d := want - p.vol; err != nil || max(d, -d) > 1 {
			say("%s %s is %s mL at this strength, not %s.", p.what, doseText(p.dose), want, p.vol)
		}
	}
	return found
}

// Anaesthetic sums local anaesthetic over a session against its limit.
type Anaesthetic struct {
	fluid.Anaesthesia
	Whose string // whose limit it is
	Words string // when over it, or when a volume is large; else empty
}

// askVolume is the volume of anaesthetic above which the entry asks: 0.1 to
// 0.3 mL a site is usual (common practice).
const askVolume unit.Drawn = 500

// SumAnaesthetic adds up the local anaesthetic of a session. The limit is the
// unit's; where it set none, the stricter published one of 3 mg/kg of dry
// weight and 200 mg in all.
func SumAnaesthetic(s *Session) (Anaesthetic, error) {
	rx := s.Rx
	if rx == nil {
		return Anaesthetic{}, unit.Refuse("prescription_id", "no prescription", "one from your unit")
	}
	var given []fluid.Injection
	var large unit.Drawn
	Each(s, func(b *AnaestheticDrawn, _ *Event) {
		given = append(given, fluid.Injection{Site: "drawn up", Ml: b.Volume, Strength: b.Strength})
		large = max(large, b.Volume)
	})
	limit, whose := fluid.StricterLidocaine(), ownDefault+" ("+fluid.StricterLidocaine().Source+")"
	if rx.Anaesthetic != nil {
		// The unit's figure counts whatever the weight.
		mg := rx.Anaesthetic.Float()
		limit = fluid.AnaestheticLimit{MgPerKg: mg, MostMg: mg, Source: setByUnit(rx)}
		whose = setByUnit(rx)
	}
	sum, err := fluid.SumAnaesthetic(given, rx.DryWeight, limit)
	if err != nil {
		return Anaesthetic{}, err
	}
	a := Anaesthetic{Anaesthesia: sum, Whose: whose}
	switch {
	case sum.Over:
		a.Words = fmt.Sprintf("%.4g mg of local anaesthetic, limit %.4g mg. Stop; ring your unit.", sum.TotalMg, sum.LimitMg)
	case large > askVolume:
		a.Words = large.Text() + " of local anaesthetic drawn up: is that right?"
	}
	return a, nil
}
