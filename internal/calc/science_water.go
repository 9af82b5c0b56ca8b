package calc

func init() {
	iso := "ISO 23500-3:2019, as lists that quote it print it"
	formulas = append(formulas,
		Formula{"Chemical limits of dialysis water", "water", "within ≤ limit < over, in mg/L: aluminium 0.01 … zinc 0.1; calcium 2, magnesium 4, potassium 8, sodium 70",
			iso, "read, restated", []string{"TestISOTable", "TestJudgeEveryLimit", "TestJudgeBoundaries"}},
		Formula{"Limits of antimony, beryllium, thallium", "water", "0.006, 0.0004, 0.002 mg/L", "ISO 23500-3:2019, table 2", "from memory", []string{"TestISOTable"}},
		Formula{"Limits of microbes and endotoxin", "water", "water < 100 CFU/mL, < 0.25 EU/mL; ultrapure < 0.1, < 0.03; fluid < 100, < 0.5; action at half",
			"ISO 23500-3:2019 and ISO 23500-5:2019, as quoted", "read, restated", []string{"TestMicrobialLimits", "TestJudgeBoundaries"}},
		Formula{"Older American limits of microbes", "water", "< 200 CFU/mL, action 50; < 2 EU/mL, action 1", "US Medicare rule, resting on ANSI/AAMI RD52:2004, as quoted", "read, restated",
			[]string{"TestMicrobialLimits"}},
		Formula{"Proposed lower limits", "water", "magnesium 1, potassium 2, sodium 50 mg/L", "proposal by a standards author, undated", "read", []string{"TestProposalIsMarked", "TestEditionSwitch"}},
		Formula{"Censored results", "water", "a verdict only when every value that the result allows has it", "definition", "definition",
			[]string{"TestJudgeCensored", "TestCensoredVerdictIsSound"}},
		Formula{"Nitrate as nitrogen", "water", "N = NO3·14.007/62.004", "atomic weights, IUPAC", "from memory", []string{"TestNitrateBasis"}},
		Formula{"Least count of a culture", "water", "dilution/volume, CFU/mL", "definition", "definition", []string{"TestCultureMethod"}},
		Formula{"Chlorine test before a start", "water", "≤ 0.1 mg/L by a method that tells 0.1 from none; at most 60 minutes old; again every 4 hours",
			"ISO 23500-3:2019; clinics' practice, Clin J Am Soc Nephrol 2015; 60 minutes is our own", "read, restated",
			[]string{"TestChlorineRule", "TestChlorineMethods", "TestChlorineRepeats"}},
		Formula{"Rejection", "water", "(1 − product/feed)·100, at least 90 %", "Clin J Am Soc Nephrol 2015, clinics' list of water checks", "read", []string{"TestPlantReadings", "TestBounds"}},
		Formula{"Hardness", "water", "1 gpg = 17.1, 1 °dH = 17.8, 1 °fH = 10, 1 mmol/L = 100.1 mg/L CaCO3; under 17", "arithmetic; teaching text on dialysis water", "read, restated",
			[]string{"TestPlantReadings", "TestBounds"}},
		Formula{"Contact time of carbon", "water", "volume/flow, more than 10 min", "teaching text on dialysis water", "read", []string{"TestPlantReadings", "TestBounds"}},
		Formula{"Machine against meter", "water", "conductivity within 0.3 mS/cm, each within 5 % of the set value; pH within 0.2", "common practice", "from memory", []string{"TestMeterRule"}},
		Formula{"Residual disinfectant", "water", "chlorine ≤ 0.1, peracetic acid < 1, formaldehyde < 3 mg/L", "AAMI RD47; makers' texts go first", "from memory", []string{"TestBounds"}},
		Formula{"Due by the first of several counts", "water", "due when any of days, months, sessions, hours, litres is reached", "definition", "definition",
			[]string{"TestDueAt", "TestDueFirstWins", "TestAddMonths"}},
		Formula{"Sample in time", "water", "at the laboratory in 24 h cooled, 30 min uncooled", "ISO 23500-1", "from memory", []string{"TestSampleHandling", "TestSampleOverdue"}},
	)
}
