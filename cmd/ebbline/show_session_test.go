package main

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// An entry is printed with every version it had: its moment where that moved,
// what was missing, and that it was struck out. A correction made the next day
// does not make it an entry of the next day.
func TestEntryIsPrintedWithItsHistory(t *testing.T) {
	at := time.Date(2026, 3, 2, 18, 10, 0, 0, time.UTC)
	pulse := unit.Pulse(77)
	e := session.Event{
		ID: "reading-02", Kind: "reading", At: at, Written: at.Add(20 * time.Hour), Body: &session.Reading{Pulse: &pulse},
		Missing: map[string]session.Missing{"systolic_mmhg": session.NotDone},
		Was: []session.Version{{ID: "reading-01", At: at.Add(-time.Hour), Written: at.Add(-time.Hour), Body: &session.Reading{Pulse: &pulse},
			Missing: map[string]session.Missing{"systolic_mmhg": session.AsleepByPlan}, Reason: "awake by then"}},
		Struck: &session.Strike{At: at, Reason: "of another day"},
	}
	var out strings.Builder
	printEntry(&out, entryOf(e))
	want := `  18:10  Reading [STRUCK OUT: of another day]
           Pulse: 77 /min
           Upper pressure: not done
         was at 17:10 on 2026-03-02, until corrected (awake by then):
           Pulse: 77 /min
           Upper pressure: asleep by plan
`
	if out.String() != want {
		t.Errorf("printed\n%s\nwant\n%s", out.String(), want)
	}
	e.Was = nil
	out.Reset()
	if printEntry(&out, entryOf(e)); !strings.Contains(out.String(), "[typed 20 h 00 min later]") {
		t.Errorf("typed the next day it is printed as\n%s", out.String())
	}
}
