package kinetics

import (
	"slices"
	"testing"
)

// A volume found is always said to hang on the clearance; one that no adult
// has, and a generation that no diet gives, are said too.
func TestFitCautions(t *testing.T) {
	for _, tt := range []struct {
		name string
		fit  Fit
		want []string
	}{
		{"ordinary", Fit{VolumeL: 35, GenerationMgMin: 5.35}, []string{"volume_as_good_as_clearance"}},
		{"too small", Fit{VolumeL: 9, GenerationMgMin: 1.4}, []string{"volume_as_good_as_clearance", "volume_unlikely"}},
		{"too much made", Fit{VolumeL: 35, GenerationMgMin: 30}, []string{"volume_as_good_as_clearance", "generation_unlikely"}},
	} {
		var got []string
		for _, c := range FitCautions(tt.fit, []FitSlope{{Input: "clearance", Volume: 1.02, Generation: 0.98}}) {
			got = append(got, c.Code)
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}
