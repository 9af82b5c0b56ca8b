package household

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A Week is a schedule to look at: never a prescription, and nothing here
// changes one.
type Week struct {
	Days       []time.Weekday // in the order of the week, Monday first; empty when EveryHours is set
	EveryHours int
	LengthMin  float64
	BloodFlow  float64 // mL/min
	Dialysate  float64 // mL/min; 0 when not known
	KoA        float64 // mL/min, the maker's; 0 when not known
	Start      int     // minute of the day at which the treatment begins
}

// What a week may be asked for: as wide as the prescription's own bounds.
var weekBounds = []struct {
	key    string
	lo, hi float64
	of     func(w *Week) float64
}{
	{"length_min", 30, 720, func(w *Week) float64 { return w.LengthMin }},
	{"blood_flow_ml_min", 50, 600, func(w *Week) float64 { return w.BloodFlow }},
	{"dialysate_flow_ml_min", 50, 1000, func(w *Week) float64 { return w.Dialysate }},
	{"koa_ml_min", 200, 2500, func(w *Week) float64 { return w.KoA }},
}

// Check refuses a week that cannot be held, with a [*unit.InputError] that
// names the key. Flows and KoA of 0 are "not known".
func (w Week) Check() error {
	for _, b := range weekBounds {
		v := b.of(&w)
		if v == 0 && (b.key == "dialysate_flow_ml_min" || b.key == "koa_ml_min") {
			continue
		}
		if !(v >= b.lo && v <= b.hi) {
			return unit.Refuse(b.key, figure(v, 0), fmt.Sprintf("%.0f to %.0f", b.lo, b.hi))
		}
	}
	switch {
	case len(w.Days) == 0 && w.EveryHours == 0:
		return unit.Refuse("days", "no day", "one day or more, or every how many hours")
	case len(w.Days) > 0 && w.EveryHours > 0:
		return unit.Refuse("every_hours", w.EveryHours, "either days or hours, not both")
	case w.EveryHours != 0 && (w.EveryHours < 12 || w.EveryHours > 168):
		return unit.Refuse("every_hours", w.EveryHours, "12 to 168")
	case w.Start < 0 || w.Start >= 24*60:
		return unit.Refuse("start", w.Start, "a time of day")
	}
	seen := map[time.Weekday]bool{}
	for _, d := range w.Days {
		if d < time.Sunday || d > time.Saturday || seen[d] {
			return unit.Refuse("days", d, "each day of the week at most once")
		}
		seen[d] = true
	}
	if w.cycleMin()/float64(max(len(w.Days), 1)) <= w.LengthMin || w.shortestGap() < 60 {
		return unit.Refuse("length_min", figure(w.LengthMin, 0), "sessions with an hour or more between them")
	}
	return nil
}

// PerWeek is how many sessions the week holds, 3.5 for every 48 hours.
func (w Week) PerWeek() float64 {
	if w.EveryHours > 0 {
		return 168 / float64(w.EveryHours)
	}
	return float64(len(w.Days))
}

func (w Week) cycleMin() float64 {
	if w.EveryHours > 0 {
		return float64(w.EveryHours) * 60
	}
	return 7 * 1440
}

// starts are the minutes of the cycle at which sessions begin; the cycle of
// days begins with Monday.
func (w Week) starts() []float64 {
	if w.EveryHours > 0 {
		return []float64{0}
	}
	var list []float64
	for _, d := range w.Days {
		list = append(list, float64((int(d)+6)%7*1440+w.Start))
	}
	slices.Sort(list)
	return list
}

// gaps are the minutes from the end of one session to the beginning of the
// next, the one before each session.
func (w Week) gaps() []float64 {
	at := w.starts()
	list := make([]float64, len(at))
	for i := range at {
		before := at[(i+len(at)-1)%len(at)]
		gap := at[i] - before
		if gap <= 0 {
			gap += w.cycleMin()
		}
		list[i] = gap - w.LengthMin
	}
	return list
}

func (w Week) shortestGap() float64 { return slices.Min(w.gaps()) }

// LongestGapH is the longest time without dialysis, in hours.
func (w Week) LongestGapH() float64 { return slices.Max(w.gaps()) / 60 }

var dayLabels = [7]string{"Sun", "Mon", "Tue", "Wed", "Thu", "Fri", "Sat"}

// When names the days: "Mon, Wed, Fri" or "every 48 hours".
func (w Week) When() string {
	if w.EveryHours > 0 {
		return fmt.Sprintf("every %d hours", w.EveryHours)
	}
	var names []string
	for _, d := range inWeek(w.Days) {
		names = append(names, dayLabels[d])
	}
	return strings.Join(names, ", ")
}

// inWeek puts days in the order of the week, Monday first.
func inWeek(days []time.Weekday) []time.Weekday {
	return slices.SortedFunc(slices.Values(days), func(a, b time.Weekday) int { return (int(a)+6)%7 - (int(b)+6)%7 })
}

// Short names the week in a picture: "4 × 4 h 10".
func (w Week) Short() string {
	n := strings.TrimSuffix(figure(w.PerWeek(), 1), ".0")
	return n + " × " + hoursText(w.LengthMin)
}

// Long names the week in words.
func (w Week) Long() string {
	s := fmt.Sprintf("%s, %s each, blood flow %.0f", w.When(), hoursText(w.LengthMin), w.BloodFlow)
	if w.Dialysate > 0 {
		s += fmt.Sprintf(", dialysate %.0f", w.Dialysate)
	}
	s += " mL/min"
	if w.KoA > 0 {
		s += fmt.Sprintf(", KoA %.0f", w.KoA)
	}
	return s
}

