package household

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// A session that only removed fluid counts for no dose: it is not among those done,
// its day is missed, and the next one is due as if it had not been held.
func TestRemovalOnlyCountsForNoDose(t *testing.T) {
	_, plain, life := invented(t, 3, 3, nil)
	whole := DoneSessions(plain, present.Add(-days14), present)
	if len(whole) < 5 {
		t.Fatalf("%d sessions in a fortnight", len(whole))
	}
	only := whole[len(whole)-3].ID
	_, m, _ := invented(t, 3, 3, func(e *record.Entry) bool {
		if b, ok := e.Body.(*session.Opened); ok && e.Session == only {
			b.RemovalOnly = true
		}
		return true
	})
	done := DoneSessions(m, present.Add(-days14), present)
	if len(done) != len(whole)-1 {
		t.Errorf("%d sessions done, want %d", len(done), len(whole)-1)
	}
	before, after := fortnightFor(t, plain), fortnightFor(t, m)
	if len(after.Missed) != len(before.Missed)+1 || after.Hours >= before.Hours || after.StdKtV.Value >= before.StdKtV.Value {
		t.Errorf("missed %v, %.1f h, %.2f; without it %v, %.1f h, %.2f", after.Missed, after.Hours, after.StdKtV.Value, before.Missed, before.Hours, before.StdKtV.Value)
	}
	last := life.Entries[len(life.Entries)-1].At.Add(time.Hour)
	_, all, _ := invented(t, 3, 3, func(e *record.Entry) bool {
		if b, ok := e.Body.(*session.Opened); ok && e.Session == whole[len(whole)-1].ID {
			b.RemovalOnly = true
		}
		return true
	})
	if s := all.DialysedBefore(last); s == nil || s.ID != whole[len(whole)-2].ID || all.Before(last).ID != whole[len(whole)-1].ID {
		t.Errorf("the last dialysis is %v", s)
	}
}

func fortnightFor(t *testing.T, m *record.Member) *Fortnight {
	t.Helper()
	k, err := KineticOf(m, present)
	if err != nil {
		t.Fatal(err)
	}
	f, err := FortnightOf(m, k, present)
	if err != nil {
		t.Fatal(err)
	}
	return f
}

// In a pregnancy no guideline's figure of the dose is shown; the unit's own is.
func TestNoGuidelineInAPregnancy(t *testing.T) {
	h, m, _ := invented(t, 3, 4, func(e *record.Entry) bool { return e.Kind != "dose_target" })
	guideline := DoseOf(m, present)
	if guideline.Headline.Minimum == 0 || guideline.Headline.Words == UnitSetsDose {
		t.Fatalf("not pregnant: %+v", guideline.Headline)
	}
	if _, err := WeekBookOf(h, m, present); err != nil {
		t.Fatal(err)
	}
	who, _ := m.Person.Now()
	who.Pregnant = true
	add(t, h, m, "pregnant-now", "person", present.Add(-time.Hour), &who)
	v := DoseOf(m, present)
	if v.Headline.Minimum != 0 || v.Headline.Words != UnitSetsDose || v.Fortnight == nil || v.Fortnight.StdKtV.Value != guideline.Fortnight.StdKtV.Value {
		t.Errorf("headline %+v", v.Headline)
	}
	for _, month := range v.Months {
		for _, s := range month.Sampled {
			if s.Target.Minimum != 0 || s.Target.Target != 0 || s.Judged.Minimum != 0 || s.Judged.Words != UnitSetsDose {
				t.Errorf("%s: target %+v, judged %+v", s.Pair.Done.Night, s.Target, s.Judged)
			}
		}
	}
	if len(v.Next) != 0 {
		t.Errorf("sessions ahead although no plan is made: %+v", v.Next)
	}
	if _, err := WeekBookOf(h, m, present); err == nil || !strings.Contains(err.Error(), UnitSetsDose) {
		t.Errorf("weeks: %v", err)
	}
	add(t, h, m, "unit-dose", "dose_target", present.Add(-time.Hour), &record.DoseTarget{Measure: "stdktv", Minimum: "3.0", SetBy: "Dr B. Zupan (invented)", SetOn: guideline.Months[0].First.Add(-300)})
	if v := DoseOf(m, present); v.Headline.Minimum != 3 || !v.Headline.ByUnit {
		t.Errorf("with the unit's own: %+v", v.Headline)
	}
	if _, err := WeekBookOf(h, m, present); err != nil {
		t.Errorf("with the unit's own: %v", err)
	}
	who.Pregnant = false
	add(t, h, m, "after-birth", "person", present.Add(-time.Minute), &who)
	if m.Pregnant(present) {
		t.Error("written again without it, it goes on")
	}
}
