package session

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

func TestLongestGap(t *testing.T) {
	for _, tt := range []struct {
		rx    *Prescription
		hours float64
		week  float64
	}{
		{byDays("mon", "wed", "fri"), 3*24 - 4, 3},
		{byDays("fri", "mon", "wed"), 3*24 - 4, 3},
		{byDays("mon", "tue", "thu", "sat"), 2*24 - 4, 4},
		{byDays("sun", "mon", "tue", "wed", "thu", "fri", "sat"), 24 - 4, 7},
		{byDays("mon", "thu"), 4*24 - 4, 2},
		{byDays("wed"), 7*24 - 4, 1},
		{byHours(48), 44, 3.5},
		{byHours(12), 8, 14},
		{&Prescription{Days: []string{"mon", "wed", "fri"}}, 72, 3}, // no length
		{&Prescription{}, 0, 0},
	} {
		if got := tt.rx.LongestGap().Hours(); got != tt.hours {
			t.Errorf("%v, every %d h: %v h, want %v", tt.rx.Days, tt.rx.EveryHours, got, tt.hours)
		}
		if got := tt.rx.PerWeek(); got != tt.week {
			t.Errorf("%v, every %d h: %v a week, want %v", tt.rx.Days, tt.rx.EveryHours, got, tt.week)
		}
	}
}

// The table of the gap: each bound with its neighbours.
func TestGapStates(t *testing.T) {
	three, four, daily, hours, weekly := byDays("mon", "wed", "fri"), byDays("mon", "tue", "thu", "sat"), byDays("mon", "tue", "wed", "thu", "fri"), byHours(48), byDays("wed")
	for _, tt := range []struct {
		rx     *Prescription
		hours  float64
		missed int
		want   CheckState
		words  string
	}{
		{three, 44, 0, Ready, "44\u00a0h since the last session ended, none missed."},
		{three, 79.99, 0, Ready, "79\u00a0h\u00a059\u00a0min since"}, {three, 78.99, 0, Ready, "78\u00a0h since"}, {three, 80.5, 0, Look, "80\u00a0h\u00a030\u00a0min since"},
		{three, 80, 0, Look, "80\u00a0h since the last session ended, none missed. Weak, or an odd pulse"}, // 68 + 12
		{three, 81, 0, Look, "81\u00a0h since"},
		{three, 95.99, 0, Look, "95\u00a0h\u00a059\u00a0min since"},
		{three, 96, 0, StopHere, "96\u00a0h since the last session ended, none missed. Ring about potassium before you start."},
		{three, 60, 1, Look, "60\u00a0h since the last session ended, 1 session missed."},
		{three, 60, 2, StopHere, "60\u00a0h since the last session ended, 2 sessions missed. Ring"},
		{three, 140, 2, StopHere, "140\u00a0h"},
		{four, 55.99, 0, Ready, ""}, {four, 56, 0, Look, "56\u00a0h"},
		{hours, 55.99, 0, Ready, ""}, {hours, 56, 0, Look, ""}, {hours, 96, 1, StopHere, ""},
		{daily, 71.99, 0, Ready, ""}, {daily, 72, 0, StopHere, "72\u00a0h"},
		{byHours(33), 72, 1, StopHere, ""}, {byHours(34), 72, 1, Look, ""}, // 5.09 and 4.94 a week
		{weekly, 164, 0, Ready, "164\u00a0h"}, {weekly, 175.99, 0, Ready, ""}, {weekly, 176, 0, StopHere, ""}, // its own order leaves 164 h
		{byDays("mon", "thu"), 95, 0, Ready, ""}, {byDays("mon", "thu"), 96, 0, StopHere, ""},
		{&Prescription{}, 60, 0, Ready, ""}, {&Prescription{}, 96, 0, StopHere, ""},
	} {
		began := evening.AddDate(0, 0, -10)
		h := History{Treated: 1, LastBegan: began, LastEnd: began.Add(mins(240)), Missed: tt.missed}
		c := GapOf(h, tt.rx, h.LastEnd.Add(time.Duration(tt.hours*float64(time.Hour)))).Said()
		if c.State != tt.want || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%v/%d h, %v h, %d missed: %s %q, want %s %q", tt.rx.Days, tt.rx.EveryHours, tt.hours, tt.missed, c.State, c.Words, tt.want, tt.words)
		}
		if c.State == StopHere && !strings.HasSuffix(c.Limit, ownDefault) {
			t.Errorf("the limit %q is not named as ours", c.Limit)
		}
	}
}

// The hours said never lie on the other side of a bound than what is decided: an
// order of odd minutes has its bounds off the hour.
func TestGapWordsGoWithTheDecision(t *testing.T) {
	rx := byDays("mon", "tue", "thu", "sat")
	rx.Length = ref(unit.Minutes(250))
	bound := rx.LongestGap() + GapBeyond // 55 h 50 min
	h := History{Treated: 1, LastBegan: evening, LastEnd: evening.Add(mins(250))}
	for minutes := -130; minutes <= 130; minutes++ {
		g := GapOf(h, rx, h.LastEnd.Add(bound+mins(minutes)))
		c := g.Said()
		said := strings.Fields(strings.ReplaceAll(c.Words, "\u00a0", " "))
		hours, err := strconv.Atoi(said[0])
		if err != nil {
			t.Fatal(c.Words)
		}
		total := 60 * hours
		if said[3] == "min" {
			more, err := strconv.Atoi(said[2])
			if err != nil {
				t.Fatal(c.Words)
			}
			total += more
		}
		if over := total >= int(bound/time.Minute); over != (c.State == Look) {
			t.Errorf("%d min beyond: %s %q", minutes, c.State, c.Words)
		}
	}
}

func TestGapOf(t *testing.T) {
	if g := GapOf(History{}, byDays("mon"), evening); !g.First() || g.Said().State != Ready || g.Said().Words != "No session before this one is written down." {
		t.Errorf("the first session: %+v %+v", g, g.Said())
	}
	began := evening.Add(-52 * time.Hour)
	// Without an end the beginning counts, and is said to.
	if g := GapOf(History{Treated: 1, LastBegan: began}, byDays("mon", "wed", "fri"), evening); g.Words() != "52\u00a0h since the last session began, its end not written, none missed" {
		t.Errorf("%q", g.Words())
	}
	// An end typed for a moment that has not come is no negative time.
	if g := GapOf(History{Treated: 1, LastBegan: began, LastEnd: evening.Add(time.Hour)}, byDays("mon"), evening); g.Since != 0 {
		t.Errorf("%+v", g)
	}
	for ran, want := range map[unit.Minutes]CheckState{119: Look, 120: Look, 121: Ready, 240: Ready} {
		h := History{Treated: 1, LastBegan: began, LastEnd: began.Add(mins(int(ran))), LastRan: ran, LastPlanned: 240}
		if c := GapOf(h, byDays("mon", "wed", "fri"), evening).Said(); c.State != want {
			t.Errorf("%d of 240 min: %s %q", ran, c.State, c.Words)
		} else if ran == 119 && !strings.Contains(c.Words, "The last session ran 1\u00a0h\u00a059\u00a0min of 4\u00a0h.") {
			t.Errorf("%q", c.Words)
		}
	}
}
