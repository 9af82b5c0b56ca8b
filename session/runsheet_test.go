package session

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
)

func TestDefaultSheets(t *testing.T) {
	for _, sheet := range []RunSheet{DefaultSetUp(), DefaultTakeOff()} {
		if err := sheet.Validate(); err != nil {
			t.Errorf("%s: %v", sheet.Phase, err)
		}
		if sheet.Marked != ReplaceMark {
			t.Errorf("%s is marked %q", sheet.Phase, sheet.Marked)
		}
		raw, err := json.Marshal(sheet)
		if err != nil {
			t.Fatal(err)
		}
		var back RunSheet
		if err := json.Unmarshal(raw, &back); err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(sheet, back); d != "" {
			t.Errorf("%s does not come back from JSON:\n%s", sheet.Phase, d)
		}
	}
	if n := len(DefaultSetUp().Steps); n < 20 || n > 26 {
		t.Errorf("setting up has %d steps, want about 22", n)
	}
}

// Needles must come after every check that could stop the session.
func TestNeedlesComeLast(t *testing.T) {
	sheet := DefaultSetUp()
	before := map[string]bool{}
	var walk func(id string)
	walk = func(id string) {
		s, _ := sheet.Step(id)
		for _, a := range s.After {
			if !before[a] {
				before[a] = true
				walk(a)
			}
		}
	}
	walk("needles")
	for _, id := range []string{"fit", "access", "weigh", "vitals", "chlorine", "self_test", "residue", "conductivity", "bath", "plan", "dial_in", "heparin"} {
		if !before[id] {
			t.Errorf("the needles do not wait for %s", id)
		}
	}
}

func TestValidateRefuses(t *testing.T) {
	step := func(id string, after ...string) Step {
		return Step{ID: id, Words: id, Lane: LaneHands, Tick: TickDone, Usual: 1, After: after}
	}
	many := RunSheet{Phase: SetUp}
	for i := range 61 {
		many.Steps = append(many.Steps, step("s"+string(rune('a'+i/26))+string(rune('a'+i%26))))
	}
	for _, tt := range []struct {
		name string
		in   RunSheet
		want string
	}{
		{"no phase", RunSheet{Steps: []Step{step("a")}}, "needs set_up or take_off"},
		{"empty", RunSheet{Phase: SetUp}, "has 0 steps"},
		{"61 steps", many, "has 61 steps"},
		{"twice", RunSheet{Phase: SetUp, Steps: []Step{step("a"), step("a")}}, "step a: stands twice"},
		{"unknown", RunSheet{Phase: SetUp, Steps: []Step{step("a", "b")}}, "step a: waits for “b”"},
		{"itself", RunSheet{Phase: SetUp, Steps: []Step{step("a", "a")}}, "step a: waits for itself"},
		{"ring", RunSheet{Phase: SetUp, Steps: []Step{step("a", "c"), step("b", "a"), step("c", "b")}}, "would wait for itself by way of"},
		{"id with a space", RunSheet{Phase: SetUp, Steps: []Step{step("a b")}}, "needs an id"},
		{"no words", RunSheet{Phase: SetUp, Steps: []Step{{ID: "a", Lane: LaneHands, Tick: TickDone}}}, "says nothing"},
		{"long words", RunSheet{Phase: SetUp, Steps: []Step{{ID: "a", Words: strings.Repeat("ä", 161), Lane: LaneHands, Tick: TickDone}}}, "more than 160 characters"},
		{"lane", RunSheet{Phase: SetUp, Steps: []Step{{ID: "a", Words: "a", Lane: "feet", Tick: TickDone}}}, "lane “feet”"},
		{"tick", RunSheet{Phase: SetUp, Steps: []Step{{ID: "a", Words: "a", Lane: LaneHands, Tick: "nod"}}}, "ticked by “nod”"},
		{"value of nothing", RunSheet{Phase: SetUp, Steps: []Step{{ID: "a", Words: "a", Lane: LaneHands, Tick: TickValue}}}, "does not say which"},
		{"timer of nothing", RunSheet{Phase: SetUp, Steps: []Step{{ID: "a", Words: "a", Lane: LaneHands, Tick: TickTimer}}}, "has no minutes"},
		{"five hours", RunSheet{Phase: SetUp, Steps: []Step{{ID: "a", Words: "a", Lane: LaneHands, Tick: TickDone, Usual: 300}}}, "0 to 240 minutes"},
	} {
		err := tt.in.Validate()
		if err == nil || !strings.Contains(err.Error(), tt.want) || !errors.As(err, new(*SheetError)) {
			t.Errorf("%s: %v, want a SheetError with %q", tt.name, err, tt.want)
		}
	}
	edge := RunSheet{Phase: SetUp, Steps: []Step{{ID: "a", Words: strings.Repeat("ä", 160), Lane: LaneHands, Tick: TickDone, Usual: 240}}}
	if err := edge.Validate(); err != nil {
		t.Errorf("at the bounds: %v", err)
	}
}

