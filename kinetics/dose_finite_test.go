package kinetics

import (
	"errors"
	"math"
	"testing"

	"ebbline/unit"
	"pgregory.net/rapid"
)

// anything draws ordinary values, values at and past the ends of ranges, and
// what no measurement gives.
func anything(t *rapid.T) float64 {
	return rapid.OneOf(
		rapid.Float64Range(0, 3),
		rapid.Float64Range(0, 300),
		rapid.Float64Range(-10, 12000),
		rapid.SampledFrom([]float64{0, math.Copysign(0, -1), 1, 2, 3, 50, 60, 250, 300, 500, 1000, 1440, 10080, 20000,
			5e-324, 1e-300, 1e-17, 1 - 1e-16, 1e9, 1e17, math.MaxFloat64, math.Inf(1), math.Inf(-1), math.NaN()}),
	).Draw(t, "value")
}

// Whatever goes in, either a refusal of what went in comes out or a number.
func TestNothingGivesNaN(t *testing.T) {
	urea := func(t *rapid.T) unit.Urea { return unit.Urea(anything(t)) }
	access := func(t *rapid.T) Access {
		return rapid.SampledFrom([]Access{Arteriovenous, Venovenous, ""}).Draw(t, "access")
	}
	person := func(t *rapid.T) Person {
		return Person{rapid.SampledFrom([]Sex{Female, Male, ""}).Draw(t, "sex"), anything(t), anything(t), anything(t), rapid.Bool().Draw(t, "diabetes")}
	}
	session := func(t *rapid.T) Sampled {
		return Sampled{urea(t), urea(t), anything(t), anything(t), anything(t), anything(t), anything(t)}
	}
	protein := func(t *rapid.T) ProteinSample {
		return ProteinSample{urea(t), anything(t), rapid.IntRange(0, 5).Draw(t, "n"),
			rapid.SampledFrom([]Position{FirstOfWeek, MiddleOfWeek, LastOfWeek, ""}).Draw(t, "position"), anything(t), anything(t)}
	}
	phosphate := func(t *rapid.T) PhosphateSession {
		return PhosphateSession{anything(t), anything(t), anything(t), anything(t), anything(t), anything(t)}
	}
	course := func(t *rapid.T) ([]float64, error) {
		c, err := phosphate(t).Course()
		return []float64{c.EndMmolL, c.After60MmolL, c.RemovedMmol, c.PlateauMmolL, c.ClearedL}, err
	}
	for name, f := range map[string]func(*rapid.T) ([]float64, error){
		"URR":             func(t *rapid.T) ([]float64, error) { return figure(URR(urea(t), urea(t))) },
		"SinglePool":      func(t *rapid.T) ([]float64, error) { return figure(SinglePool(session(t))) },
		"SinglePoolFirst": func(t *rapid.T) ([]float64, error) { return figure(SinglePoolFirst(session(t))) },
		"SinglePoolRange": func(t *rapid.T) ([]float64, error) {
			low, high, err := SinglePoolRange(session(t), anything(t))
			return []float64{low, high}, err
		},
		"GenerationTerm": func(t *rapid.T) ([]float64, error) { return one(GenerationTerm(anything(t))) },
		"Equilibrated":   func(t *rapid.T) ([]float64, error) { return figure(Equilibrated(anything(t), anything(t), access(t))) },
		"EquilibratedWith": func(t *rapid.T) ([]float64, error) {
			return figure(EquilibratedWith(anything(t), anything(t), anything(t)))
		},
		"EquilibratedRate": func(t *rapid.T) ([]float64, error) {
			return figure(EquilibratedRate(anything(t), anything(t), access(t)))
		},
		"EquilibratedHEMO": func(t *rapid.T) ([]float64, error) { return figure(EquilibratedHEMO(anything(t), anything(t))) },
		"StandardKtV": func(t *rapid.T) ([]float64, error) {
			return figure(StandardKtV(anything(t), anything(t), anything(t), anything(t)))
		},
		"StandardCeiling": func(t *rapid.T) ([]float64, error) { return one(StandardCeiling(anything(t), anything(t))) },
		"StandardFull": func(t *rapid.T) ([]float64, error) {
			return figure(StandardFull(anything(t), anything(t), anything(t), WholeWeek{anything(t), anything(t), anything(t)}))
		},
		"SinglePoolNeeded": func(t *rapid.T) ([]float64, error) {
			return one(SinglePoolNeeded(anything(t), anything(t), anything(t), access(t)))
		},
		"SurfaceNormalised": func(t *rapid.T) ([]float64, error) {
			return one(SurfaceNormalised(anything(t), anything(t), anything(t), anything(t)))
		},
		"StandardForSurface": func(t *rapid.T) ([]float64, error) {
			return one(StandardForSurface(anything(t), anything(t), anything(t)))
		},
		"TargetFor": func(t *rapid.T) ([]float64, error) {
			target, err := TargetFor(anything(t), anything(t))
			return []float64{target.Minimum, target.Target}, err
		},
		"HaemodialysisProduct": func(t *rapid.T) ([]float64, error) { return one(HaemodialysisProduct(anything(t), anything(t))) },
		"Watson":               func(t *rapid.T) ([]float64, error) { return figure(Watson(person(t))) },
		"HumeWeyers":           func(t *rapid.T) ([]float64, error) { return figure(HumeWeyers(person(t))) },
		"Chertow":              func(t *rapid.T) ([]float64, error) { return figure(Chertow(person(t))) },
		"Nadler":               func(t *rapid.T) ([]float64, error) { return one(Nadler(person(t))) },
		"DuBois":               func(t *rapid.T) ([]float64, error) { return one(DuBois(anything(t), anything(t))) },
		"GehanGeorge":          func(t *rapid.T) ([]float64, error) { return one(GehanGeorge(anything(t), anything(t))) },
		"Haycock":              func(t *rapid.T) ([]float64, error) { return one(Haycock(anything(t), anything(t))) },
		"Mosteller":            func(t *rapid.T) ([]float64, error) { return one(Mosteller(anything(t), anything(t))) },
		"DiffusiveClearance": func(t *rapid.T) ([]float64, error) {
			return figure(DiffusiveClearance(anything(t), anything(t), anything(t)))
		},
		"KoA":             func(t *rapid.T) ([]float64, error) { return figure(KoA(anything(t), anything(t), anything(t))) },
		"TotalClearance":  func(t *rapid.T) ([]float64, error) { return one(TotalClearance(anything(t), anything(t), anything(t))) },
		"InVivoKoA":       func(t *rapid.T) ([]float64, error) { return one(InVivoKoA(anything(t), anything(t))) },
		"BloodWaterFlow":  func(t *rapid.T) ([]float64, error) { return one(BloodWaterFlow(anything(t), anything(t))) },
		"PlasmaWaterFlow": func(t *rapid.T) ([]float64, error) { return one(PlasmaWaterFlow(anything(t), anything(t))) },
		"Saturation":      func(t *rapid.T) ([]float64, error) { return one(Saturation(anything(t), anything(t))) },
		"BloodSideClearance": func(t *rapid.T) ([]float64, error) {
			return one(BloodSideClearance(anything(t), anything(t), anything(t)))
		},
		"RecirculatedShare": func(t *rapid.T) ([]float64, error) { return one(RecirculatedShare(anything(t), anything(t))) },
		"RecirculatedClearance": func(t *rapid.T) ([]float64, error) {
			return one(RecirculatedClearance(anything(t), anything(t), anything(t)))
		},
		"NominalKtV":     func(t *rapid.T) ([]float64, error) { return one(NominalKtV(anything(t), anything(t), anything(t))) },
		"ClearanceFor":   func(t *rapid.T) ([]float64, error) { return one(ClearanceFor(anything(t), anything(t), anything(t))) },
		"DialysateFor":   func(t *rapid.T) ([]float64, error) { return one(DialysateFor(anything(t), anything(t), anything(t))) },
		"ShareDelivered": func(t *rapid.T) ([]float64, error) { return figure(ShareDelivered(anything(t), anything(t))) },
		"NPCR":           func(t *rapid.T) ([]float64, error) { return figure(NPCR(protein(t))) },
		"CorrectedPre": func(t *rapid.T) ([]float64, error) {
			u, err := CorrectedPre(protein(t))
			return []float64{float64(u)}, err
		},
		"Generation": func(t *rapid.T) ([]float64, error) {
			return one(Generation(Interval{urea(t), urea(t), urea(t), anything(t), anything(t), anything(t), anything(t)}))
		},
		"ProteinCatabolicRate": func(t *rapid.T) ([]float64, error) { return one(ProteinCatabolicRate(anything(t), anything(t))) },
		"NPCRFromGeneration":   func(t *rapid.T) ([]float64, error) { return one(NPCRFromGeneration(anything(t), anything(t))) },
		"GenerationFromNPCR":   func(t *rapid.T) ([]float64, error) { return one(GenerationFromNPCR(anything(t), anything(t))) },
		"SargentPCR":           func(t *rapid.T) ([]float64, error) { return one(SargentPCR(anything(t))) },
		"ResidualClearance": func(t *rapid.T) ([]float64, error) {
			return figure(ResidualClearance(Collection{anything(t), urea(t), anything(t), urea(t)}))
		},
		"ResidualGFR":        func(t *rapid.T) ([]float64, error) { return one(ResidualGFR(anything(t), anything(t))) },
		"PerStandardSurface": func(t *rapid.T) ([]float64, error) { return one(PerStandardSurface(anything(t), anything(t))) },
		"TimeAveraged": func(t *rapid.T) ([]float64, error) {
			u, err := TimeAveraged([]Point{{anything(t), urea(t)}, {anything(t), urea(t)}, {anything(t), urea(t)}})
			return []float64{float64(u)}, err
		},
		"EquivalentClearance": func(t *rapid.T) ([]float64, error) { return one(EquivalentClearance(anything(t), urea(t))) },
		"EquivalentPer40L":    func(t *rapid.T) ([]float64, error) { return one(EquivalentPer40L(anything(t), anything(t))) },
		"EquivalentWeekly":    func(t *rapid.T) ([]float64, error) { return one(EquivalentWeekly(anything(t), anything(t))) },
		"Course":              course,
		"PhosphateWeek":       func(t *rapid.T) ([]float64, error) { return one(PhosphateWeek(phosphate(t), anything(t))) },
		"PhosphateVolume":     func(t *rapid.T) ([]float64, error) { return one(PhosphateVolume(anything(t))) },
	} {
		t.Run(name, func(t *testing.T) {
			rapid.Check(t, func(t *rapid.T) {
				got, err := f(t)
				if err != nil {
					if ie := (*unit.InputError)(nil); !errors.As(err, &ie) || ie.Field == "" || ie.Want == "" {
						t.Fatalf("err = %v, want an InputError with a field and what is accepted", err)
					}
					return
				}
				for _, v := range got {
					if math.IsNaN(v) || math.IsInf(v, 0) {
						t.Fatalf("result %v", got)
					}
				}
			})
		})
	}
}

