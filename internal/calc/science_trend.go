package calc

func init() {
	formulas = append(formulas,
		Formula{"Robust centre", "trend", "median; 1.4826·median absolute deviation",
			"values in one unit; with fewer than 5 it says too few", "Hampel, J Am Stat Assoc 1974;69:383–93", "from memory", []string{"TestCentreOf", "TestCentreIsRobust"}},
		Formula{"Robust line", "trend", "median of the slopes between all pairs; limits by Kendall's statistic",
			"values in one unit by the day; with fewer than 6 on three days it says too few", "Sen, J Am Stat Assoc 1968;63:1379–89", "from memory",
			[]string{"TestLineOf", "TestLineCoverage", "TestLineTurnsAndShifts"}},
		Formula{"When a limit is met", "trend", "day + (limit − level)/slope, with the slope's limits",
			"a line that goes towards the limit; none otherwise; gives a day", "the robust line", "derived, checked", []string{"TestReachOf"}},
		Formula{"Change of level", "trend", "medians apart by the share asked for and by 2·1.2533·spread·√(1/n + 1/m)",
			"values in one unit; with fewer than six before it says too few", "the standard error of a median", "derived, checked", []string{"TestChangeOf"}},
		Formula{"Watch for drift", "trend", "cumulative sums, slack 0.5, limit 5: run lengths 465 and 10.4",
			"values in deviations from their usual centre", "Page, Biometrika 1954;41:100–15; tables in Montgomery, Introduction to Statistical Quality Control", "from memory",
			[]string{"TestWatch", "TestWatchRunLengths"}},
	)
}
