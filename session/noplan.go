package session

import (
	"slices"
	"strings"
	"time"

	"ebbline/unit"
)

// A NoPlan says why no plan is made for a session. It closes nothing: the plan is the
// unit's paper, and everything that is measured is kept; see [PaperPlan].
type NoPlan struct {
	Codes   []string // of the reasons, each once
	Profile bool     // the rate is not one rate; a straight line does not fit it
	reasons []finding
}

// Words are the sentence of every refusal, and the reasons.
func (n *NoPlan) Words() string { return strings.TrimSpace(worded("no_plan") + " " + n.Reasons()) }

// Reasons are the reasons alone, a sentence each.
func (n *NoPlan) Reasons() string {
	var list []string
	for _, f := range n.reasons {
		list = append(list, f.words())
	}
	return strings.Join(list, " ")
}

func (n *NoPlan) Error() string { return n.Words() }

func (n *NoPlan) because(f finding, values ...any) {
	f.args = values
	n.Codes = append(n.Codes, f.code)
	n.reasons = append(n.reasons, f)
}

// PregnantDryDays is how many days old the dry weight of a pregnant person may be for
// a plan: that many passes. In pregnancy it rises by weeks (common practice); the
// figure is ours.
const PregnantDryDays = 7

// NoPlanOf gives why no plan is made for a session as it stands at a moment; nil where
// one can be made. No plan is made
//
//   - for a child: the program's bounds are those of adults;
//   - with a removal or a sodium profile: the program plans one rate;
//   - in a pregnancy, unless the unit wrote its own largest removal rate, its own
//     pressures (low and high before the start, and below which or on which fall to
//     act) and a dry weight that is at most [PregnantDryDays] old on the session's day;
//   - under [LightWeight] without a removal rate of the unit.
func NoPlanOf(s *Session, h History, at time.Time) *NoPlan {
	rx := s.Rx
	if rx == nil {
		return nil // there is nothing to plan from, which is said elsewhere
	}
	n := &NoPlan{Profile: rx.Profile()}
	if s.Child {
		n.because(about("no_plan_child", nil))
	}
	if rx.RemovalProfile {
		n.because(about("no_plan_removal_profile", nil))
	}
	if rx.SodiumProfile {
		n.because(about("no_plan_sodium_profile", nil))
	}
	pregnant := IsPregnant(s, h, at)
	if pregnant {
		if rx.Rate == nil {
			n.because(about("no_plan_pregnant_rate", nil))
		}
		if rx.SystolicLow == nil || rx.SystolicHi == nil || rx.FallBelow == nil && rx.FallBy == nil {
			n.because(about("no_plan_pregnant_pressures", nil))
		}
		_, opened := s.Opened()
		if day := unit.DateOf(opened); rx.DrySetOn.Add(PregnantDryDays).Before(day) {
			n.because(about("no_plan_pregnant_dry", nil), rx.DrySetOn.Long(), PregnantDryDays)
		}
	}
	if rx.DryWeight < LightWeight && rx.Rate == nil && !slices.Contains(n.Codes, "no_plan_pregnant_rate") {
		n.because(about("no_plan_light", nil), LightWeight)
	}
	if len(n.Codes) == 0 {
		return nil
	}
	return n
}

// Profile reports whether the machine changes the removal rate, or the sodium and
// with it where the water goes, by a profile.
func (rx *Prescription) Profile() bool { return rx != nil && (rx.RemovalProfile || rx.SodiumProfile) }
