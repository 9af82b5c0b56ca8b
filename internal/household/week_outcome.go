package household

import (
	"context"
	"fmt"
	"math"
	"time"

	"ebbline/kinetics"
	"ebbline/unit"
)

// A WeekOutcome is what a week would do, by the model of the person, with the
// ranges of the estimate. It is for looking at and asking.
type WeekOutcome struct {
	Week
	StdKtV    kinetics.Likely // by definition, residual clearance included
	PeakMmolL kinetics.Likely
	MeanMmolL kinetics.Likely
	SpKtV     kinetics.Likely // of the session with the least
	Target    kinetics.Target
	ByUnit    bool
	Minimum   float64
	Share     float64 // of the persons who fit the bloods for whom the minimum is reached
	Phosphate Phosphate
	Rates     []SessionRate
	MaxRate   float64 // mL/h/kg
	Over      string  // which of the unit's limits the usual gain would pass
	GapH      float64
	OnH       float64 // hours a week on the machine
	AroundH   float64 // with setting up and coming off
	Dialysate float64 // litres a week; 0 when not known
	Water     float64 // litres a week to the machine; 0 when it makes no fluid from water or that is not known
	PerMonth  float64 // sessions, and so sets of supplies
	Evenings  int     // free, of seven
}

// A SessionRate is the removal of one session at the usual gain.
type SessionRate struct {
	Day     string
	Litres  float64 // drinks in the session and washback included
	RatePer float64 // mL/h/kg
}

// Phosphate is how the phosphate before sessions would move against today's
// week, if nothing else changed: direction and size, no more.
type Phosphate struct {
	Has       bool
	Relative  float64 // 0.84 is 16 % lower
	Low, High float64 // with the body's stores refilling as slowly or as fast as in half of people
	Says      string
}

// Outcome weighs a week with n persons who fit the bloods.
func (b *WeekBook) Outcome(w Week, n int) (WeekOutcome, error) {
	out, err := b.outcomeWith(w, b.Person.Estimate.Draws(n))
	if err != nil {
		return out, err
	}
	out.Phosphate = b.phosphate(w)
	return out, nil
}

func (b *WeekBook) outcomeWith(w Week, draws []kinetics.Draw) (WeekOutcome, error) {
	out := WeekOutcome{Week: w, GapH: w.LongestGapH(), OnH: w.PerWeek() * w.LengthMin / 60, PerMonth: w.PerWeek() * 365.25 / 84}
	if err := w.Check(); err != nil {
		return out, err
	}
	out.AroundH = out.OnH + w.PerWeek()*b.AroundMin/60
	if w.Dialysate > 0 {
		out.Dialysate = w.Dialysate * w.LengthMin * w.PerWeek() / 1000
		if b.Single {
			out.Water = out.Dialysate + w.Dialysate*rinseMin*w.PerWeek()/1000
		}
	}
	out.Evenings = b.freeEvenings(w)
	b.rates(&out)
	c, err := b.cycle(w)
	if err != nil {
		return out, err
	}
	if err := b.aim(&out); err != nil {
		return out, err
	}
	return out, b.spread(&out, c, draws)
}

// rinseMin is the flow of dialysate besides the treatment, as minutes: rinsing,
// preparing, disinfecting. Ours.
const rinseMin = 30

// cycle writes the week as the model takes it, at the usual gain.
func (b *WeekBook) cycle(w Week) (kinetics.Cycle, error) {
	c := kinetics.Cycle{LengthMin: w.cycleMin()}
	gaps := w.gaps()
	for i, at := range w.starts() {
		removed := b.GainLH * (gaps[i] + w.LengthMin) / 60
		k, err := b.clearance(w, removed*1000/w.LengthMin)
		if err != nil {
			return c, err
		}
		c.Sessions = append(c.Sessions, kinetics.CycleSession{StartMin: at, LengthMin: w.LengthMin, ClearanceMlMin: k, RemovedL: removed})
	}
	return c, nil
}

