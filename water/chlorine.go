package water

import (
	"fmt"
	"slices"
	"time"

	"ebbline/unit"
)

// A ChlorineMethod is how total chlorine is tested at home.
type ChlorineMethod struct {
	Name  string               `json:"name"`
	Least unit.Concentration   `json:"least_mg_l"`           // the least it can tell from none
	Steps []unit.Concentration `json:"steps_mg_l,omitempty"` // the steps printed on it, if it has steps; 0 may be one
	Lots  bool                 `json:"lots,omitempty"`       // it uses strips or reagents that carry a lot and expire
}

const mg unit.Concentration = 1000 // 1 mg/L

// ChlorineMethods lists kinds of method with the least they commonly tell
// apart, to be replaced by what the pack says. The figures are from memory,
// except that strips exist whose lowest step is 0.5 mg/L, which cannot show
// that 0.1 is kept.
func ChlorineMethods() []ChlorineMethod {
	return []ChlorineMethod{
		{Name: "photometer, DPD reagent", Least: mg * 2 / 100, Lots: true},
		{Name: "colour comparator, DPD reagent", Least: mg / 10, Lots: true},
		{Name: "strip for dialysis water", Least: mg / 10, Steps: []unit.Concentration{0, mg / 10, mg / 2, mg, 3 * mg}, Lots: true},
		{Name: "strip for pools", Least: mg / 2, Steps: []unit.Concentration{0, mg / 2, mg, 3 * mg, 5 * mg}, Lots: true},
	}
}

// A ChlorineTest is one test of total chlorine (never of free chlorine alone)
// in the water that goes on to the machine.
type ChlorineTest struct {
	At      time.Time          `json:"at"`
	Op      Op                 `json:"op"` // "<" when the method showed nothing
	MgPerL  unit.Concentration `json:"total_chlorine_mg_l"`
	Method  ChlorineMethod     `json:"method"`
	Lot     string             `json:"lot,omitempty"`
	Expires unit.Date          `json:"lot_expires,omitzero"`
	After   string             `json:"after,omitempty"` // where it was drawn, "first carbon"
}

// A ChlorineRule is what the unit asks of the test.
type ChlorineRule struct {
	Limit       Limit         // of total chlorine
	MaxAge      time.Duration // from the test to the start of the session
	RepeatAfter time.Duration // in a session longer than this the test is done again, and so on; 0: not asked
}

// DefaultChlorineRule is the rule when the unit has set none: at most the
// edition's limit (0.1 mg/L), at most 60 minutes old (our own proposal), and
// again every 4 hours of a session, as clinics do. Sources: ISO 23500-3:2019;
// the clinics' test before the first treatment and every 4 hours, Clin J Am
// Soc Nephrol 2015.
func DefaultChlorineRule() ChlorineRule {
	e, _ := FindEdition(DefaultEdition) // kept here, so it is found
	l, _ := e.Limit(TotalChlorine, Standard)
	return ChlorineRule{Limit: l, MaxAge: time.Hour, RepeatAfter: 4 * time.Hour}
}

// A ChlorineStanding is what one test is worth for one start.
type ChlorineStanding struct {
	Passes   bool
	Verdict  Verdict        // of the water, as far as the method can see
	Cautions []unit.Caution // why it does not pass
}

// Judge says whether a test lets a session start at the given instant. It
// passes only when all of this holds:
//
//   - the method tells at least the limit from none: a strip whose lowest step
//     is 0.5 shows nothing about 0.1, whatever it shows;
//   - the result lies within the limit; a reading below the method's least is
//     "less than the least", never 0;
//   - it was done before the start and is not older than MaxAge;
//   - strips and reagents have their lot written down and are in date;
//   - a reading by steps is one of the printed steps.
func (r ChlorineRule) Judge(t ChlorineTest, start time.Time) ChlorineStanding {
	var s ChlorineStanding
	fail := func(code, format string, args ...any) {
		s.Cautions = append(s.Cautions, unit.Caution{Code: code, Text: fmt.Sprintf(format, args...)})
	}
	limit := number(r.Limit.Max) + " mg/L"
	s.Verdict = r.verdict(t)
	switch s.Verdict {
	case Over, Action:
		fail("chlorine_over", "Total chlorine %s is over the limit of %s: do not start; take a second sample and ring the unit.", t.MgPerL.Text(), limit)
	case CannotTell:
		fail("chlorine_cannot_tell", "This test does not show whether total chlorine is within %s.", limit)
	}
	if t.Method.Least <= 0 || t.Method.Least.Float() > r.Limit.Max {
		fail("method_cannot_read_limit", "%s cannot tell less than %s mg/L, so it cannot show that %s is kept: use a method that can.", t.Method.Name, t.Method.Least, limit)
	}
	if len(t.Method.Steps) > 0 && t.Op == Equal && !slices.Contains(t.Method.Steps, t.MgPerL) {
		fail("not_a_step", "%s is not one of the steps printed on %s.", t.MgPerL.Text(), t.Method.Name)
	}
	if t.Method.Lots {
		switch {
		case t.Lot == "":
			fail("lot_missing", "The lot of the strip or reagent is not written down.")
		case !t.Expires.IsZero() && t.Expires.Before(unit.DateOf(t.At)):
			fail("lot_expired", "Lot %s expired on %s.", t.Lot, t.Expires.Long())
		}
	}
	switch age := start.Sub(t.At); {
	case t.At.IsZero():
		fail("time_missing", "The time of the test is not written down.")
	case age < 0:
		fail("after_start", "The test was done after the start.")
	case age > r.MaxAge:
		fail("too_old", "The test is %d minutes old; up to %d are accepted: test again.", int(age.Minutes()), int(r.MaxAge.Minutes()))
	}
	s.Passes = len(s.Cautions) == 0
	return s
}

// verdict judges the reading alone.
func (r ChlorineRule) verdict(t ChlorineTest) Verdict {
	res := Result{What: TotalChlorine, Op: t.Op, Value: t.MgPerL.Float(), Unit: MgPerL}
	if t.Op == Equal && t.MgPerL < t.Method.Least || t.Op == Less && t.MgPerL < t.Method.Least {
		res.Op, res.Value = Less, t.Method.Least.Float()
	}
	j, err := r.Limit.Judge(res)
	if err != nil {
		return CannotTell
	}
	return j.Verdict
}

// Repeats lists when the test is due again in a session of the given planned
// length: every RepeatAfter from the start, while the session still runs.
func (r ChlorineRule) Repeats(start time.Time, planned time.Duration) []time.Time {
	if r.RepeatAfter <= 0 {
		return nil
	}
	var due []time.Time
	for at := r.RepeatAfter; at < planned; at += r.RepeatAfter {
		due = append(due, start.Add(at))
	}
	return due
}

// sameForLong is how many equal results in a row are remarked on. Our own
// choice: at five sessions a week, six weeks.
const sameForLong = 30

// Identical remarks on results that have been exactly the same for a long
// time, as they are when a number is written from habit. It looks at the end
// of the series, oldest first, and gives no caution below 30 in a row.
func Identical(what string, results []unit.Concentration) []unit.Caution {
	n := 0
	for i := len(results) - 1; i >= 0 && results[i] == results[len(results)-1]; i-- {
		n++
	}
	if n < sameForLong {
		return nil
	}
	return []unit.Caution{{Code: "identical_results",
		Text: fmt.Sprintf("%s has read %s %d times in a row: check the method with a sample that must show something, such as tap water.", what, results[len(results)-1].Text(), n)}}
}
