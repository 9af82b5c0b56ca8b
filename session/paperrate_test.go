package session

import (
	"fmt"
	"strings"
	"testing"

	"ebbline/unit"
)

// childsFigures are figures that a unit wrote for one child.
func childsFigures(l *Limits) {
	l.SystolicLow, l.SystolicHi, l.FallBelow = ref(unit.Pressure(80)), ref(unit.Pressure(140)), ref(unit.Pressure(75))
	l.PulseLow, l.PulseHigh = ref(unit.Pulse(60)), ref(unit.Pulse(150))
}

// The unit's paper at 8, 12, 14 and 16 mL/h/kg over 4 hours, of everybody for whom no
// plan is made, with and without limits that the unit wrote. Of a child or somebody light
// 13 stops, as a figure of adults, and is shown nowhere else; nothing offers another
// length or volume, and a pregnancy is shown no target.
func TestPaperRateForEachPerson(t *testing.T) {
	whole := func(*Session) {}
	rate := func(s *Session) { s.Rx.Rate = ref(unit.RatePerKg(1100)) }
	most := func(s *Session) { s.Rx.MaxRemoval = ref(unit.Volume(s.Rx.DryWeight/1000) * 4 * 11) } // 11 mL/h/kg
	none := func(s *Session) { s.Rx.RateNoneBy, s.Rx.RateNoneOn = "Dr Lind", s.Rx.OrderedOn }
	adults, setsNone := "above 13 mL/h/kg, a figure of adults; your unit wrote none. Ring", "a figure of adults; your unit sets none. Ring"
	unheld, over, overOurs, overMost := "No limit of your unit is written", "above your unit’s 11", "above 13", "largest removal"
	kid := func(s *Session) { s.Child = true }
	light := func(s *Session) { s.Rx.DryWeight = 34_000 }
	profile := func(s *Session) { s.Rx.RemovalProfile = true }
	type row [4]string // what is said at 8, 12, 14 and 16; "" for ready, a leading "?" for a look
	for _, tt := range []struct {
		who  string
		h    Whom
		set  func(*Session)
		unit string
		also func(*Session)
		want row
	}{
		{"child", Whom{}, kid, "nothing", whole, row{"?" + unheld, "?" + unheld, adults, adults}},
		{"child", Whom{}, kid, "a rate", rate, row{"", over, over, over}},
		{"child", Whom{}, kid, "a volume", most, row{"", overMost, adults + "|" + overMost, adults + "|" + overMost}},
		{"child", Whom{}, kid, "sets none", none, row{"", "", setsNone, setsNone}},
		{"34 kg", Whom{}, light, "nothing", whole, row{"?" + unheld, "?" + unheld, adults, adults}},
		{"34 kg", Whom{}, light, "a volume", most, row{"", overMost, adults + "|" + overMost, adults + "|" + overMost}},
		{"34 kg", Whom{}, light, "sets none", none, row{"", "", setsNone, setsNone}},
		{"pregnant", Whom{Pregnant: true}, whole, "nothing", whole, row{"", "", overOurs, overOurs}},
		{"pregnant", Whom{Pregnant: true}, whole, "a rate", rate, row{"", over, over, over}},
		{"pregnant", Whom{Pregnant: true}, whole, "a volume", most, row{"", overMost, overOurs + "|" + overMost, overOurs + "|" + overMost}},
		{"pregnant", Whom{Pregnant: true}, whole, "sets none", none, row{"", "", overOurs, overOurs}},
		{"pregnant, 34 kg", Whom{Pregnant: true}, light, "nothing", whole, row{"?" + unheld, "?" + unheld, adults, adults}},
		{"profile", Whom{}, profile, "nothing", whole, row{"", "?above 10", overOurs, overOurs}},
		{"profile", Whom{}, profile, "a rate", rate, row{"", over, over, over}},
		{"profile", Whom{}, profile, "sets none", none, row{"", "", overOurs, overOurs}},
	} {
		for i, perKg := range []unit.Volume{8, 12, 14, 16} {
			for _, peak := range []bool{false, true} { // the same as the highest rate of a lower mean
				s := byPaper(t)
				s.Child, s.Rx.Rate, s.Rx.MaxRemoval = false, nil, nil
				tt.set(s)
				tt.also(s)
				p, _ := Last[PaperPlan](s)
				back, _ := Last[ReadBack](s)
				p.Goal = perKg * 4 * unit.Volume(s.Rx.DryWeight/1000)
				if peak {
					p.Rate = ref(unit.Rate(p.Goal / 4))
					p.Goal = 4 * unit.Volume(s.Rx.DryWeight/1000)
				}
				back.Goal, back.Shown = p.Goal, fmt.Sprintf("%.2f", float64(p.Goal)/1000)
				in, _ := Last[WeighIn](s)
				in.Weight = s.Rx.DryWeight + in.Clothing + unit.Mass(p.Goal) // the paper fits the weight
				h := known()
				h.Who = tt.h
				c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckPlan)
				words := strings.ReplaceAll(c.Words, "\u00a0", " ")
				name := fmt.Sprintf("%s, the unit wrote %s, %d mL/h/kg, peak %v", tt.who, tt.unit, perKg, peak)
				want, state := tt.want[i], StopHere
				if peak { // a volume does not judge a rate
					want = strings.TrimSuffix(strings.TrimSuffix(want, overMost), "|")
				}
				if rest, look := strings.CutPrefix(want, "?"); look {
					want, state = rest, Look
				} else if want == "" {
					state = Ready
				}
				if c.State != state {
					t.Errorf("%s: %s %q, want %s", name, c.State, words, state)
				}
				for _, part := range strings.Split(want, "|") {
					if !strings.Contains(words, part) {
						t.Errorf("%s: %q lacks %q", name, words, part)
					}
				}
				for _, offered := range []string{"brings it", "fits;", "stays on", "longer, or less"} {
					if strings.Contains(words, offered) {
						t.Errorf("%s: offers %q", name, words)
					}
				}
				limit := strings.ReplaceAll(c.Limit, "\u00a0", " ")
				figure := strings.Contains(words+limit, "10 mL") || strings.Contains(words+limit, "13 mL") && c.State != StopHere
				if may := tt.who == "profile" || tt.who == "pregnant"; figure && !may {
					t.Errorf("%s: a figure of adults: %q, limit %q", name, words, c.Limit)
				}
			}
		}
	}
}

