package calc

func init() {
	formulas = append(formulas,
		Formula{"Robust centre", "trend", "median; 1.4826·median absolute deviation", "Hampel, J Am Stat Assoc 1974;69:383–93", "from memory", []string{"TestCentreOf", "TestCentreIsRobust"}},
		Formula{"Robust line", "trend", "median of the slopes between all pairs; limits by Kendall's statistic", "Sen, J Am Stat Assoc 1968;63:1379–89", "from memory",
			[]string{"TestLineOf", "TestLineCoverage", "TestLineTurnsAndShifts"}},
		Formula{"When a limit is met", "trend", "day + (limit − level)/slope, with the slope's limits", "the robust line", "derived, checked", []string{"TestReachOf"}},
		Formula{"Change of level", "trend", "medians apart by the share asked for and by 2·1.2533·spread·√(1/n + 1/m)", "the standard error of a median", "derived, checked", []string{"TestChangeOf"}},
		Formula{"Watch for drift", "trend", "cumulative sums, slack 0.5, limit 5: run lengths 465 and 10.4", "Page, Biometrika 1954;41:100–15; tables in Montgomery, Introduction to Statistical Quality Control", "from memory",
			[]string{"TestWatch", "TestWatchRunLengths"}},
	)
}
