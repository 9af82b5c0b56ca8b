package kinetics

import (
	"fmt"

	"ebbline/unit"
)

// FitCautions says what must be said beside a volume and a generation found
// from samples.
func FitCautions(f Fit, slopes []FitSlope) []unit.Caution {
	text := "The volume is only as good as the clearance that was put in: 10 % more clearance assumed is about 10 % more volume found."
	for _, s := range slopes {
		if s.Input == "clearance" {
			text = fmt.Sprintf("The volume is only as good as the clearance that was put in: 10 %% more clearance assumed is about %.0f %% more volume found, and %.0f %% more generation.",
				10*s.Volume, 10*s.Generation)
		}
	}
	list := []unit.Caution{{Code: "volume_as_good_as_clearance", Text: text}}
	if f.VolumeL < unlikelyVolumeBelowL || f.VolumeL > unlikelyVolumeAboveL {
		list = append(list, unit.Caution{Code: "volume_unlikely", Text: fmt.Sprintf(
			"A urea volume of %.1f L is not an adult's. Look at the clearance, the session's length and the way the sample after was drawn.", f.VolumeL)})
	}
	if nPCR := f.GenerationMgMin/(0.184*f.VolumeL) + 0.17; nPCR < 0.4 || nPCR > 2.5 {
		list = append(list, unit.Caution{Code: "generation_unlikely", Text: fmt.Sprintf(
			"This generation would be a protein catabolic rate of %.2f g/kg a day. Look at the sample before the next session and the times.", nPCR)})
	}
	return list
}

// Adult urea volumes found by dialysis kinetics lie well inside these (from
// memory).
const (
	unlikelyVolumeBelowL = 15
	unlikelyVolumeAboveL = 90
)
