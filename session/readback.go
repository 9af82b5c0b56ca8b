package session

import (
	"slices"
	"strings"

	"ebbline/unit"
)

// A Difference is what the machine shows against what was planned, side by
// side. While there is one, the machine is not set as agreed.
type Difference struct {
	What    string // "fluid goal" or "time"
	Planned string // in the machine's own unit and digits
	Shown   string
	Hint    string // what kind of slip it looks like, or empty
}

// Words says the difference and what to do.
func (d Difference) Words() string {
	w := "Plan " + d.Planned + ", machine " + d.Shown + "."
	if d.Hint != "" {
		w += " " + d.Hint + "."
	}
	return w + " Set the machine again, then type what it shows."
}

// CompareGoal sets what a person typed off the machine's goal field beside the
// plan. A value that differs by more than one in the field's last digit is a
// difference; the value is returned all the same, to be recorded. Text that is
// no number is refused with an [*unit.InputError].
func CompareGoal(plan AgreedPlan, m Machine, typed string) (ReadBack, *Difference, error) {
	shown := strings.TrimSpace(typed)
	goal, err := m.ReadGoal(shown)
	if err != nil {
		return ReadBack{}, nil, err
	}
	back := ReadBack{Goal: goal, Shown: shown}
	if GoalMatches(plan, m, goal) {
		return back, nil, nil
	}
	planned := m.goalDigits(plan.SetGoal)
	return back, &Difference{
		What:    "fluid goal",
		Planned: planned + "\u00a0" + m.goalUnit(),
		Shown:   strings.Replace(shown, ",", ".", 1) + "\u00a0" + m.goalUnit(),
		Hint:    hint(plan.SetGoal, goal, planned, shown),
	}, nil
}

// GoalMatches reports whether a goal read off the machine is the planned one, to
// one in the last digit of the machine's field.
func GoalMatches(plan AgreedPlan, m Machine, goal unit.Volume) bool {
	d := goal - plan.SetGoal
	return max(d, -d) <= m.lastDigit()
}

// readsAs reports whether all that was read off the machine is as planned.
func readsAs(plan AgreedPlan, m Machine, b ReadBack) bool {
	return GoalMatches(plan, m, b.Goal) && (b.Length == nil || CompareLength(plan, *b.Length) == nil)
}

// CompareLength sets the time the machine shows beside the plan; more than a
// minute apart is a difference.
func CompareLength(plan AgreedPlan, shown unit.Minutes) *Difference {
	if d := shown - plan.Length; max(d, -d) <= 1 {
		return nil
	}
	diff := &Difference{What: "time", Planned: hoursText(plan.Length), Shown: hoursText(shown)}
	if shown*60 == plan.Length || shown == plan.Length*60 {
		diff.Hint = "Hours and minutes look exchanged"
	}
	return diff
}

// hint names the slip a wrong goal looks like.
func hint(planned, shown unit.Volume, plannedDigits, typed string) string {
	if planned <= 0 || shown <= 0 {
		return ""
	}
	for f := unit.Volume(10); f <= 1000; f *= 10 {
		if shown == planned*f || planned == shown*f {
			return "The point looks lost or out of place"
		}
	}
	if sameDigits(plannedDigits, typed) {
		return "The digits look exchanged"
	}
	return ""
}

// sameDigits reports whether two numbers hold the same digits in another order,
// zeros at the end left aside.
func sameDigits(a, b string) bool {
	digits := func(s string) []rune {
		var out []rune
		for _, c := range s {
			if c > '0' && c <= '9' {
				out = append(out, c)
			}
		}
		slices.Sort(out)
		return out
	}
	return slices.Equal(digits(a), digits(b))
}
