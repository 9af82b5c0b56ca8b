package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// said are the words of the remarks of a code, joined, with plain spaces.
func saidOfCode(s *Session, code string, minute int) (list []string) {
	for _, r := range Remarks(s, on(minute)) {
		if r.Code == code {
			list = append(list, strings.ReplaceAll(r.Words, "\u00a0", " "))
		}
	}
	return list
}

// runsByPaper is a treatment by the unit's paper that runs: 2 L in 4 h, 58 kg, and the
// unit's 12 mL/h/kg, which is 696 mL/h.
func runsByPaper(t *testing.T) *Session {
	s := byPaper(t)
	put(s, on(0), &Connected{BloodFlow: ref(unit.Flow(300))})
	return s
}

// A rate read off the machine is held against the unit's limit, against 13 mL/h/kg
// (754 mL/h) where it wrote none, and against the paper's own figures.
func TestRateReadByPaper(t *testing.T) {
	none := func(s *Session, p *PaperPlan) { s.Rx.Rate = nil }
	for _, tt := range []struct {
		name string
		set  func(*Session, *PaperPlan)
		rate unit.Rate
		says string // "" where nothing is
	}{
		{"the unit's limit", func(_ *Session, p *PaperPlan) { p.Rate = ref(unit.Rate(696)) }, 696, ""},
		{"over it", func(_ *Session, p *PaperPlan) { p.Rate = ref(unit.Rate(696)) }, 697, "read at 697 mL/h, above 696 mL/h, the limit (set by"},
		{"the highest on the paper", func(_ *Session, p *PaperPlan) { p.Rate = ref(unit.Rate(550)) }, 550, ""},
		{"over it", func(_ *Session, p *PaperPlan) { p.Rate = ref(unit.Rate(550)) }, 551, "above 550 mL/h, the highest on the paper. Set it down, and ring"},
		{"a quarter over the mean", none, 625, ""},
		{"more", none, 626, "above the paper’s 500 mL/h."},
		{"100 over a low mean", func(_ *Session, p *PaperPlan) { p.Goal = 800 }, 300, ""},
		{"more", func(_ *Session, p *PaperPlan) { p.Goal = 800 }, 301, "above the paper’s 200 mL/h."},
		{"a profile begins higher", func(s *Session, _ *PaperPlan) { s.Rx.Rate, s.Rx.RemovalProfile = nil, true }, 754, ""},
		{"above 13", func(s *Session, _ *PaperPlan) { s.Rx.Rate, s.Rx.RemovalProfile = nil, true }, 755, "above 13 mL/h/kg, where Ebbline stops; your unit wrote none. Set it down"},
		{"above 13, the unit sets none", func(s *Session, _ *PaperPlan) { s.Rx.Rate, s.Rx.RateNoneBy = nil, "Dr Lind" }, 1400, "your unit sets none. Set it down"},
	} {
		s := runsByPaper(t)
		p, _ := Last[PaperPlan](s)
		tt.set(s, p)
		put(s, on(30), &Reading{Rate: ref(tt.rate)})
		got := strings.Join(saidOfCode(s, "paper_rate_high", 31), "|")
		if (got != "") != (tt.says != "") || !strings.Contains(got, tt.says) {
			t.Errorf("%s, %d mL/h: %q, want %q", tt.name, tt.rate, got, tt.says)
		}
	}
	// Said again from 100 mL/h more on, or after one that was inside; a look each time.
	s := runsByPaper(t)
	for i, rate := range []unit.Rate{700, 799, 800, 500, 700} {
		put(s, on(30*(i+1)), &Reading{Rate: ref(rate)})
	}
	if got := saidOfCode(s, "paper_rate_high", 151); len(got) != 3 {
		t.Errorf("said %d times: %v", len(got), got)
	}
	for _, r := range Remarks(s, on(151)) {
		if r.Code == "paper_rate_high" && r.Level != LevelLook {
			t.Errorf("level %s", r.Level)
		}
	}
	// A plan that was made here has its own rule.
	own := fallen(t)
	put(own, on(30), &Reading{Rate: ref(unit.Rate(1400))})
	if got := saidOfCode(own, "paper_rate_high", 31); len(got) > 0 {
		t.Errorf("with a plan: %v", got)
	}
}

// A goal changed while running by the paper is held against the same figures over the
// time that is left, and against the largest removal; the unit's word takes the place of
// the paper's own, and of no limit.
func TestGoalChangedByPaper(t *testing.T) {
	length := func(m int) *unit.Minutes { return ref(unit.Minutes(m)) }
	for _, tt := range []struct {
		name    string
		profile bool
		b       GoalChanged
		most    unit.Volume
		high    string
		over    string
	}{
		{"3.90 L in an hour", false, GoalChanged{Goal: 3900, Length: length(60)}, 0, "is 3900 mL/h from here, above 696 mL/h, the limit", ""},
		{"the same by a profile", true, GoalChanged{Goal: 3900, Length: length(60)}, 0, "above 696 mL/h", ""},
		{"the unit said so", false, GoalChanged{Goal: 3900, Length: length(60), Unit: "nurse Amsel"}, 0, "above 696 mL/h", ""},
		{"as before", false, GoalChanged{Goal: 2000}, 0, "", ""},
		{"less time", false, GoalChanged{Goal: 2000, Length: length(180)}, 0, "is 750 mL/h from here", ""}, // 1500 of it in 2 h
		{"a little over the paper", false, GoalChanged{Goal: 2350}, 0, "", ""},                             // 1850 in 3 h: 617
		{"a quarter over the paper", false, GoalChanged{Goal: 2400}, 0, "above the paper’s 500 mL/h", ""},  // 1900 in 3 h: 633
		{"that much by the unit's word", false, GoalChanged{Goal: 2400, Unit: "nurse Amsel"}, 0, "", ""},
		{"above the largest removal", false, GoalChanged{Goal: 2110, Length: length(300)}, 2100, "", "is above 2100 mL, the largest removal (set by"},
		{"as much as the largest", false, GoalChanged{Goal: 2100, Length: length(300)}, 2100, "", ""},
		{"a length that is over", false, GoalChanged{Goal: 2000, Length: length(30)}, 0, "is 4000 mL/h from here", ""},
	} {
		s := runsByPaper(t)
		s.Rx.RemovalProfile = tt.profile
		if tt.most > 0 {
			s.Rx.MaxRemoval = ref(tt.most)
		}
		asked := strings.ReplaceAll(AgainstChange(s, &tt.b, on(60)), "\u00a0", " ")
		put(s, on(60), &tt.b)
		high, over := strings.Join(saidOfCode(s, "paper_goal_high", 61), "|"), strings.Join(saidOfCode(s, "paper_goal_most", 61), "|")
		if (high != "") != (tt.high != "") || !strings.Contains(high, tt.high) || asked != high {
			t.Errorf("%s: %q, asked %q, want %q", tt.name, high, asked, tt.high)
		}
		if (over != "") != (tt.over != "") || !strings.Contains(over, tt.over) {
			t.Errorf("%s: %q, want %q", tt.name, over, tt.over)
		}
	}
	// After the unit's word a rate is not held against the old paper.
	s := runsByPaper(t)
	put(s, on(60), &GoalChanged{Goal: 2480, Unit: "nurse Amsel"})
	put(s, on(70), &Reading{Rate: ref(unit.Rate(660))})
	if got := saidOfCode(s, "paper_rate_high", 71); len(got) > 0 {
		t.Errorf("by the unit's word: %v", got)
	}
}
