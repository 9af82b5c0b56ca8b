package calc

func init() {
	formulas = append(formulas,
		Formula{"Static access pressure", "access", "P + 0.35·H + 3.4; ratio to mean arterial pressure above 0.5 (grafts)", "table of venous pressure methods, J Am Soc Nephrol (article 27845)", "read",
			[]string{"TestStaticEstimate"}},
		Formula{"Recirculation, slow flow", "access", "(S − A)/(S − V)", "Royal Children's Hospital protocol 1215", "read", []string{"TestFlows"}},
		Formula{"Access flow by line reversal", "access", "Qb·(1/R − 1)", "Krivitski 1995", "from memory", []string{"TestFlows"}},
		Formula{"Access flow by dialysate urea", "access", "K·Cr/(Cn − Cr)", "study of dialysate urea with line reversal (abstract)", "read", []string{"TestFlows"}},
		Formula{"Access flow by dialysance", "access", "Dn·Dr/(Dn − Dr)", "the mass balance of the one by urea", "derived, checked", []string{"TestFlows"}},
		Formula{"Access flow to show", "access", "fistula < 500, graft < 600 mL/min, or a fall by a quarter", "KDOQI 2006 and 2019", "from memory", []string{"TestFlowConcern"}},
		Formula{"Rest of needle sites", "access", "14 days; tips 5 cm apart; 3 cm from the anastomosis", "UKKA/BRS/VASBI 2018", "from memory", []string{"TestRest", "TestPropose", "TestRotation", "TestEverySiteIsUsed"}},
		Formula{"Pressure at like conditions", "access", "same gauge, blood flow ± 10: last 3 a quarter above the 12 before, or a cumulative sum from the first 20", "common practice; our own", "derived, checked",
			[]string{"TestComparePressure", "TestPressureDriftIsSeen"}},
		Formula{"Long bleeding", "access", "more than 20 min in 3 of 6 sessions", "common practice", "from memory", []string{"TestBleeding"}},
		Formula{"Needle and blood flow", "access", "17 G 200–250, 16 G 250–350, 15 G 350–450, 14 G above 450 mL/min", "common practice", "from memory", []string{"TestGauge"}},
		Formula{"Signs of infection", "access", "site score ≥ 2, 37.8 °C or chills", "cluster of pyrogenic reactions, 1988; score our own", "read", []string{"TestSigns"}},
	)
}
