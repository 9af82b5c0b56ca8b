package household

import (
	"errors"
	"math"
	"slices"
	"time"

	"ebbline/kinetics"
	"ebbline/record"
	"ebbline/unit"
)

// A DoseView is all there is to say of a person's dose at a moment.
type DoseView struct {
	At        time.Time
	Why       string // why there is no model of the person; the rest may still be there
	Person    *Kinetic
	Fortnight *Fortnight
	NoStretch string      // why there is no fortnight
	AtBloods  *Fortnight  // the one up to the last bloods, when none were drawn in this one
	Headline  DoseVerdict // of the fortnight's standard Kt/V
	Apart     string      // when definition and algebra differ
	Algebraic float64
	Months    []DoseMonth // newest first
	Critical  []record.Critical
	Series    []BloodSeries
	Now       []Latest // the last value of each analyte
	Next      []NextSession
}

// A DoseMonth is a month of the calendar with what was sampled and done in it.
type DoseMonth struct {
	First   unit.Date
	Sampled []SampledDose // newest first
	Done    int
	Hours   float64
	Missed  []unit.Date
	Short   int
}

// Latest is the last value of an analyte before a session, with the series it
// stands in.
type Latest struct {
	Series BloodSeries
	Point  BloodPoint
	Split  bool // an earlier series of the same analyte ended not long ago
	Range  string
	Whose  string // who set the range
	Old    bool   // drawn more than 100 days ago
}

// oldDays is from when a last value is no longer "now" (ours; bloods are drawn
// monthly to quarterly).
const oldDays = 100

// DoseOf looks at everything at once.
func DoseOf(m *record.Member, now time.Time) DoseView {
	v := DoseView{At: now, Critical: m.CriticalOpen(), Series: BloodSeriesOf(m)}
	v.latest(m, now)
	k, err := KineticOf(m, now)
	v.Person = k
	v.Why = why(err)
	var sampled []SampledDose
	if k != nil {
		sampled = SampledDoses(m, k, now)
	}
	if err == nil {
		f, err := FortnightOf(m, k, now)
		v.Fortnight, v.NoStretch = f, why(err)
		v.atBloods(m, k)
	}
	v.months(m, sampled, now)
	v.apart(sampled)
	v.Headline = v.headline(m, now)
	if m.NoPlan(now) == nil {
		v.Next = nextSessions(m, now)
	}
	return v
}

func why(err error) string {
	var lack Lacking
	switch {
	case err == nil:
		return ""
	case errors.As(err, &lack):
		return string(lack)
	}
	return "The model cannot be run on what is written: " + err.Error() + "."
}

// apartBy is from which difference between the definition and the algebraic
// form it is said.
const apartBy = 0.05

// apart sets the algebraic figure of the last good pair beside the fortnight's.
func (v *DoseView) apart(sampled []SampledDose) {
	for i := len(sampled) - 1; i >= 0; i-- {
		if f := sampled[i].Figure("stdktv"); f.Has && !sampled[i].Spoilt && sampled[i].Pair.Fits() {
			v.Algebraic = f.Value
			break
		}
	}
	if v.Fortnight == nil || !v.Fortnight.StdKtV.Exists || v.Algebraic == 0 {
		return
	}
	def := v.Fortnight.StdKtV.Value
	if off := v.Algebraic/def - 1; math.Abs(off) > apartBy {
		way := "more"
		if off < 0 {
			way = "less"
		}
		v.Apart = "The algebraic form, from the last bloods, says " + figure(100*math.Abs(off), 0) + " % " + way +
			" than the sessions as they were done. It takes all sessions of a week as equal and evenly spread; trust the sessions as done, and look at what was missed, short or moved."
	}
}

// monthsBack is how many months the view goes back.
const monthsBack = 12

