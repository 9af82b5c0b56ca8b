package session

import (
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// marked makes a ready session one of somebody whose blood sugar the unit marked.
func marked(t *testing.T) *Session {
	s := ready(t)
	s.Rx.GlucoseMarked = true
	return s
}

func sugarOf(hundredths int) *Glucose { return &Glucose{Value: ref(unit.Molar(hundredths))} }
func sugarMg(tenths int) *Glucose     { return &Glucose{Mg: ref(unit.MgPerDl(tenths))} }

// The states of the check, with each bound and its neighbours (H-143).
func TestSugarBeforeTheStart(t *testing.T) {
	low, lo, hi := &Glucose{Shows: MeterLow}, "“Lo”: too low for a number", &Glucose{Shows: MeterHigh}
	at := func(minute int, b *Glucose) func(*Session) {
		return func(s *Session) { put(s, evening.Add(mins(minute)), b) }
	}
	for _, tt := range []struct {
		name  string
		want  CheckState
		words string
		limit string
		do    []func(*Session)
	}{
		{"nothing measured", OpenYet, "Measure your blood sugar.", "", nil},
		{"at our figure", Ready, "Blood sugar 4 mmol/L, 12 min ago, not under 4 mmol/L.", "4 mmol/L, the program's own default", []func(*Session){at(28, sugarOf(400))}},
		{"a hundredth under it", StopHere, "Blood sugar 3.99 mmol/L, under 4 mmol/L.", "4 mmol/L, the program's own default", []func(*Session){at(28, sugarOf(399))}},
		{"72 mg/dL is 4.00 mmol/L", Ready, "72 mg/dL (4 mmol/L)", "", []func(*Session){at(28, sugarMg(720))}},
		{"71 mg/dL", StopHere, "71 mg/dL (3.94 mmol/L), under 4 mmol/L. Your unit’s steps for low sugar now; if it wrote none, ring it. Drowsy, confused or cannot swallow: the ambulance.", "", []func(*Session){at(28, sugarMg(710))}},
		{"at the unit's figure", Ready, "5.6 mmol/L", "5.6 mmol/L, set by", []func(*Session){figure(560), at(28, sugarOf(560))}},
		{"under the unit's", StopHere, "5.59 mmol/L, under 5.6 mmol/L", "5.6 mmol/L, set by", []func(*Session){figure(560), at(28, sugarOf(559))}},
		{"under ours, over the unit's", Ready, "3.9 mmol/L", "", []func(*Session){figure(390), at(28, sugarOf(390))}},
		{"Lo", StopHere, lo, "", []func(*Session){at(28, low)}},
		{"Hi", Look, "“Hi”: too high for a number. Ring your unit, by its hours", "", []func(*Session){at(28, hi)}},
		{"high", Look, "Blood sugar 25 mmol/L, 25 mmol/L or more. Ring your unit, by its hours", "", []func(*Session){at(28, sugarOf(2500))}},
		{"a digit under high", Ready, "24.99 mmol/L", "", []func(*Session){at(28, sugarOf(2499))}},
		{"an hour old", Ready, "6 mmol/L", "", []func(*Session){at(-20, sugarOf(600))}},
		{"a minute more", OpenYet, "Blood sugar of 16:39, 6 mmol/L, is too old. Measure again.", "", []func(*Session){at(-21, sugarOf(600))}},
		{"low and too old", StopHere, "3 mmol/L, under 4 mmol/L", "", []func(*Session){at(-21, sugarOf(300))}},
		{"better afterwards", Look, "At 17:20: Blood sugar 3.1 mmol/L, under 4 mmol/L.", "", []func(*Session){at(20, sugarOf(310)), at(35, sugarOf(520))}},
		{"Lo, better afterwards", Look, lo, "", []func(*Session){at(20, low), at(35, sugarOf(520))}},
		{"Lo, still low", StopHere, lo, "", []func(*Session){at(20, low), at(35, sugarOf(380))}},
		{"rung about", Look, "You rang the unit by day at 17:33", "", []func(*Session){at(20, sugarOf(310)), func(s *Session) {
			put(s, evening.Add(mins(33)), &Rang{Whom: "the unit by day", Said: "eat, then measure again"})
		}}},
		{"rung before it", StopHere, "3.1 mmol/L", "", []func(*Session){func(s *Session) {
			put(s, evening.Add(mins(10)), &Rang{Whom: "the unit by day", Said: "come in"})
		}, at(20, sugarOf(310))}},
		{"not done", OpenYet, "Blood sugar: not done. Measure it.", "", []func(*Session){func(s *Session) {
			put(s, evening.Add(mins(28)), &Glucose{}).Missing = map[string]Missing{"glucose_mmol_l": NotDone}
		}}},
	} {
		s := marked(t)
		for _, do := range tt.do {
			do(s)
		}
		c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckGlucose)
		words := strings.ReplaceAll(c.Words, "\u00a0", " ")
		if c.State != tt.want || !strings.Contains(words, tt.words) || !strings.Contains(strings.ReplaceAll(c.Limit, "\u00a0", " "), tt.limit) {
			t.Errorf("%s: %s %q (%q), want %s %q (%q)", tt.name, c.State, words, c.Limit, tt.want, tt.words, tt.limit)
		}
		if c.State == StopHere && !c.Numbers {
			t.Errorf("%s: the ambulance's number does not stand beside it", tt.name)
		}
	}
}

