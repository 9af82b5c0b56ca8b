package kinetics

import "testing"

// Sessions within the hour of each other, and one that almost does nothing,
// are said beside the figures of the week.
func TestCycleCautions(t *testing.T) {
	pools := Pools{VolumeL: 35, ExtracellularFraction: UsualExtracellularFraction, TransferMlMin: 560, GenerationMgMin: 5.35}
	for _, tt := range []struct {
		name  string
		cycle Cycle
		want  []string
	}{
		{"three a week", Cycle{LengthMin: 10080, Sessions: []CycleSession{{480, 240, 220, 2.5}, {3360, 240, 220, 2.5}, {6240, 240, 220, 2.5}}}, nil},
		{"two that nearly touch", Cycle{LengthMin: 10080, Sessions: []CycleSession{{480, 120, 220, 1}, {630, 120, 220, 1}, {6240, 240, 220, 2.5}}}, []string{"rebound_in_next_session"}},
	} {
		s, err := pools.Steady(tt.cycle, nil)
		if err != nil {
			t.Fatal(err)
		}
		got := CycleCautions(tt.cycle, s)
		if len(got) != len(tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
			continue
		}
		for i := range got {
			if got[i].Code != tt.want[i] || got[i].Text == "" {
				t.Errorf("%s: %v, want %v", tt.name, got[i], tt.want[i])
			}
		}
	}
}