func TestEditing(t *testing.T) {
	before := DefaultSetUp()
	whole, _ := json.Marshal(before)

	added, err := before.Add(Step{ID: "glasses", Words: "Glasses on", Lane: LaneHands, Tick: TickDone, Usual: 1, After: []string{"fit"}}, 1)
	if err != nil || added.Steps[1].ID != "glasses" || len(added.Steps) != len(before.Steps)+1 {
		t.Errorf("Add: %v, second step %q", err, added.Steps[1].ID)
	}
	if _, err := before.Add(before.Steps[0], 0); err == nil || !strings.Contains(err.Error(), "stands twice") {
		t.Errorf("adding a step that is there: %v", err)
	}
	far, err := before.Add(Step{ID: "z", Words: "z", Lane: LaneHands, Tick: TickDone}, 999)
	if err != nil || far.Steps[len(far.Steps)-1].ID != "z" {
		t.Errorf("Add beyond the end: %v", err)
	}

	moved, err := before.Move("weigh", 0)
	if err != nil || moved.Steps[0].ID != "weigh" || len(moved.Steps) != len(before.Steps) {
		t.Errorf("Move: %v", err)
	}
	if s, _ := moved.Step("weigh"); !slices.Equal(s.After, []string{"fit"}) {
		t.Errorf("Move changed what weigh waits for: %v", s.After)
	}

	gone, err := before.Remove("self_test") // lines and dial_in waited for it; it waited for machine_on
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string][]string{"lines": {"hands_clean", "machine_on"}, "dial_in": {"plan", "machine_on"}} {
		if s, _ := gone.Step(id); !slices.Equal(s.After, want) {
			t.Errorf("after the removal %s waits for %v, want %v", id, s.After, want)
		}
	}

	change := func(id string, f func(*Step)) (RunSheet, error) {
		step, _ := before.Step(id)
		f(&step)
		return before.Replace(step)
	}
	worded, err := change("weigh", func(s *Step) { s.Words = "Weigh in the bathroom" })
	if s, _ := worded.Step("weigh"); err != nil || s.Words != "Weigh in the bathroom" {
		t.Errorf("other words: %v, %q", err, s.Words)
	}
	if same, err := change("weigh", func(s *Step) { s.Words = " " }); err == nil || same.Steps[7].Words != before.Steps[7].Words {
		t.Errorf("blank words: %v", err)
	}
	if _, err := change("fit", func(s *Step) { s.After = []string{"connect"} }); err == nil || !strings.Contains(err.Error(), "would wait for itself") {
		t.Errorf("a ring through the whole sheet: %v", err)
	}
	linked, err := change("weigh", func(s *Step) { s.After = []string{"fit", "vitals"} })
	if s, _ := linked.Step("weigh"); err != nil || !slices.Equal(s.After, []string{"fit", "vitals"}) {
		t.Errorf("waiting for others: %v, %v", err, s.After)
	}
	swapped, err := before.Replace(Step{ID: "fit", Words: "Well?", Lane: LaneHands, Tick: TickDone, Usual: 2})
	if s, _ := swapped.Step("fit"); err != nil || s.Words != "Well?" || swapped.Steps[0].ID != "fit" {
		t.Errorf("Replace: %v, %+v", err, s)
	}
	for _, op := range []func() error{
		func() error { _, err := before.Move("nothing", 0); return err },
		func() error { _, err := before.Remove("nothing"); return err },
		func() error { _, err := before.Replace(Step{ID: "nothing"}); return err },
	} {
		if err := op(); err == nil || !strings.Contains(err.Error(), "is not on the sheet") {
			t.Errorf("a step that is not there: %v", err)
		}
	}
	if now, _ := json.Marshal(before); string(now) != string(whole) {
		t.Error("an edit reached the earlier version")
	}
}

// Whatever one step is taken out, the rest can be run and no order is lost.
func TestRemoveKeepsTheOrder(t *testing.T) {
	for _, sheet := range []RunSheet{DefaultSetUp(), DefaultTakeOff()} {
		reach := func(r RunSheet) map[[2]string]bool {
			out := map[[2]string]bool{}
			for _, i := range inOrder(r) {
				s := r.Steps[i]
				for _, a := range s.After {
					out[[2]string{s.ID, a}] = true
					for k := range out {
						if k[0] == a {
							out[[2]string{s.ID, k[1]}] = true
						}
					}
				}
			}
			return out
		}
		was := reach(sheet)
		for _, s := range sheet.Steps {
			less, err := sheet.Remove(s.ID)
			if err != nil {
				t.Fatalf("%s: %v", s.ID, err)
			}
			now := reach(less)
			for pair := range was {
				if pair[0] != s.ID && pair[1] != s.ID && !now[pair] {
					t.Errorf("without %s, %s no longer comes after %s", s.ID, pair[0], pair[1])
				}
			}
		}
	}
}

// The general steps remind of hands before lines and syringes, of masks and
// antiseptic before needles, of the site, of the bin, of hands again at the end
// (common practice), each before what it is for.
func TestHygieneInTheRunSheet(t *testing.T) {
	for _, tt := range []struct {
		sheet       RunSheet
		step, words string
		before      string // this step waits for it
	}{
		{DefaultSetUp(), "hands_clean", "Wash hands", "lines"},
		{DefaultSetUp(), "hands_clean", "Wash hands", "heparin"},
		{DefaultSetUp(), "hands_clean", "no animals", "flushes"},
		{DefaultSetUp(), "access", "Look at the access", "start_line"},
		{DefaultSetUp(), "arm", "masks on, antiseptic", "needles"},
		{DefaultSetUp(), "arm", "gloves", "needles"},
		{DefaultSetUp(), "water_on", "with a smell", "water_runs"},
		{DefaultTakeOff(), "lay_out", "Wash hands", "wash_back"},
		{DefaultTakeOff(), "sharps", "bin at once", ""},
		{DefaultTakeOff(), "wipe", "wash hands", "close"},
	} {
		var step, next *Step
		for i := range tt.sheet.Steps {
			switch s := &tt.sheet.Steps[i]; s.ID {
			case tt.step:
				step = s
			case tt.before:
				next = s
			}
		}
		if step == nil || !strings.Contains(step.Words+" "+step.Caution, tt.words) {
			t.Errorf("%s does not say %q: %+v", tt.step, tt.words, step)
		}
		if tt.before != "" && (next == nil || !slices.Contains(next.After, tt.step)) {
			t.Errorf("%s does not wait for %s: %+v", tt.before, tt.step, next)
		}
	}
}
