package record

import (
	"strings"
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// A weight after a session by the unit's paper is held against the paper's goal, and
// against what was removed once that is typed; of somebody light within less.
func TestWeighOutByPaper(t *testing.T) {
	for _, tt := range []struct {
		name  string
		dry   unit.Mass
		pre   unit.Mass
		goal  unit.Volume
		off   *unit.Volume // removed in all, where it was typed
		after map[unit.Mass]string
	}{
		{"by the goal", 58_000, 60_000, 2000, nil,
			map[unit.Mass]string{58_000: "", 59_500: "", 59_510: "1.5", 60_000: "2 kg away", 56_500: "", 56_480: "1.5"}},
		{"by what was removed", 58_000, 60_000, 2000, ptr(unit.Volume(200)),
			map[unit.Mass]string{60_000: "", 58_500: "", 58_300: "1.7", 58_000: "2 kg away"}}, // as much came back with the washback,
		{"somebody of 21 kg", 21_000, 22_000, 800, nil,
			map[unit.Mass]string{21_200: "", 22_100: "", 22_120: "0.9", 20_200: "1 kg away"}},
	} {
		b := newBook(t)
		b.must("person", "", &Person{Name: "Orla Finch", BirthYear: 2014, Colour: "reed"})
		rx := aPrescription()
		rx.DryWeight, rx.Rate, rx.MaxRemoval = tt.dry, nil, nil
		e := b.entry("prescription", "", &rx)
		e.Again = map[string]string{"dry_weight_kg": tt.dry.String()}
		b.must2(e)
		b.must("session_opened", "session-1", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
		in := b.entry("weigh_in", "session-1", &session.WeighIn{Weight: tt.pre, Scale: "bathroom", ReadIn: "kg"})
		in.Again = map[string]string{"weight_kg": tt.pre.String()}
		b.must2(in)
		b.must("paper_plan", "session-1", &session.PaperPlan{Goal: tt.goal, Length: 240, From: "Dr Q (invented)"})
		b.must("connected", "session-1", &session.Connected{})
		off := b.entry("came_off", "session-1", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(200)), Removed: tt.off})
		if tt.off != nil {
			off.Again = map[string]string{"removed_ml": tt.off.String()}
		}
		b.must2(off)
		for kg, words := range tt.after {
			found := Check(b.h, b.entry("weigh_out", "session-1", &session.WeighOut{Weight: kg, Scale: "bathroom"}))
			said := found.On("weight_kg")
			if (said != "") != (words != "") || !strings.Contains(said, words) {
				t.Errorf("%s, %s kg after: %v, want %q", tt.name, kg, found, words)
			}
		}
	}
}
