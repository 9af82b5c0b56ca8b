package kinetics

import (
	"math"

	"ebbline/unit"
)

// A Target is what a guideline asks of a dose: which figure it judges, the
// least it accepts and what it names as target. The unit's own prescription
// comes before it.
type Target struct {
	Measure string  // "spktv", "ektv", "stdktv" or "urr"
	Minimum float64 // the least accepted
	Target  float64 // what it names as target; the minimum again where the source names no other
	Source  string
}

const (
	kdoqi2006 = "KDOQI haemodialysis adequacy 2006, guideline 4"
	kdoqi2015 = "KDOQI haemodialysis adequacy 2015 (as restated in secondary texts)"
	ebpg2002  = "European Best Practice Guidelines 2002, Nephrol Dial Transplant 17 Suppl 7:17–21"
	ebpg2007  = "European Best Practice Guidelines, revision of 2007 (as restated at kdigo.org)"
)

// notable is the residual urea clearance from which the guidelines count it,
// in mL/min (per 1.73 m² in the source; nearly the same for an adult of usual
// size).
const notable = 2.0

// TargetFor gives the one target that fits a schedule:
//
//	three a week, residual clearance below 2   spKt/V  1.2, target 1.4
//	every other schedule, or residual ≥ 2      stdKt/V 2.1, target 2.3
//
// Sessions a week must be above 0, up to 14, and the residual clearance from 0
// to 150 mL/min; otherwise an [*unit.InputError] comes back. The figures for
// three a week are never given for another schedule: the same 1.2 would be far
// more than needed in six sessions and too little in two. The weekly figure is
// meant with fluid removed and residual clearance counted, as [StandardFull]
// does; without them it reads low.
//
// Sources: KDOQI 2006 (read) and 2015 (read as restated).
func TargetFor(perWeek, residualMlMin float64) (Target, error) {
	if err := checkTarget(perWeek, residualMlMin); err != nil {
		return Target{}, err
	}
	if perWeek == 3 && residualMlMin < notable {
		return Target{"spktv", 1.2, 1.4, kdoqi2006 + " and " + kdoqi2015 +
			": three sessions a week, residual clearance below 2 mL/min"}, nil
	}
	return Target{"stdktv", 2.1, 2.3, kdoqi2015 +
		": weekly, for schedules other than three a week or with residual clearance, fluid removed and residual clearance counted"}, nil
}

func checkTarget(perWeek, residualMlMin float64) error {
	return refuse(
		above("sessions_per_week", perWeek, 0, maxSessionsAWk),
		within("residual_clearance_ml_min", residualMlMin, 0, maxResidual),
	)
}

// Targets lists every target known here that fits a schedule, the one of
// [TargetFor] first. Ranges and refusals as there.
//
// Sources: beside each.
func Targets(perWeek, residualMlMin float64) ([]Target, error) {
	first, err := TargetFor(perWeek, residualMlMin)
	if err != nil {
		return nil, err
	}
	list := []Target{first}
	if perWeek == 3 {
		if residualMlMin < notable {
			list = append(list, Target{"urr", 0.65, 0.70, kdoqi2006 + ": three sessions a week of less than 5 h"})
		}
		list = append(list,
			Target{"ektv", 1.2, 1.2, ebpg2002 + ": three sessions a week, with spKt/V about 1.4"},
			Target{"ektv", 1.2, 1.4, ebpg2007 + ": three sessions a week; up to 1.4 for women and with other illness"})
	} else {
		list = append(list, Target{"stdktv", 2.1, 2.1, ebpg2007 + ": schedules other than three a week"})
	}
	if least, ok := SessionMinimum(perWeek, residualMlMin); ok && perWeek != 3 {
		list = append(list, Target{"spktv", least, math.Round(least*115) / 100, kdoqi2006 +
			", table 13 (from memory): per session, for a standard Kt/V of about 2; the aim at least 15 % above the minimum"})
	}
	return list, nil
}

// SessionMinimum gives the least spKt/V per session that brings about a
// standard Kt/V of 2.0, from the guideline's table for 2, 3, 4 and 6 sessions
// a week:
//
//	residual clearance   2     3     4     6
//	below 2 mL/min       –    1.2   0.8   0.5
//	2 mL/min or more    2.0   0.9   0.6   0.4
//
// It gives false where the table has no entry; two a week without residual
// clearance is not recommended there.
//
// Source: KDOQI 2006, table 13 (from memory; the upper row agrees with
// [StandardKtV] to 3 %).
func SessionMinimum(perWeek, residualMlMin float64) (float64, bool) {
	table := map[float64][2]float64{2: {0, 2.0}, 3: {1.2, 0.9}, 4: {0.8, 0.6}, 6: {0.5, 0.4}}
	row := 0
	if residualMlMin >= notable {
		row = 1
	}
	least := table[perWeek][row]
	return least, least > 0
}

// ShortestThriceWeeklyMin is the least length in minutes of a session at three
// a week with residual clearance below 2 mL/min.
//
// Source: KDOQI 2006, guideline 4 (read).
const ShortestThriceWeeklyMin = 180.0

// HaemodialysisProduct gives h·n², hours of a session times the square of the
// sessions a week: a rough sign that more often and longer is better, with 70
// proposed as a goal. Length above 0, up to 1440 min, N above 0, up to 14; otherwise an
// [*unit.InputError] comes back. It knows neither clearance nor size; use it
// for showing, not for judging.
//
// Source: Scribner and Oreopoulos, Dial Transplant 2002;31:13 (from memory).
func HaemodialysisProduct(perWeek, lengthMin float64) (float64, error) {
	if err := checkSchedule(perWeek, lengthMin); err != nil {
		return 0, err
	}
	return lengthMin / 60 * perWeek * perWeek, nil
}

// ScheduleCautions says what the guidelines hold against a schedule as such:
// twice a week or less without residual clearance, and thrice-weekly sessions
// of less than three hours without it. Ranges and refusals as in [TargetFor].
//
// Sources: European Best Practice Guidelines 2002 and KDOQI 2006 (read).
func ScheduleCautions(perWeek, lengthMin, residualMlMin float64) ([]unit.Caution, error) {
	if err := checkTarget(perWeek, residualMlMin); err != nil {
		return nil, err
	}
	if err := checkSchedule(perWeek, lengthMin); err != nil {
		return nil, err
	}
	var c []unit.Caution
	if perWeek <= 2 {
		c = append(c, unit.Caution{Code: "twice_weekly", Text: "Two sessions a week are not recommended without residual kidney function (European Best Practice Guidelines 2002; KDOQI 2006)."})
	}
	if perWeek == 3 && residualMlMin < notable && lengthMin < ShortestThriceWeeklyMin {
		c = append(c, unit.Caution{Code: "session_below_3_h", Text: "At three sessions a week without residual clearance, a session of at least 3 hours is asked for (KDOQI 2006, guideline 4)."})
	}
	return c, nil
}