// The paper's goal is held against the weight: so far under the dry weight as the unit
// is rung for is a look, though it was typed twice. 58 kg dry; what the prescription has
// of drinks and washback comes in.
func TestPaperBeyondTheWeightIsALook(t *testing.T) {
	for _, tt := range []struct {
		name  string
		dry   unit.Mass
		ring  *unit.Mass
		under unit.Mass // below dry weight at the end
		look  bool
	}{
		{"ours", 58_000, nil, 500, false},
		{"ours", 58_000, nil, 510, true},
		{"the unit's", 58_000, ref(unit.Mass(1000)), 1000, false},
		{"the unit's", 58_000, ref(unit.Mass(1000)), 1010, true},
		{"ours, of 21 kg", 21_000, nil, 300, false},
		{"ours, of 21 kg", 21_000, nil, 310, true},
		{"the unit's, of 21 kg", 21_000, ref(unit.Mass(400)), 400, false},
	} {
		s := byPaper(t)
		s.Rx.DryWeight, s.Rx.DryRing = tt.dry, tt.ring
		p, _ := Last[PaperPlan](s)
		back, _ := Last[ReadBack](s)
		p.Goal, back.Goal, back.Shown = 800, 800, "0.80"
		in, _ := Last[WeighIn](s)
		comes := unit.Mass(s.Rx.Intake + s.Machine.WashbackIn(s.Rx))
		in.Weight = tt.dry - tt.under + in.Clothing + unit.Mass(p.Goal) - comes
		c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckPlan)
		if look := strings.Contains(c.Words, "under the dry weight. Read paper"); look != tt.look || look && c.State != Look {
			t.Errorf("%s, %s kg under: %s %q", tt.name, tt.under, c.State, c.Words)
		}
	}
}
