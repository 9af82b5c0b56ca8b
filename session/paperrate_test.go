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
// plan is made, with and without limits that the unit wrote. No figure of adults judges
// a child or somebody light, nothing offers another length or volume, and a pregnancy
// is shown no target.
func TestPaperRateForEachPerson(t *testing.T) {
	whole := func(*Session) {}
	rate := func(s *Session) { s.Rx.Rate = ref(unit.RatePerKg(1100)) }
	most := func(s *Session) { s.Rx.MaxRemoval = ref(unit.Volume(s.Rx.DryWeight/1000) * 4 * 11) } // 11 mL/h/kg
	none := func(s *Session) { s.Rx.RateNoneBy, s.Rx.RateNoneOn = "Dr Lind", s.Rx.OrderedOn }
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
		{"child", Whom{}, kid, "nothing", whole, row{"?" + unheld, "?" + unheld, "?" + unheld, "?" + unheld}},
		{"child", Whom{}, kid, "a rate", rate, row{"", over, over, over}},
		{"child", Whom{}, kid, "a volume", most, row{"", overMost, overMost, overMost}},
		{"child", Whom{}, kid, "sets none", none, row{}},
		{"34 kg", Whom{}, light, "nothing", whole, row{"?" + unheld, "?" + unheld, "?" + unheld, "?" + unheld}},
		{"34 kg", Whom{}, light, "a volume", most, row{"", overMost, overMost, overMost}},
		{"34 kg", Whom{}, light, "sets none", none, row{}},
		{"pregnant", Whom{Pregnant: true}, whole, "nothing", whole, row{"", "", overOurs, overOurs}},
		{"pregnant", Whom{Pregnant: true}, whole, "a rate", rate, row{"", over, over, over}},
		{"pregnant", Whom{Pregnant: true}, whole, "a volume", most, row{"", overMost, overOurs + "|" + overMost, overOurs + "|" + overMost}},
		{"pregnant", Whom{Pregnant: true}, whole, "sets none", none, row{"", "", overOurs, overOurs}},
		{"pregnant, 34 kg", Whom{Pregnant: true}, light, "nothing", whole, row{"?" + unheld, "?" + unheld, "?" + unheld, "?" + unheld}},
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
				adults := strings.Contains(words+c.Limit, "13 mL") || strings.Contains(words+c.Limit, "10 mL")
				if may := tt.who == "profile" || tt.who == "pregnant"; adults && !may {
					t.Errorf("%s: a figure of adults: %q, limit %q", name, words, c.Limit)
				}
			}
		}
	}
}
