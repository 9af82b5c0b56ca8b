package simulate

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// What is asked about, and what is remarked on, stays rare enough to be read:
// over three invented lives of half a year each, typing an honest value again
// at most once in ten sessions, and remarks while running at most one in the
// middle session and three in all but one of twenty, none of them said twice
// (H-114).
func TestBudgetOfWarnings(t *testing.T) {
	var remarks []int
	sessions, asked, slips, missed := 0, 0, 0, 0
	for seed := range uint64(3) {
		life, err := Make(Options{Seed: 40 + seed, Months: 6, Until: time.Date(2026, 6, 10, 19, 30, 0, 0, Zone())})
		if err != nil {
			t.Fatal(err)
		}
		h := record.NewHousehold()
		for _, e := range life.Entries {
			if err := h.Apply(e); err != nil {
				t.Fatal(err)
			}
		}
		asked, slips, missed = asked+life.Asked, slips+life.Slips, missed+life.Missed
		for _, s := range h.Member(life.Person).Sessions {
			sessions++
			said := map[string]bool{}
			list := session.Remarks(s, s.Log[len(s.Log)-1].At)
			for _, r := range list {
				what := fmt.Sprint(r.Code, r.Words)
				if said[what] {
					t.Errorf("session %s says twice: %s", s.ID, r.Words)
				}
				said[what] = true
			}
			remarks = append(remarks, len(list))
		}
	}
	slices.Sort(remarks)
	median, most := remarks[len(remarks)/2], remarks[len(remarks)*95/100]
	t.Logf("%d sessions: %d honest values asked about, %d slips put right, %d missed; remarks: median %d, 95 of 100 within %d, most %d", sessions, asked, slips, missed, median, most, remarks[len(remarks)-1])
	if sessions < 200 {
		t.Errorf("only %d sessions", sessions)
	}
	if median > 1 || most > 3 {
		t.Errorf("remarks: median %d, 95 of 100 within %d", median, most)
	}
	if asked*10 > sessions {
		t.Errorf("%d honest values asked about in %d sessions", asked, sessions)
	}
}
