package calc

import "ebbline/fluid"

// The formulas of fluid. Its terms are facts of the trade; what is published
// is what a removal rate went with, and how much people gain.
func init() {
	formulas = append(formulas,
		Formula{"Goal", "fluid", "max(0, pre − clothing − dry) + intake + washback + saline, to the machine's step; 0 below dry weight",
			"common practice, 1 kg = 1 L", "definition",
			[]string{"TestNewPlan", "TestNewPlanBelowDry", "TestNewPlanClothing", "TestNewPlanStep", "TestNewPlanIsExact", "TestPlanEveryTenth", "TestPlanProperties"}},
		Formula{"Removal rate", "fluid", "goal / length, and per kg of dry weight", "definition", "definition",
			[]string{"TestNewPlan", "TestPlanProperties"}},
		Formula{"Shortest session and largest goal", "fluid", "goal/(limit·dry), up to the minute; lesser of limit·dry·length and largest removal, down to the mL",
			"definition", "definition", []string{"TestNewPlanAgainstLimits", "TestNewPlanLargestRemoval", "TestPlanProperties"}},
		Formula{"The plan reckoned twice", "fluid", "whole parts from the end backwards, against fractions from the pre-weight on",
			"the plan", "derived, checked", []string{"TestRecheckNamesWhatDiffers", "TestRecheckOfAnotherInput", "TestPlanProperties"}},
		Formula{"Caution on removal rates", "fluid", "above 10 and above 13 mL/h per kg",
			fluid.SourceFlythe + " (abstract); " + fluid.SourceAssimon + " (abstract, table 3)", "read", []string{"TestNewPlanCautions"}},
		Formula{"Removal rates by weight", "fluid", "20 % more deaths at 3·W + 500, 40 % at 3·W + 630 mL/h", fluid.SourceByWeight, "read", []string{"TestRatesByWeight"}},
		Formula{"The rest of a session", "fluid", "(goal + added − removed) / minutes left, and what the limit lets through in them",
			"common practice", "definition",
			[]string{"TestReplan", "TestReplanAtTheLimit", "TestReplanGoalPassed", "TestReplanKeepsTheBalance", "TestReplanAtTheStartIsThePlan"}},
		Formula{"Heparin stop", "fluid", "minutes left − minutes before the end; moves with the end", "common practice", "definition", []string{"TestHeparinOff"}},
		Formula{"Allowance between sessions", "fluid", "what the limits let through − intake − washback − (last post − dry) + urine, not below 0",
			"common practice; insensible loss and water of food taken as cancelling", "definition",
			[]string{"TestBetween", "TestBetweenNothingLeft", "TestBetweenMeetsThePlan"}},
		Formula{"Volume of a dose", "fluid", "dose / strength; 1 % is 10 mg/mL", "common practice", "definition",
			[]string{"TestDraw", "TestDrawDiluted", "TestDrawRefuses", "TestDrawHoldsTheDose"}},
		Formula{"Local anaesthetic, stricter limit", "fluid", "3 mg/kg, at most 200 mg", fluid.StricterLidocaine().Source, "from memory",
			[]string{"TestSumAnaesthetic", "TestSumAnaestheticBySite"}},
		Formula{"Local anaesthetic, wider limit", "fluid", "4.5 mg/kg, at most 300 mg", fluid.WiderLidocaine().Source, "read", []string{"TestSumAnaesthetic"}},
		Formula{"Weight expected", "fluid", "last post-weight + a + b·hours, a and b fitted to the last 150 intervals under Student's t; band 3.2 deviations",
			"thresholds of our own, measured on simulated lives", "derived, checked",
			[]string{"TestUsualGainFindsTheLine", "TestUsualGainIsCalibrated", "TestWeighInGoesByTheHours", "TestSlipsAreAskedAbout", "TestSlipsInHarderLives"}},
		Formula{"Weight expected without history", "fluid", "−1 % to +6 % of the last post-weight; 3.5 ± 1.1 % in 56 h looked for within it",
			"bounds of our own; López-Gómez JM et al., Kidney Int 2005;67 Suppl 93:S63–8 (abstract)", "read",
			[]string{"TestWeighInWithoutHistory", "TestSlipsWithLittleHistory"}},
		Formula{"Pounds and stone", "unit", "1 lb = 0.45359237 kg, 1 st = 14 lb", "international pound of 1959", "from memory",
			[]string{"TestMassOfPounds", "TestMassOfStone", "TestImperialIsExact"}},
	)
}
