package calc

// The two-pool urea model of kinetics and what is found with it.
func init() {
	const definition = "Gotch, Nephrol Dial Transplant 1998;13 Suppl 6:10–4"
	formulas = append(formulas,
		Formula{"Two-pool urea", "kinetics", "d(Vo·Co)/dt = G − (K + Kr)·Co + Kc·(Ci − Co), d(Vi·Ci)/dt = −Kc·(Ci − Co)",
			"Gotch and Sargent, Kidney Int 1985;28:526–34; Schneditz and Daugirdas, ASAIO J 1994;40:M667–73", "from memory",
			[]string{"TestSteadyAgainstReferenceCases", "TestSteadyAgainstSecondMethod", "TestSteadyOverTheWholeRange", "TestStepAgainstMatrixExponential", "TestModelChecks"}},
		Formula{"Steady state of a cycle", "kinetics", "m = (I − A)⁻¹·g·G over one pass of the cycle", "the model is linear", "derived, checked",
			[]string{"TestSteadyAgainstReferenceCases", "TestSteadyAgainstSecondMethod", "TestSteadyNeverFails", "TestEveryStartIsForgotten",
				"TestWhatIsMadeIsRemoved", "TestLevelsScaleWithGeneration", "TestMoreClearanceNeverRaisesTheMeanPre", "TestACycleMayBeWrittenOtherwise"}},
		Formula{"Pools that share the fluid", "kinetics", "constant matrix in ∫dt/V, by divided differences of exp", "the two-pool model", "derived, checked",
			[]string{"TestStepAgainstMatrixExponential", "TestStepsAgree", "TestSteadyAgainstSecondMethod"}},
		Formula{"Fluid from outside the cells", "kinetics", "D = E·r·M + G·w + z with r and w smooth, z dying out",
			"Chang, SIAM J Appl Math 1972;22:520–6, for the splitting of two time scales", "derived, checked",
			[]string{"TestStepsAgree", "TestSteadyAgainstSecondMethod"}},
		Formula{"Standard Kt/V by definition", "kinetics", "(G / mean pre) / V × 10080 min", definition, "from memory",
			[]string{"TestSteadyAgainstReferenceCases", "TestModelChecks", "TestFollowingASteadyCycle", "TestFollowingAMissedSession"}},
		Formula{"Kt/V of the one pool", "kinetics", "K·t/V′, V′ = −s·t/(e^(−s·τ) − 1), τ = ln((E·pre − G)/(E·post − G))/E", "the one-pool model", "derived, checked",
			[]string{"TestSteadyAgainstReferenceCases", "TestSteadyAgainstSecondMethod", "TestEndlessTransferIsOnePool"}},
		Formula{"One pool of changing volume", "kinetics", "C = (C0 − G/E)·(V1/V0)^(−E/s) + G/E, E = K + Kr + s",
			"Gotch and Sargent, Kidney Int 1985;28:526–34", "from memory", []string{"TestModelChecks", "TestEndlessTransferIsOnePool"}},
		Formula{"Recorded fortnight", "kinetics", "the model through the sessions that took place", "the two-pool model", "derived, checked",
			[]string{"TestFollowingASteadyCycle", "TestFollowingAMissedSession", "TestStoredIsWhatThePoolsHold", "TestCurvePassesThroughTheLevels", "TestModelChecks"}},
		Formula{"Volume and generation from three samples", "kinetics", "the V and G with which the model goes through pre, post and next pre", "the two-pool model", "derived, checked",
			[]string{"TestFitThreeAgainstReferenceCases", "TestFitThreeFindsWhatMadeTheSamples", "TestFitSlopesAgainstReferenceCases", "TestOnePoolFitIsBiased", "TestModelChecks"}},
		Formula{"Volume and generation from a steady schedule", "kinetics", "post/pre gives V, the level gives G", "the two-pool model", "derived, checked",
			[]string{"TestFitSteadyAgainstReferenceCases", "TestFitSteadyFindsWhatMadeTheSamples", "TestModelChecks"}},
		Formula{"A person from months of samples", "kinetics", "least squares of ln V, ln G and ln of one clearance factor; ranges by the curvature", "the two-pool model", "derived, checked",
			[]string{"TestEstimateCoversTheTruth", "TestEstimateNamesSpoiltDraws", "TestCleanDrawsGiveTheTruth", "TestSpoiltDrawsAreNamed"}},
	)
}