// hoursText writes minutes as "4 h 10", or "4 h".
func hoursText(minutes float64) string {
	m := int(math.Round(minutes))
	if m%60 == 0 {
		return fmt.Sprintf("%d h", m/60)
	}
	return fmt.Sprintf("%d h %02d", m/60, m%60)
}

// Same reports whether two weeks are one.
func (w Week) Same(o Week) bool {
	return slices.Equal(inWeek(w.Days), inWeek(o.Days)) && w.EveryHours == o.EveryHours && w.LengthMin == o.LengthMin &&
		w.BloodFlow == o.BloodFlow && w.Dialysate == o.Dialysate && w.KoA == o.KoA
}

// WeekOf is the week that a prescription orders, begun when the person usually
// begins.
func WeekOf(rx *session.Prescription, done []DoneSession) (Week, error) {
	length, _, err := rx.SessionLength()
	if err != nil {
		return Week{}, err
	}
	w := Week{EveryHours: rx.EveryHours, LengthMin: length.Float(), BloodFlow: rx.BloodFlow.Float(), Start: int(usualBegin(done))}
	for day, code := range dayNames {
		if slices.Contains(rx.Days, code) && rx.EveryHours == 0 {
			w.Days = append(w.Days, time.Weekday(day))
		}
	}
	w.Days = inWeek(w.Days)
	if rx.DialFlow != nil {
		w.Dialysate = rx.DialFlow.Float()
	} else if rx.Dialysate != nil {
		w.Dialysate = rx.Dialysate.Float() * 1000 / w.LengthMin
	}
	if rx.KoA != nil {
		w.KoA = rx.KoA.Float()
	}
	return w, w.Check()
}

// A WeekBook is all that weeks are weighed with. It is taken from the record
// once, and holds nothing of it afterwards.
type WeekBook struct {
	Washback  unit.Volume // that a goal holds, by the machine
	Now       Week        // by the prescription
	Person    Kinetic
	Rx        session.Prescription
	GainLH    float64 // usual gain between sessions, litres an hour
	AroundMin float64 // set-up and take-off of one session
	AroundIs  string  // where that comes from
	Hct       float64
	Cautions  []unit.Caution     // what stands beside every outcome
	Single    bool               // the machine makes its fluid from tap water
	Dry       float64            // kg
	StdTarget *record.DoseTarget // of the unit; nil when it set none
}

// WeekBookOf gathers it. The error is a [Lacking] when something must be
// written down first.
func WeekBookOf(h *record.Household, m *record.Member, now time.Time) (*WeekBook, error) {
	rx := m.Prescription(unit.DateOf(now))
	if rx == nil {
		return nil, Lacking("There is no prescription in force, so there is no week to compare with.")
	}
	if m.Pregnant(now) && m.TargetAt("stdktv", now) == nil {
		return nil, Lacking(UnitSetsDose + " Without a dose that it wrote, no week is weighed.")
	}
	k, err := KineticOf(m, now)
	if err != nil {
		return nil, err
	}
	done := DoneSessions(m, now.Add(-warmUp), now)
	b := &WeekBook{Person: *k, Rx: rx.Value, Washback: m.Machine().WashbackIn(&rx.Value), GainLH: GainRate(done), Dry: rx.Value.DryWeight.Float(), Hct: haematocrit(m)}
	if b.Now, err = WeekOf(&rx.Value, done); err != nil {
		return nil, Lacking("The prescription does not say enough for a week: " + err.Error() + ".")
	}
	b.Cautions = append(k.Residual.Cautions[:len(k.Residual.Cautions):len(k.Residual.Cautions)], convectionCaution(&rx.Value, k.Clearance)...)
	b.AroundMin, b.AroundIs = around(done)
	if machine, ok := h.Machine.Now(); ok {
		b.Single = machine.Kind == "single_pass"
	}
	if t := m.TargetAt("stdktv", now); t != nil {
		own := *t
		b.StdTarget = &own
	}
	b.letGo()
	return b, nil
}

// letGo drops what points into the record: weeks are weighed while it goes on.
func (b *WeekBook) letGo() {
	b.Person.Residual.collection = nil
	b.Person.Pairs = slices.Clone(b.Person.Pairs)
	for i := range b.Person.Pairs {
		p := &b.Person.Pairs[i]
		p.Pre, p.Post, p.Done.session = nil, nil, nil
	}
}

// haematocrit is the last one measured before a session, else 0.33.
func haematocrit(m *record.Member) float64 {
	for i := len(m.Bloods) - 1; i >= 0; i-- {
		b := m.Bloods[i]
		if r := b.Value.Find("haematocrit"); r != nil && b.Counts() && r.Exact() && b.Value.Timing != record.Post {
			if v, ok := r.Canonical(); ok {
				return v / 100
			}
		}
	}
	return 0.33
}

// aroundDefault is what setting up and coming off take together when the
// record has none to learn from (common practice).
const aroundDefault = 75.0

// around is the usual time from opening to treatment and from its end to the
// closing, of sessions written as they happened.
func around(done []DoneSession) (float64, string) {
	var list []float64
	for _, d := range done {
		o, at := d.session.Opened()
		_, closed := session.Last[session.Closed](d.session)
		if o.Source != "live" || o.Place != "home" || closed == nil {
			continue
		}
		before, after := d.Began.Sub(at).Minutes(), closed.At.Sub(d.Ended).Minutes()
		if before > 0 && after > 0 && before+after < 300 {
			list = append(list, before+after)
		}
	}
	if len(list) < 3 {
		return aroundDefault, "common practice, since there are too few sessions to learn from"
	}
	return middleOf(list), fmt.Sprintf("the middle of your last %d sessions", len(list))
}
