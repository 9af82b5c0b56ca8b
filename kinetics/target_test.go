package kinetics

import (
	"strings"
	"testing"
)

// Trap: targets are per schedule. 1.2 and 1.4 are for three a week with a
// residual clearance below 2 mL/min and for nothing else.
func TestTargetFitsTheSchedule(t *testing.T) {
	for _, tt := range []struct {
		perWeek, residual float64
		measure           string
		minimum, aim      float64
	}{
		{3, 0, "spktv", 1.2, 1.4},
		{3, 1.99, "spktv", 1.2, 1.4},
		{3, 2, "stdktv", 2.1, 2.3},
		{2, 4, "stdktv", 2.1, 2.3},
		{2, 0, "stdktv", 2.1, 2.3},
		{3.5, 0, "stdktv", 2.1, 2.3},
		{4, 0, "stdktv", 2.1, 2.3},
		{5, 0, "stdktv", 2.1, 2.3},
		{6, 0, "stdktv", 2.1, 2.3},
		{7, 0, "stdktv", 2.1, 2.3},
	} {
		got, err := TargetFor(tt.perWeek, tt.residual)
		if err != nil || got.Measure != tt.measure || got.Minimum != tt.minimum || got.Target != tt.aim || !strings.Contains(got.Source, "KDOQI") {
			t.Errorf("%v a week, residual %v: %+v, %v", tt.perWeek, tt.residual, got, err)
		}
		list, err := Targets(tt.perWeek, tt.residual)
		if err != nil || len(list) < 2 || list[0] != got {
			t.Errorf("%v a week: %d targets, %v; want that one first and others", tt.perWeek, len(list), err)
		}
		for _, other := range list {
			thriceOnly := other.Measure == "ektv" || other.Measure == "urr" || (other.Measure == "spktv" && other.Minimum == 1.2)
			if thriceOnly && tt.perWeek != 3 {
				t.Errorf("%v a week is offered %+v, which is for three", tt.perWeek, other)
			}
			if other.Source == "" || other.Minimum <= 0 || other.Target < other.Minimum {
				t.Errorf("%v a week: %+v", tt.perWeek, other)
			}
		}
	}
	_, err := TargetFor(0, 0)
	refusedAbout(t, "no sessions", err, "sessions_per_week")
	_, err = Targets(3, -1)
	refusedAbout(t, "residual below 0", err, "residual_clearance_ml_min")
}

func TestScheduleCautions(t *testing.T) {
	for _, tt := range []struct {
		perWeek, length, residual float64
		code                      string
	}{
		{3, 240, 0, ""}, {3, 179, 0, "session_below_3_h"}, {3, 180, 0, ""}, {3, 150, 3, ""},
		{2, 300, 0, "twice_weekly"}, {6, 150, 0, ""},
	} {
		c, err := ScheduleCautions(tt.perWeek, tt.length, tt.residual)
		if err != nil || (tt.code == "") != (len(c) == 0) || (tt.code != "" && !hasCode(c, tt.code)) {
			t.Errorf("%+v: %v, %v", tt, c, err)
		}
	}
	_, err := ScheduleCautions(7, 1441, 0)
	refusedAbout(t, "more than a day", err, "session_min")
}
