package calc

import "ebbline/fluid"

// What the start line judges by, where it is more than a bound that is compared.
func init() {
	formulas = append(formulas,
		Formula{"Removal rate of a plan", "session", "where the unit set no rate: above 10 look, above 13 stop; where it said that it sets none: above 13 stop",
			"mL/h per kg of dry weight, of what is dialled in over the agreed length, compared in whole numbers; inside a rate that the unit set nothing is said",
			fluid.SourceFlythe + "; " + fluid.SourceAssimon + "; that the second figure stops is our own", "read",
			[]string{"TestRateOfThePlan", "TestRateCheckValues"}},
		Formula{"Removal rate of the unit's paper", "session", "above the unit's rate stop; where it set none: an adult above 13 stop, above 10 look, in a pregnancy above 13 stop; a child, or under 35 kg, above 13 stop as a figure of adults, 10 is not used",
			"mL/h per kg of dry weight, of the paper's goal over its length and of its highest rate, compared in whole numbers",
			"as above; that 13 stops for a child or under 35 kg, whom it was not found in, and 10 is not used is our own", "definition", []string{"TestPaperRateForEachPerson"}},
		Formula{"Rate while running by the unit's paper", "session", "above the unit's rate, or 13 where it set none; above the highest rate on the paper, or where it names none above the larger of 1.25·goal/length and goal/length + 100",
			"mL/h, of a rate read off the machine and of what a changed goal leaves to come off over the treated time left; the last not of a removal profile, and the paper's own no more after the unit's word",
			"as above; the quarter and the 100 mL/h are our own", "definition", []string{"TestRateReadByPaper", "TestGoalChangedByPaper"}},
		Formula{"Low pressure of a child", "session", "start − upper ≥ 30, or 100·(start − upper) ≥ 20·start",
			"mmHg, whole numbers, where the unit set no figure; not where the start is not known",
			"our own; there is no agreed definition for children (Zhao X et al., ASN Kidney Week 2022, TH-OR32, abstract read)", "definition", []string{"TestLowPressureOfAChild"}},
		Formula{"Length and goal that bring a rate down", "session", "goal/(rate·dry), up to the minute; rate·dry·length, down to the machine's step; what stays on is the rest of the goal",
			"a rate and a dry weight above 0; gives min and mL", "definition", "definition", []string{"TestRateRemediesAreRounded"}},
		Formula{"Flushes in a session", "session", "n = floor((length − 1 min) / interval); in the goal n × the volume of one",
			"whole minutes, mL; none at the very end; each belongs to half an interval before its time to half an interval after, by treated time; one that a shorter session has no time for is left out at once, one of a longer session is added as it is given", "common practice; the count and the times are our own", "definition",
			[]string{"TestFlushCount", "TestFlushesAndWhatToSet", "TestFlushesOfAShorterSession", "TestFlushesOfALongerSession"}},
		Formula{"Blood sugar in mmol/L", "session", "mg/dL × 0.0555, to the nearest 0.01",
			"mg/dL, mmol/L; kept as typed and shown with mmol/L beside it", "arithmetic: 10 / 180.16 g/mol", "definition", []string{"TestMolarOfGlucose"}},
		Formula{"Net removal in haemodiafiltration", "session", "removed = figure − substitution so far, both of one reading, where the machine's figure has the substitution fluid in it; the figure itself where it is net",
			"mL, not below 0; counts that began again are added up; not known while nobody has said what the figure means, or without the second figure", "definition", "definition",
			[]string{"TestWhatAFigureForTheFluidRemovedTells", "TestNetAndGrossMachinesAgree"}},
	)
}