// clearance of the week's dialyser at its flows. Without a KoA the clearance is
// the one that the bloods say, whatever the flows: they cannot be changed then.
func (b *WeekBook) clearance(w Week, removal float64) (float64, error) {
	if b.Person.Clearance == FromVolume || w.KoA == 0 || w.Dialysate == 0 {
		if w.BloodFlow != b.Now.BloodFlow || w.Dialysate != b.Now.Dialysate || w.KoA != b.Now.KoA {
			return 0, unit.Refuse("koa_ml_min", "other flows", "the KoA of the dialyser in the prescription, before flows can be changed here")
		}
		for i := len(b.Person.Pairs) - 1; i >= 0; i-- {
			if k := b.Person.Pairs[i].Done.Clearance; k > 0 {
				return k, nil
			}
		}
		return 0, Lacking("No session with bloods says what the clearance is.")
	}
	return ExpectedClearance(w.KoA, w.BloodFlow, w.Dialysate, math.Min(removal, w.BloodFlow/2))
}

// rates works out the removal of each session, with what is drunk in it and
// washed back, against the unit's limits.
func (b *WeekBook) rates(out *WeekOutcome) {
	extra := (b.Rx.Intake + b.Washback + b.Rx.FlushesPlanned(unit.Minutes(out.LengthMin))).Float() / 1000
	most := 0.0
	for i, gap := range out.gaps() {
		r := SessionRate{Day: "each", Litres: b.GainLH*gap/60 + extra}
		if out.EveryHours == 0 {
			r.Day = dayLabels[inWeek(out.Days)[i]]
		}
		r.RatePer = r.Litres * 1000 / (out.LengthMin / 60) / b.Dry
		out.Rates = append(out.Rates, r)
		out.MaxRate, most = max(out.MaxRate, r.RatePer), max(most, r.Litres)
	}
	switch {
	case b.Rx.Rate != nil && out.MaxRate > b.Rx.Rate.Float():
		out.Over = fmt.Sprintf("over the removal rate of %s your unit set on %s", b.Rx.Rate.Text(), b.Rx.SetOn.Long())
	case b.Rx.MaxRemoval != nil && most*1000 > b.Rx.MaxRemoval.Float():
		out.Over = fmt.Sprintf("over the largest removal of %s your unit set on %s", b.Rx.MaxRemoval.Text(), b.Rx.SetOn.Long())
	}
}

// aim finds what the week is held against.
func (b *WeekBook) aim(out *WeekOutcome) error {
	t, err := kinetics.TargetFor(out.PerWeek(), b.Person.Residual.MlMin)
	if err != nil {
		return err
	}
	out.Target, out.Minimum = t, t.Minimum
	if b.StdTarget != nil {
		out.Target.Measure, out.Minimum, out.ByUnit = "stdktv", b.StdTarget.Minimum.Float(), true
		out.Target.Target = out.Minimum
	}
	return nil
}

// spread runs the week for every draw.
func (b *WeekBook) spread(out *WeekOutcome, c kinetics.Cycle, draws []kinetics.Draw) error {
	own := kinetics.Cycle{LengthMin: c.LengthMin, Sessions: make([]kinetics.CycleSession, len(c.Sessions))}
	into := make([]kinetics.Levels, 0, len(c.Sessions))
	one := func(p kinetics.Pools, factor float64) (std, peak, mean, sp float64, err error) {
		copy(own.Sessions, c.Sessions)
		for i := range own.Sessions {
			own.Sessions[i].ClearanceMlMin *= factor
		}
		s, err := p.Steady(own, into)
		if err != nil {
			return 0, 0, 0, 0, err
		}
		sp = math.Inf(1)
		for _, l := range s.Sessions {
			peak = max(peak, l.Pre)
			if l.SpKtV.Exists {
				sp = min(sp, l.SpKtV.Value)
			}
		}
		if math.IsInf(sp, 1) {
			sp = 0
		}
		return s.StdKtV, mmolOf(peak), mmolOf(s.TimeAveraged), sp, nil
	}
	var err error
	if out.StdKtV.Value, out.PeakMmolL.Value, out.MeanMmolL.Value, out.SpKtV.Value, err = one(b.Person.Pools, b.Person.Factor); err != nil {
		return err
	}
	// Levels go with the generation, and the last months' stands for the next
	// ones; the draws spread over the mean of all months.
	lately := b.Person.Pools.GenerationMgMin / b.Person.Estimate.GenerationMgMin.Value
	var std, peak, mean, sp []float64
	reached := 0
	for _, d := range draws {
		a, p, m, s, err := one(b.Person.Estimate.Pools(d), d.ClearanceFactor)
		if err != nil {
			continue // a person who cannot be: none of these is likely
		}
		std, peak, mean, sp = append(std, a), append(peak, lately*p), append(mean, lately*m), append(sp, s)
		if v := a; v >= out.Minimum && out.Target.Measure == "stdktv" || out.Target.Measure == "spktv" && s >= out.Minimum {
			reached++
		}
	}
	if len(std) > 0 {
		out.Share = float64(reached) / float64(len(std))
		out.StdKtV.Low, out.StdKtV.High = eightyOf(std)
		out.PeakMmolL.Low, out.PeakMmolL.High = eightyOf(peak)
		out.MeanMmolL.Low, out.MeanMmolL.High = eightyOf(mean)
		out.SpKtV.Low, out.SpKtV.High = eightyOf(sp)
	}
	return nil
}

