package kinetics

import (
	"errors"

	"ebbline/unit"
)

// covers lists, for every row of testdata/checks.json, what holds it. The
// first pattern that matches counts.
var covers = []cover{
	// Single pool.
	{ids: "R-sp-01", by: func(in checkInputs) ([]float64, error) {
		return figure(SinglePoolFirst(in.ratioSession(in.num("R"))))
	}},
	{ids: "F-sp-02", by: func(in checkInputs) ([]float64, error) {
		return figure(SinglePool(in.ratioSession(in.num("R"))))
	}},
	{ids: "C-sp-0*", by: func(in checkInputs) ([]float64, error) {
		s := in.ratioSession(in.num("post") / in.num("pre"))
		s.Pre, s.Post = unit.BUN(in.num("pre")), unit.BUN(in.num("post"))
		return figure(SinglePool(s))
	}},
	{ids: "C-urr-01", by: func(in checkInputs) ([]float64, error) {
		f, err := URR(unit.BUN(in.num("pre")), unit.BUN(in.num("post")))
		return []float64{100 * f.Value}, err
	}},
	{ids: "C-gf-6x8h", by: generationBySchedule},

	// Equilibrated.
	{ids: "R-ek-01", by: func(in checkInputs) ([]float64, error) { return in.rate(Arteriovenous) }},
	{ids: "C-ekav-*", by: func(in checkInputs) ([]float64, error) { return in.rate(Arteriovenous) }},
	{ids: "C-ekvv-*", by: func(in checkInputs) ([]float64, error) { return in.rate(Venovenous) }},
	{ids: "R-ek-02", by: func(checkInputs) ([]float64, error) { return two(Arteriovenous.rate()), nil }},
	{ids: "R-ek-03", by: func(checkInputs) ([]float64, error) { return two(Venovenous.rate()), nil }},
	{ids: "R-ek-04", by: func(checkInputs) ([]float64, error) { return one(Arteriovenous.ClearanceTime()) }},
	{ids: "C-ektt-*", by: func(in checkInputs) ([]float64, error) {
		return figure(Equilibrated(in.num("spKtV"), in.num("t_min"), Arteriovenous))
	}},
	{ids: "C-ekhm-*", by: func(in checkInputs) ([]float64, error) {
		return figure(EquilibratedHEMO(in.num("spKtV"), 60*in.num("t_h")))
	}},
	{ids: "M-ek-01", by: func(checkInputs) ([]float64, error) { return []float64{hemoShare, hemoSlope, hemoOffset}, nil }},
	{ids: "M-ek-02", none: "a clearance time that the caller of EquilibratedWith may choose"},

	// Standard.
	{ids: "R-std-05", by: func(in checkInputs) ([]float64, error) {
		t := in.num("t_min")
		return figure(StandardKtV(in.num("eKtV")*(t+36)/t, in.num("eKtV"), in.num("n"), t))
	}},
	{ids: "R-std-0*", by: standardByTattersall},
	{ids: "C-std-8", by: func(in checkInputs) ([]float64, error) {
		return figure(StandardKtV(in.num("spKtV"), in.num("eKtV"), in.num("n"), in.num("t_min")))
	}},
	{ids: "C-std-9", by: func(in checkInputs) ([]float64, error) {
		return one(StandardCeiling(in.num("n"), in.num("t_min")))
	}},
	{ids: "C-std-*", by: standardByTattersall},
	{ids: "C-k13-6", by: standardByTattersall},
	{ids: "C-req-*", by: func(in checkInputs) ([]float64, error) {
		return one(SinglePoolNeeded(in.num("target"), in.num("n"), 60*in.num("t_h"), Arteriovenous))
	}},
	{ids: "R-lo-01", by: func(in checkInputs) ([]float64, error) {
		in.values["spKtV"] = in.num("D_L") * in.num("sat") / in.num("V_L")
		return standardByTattersall(in)
	}},
	{ids: "C-fhn-2", by: func(in checkInputs) ([]float64, error) {
		return figure(StandardFull(in.num("S"), in.num("spKtV"), in.num("F"),
			WholeWeek{RemovedL: in.num("UFw_L"), VolumeL: in.num("V_L"), ResidualMlMin: in.num("Kru")}))
	}},
	{ids: "C-T[256]-fhn", by: func(in checkInputs) ([]float64, error) {
		// The fluid and residual clearance of those weeks stand in their rows.
		w := map[string]WholeWeek{"T2": {7.5, 35, 3}, "T5": {3.5 * 2.57143, 35, 0}, "T6": {9, 35, 0}}[in.text("case")]
		t := map[string]float64{"T2": 240, "T5": 240, "T6": 180}[in.text("case")]
		s, err := StandardKtV(in.num("spKtV"), in.num("eKtV"), in.num("n"), t)
		if err != nil {
			return nil, err
		}
		return figure(StandardFull(s.Value, in.num("spKtV"), in.num("n"), w))
	}},
	{ids: "R-san-01", by: func(in checkInputs) ([]float64, error) {
		if mean := (in.num("men") + in.num("women")) / 2; mean < AdultVolumePerSurface-0.1 || mean > AdultVolumePerSurface+0.1 {
			return nil, errors.New("the mean of the medians is not the reference")
		}
		return []float64{AdultVolumePerSurface}, nil
	}},
	{ids: "R-san-02", by: func(in checkInputs) ([]float64, error) {
		san, err := SurfaceNormalised(in.num("stdKtV"), 2*in.num("V_over_S"), 2, AdultVolumePerSurface)
		return []float64{san * AdultVolumePerSurface}, err
	}},
	{ids: "R-san-03", by: func(checkInputs) ([]float64, error) { return []float64{ChildVolumePerSurface}, nil }},
	{ids: "R-san-04", by: func(in checkInputs) ([]float64, error) {
		return one(SurfaceNormalised(in.num("stdKtV"), in.num("V_over_S"), 1, in.num("norm")))
	}},
	{ids: "C-san-1", by: func(in checkInputs) ([]float64, error) {
		return one(SurfaceNormalised(in.num("stdKtV"), in.num("V_L"), in.num("BSA"), in.num("norm")))
	}},
	{ids: "R-ekr-01", by: func(in checkInputs) ([]float64, error) {
		return one(EquivalentWeekly(in.num("EKRc"), in.num("V_norm_L")))
	}},

	// Targets.
	{ids: "R-kd-01", by: func(checkInputs) ([]float64, error) {
		target, err := TargetFor(3, 0)
		return []float64{target.Minimum}, err
	}},
	{ids: "R-kd-02", by: func(checkInputs) ([]float64, error) {
		target, err := TargetFor(3, 0)
		return []float64{target.Target}, err
	}},
	{ids: "R-kd-03", by: func(checkInputs) ([]float64, error) {
		urr, err := targetOf(3, 0, "urr", kdoqi2006)
		return []float64{100 * urr.Minimum, 100 * urr.Target}, err
	}},
	{ids: "R-kd-05", by: func(checkInputs) ([]float64, error) { return []float64{ShortestThriceWeeklyMin / 60}, nil }},
	{ids: "R-kd-06", none: "a dialyser's beta-2-microglobulin clearance, which nothing here computes"},
	{ids: "R-kd-07", by: func(checkInputs) ([]float64, error) {
		target, err := TargetFor(6, 0)
		return []float64{target.Target, target.Minimum}, err
	}},
	{ids: "R-kd-08", by: func(checkInputs) ([]float64, error) {
		weekly, err := targetOf(5, 0, "stdktv", ebpg2007)
		session, err2 := targetOf(3, 0, "ektv", ebpg2007)
		return []float64{weekly.Minimum, session.Minimum}, errors.Join(err, err2)
	}},
	{ids: "R-ebpg-01", by: func(checkInputs) ([]float64, error) {
		e, err := targetOf(3, 0, "ektv", ebpg2002)
		sp, err2 := TargetFor(3, 0)
		return []float64{e.Minimum, sp.Target}, errors.Join(err, err2)
	}},
	{ids: "M-kd-01", by: func(checkInputs) ([]float64, error) { return minima(0, 3, 4, 6) }},
	{ids: "M-kd-02", by: func(checkInputs) ([]float64, error) { return minima(2, 2, 3, 4, 6) }},
	{ids: "M-hdp-01", by: func(checkInputs) ([]float64, error) {
		var v []float64
		for _, s := range [][2]float64{{3, 240}, {3, 480}, {6, 150}, {6, 480}} {
			p, err := HaemodialysisProduct(s[0], s[1])
			if err != nil {
				return nil, err
			}
			v = append(v, p)
		}
		return v, nil
	}},

	// Dialyser.
	{ids: "R-kt-01", by: func(in checkInputs) ([]float64, error) {
		return one(NominalKtV(in.num("K"), in.num("t_min"), in.num("W_kg")*in.num("V_frac")))
	}},
	{ids: "R-kt-02", by: func(in checkInputs) ([]float64, error) {
		return one(ClearanceFor(in.num("KtV"), in.num("t_min"), in.num("V_mL")/1000))
	}},
	{ids: "R-kt-03", none: "a fixed share of weight as body water, which no formula here uses"},
	{ids: "R-kt-04", by: func(in checkInputs) ([]float64, error) {
		return one(DialysateFor(in.num("spKtV"), in.num("V_L"), 1))
	}},
	{ids: "R-koa-01", by: func(in checkInputs) ([]float64, error) {
		return figure(KoA(in.num("K"), in.num("Qb"), in.num("Qd")))
	}},
	{ids: "R-koa-02", by: func(in checkInputs) ([]float64, error) {
		return one(BloodSideClearance(in.num("Qb"), in.num("Cin"), in.num("Cout")))
	}},
	{ids: "R-koa-03", by: func(in checkInputs) ([]float64, error) {
		// The time at which the pool, with nothing made, has come to the level.
		p := OnePool{VolumeL: in.num("V_L"), ClearanceMlMin: in.num("K")}
		least, most := 0.0, 1440.0
		for range 60 {
			p.LengthMin = (least + most) / 2
			c, err := p.After(in.num("C0"))
			if err != nil {
				return nil, err
			}
			if c > in.num("C1") {
				least = p.LengthMin
			} else {
				most = p.LengthMin
			}
		}
		return []float64{p.LengthMin / 60}, nil
	}},
	{ids: "R-koa-04", by: func(in checkInputs) ([]float64, error) {
		// After the time that the row before found, at its clearance.
		c, err := OnePool{VolumeL: in.num("V_L"), ClearanceMlMin: 217.5, LengthMin: 60 * 4.6996}.After(in.num("C0"))
		return []float64{in.num("V_L") * (in.num("C0") - c)}, err
	}},
	{ids: "R-koa-05", by: func(in checkInputs) ([]float64, error) {
		slow, err := DiffusiveClearance(in.num("KoA"), in.num("Qb"), 500)
		fast, err2 := DiffusiveClearance(in.num("KoA"), in.num("Qb"), 800)
		return []float64{100 * (fast.Value/slow.Value - 1)}, errors.Join(err, err2)
	}},
	{ids: "R-koa-06", by: func(checkInputs) ([]float64, error) { return []float64{100 * (1/InVivoShare - 1)}, nil }},
	{ids: "R-koa-0[78]", none: "measurements of dialysers, not a formula"},
	{ids: "C-mic-9", by: func(in checkInputs) ([]float64, error) {
		return figure(KoA(in.num("K"), in.num("Qb"), in.num("Qd")))
	}},
	{ids: "C-mic-*", by: func(in checkInputs) ([]float64, error) {
		return figure(DiffusiveClearance(in.num("KoA"), in.num("Qb"), in.num("Qd")))
	}},
	{ids: "C-qbw-1", by: func(in checkInputs) ([]float64, error) {
		return one(BloodWaterFlow(in.num("Qb"), in.num("Hct")))
	}},
	{ids: "C-sat-1", by: func(in checkInputs) ([]float64, error) {
		var v []float64
		for _, q := range [][2]float64{{250, 500}, {400, 800}} {
			k, err := DiffusiveClearance(in.num("KoA"), q[0], q[1])
			if err != nil {
				return nil, err
			}
			s, err := Saturation(k.Value, q[1])
			if err != nil {
				return nil, err
			}
			v = append(v, s)
		}
		return v, nil
	}},
	{ids: "C-ac-4", by: func(in checkInputs) ([]float64, error) {
		r, err := RecirculatedShare(in.num("Qb"), in.num("Qa"))
		if err != nil {
			return nil, err
		}
		return one(RecirculatedClearance(in.num("K"), in.num("Qb"), r))
	}},
	{ids: "F-ac-10", by: func(in checkInputs) ([]float64, error) {
		r, err := RecirculatedShare(in.num("Qb"), in.num("Qa"))
		return []float64{r * in.num("Qb")}, err
	}},

	// Body.
	{ids: "R-v-01", by: func(checkInputs) ([]float64, error) { return []float64{watsonAge}, nil }},
	{ids: "R-v-04", by: func(checkInputs) ([]float64, error) {
		return []float64{WatsonSpreadL(Male), WatsonSpreadL(Female)}, nil
	}},
	{ids: "R-v-0*", by: func(in checkInputs) ([]float64, error) { return figure(Watson(in.person())) }},
	{ids: "C-wat-*", by: func(in checkInputs) ([]float64, error) { return figure(Watson(in.person())) }},
	{ids: "C-hum-*", by: func(in checkInputs) ([]float64, error) { return figure(HumeWeyers(in.person())) }},
	{ids: "C-che-*", by: func(in checkInputs) ([]float64, error) { return figure(Chertow(in.person())) }},
	{ids: "C-bsa-dubois-*", by: func(in checkInputs) ([]float64, error) { return one(DuBois(in.num("h"), in.num("w"))) }},
	{ids: "C-bsa-gehan-*", by: func(in checkInputs) ([]float64, error) { return one(GehanGeorge(in.num("h"), in.num("w"))) }},
	{ids: "C-bsa-haycock-*", by: func(in checkInputs) ([]float64, error) { return one(Haycock(in.num("h"), in.num("w"))) }},
	{ids: "C-bsa-mosteller-*", by: func(in checkInputs) ([]float64, error) { return one(Mosteller(in.num("h"), in.num("w"))) }},
	{ids: "C-nad-*", by: func(in checkInputs) ([]float64, error) {
		in.values["h"] = 100 * in.num("h_m")
		return one(Nadler(in.person()))
	}},

	// Protein.
	{ids: "C-npcr-kr[23]", by: func(in checkInputs) ([]float64, error) {
		// The two rows name their schedule in words: 80 mg/dL is the twice-weekly one.
		p := ProteinSample{Pre: unit.BUN(in.num("C0")), SpKtV: in.num("spKtV"), PerWeek: 3, Position: FirstOfWeek,
			ResidualMlMin: in.num("Kr"), VolumeL: in.num("V_L")}
		if in.num("C0") == 80 {
			p.PerWeek = 2
		}
		pre, err := CorrectedPre(p)
		return []float64{pre.BUNMgPerDL()}, err
	}},
	{ids: "C-npcr-*", by: func(in checkInputs) ([]float64, error) {
		at := map[string]Position{"begin": FirstOfWeek, "mid": MiddleOfWeek, "end": LastOfWeek}[in.text("position")]
		return figure(NPCR(ProteinSample{Pre: unit.BUN(in.num("C0_mg_dL")), SpKtV: in.num("spKtV"),
			PerWeek: int(in.num("per_week")), Position: at}))
	}},
	{ids: "C-npl-200", by: npcrOverTheWeek},
	{ids: "C-npk-*", by: npcrOverTheWeek},

	// Phosphate.
	{ids: "R-p-03", only: 1, by: func(checkInputs) ([]float64, error) { return []float64{MobilisationMlMin}, nil }},
	{ids: "F-p-05", by: func(in checkInputs) ([]float64, error) { return one(PhosphateVolume(in.num("W_kg"))) }},
	{ids: "R-p-08", by: func(checkInputs) ([]float64, error) {
		// Six sessions of 175 min a week at a low dialysate flow: clearance 100
		// and the medians of mobilisation and volume, as nothing else is printed.
		c, err := PhosphateSession{PreMmolL: 5.2 / 3.0973762, MobilisationMl: MobilisationMlMin, VolumeL: 9.4,
			Clearance: 100, RemovedL: 1.5, LengthMin: 175}.Course()
		return []float64{c.RemovedMmol * 30.973762}, err
	}},
	{ids: "C-p-[1-4]-end", by: func(in checkInputs) ([]float64, error) {
		c, err := in.phosphate().Course()
		return []float64{c.EndMmolL}, err
	}},
	{ids: "C-p-[1-4]-rem", by: func(in checkInputs) ([]float64, error) {
		c, err := in.phosphate().Course()
		return []float64{c.RemovedMmol}, err
	}},
	{ids: "C-p-[1-4]-60", by: func(in checkInputs) ([]float64, error) {
		c, err := in.phosphate().Course()
		return []float64{c.After60MmolL}, err
	}},
	{ids: "C-pw-*", by: func(in checkInputs) ([]float64, error) {
		return one(PhosphateWeek(PhosphateSession{PreMmolL: 1.8, MobilisationMl: in.num("KM"), Clearance: in.num("Kd"),
			VolumeL: in.num("V_post_mL") / 1000, RemovedL: in.num("UF_week_mL") / 1000 / in.num("n"), LengthMin: in.num("t_min")}, in.num("n")))
	}},
	{ids: "R-p-0[1246]", none: "spread of measured parameters, quoted in the doc comments"},

	// Units.
	{ids: "M-conv-01", by: func(checkInputs) ([]float64, error) {
		u, err := unit.NewUrea(1, unit.UreaMmolPerL)
		return []float64{u.BUNMgPerDL(), u.UreaMgPerDL()}, err
	}},
	{ids: "M-conv-02", by: func(checkInputs) ([]float64, error) {
		a, _ := unit.FindAnalyte("phosphate")
		return one(a.Canonical(1, "mg/dL"))
	}},

	// The two-pool and the one-pool model.
	{ids: "C-T[1-9]-*", test: "TestModelChecks"},
	{ids: "R-tac-02", test: "TestModelChecks"},
	{ids: "C-sp1-hd", test: "TestModelChecks"},
	{ids: "C-inv*", test: "TestModelChecks"},
	{ids: "C-krf-44", by: gapShares},
	{ids: "C-krf-bias", by: plainMeans},
	{ids: "C-k-[23]", by: residualEquivalents},
	{ids: "R-kr-03", test: "TestMeanUreaPlain"},

	// Rows that are no formula, or not one of this room.
	{ids: "C-b2m-*", by: otherSolute},
	{ids: "R-b-0*", none: "beta-2-microglobulin is not modelled: which pool is dialysed could not be read"},
	{ids: "R-k-0*", none: "potassium is not predicted: its parameters could not be confirmed"},
	{ids: "R-kr-0[12]", none: "the factor k depends on what is held equal; standard Kt/V with residual clearance replaces it"},
	{ids: "R-err-01", none: "the error of collecting dialysate, which nothing here uses"},
	{ids: "R-reb-01", none: "one measured rebound at 30 min; the model's own rebound is in the rows C-T*-reb"},
	{ids: "R-g-01", none: "generation measured over one week, quoted in a doc comment"},
	{ids: "R-npcr-02", none: "a survey of people, not a formula"},
	{ids: "R-fhn-0*", none: "a trial's schedules and results"},
	{ids: "M-fhn-0*", none: "a trial's results, from memory"},
	{ids: "R-lo-02", none: "usual volumes of dialysate"},
	{ids: "C-uf-[123]", room: "internal/calc", test: "TestChecksOfRooms"},
	{ids: "F-uf-05", room: "internal/calc", test: "TestChecksOfRooms"},
	{ids: "R-uf-08", room: "internal/calc", test: "TestChecksOfRooms"},
	{ids: "R-uf-0[123]", none: "what a removal rate went with, quoted in the words of the cautions in fluid"},
	{ids: "R-uf-07", none: "what half an hour more of session went with; nothing here computes from it"},
	{ids: "R-uf-09", none: "what a gain went with; gains are held against the unit's limits, not against this"},
	{ids: "R-uf-1[01]", none: "what a gain, or a weight left over, went with; nothing here computes from it"},
	{ids: "R-uf-12", none: "how fast tissue gives up water, which nothing here uses"},
	{ids: "M-sar-01", none: "what a removal rate went with, from memory"},
	{ids: "C-rf-1", none: "a teaching model of refill that nothing here uses"},
	{ids: "F-ac-0[168]", room: "internal/calc", test: "TestChecksOfRooms"},
	{ids: "C-ac-[23]", room: "internal/calc", test: "TestChecksOfRooms"},
	{ids: "R-ac-02", room: "internal/calc", test: "TestChecksOfRooms"},
	{ids: "M-va-01", room: "internal/calc", test: "TestChecksOfRooms"},
	{ids: "R-ac-0[45]", none: "the dynamic ratio, whose pressure of the empty circuit could not be read"},
	{ids: "R-ac-07", none: "shares of recirculation to look at, quoted in a doc comment of access"},
	{ids: "R-ac-09", none: "goals of a unit's yearly count of clotted accesses"},
	{ids: "R-ac-11", none: "a goal of a unit's count of catheters"},
}