func (v *DoseView) months(m *record.Member, sampled []SampledDose, now time.Time) {
	today := unit.DateOf(now)
	first := firstOf(today)
	for range monthsBack {
		next := firstOf(first.Add(32))
		mon := DoseMonth{First: first}
		from, to := first.Time(now.Location()), next.Time(now.Location())
		if to.After(now) {
			to = now
		}
		for _, d := range DoneSessions(m, from, to.Add(24*time.Hour)) {
			if d.Night.Before(first) || !d.Night.Before(next) {
				continue
			}
			mon.Done++
			mon.Hours += d.LengthMin / 60
			if length, ok := orderedLength(d.session); ok && d.LengthMin < length-shortBy {
				mon.Short++
			}
		}
		for i := len(sampled) - 1; i >= 0; i-- {
			if n := sampled[i].Pair.Done.Night; !n.Before(first) && n.Before(next) {
				mon.Sampled = append(mon.Sampled, sampled[i])
			}
		}
		if len(m.Sessions) > 0 {
			_, opened := m.Sessions[0].Opened()
			begin := from.Add(-24 * time.Hour)
			if opened.After(begin) {
				begin = opened.Add(-24 * time.Hour)
			}
			if begin.Before(to) {
				mon.Missed = slices.DeleteFunc(missedDays(m, begin, to), func(d unit.Date) bool { return d.Before(first) })
			}
		}
		if mon.Done > 0 || len(mon.Sampled) > 0 {
			v.Months = append(v.Months, mon)
		}
		first = firstOf(first.Add(-1))
	}
}

func firstOf(d unit.Date) unit.Date {
	y, mon, _ := d.Time(time.UTC).Date()
	return unit.NewDate(y, mon, 1)
}

// latest picks the last value of each analyte before a session, or at another
// time where there is none before one.
func (v *DoseView) latest(m *record.Member, now time.Time) {
	at := map[string]int{}
	for _, s := range v.Series {
		if s.Timing == record.Post {
			continue
		}
		p := s.Points[len(s.Points)-1]
		one := Latest{Series: s, Point: p, Range: m.LimitsAt(s.Analyte.Code, now).Words(p.Result), Old: unit.DateOf(now).Sub(unit.DateOf(p.Blood.At)) > oldDays}
		one.Whose = m.LimitsAt(s.Analyte.Code, p.Blood.Since).Whose()
		i, ok := at[s.Analyte.Code]
		switch {
		case !ok:
			at[s.Analyte.Code] = len(v.Now)
			v.Now = append(v.Now, one)
		case !p.Blood.At.Before(v.Now[i].Point.Blood.At):
			fresh := unit.DateOf(now).Sub(unit.DateOf(s.Points[0].Blood.At)) <= oldDays
			one.Split = fresh && v.Now[i].Series.Timing == s.Timing
			v.Now[i] = one
		}
	}
}

// Newest is the last session with a pair of ureas, or nil.
func (v *DoseView) Newest() *SampledDose {
	for i := range v.Months {
		if len(v.Months[i].Sampled) > 0 {
			return &v.Months[i].Sampled[0]
		}
	}
	return nil
}

// UnitSetsDose is said in the place of every figure of a guideline in a pregnancy: those
// figures are of people who are not pregnant (common practice).
const UnitSetsDose = "Pregnant: no guideline’s figure is shown. Your unit sets it."

// headline holds the fortnight's standard Kt/V against what is wanted of it:
// the unit's own minimum, else the guideline's where that is the measure for
// this schedule. At three sessions a week it judges single sessions, and
// nothing is said of the fortnight.
func (v *DoseView) headline(m *record.Member, now time.Time) DoseVerdict {
	if v.Fortnight == nil || !v.Fortnight.StdKtV.Exists {
		return DoseVerdict{}
	}
	f := DoseFigure{Key: "stdktv", Name: "standard Kt/V", Decimals: 2, Has: true, Value: v.Fortnight.StdKtV.Value, Low: v.Fortnight.Low, High: v.Fortnight.High}
	if t := m.TargetAt("stdktv", now); t != nil {
		return f.against(t.Minimum.Float(), "the limits your unit set on "+t.SetOn.Long(), true)
	}
	if m.Pregnant(now) {
		return DoseVerdict{Words: UnitSetsDose}
	}
	rx := m.Prescription(unit.DateOf(now))
	if rx == nil {
		return DoseVerdict{}
	}
	t, err := kinetics.TargetFor(rx.Value.PerWeek(), v.Person.Residual.MlMin)
	if err != nil || t.Measure != "stdktv" {
		return DoseVerdict{Words: "The guideline judges three sessions a week by the single session; see below."}
	}
	return f.against(t.Minimum, "the guideline’s figure", false)
}

// atBloods follows the fortnight up to the last pair of ureas, so that what was
// measured can be seen on the curve.
func (v *DoseView) atBloods(m *record.Member, k *Kinetic) {
	last := k.lastUsed()
	if v.Fortnight == nil || last.Pre == nil || last.Done.Began.After(v.Fortnight.From) {
		return
	}
	if f, err := FortnightOf(m, k, last.Done.Ended.Add(36*time.Hour)); err == nil {
		v.AtBloods = f
	}
}
