package report

import (
	"slices"
	"strings"
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// A session that goes by the unit's paper, and in which fluid was only removed: the
// paper stands in the place of the sum, and nothing of it is computed.
func TestPaperPlanOnTheSheet(t *testing.T) {
	one := evening(t)
	one.Log = slices.DeleteFunc(one.Log, func(e session.Event) bool { return e.Kind == "plan" })
	rx := *one.Rx
	rx.RemovalProfile, rx.SodiumProfile = true, true
	one.Rx = &rx
	opened, _ := session.First[session.Opened](one)
	opened.RemovalOnly = true
	in, e := session.Last[session.WeighIn](one)
	if in == nil {
		t.Fatal("no weight on the evening")
	}
	one.Add(session.Event{ID: "paper-1", Kind: "paper_plan", At: e.At, Written: e.At, By: "Ilsabet",
		Body: &session.PaperPlan{Goal: 1850, Length: 200, Rate: ptr(unit.Rate(640)), From: "Nurse Oren, 1 March"}})
	s := SheetOf(SheetInput{Head: ilsabet, Session: one, History: history(), Now: made})
	for where, text := range map[string]string{"the page": pageOf(t, s, printing), "the print": sheetFile(t, s, printing).words()} {
		text = strings.ReplaceAll(strings.Join(strings.Fields(text), " "), "\u00a0", " ")
		text = strings.ReplaceAll(text, "&#39;", "'")
		for _, want := range []string{"By the unit's paper", "1850", "Nurse Oren, 1 March", "640", "3 h 20 min", "removal, sodium", "Removal only: no dialysis"} {
			if !strings.Contains(text, want) {
				t.Errorf("%s does not hold %q", where, want)
			}
		}
		for _, not := range []string{"Above dry weight", "Left for later"} {
			if strings.Contains(text, not) {
				t.Errorf("%s holds %q, which nobody computed", where, not)
			}
		}
	}
}
