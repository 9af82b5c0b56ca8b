package kinetics

import "ebbline/unit"

// An Interval is the time between two sessions as three samples see it.
type Interval struct {
	Start         unit.Urea // levelled out, 30–60 min after the session before
	Mean          unit.Urea // over the interval; used with residual clearance only
	End           unit.Urea // before the next session
	StartVolumeL  float64
	EndVolumeL    float64
	ResidualMlMin float64
	Minutes       float64
}

// Generation gives the urea generation between two sessions, in mg of
// nitrogen a minute:
//
//	G = (V2·C2 − V1·C1 + Kr·C̄·θ) / θ
//
// V mL, C mg/mL of urea nitrogen, Kr mL/min, θ minutes. All ureas above 0, up
// to 300 mmol/L, volumes from 1 to 250 L, Kr from 0 to 150 mL/min, θ above 0,
// up to 60 days, and the result above 0; otherwise an [*unit.InputError] comes
// back. The start must be the levelled-out urea: with the sample drawn right
// after the session, G comes out some 9 % high, because the rebound looks like
// generation. G is not the same in every gap of a week (0.155 to 0.188
// mmol/min over one, measured).
//
// Source: the balance of urea; Borah et al. and Gotch and Sargent (from
// memory).
func Generation(i Interval) (float64, error) {
	if err := refuse(
		above("start_urea", i.Start.MmolPerL(), 0, maxUreaMmolPerL),
		above("end_urea", i.End.MmolPerL(), 0, maxUreaMmolPerL),
		within("start_volume_l", i.StartVolumeL, 1, maxVolumeL),
		within("end_volume_l", i.EndVolumeL, 1, maxVolumeL),
		within("residual_clearance_ml_min", i.ResidualMlMin, 0, maxResidual),
		above("interval_min", i.Minutes, 0, maxDays*24*60),
	); err != nil {
		return 0, err
	}
	passed := 0.0
	if i.ResidualMlMin > 0 {
		if err := refuse(above("mean_urea", i.Mean.MmolPerL(), 0, maxUreaMmolPerL)); err != nil {
			return 0, err
		}
		passed = i.ResidualMlMin * i.Mean.NitrogenMgPerML() * i.Minutes
	}
	gained := 1000 * (i.EndVolumeL*i.End.NitrogenMgPerML() - i.StartVolumeL*i.Start.NitrogenMgPerML())
	g := (gained + passed) / i.Minutes
	if g <= 0 {
		return 0, unit.Refuse("end_urea", ureaText(i.End), "a urea that rose since the session before")
	}
	return g, nil
}

// The line between urea generation and protein catabolic rate, per litre of
// urea volume.
const (
	pcrPerGeneration = 9.35  // g/day for 1 mg/min
	pcrPerLitre      = 0.294 // g/day for 1 L
	npcrScale        = 0.58  // L of urea volume for 1 kg of normalised weight
	maxGeneration    = 200.0 // mg/min
)

// ProteinCatabolicRate gives the protein broken down in g/day:
//
//	PCR = 9.35·G + 0.294·V
//
// G mg/min of urea nitrogen, V litres. Protein lost in urine comes on top where
// it passes 5 g/day. G from 0 to 200, V from 1 to 250; otherwise an
// [*unit.InputError] comes back.
//
// Source: Borah et al. and Gotch (from memory).
func ProteinCatabolicRate(generation, volumeL float64) (float64, error) {
	if err := checkGeneration(generation, volumeL); err != nil {
		return 0, err
	}
	return pcrPerGeneration*generation + pcrPerLitre*volumeL, nil
}

// NPCRFromGeneration gives the normalised protein catabolic rate in g/kg/day:
//
//	nPCR = 0.58·PCR/V
//
// with PCR by [ProteinCatabolicRate]. Ranges and source as there.
func NPCRFromGeneration(generation, volumeL float64) (float64, error) {
	pcr, err := ProteinCatabolicRate(generation, volumeL)
	if err != nil {
		return 0, err
	}
	return npcrScale * pcr / volumeL, nil
}

// GenerationFromNPCR gives G in mg/min of urea nitrogen from nPCR in g/kg/day,
// the other way of [NPCRFromGeneration]:
//
//	G = V·(nPCR/0.58 − 0.294)/9.35
//
// which is about 0.184·(nPCR − 0.17)·V. nPCR from 0.1706 (no generation) to
// 20, V from 1 to 250; otherwise an [*unit.InputError] comes back.
func GenerationFromNPCR(npcr, volumeL float64) (float64, error) {
	if err := refuse(
		within("npcr_g_kg_day", npcr, 0, 20),
		within("urea_volume_l", volumeL, 1, maxVolumeL),
	); err != nil {
		return 0, err
	}
	g := volumeL * (npcr/npcrScale - pcrPerLitre) / pcrPerGeneration
	if g < 0 {
		return 0, unit.Refuse("npcr_g_kg_day", npcr, "at least 0.171, which stands for no urea made at all")
	}
	return g, nil
}

// SargentPCR gives protein broken down in g/day from urea nitrogen made in
// g/day, without a volume:
//
//	PCR = (G + 1.7)/0.154
//
// G from 0 to 300 g/day; otherwise an [*unit.InputError] comes back. It agrees
// with [ProteinCatabolicRate] to about 1 % for an adult of usual size.
//
// Source: Sargent (formula read at medicalalgorithms.com).
func SargentPCR(generationGDay float64) (float64, error) {
	if err := refuse(within("generation_g_day", generationGDay, 0, 300)); err != nil {
		return 0, err
	}
	return (generationGDay + 1.7) / 0.154, nil
}

func checkGeneration(generation, volumeL float64) error {
	return refuse(
		within("generation_mg_min", generation, 0, maxGeneration),
		within("urea_volume_l", volumeL, 1, maxVolumeL),
	)
}