// More time at the same clearance never lowers the dose, in any of its forms.
func TestMoreTimeNeverLowersTheDose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		clearance := rapid.Float64Range(50, 300).Draw(t, "clearance")
		perWeek := rapid.Float64Range(1, 7).Draw(t, "sessions")
		length := rapid.Float64Range(30, 600).Draw(t, "minutes")
		longer := length * rapid.Float64Range(1, 2).Draw(t, "longer")
		dose := func(length float64) (e, s float64) {
			sp, err := NominalKtV(clearance, length, 35)
			if err != nil {
				t.Fatal(err)
			}
			eq, err := Equilibrated(sp, length, Arteriovenous)
			if err != nil {
				t.Fatal(err)
			}
			std, err := StandardKtV(sp, eq.Value, perWeek, length)
			if err != nil {
				t.Fatal(err)
			}
			if eq.Value > sp || std.Value > perWeek*sp+1e-12 {
				t.Fatalf("equilibrated %v, standard %v of a single-pool %v", eq.Value, std.Value, sp)
			}
			return eq.Value, std.Value
		}
		e, s := dose(length)
		e2, s2 := dose(longer)
		if e2 < e*(1-1e-12) || s2 < s*(1-1e-12) {
			t.Fatalf("%v min: %v and %v; %v min: %v and %v", length, e, s, longer, e2, s2)
		}
	})
}
