package calc

func init() {
	formulas = append(formulas,
		Formula{"Longest gap of an order", "session", "most days between two ordered days × 24 h − length; or hours from start to start − length",
			"days of the week, or 12 to 168 h; a length that is not known counts as 0; gives hours", "definition", "definition", []string{"TestLongestGap"}},
		Formula{"Sessions missed", "session", "ordered days between two sessions, without those moved by a day; or ⌊(opened − last begun + slack)/every⌋ − 1, slack every/8, at most 6 h",
			"moments and days; gives a count, not below 0", "definition; the slack our own", "definition", []string{"TestMissedBefore", "TestTurns", "TestMissedDays"}},
		Formula{"Time without treatment", "session", "look from 12 h beyond the longest gap, or one session missed or cut by half; stop from 96 h (72 h with five or more a week), or two missed",
			"hours since the last end; the start line", "deaths after a missed session, BMC Nephrol 2020;21 (10.1186/s12882-020-01874-x), and after the long gap, N Engl J Med 2011;365:1099; the bounds our own", "read",
			[]string{"TestGapStates", "TestGapOf", "TestGapCheck"}},
	)
}