// Meets reports whether the week meets its target: the likeliest figure what is
// to be aimed for, and the minimum for nine of ten persons who fit the bloods.
func (o *WeekOutcome) Meets() bool {
	value := o.StdKtV.Value
	if o.Target.Measure == "spktv" {
		value = o.SpKtV.Value
	}
	return value >= o.Target.Target && o.Share >= 0.9
}

// eveningFrom and eveningTo bound what counts as an evening.
const (
	eveningFrom = 18 * 60
	eveningTo   = 21 * 60
)

// freeEvenings counts the evenings on which neither a session nor what is
// around it lies, of seven; every so many hours it counts over the long run.
func (b *WeekBook) freeEvenings(w Week) int {
	if w.EveryHours > 0 {
		return int(math.Round(7 - math.Min(w.PerWeek(), 7)))
	}
	half := b.AroundMin / 2
	free := 0
	for day := range 7 {
		from, to := float64(day*1440+eveningFrom), float64(day*1440+eveningTo)
		taken := false
		for _, at := range w.starts() {
			for _, turn := range []float64{-7 * 1440, 0, 7 * 1440} {
				a, z := at+turn-half, at+turn+w.LengthMin+half
				taken = taken || a < to && z > from
			}
		}
		if !taken {
			free++
		}
	}
	return free
}

// Compare weighs weeks side by side, telling how many are done.
func (b *WeekBook) Compare(ctx context.Context, weeks []Week, n int, done func(int)) ([]WeekOutcome, error) {
	draws := b.Person.Estimate.Draws(n)
	out := make([]WeekOutcome, 0, len(weeks))
	for i, w := range weeks {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		one, err := b.outcomeWith(w, draws)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", w.Long(), err)
		}
		out = append(out, one)
		if done != nil {
			done(i + 1)
		}
	}
	return out, nil
}

// nightStart is when a session too long for an evening begins.
const nightStart = 22 * 60

// Candidates are some 200 weeks around today's: three to six sessions, two to
// eight hours, at today's flows and gentler ones. Sessions of more than five
// and a half hours are taken as nights.
func (b *WeekBook) Candidates() []Week {
	days := [][]time.Weekday{
		{time.Monday, time.Wednesday, time.Friday},
		nil, // every 48 hours
		{time.Monday, time.Tuesday, time.Thursday, time.Saturday},
		{time.Monday, time.Tuesday, time.Thursday, time.Friday, time.Sunday},
		{time.Monday, time.Tuesday, time.Wednesday, time.Thursday, time.Friday, time.Saturday},
	}
	for i, set := range days {
		if b.Now.EveryHours == 0 && len(set) == len(b.Now.Days) {
			days[i] = b.Now.Days // the person's own days, where there are as many
		}
	}
	flows := [][2]float64{{b.Now.BloodFlow, b.Now.Dialysate}}
	if b.Person.Clearance == FromKoA && b.Now.KoA > 0 && b.Now.Dialysate > 0 {
		for _, gentle := range [][2]float64{{b.Now.BloodFlow, 300}, {200, 300}} {
			if gentle[1] < b.Now.Dialysate && gentle[0] <= b.Now.BloodFlow {
				flows = append(flows, gentle)
			}
		}
	}
	list := []Week{b.Now}
	for _, set := range days {
		for length := 120.0; length <= 480; length += 30 {
			for _, f := range flows {
				w := Week{Days: set, LengthMin: length, BloodFlow: f[0], Dialysate: f[1], KoA: b.Now.KoA, Start: b.Now.Start}
				if set == nil {
					w.EveryHours = 48
				}
				if length > 330 {
					w.Start = nightStart
				}
				if w.Check() == nil && !w.Same(b.Now) {
					list = append(list, w)
				}
			}
		}
	}
	return list
}