func figure(v unit.Molar) func(*Session) {
	return func(s *Session) { s.Rx.GlucoseLow = &v }
}

// Both values stay in sight, the better one too.
func TestBothSugarsStayInSight(t *testing.T) {
	s := marked(t)
	put(s, evening.Add(mins(20)), sugarMg(560))
	put(s, evening.Add(mins(35)), sugarOf(520))
	words := strings.ReplaceAll(check(t, StartLine(s, known(), evening.Add(mins(40))), CheckGlucose).Words, "\u00a0", " ")
	if !strings.Contains(words, "At 17:20: Blood sugar 56 mg/dL (3.11 mmol/L), under 4 mmol/L.") || !strings.Contains(words, "At 17:35: Blood sugar 5.2 mmol/L, 5 min ago") {
		t.Errorf("one of them is gone: %q", words)
	}
	if c := check(t, StartLine(s, known(), evening.Add(mins(40))), CheckGlucose); c.State != Look {
		t.Errorf("%+v", c)
	}
}

// A value of before the last session ended is none of this one, and a low one of a
// session that was set up and broken off counts in the next.
func TestSugarOfAnotherSession(t *testing.T) {
	s := marked(t)
	put(s, evening.Add(mins(5)), sugarOf(600))
	h := known()
	h.LastEnd = evening.Add(mins(6))
	if c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckGlucose); c.State != OpenYet {
		t.Errorf("of the last session: %s %q", c.State, c.Words)
	}
	broken := marked(t)
	put(broken, evening.Add(mins(-30)), sugarOf(310))
	for i := range broken.Log {
		broken.Log[i].At = broken.Log[i].At.Add(-2 * time.Hour)
	}
	put(s, evening.Add(mins(20)), sugarOf(600))
	h = known()
	h.Broken = []*Session{broken}
	if c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckGlucose); c.State != Look || !strings.Contains(c.Words, "3.1") {
		t.Errorf("of the one broken off: %s %q", c.State, c.Words)
	}
}

// Whom the unit did not mark is not asked, and a low value is said all the same.
func TestSugarOfTheUnmarked(t *testing.T) {
	s := ready(t)
	now := evening.Add(mins(40))
	has := func() bool {
		for _, c := range StartLine(s, known(), now) {
			if c.ID == CheckGlucose {
				return true
			}
		}
		return false
	}
	if has() {
		t.Error("asked of somebody who is not marked")
	}
	put(s, evening.Add(mins(20)), sugarOf(600))
	if c := check(t, StartLine(s, known(), now), CheckFit); has() || c.State != Ready {
		t.Errorf("an ordinary value: %s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(25)), sugarOf(390))
	if c := check(t, StartLine(s, known(), now), CheckFit); has() || c.State != StopHere || !strings.Contains(c.Words, "low sugar") || !c.Numbers {
		t.Errorf("a low value: %s %q", c.State, c.Words)
	}
	put(s, evening.Add(mins(30)), sugarOf(600))
	if c := check(t, StartLine(s, known(), now), CheckFit); c.State != Look || !strings.Contains(c.Words, "3.9") {
		t.Errorf("better afterwards: %s %q", c.State, c.Words)
	}
}

// The check stands where it belongs.
func TestSugarStandsBetweenLockAndNight(t *testing.T) {
	place := map[string]int{}
	for i, c := range startChecks {
		place[c.id] = i
	}
	if place[CheckGlucose] != place[CheckLock]+1 || place[CheckNight] != place[CheckGlucose]+1 {
		t.Errorf("%v", place)
	}
}

// A blood sugar of before the end of the last treatment is not this session's, whether
// that one dialysed or only removed fluid, and where only its beginning is written.
func TestSugarOfBeforeTheLastEnd(t *testing.T) {
	now, at := evening.Add(mins(40)), evening.Add(mins(20))
	for _, tt := range []struct {
		name string
		h    func(*History)
		want CheckState
	}{
		{"the end after it", func(h *History) { h.LastEnd = at.Add(time.Minute) }, OpenYet},
		{"the end before it", func(h *History) { h.LastEnd = at.Add(-time.Minute) }, Ready},
		{"of removal only, after it", func(h *History) { h.RemovedAt = at.Add(time.Minute) }, OpenYet},
		{"of removal only, before it", func(h *History) { h.RemovedAt = at.Add(-time.Minute) }, Ready},
		{"no end, begun after it", func(h *History) { h.LastEnd, h.LastBegan = time.Time{}, at.Add(time.Minute) }, OpenYet},
	} {
		s, h := marked(t), known()
		put(s, at, sugarOf(600))
		tt.h(&h)
		if c := check(t, StartLine(s, h, now), CheckGlucose); c.State != tt.want {
			t.Errorf("%s: %s %q, want %s", tt.name, c.State, c.Words, tt.want)
		}
	}
}
