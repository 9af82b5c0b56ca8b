package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

func TestReadBack(t *testing.T) {
	litres := Machine{GoalUnit: "L", GoalDecimals: 2}
	millilitres := Machine{GoalUnit: "mL"}
	plan := AgreedPlan{SetGoal: 3200, Length: 240}
	for _, tt := range []struct {
		m     Machine
		typed string
		same  bool
		hint  string
	}{
		{litres, "3.20", true, ""},
		{litres, "3,20", true, ""},
		{litres, "3.2", true, ""},
		{litres, " 3.20 ", true, ""},
		{litres, "3.21", true, ""}, // one in the last digit
		{litres, "3.19", true, ""},
		{litres, "3.22", false, ""},
		{litres, "3.18", false, ""},
		{litres, "32", false, "point"},
		{litres, "0.32", false, "point"},
		{litres, "320", false, "point"},
		{litres, "3200", false, "point"},
		{litres, "3.02", false, "digits"},
		{litres, "2.3", false, "digits"},
		{litres, "4.2", false, ""},
		{litres, "0", false, ""},
		{millilitres, "3200", true, ""},
		{millilitres, "3201", true, ""},
		{millilitres, "3202", false, ""},
		{millilitres, "320", false, "point"},
		{millilitres, "2300", false, "digits"},
		{Machine{GoalUnit: "L", GoalDecimals: 1}, "3.3", true, ""},
		{Machine{GoalUnit: "L", GoalDecimals: 1}, "3.4", false, ""},
	} {
		back, d, err := CompareGoal(plan, tt.m, tt.typed)
		if err != nil {
			t.Errorf("%q: %v", tt.typed, err)
			continue
		}
		if (d == nil) != tt.same {
			t.Errorf("%q in %s: difference %+v", tt.typed, tt.m.GoalUnit, d)
			continue
		}
		if back.Shown != strings.TrimSpace(tt.typed) {
			t.Errorf("%q kept as %q", tt.typed, back.Shown)
		}
		if d != nil {
			if tt.hint == "" && d.Hint != "" || !strings.Contains(d.Hint, tt.hint) {
				t.Errorf("%q: hint %q, want one about %q", tt.typed, d.Hint, tt.hint)
			}
			if w := d.Words(); !strings.Contains(w, d.Planned) || !strings.Contains(w, d.Shown) {
				t.Errorf("%q: %q does not show both", tt.typed, w)
			}
		}
	}
	if _, d, _ := CompareGoal(plan, litres, "32"); d.Planned != "3.20\u00a0L" || d.Shown != "32\u00a0L" {
		t.Errorf("side by side: %q and %q", d.Planned, d.Shown)
	}
	for _, junk := range []string{"", "3.2.0", "3 200", "3.2L", "-3.2", "1e3", "３.2"} {
		if _, _, err := CompareGoal(plan, litres, junk); err == nil {
			t.Errorf("%q was read", junk)
		}
	}
}

func TestReadBackOfTheTime(t *testing.T) {
	plan := AgreedPlan{Length: 240}
	for shown, same := range map[unit.Minutes]bool{240: true, 239: true, 241: true, 242: false, 4: false, 24: false} {
		if d := CompareLength(plan, shown); (d == nil) != same {
			t.Errorf("%d min: %+v", shown, d)
		}
	}
	if d := CompareLength(plan, 4); d.Hint == "" {
		t.Error("4 min for 4 h goes without a hint")
	}
}

func TestShowGoal(t *testing.T) {
	for _, tt := range []struct {
		m    Machine
		v    unit.Volume
		want string // "" for refused
		step unit.Volume
	}{
		{Machine{GoalUnit: "L", GoalDecimals: 2}, 3200, "3.20\u00a0L", 10},
		{Machine{GoalUnit: "L", GoalDecimals: 2}, 3205, "", 10},
		{Machine{GoalUnit: "L", GoalDecimals: 1}, 3200, "3.2\u00a0L", 100},
		{Machine{GoalUnit: "L", GoalDecimals: 3}, 3205, "3.205\u00a0L", 1},
		{Machine{GoalUnit: "mL"}, 3205, "3205\u00a0mL", 1},
		{Machine{GoalUnit: "mL", GoalStep: ref(unit.Volume(50))}, 3200, "3200\u00a0mL", 50},
		{Machine{GoalUnit: "L", GoalDecimals: 2, GoalStep: ref(unit.Volume(25))}, 3250, "3.25\u00a0L", 50}, // 25 is no whole digit
		{Machine{GoalUnit: "L", GoalDecimals: 2, GoalStep: ref(unit.Volume(5))}, 3210, "3.21\u00a0L", 10},
		{Machine{GoalUnit: "L", GoalDecimals: 2}, 0, "0.00\u00a0L", 10},
	} {
		got, err := tt.m.ShowGoal(tt.v)
		if (err != nil) != (tt.want == "") || got != tt.want {
			t.Errorf("%v shown as %q, %v; want %q", tt.v, got, err, tt.want)
		}
		if s := tt.m.FieldStep(); s != tt.step {
			t.Errorf("step %v, want %v", s, tt.step)
		}
		if err == nil {
			digits := strings.Fields(strings.ReplaceAll(got, "\u00a0", " "))[0]
			if back, err := tt.m.ReadGoal(digits); err != nil || back != tt.v {
				t.Errorf("%q reads back %v, %v", digits, back, err)
			}
		}
	}
}
