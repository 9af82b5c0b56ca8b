package kinetics

import "ebbline/unit"

// Position tells which session of the week a sample before dialysis was drawn
// at. The first follows the longest gap.
type Position string

const (
	FirstOfWeek  Position = "first"
	MiddleOfWeek Position = "middle" // of three a week only
	LastOfWeek   Position = "last"
)

// npcrSets holds a, b and c of [NPCR]. The sets are easily swapped: 36.3 is the first session, not the middle one,
// and taking the wrong one costs 10 to 18 %.
var npcrSets = map[int]map[Position][3]float64{
	3: {FirstOfWeek: {36.3, 5.48, 53.5}, MiddleOfWeek: {25.8, 1.15, 56.4}, LastOfWeek: {16.3, 4.30, 56.6}},
	2: {FirstOfWeek: {48.0, 5.14, 79.0}, LastOfWeek: {33.0, 3.60, 83.2}},
}

// A ProteinSample is what [NPCR] reads a protein catabolic rate from.
type ProteinSample struct {
	Pre           unit.Urea // before the session at Position
	SpKtV         float64
	PerWeek       int // 2 or 3
	Position      Position
	ResidualMlMin float64 // residual urea clearance
	VolumeL       float64 // urea volume; used with residual clearance only
}

func (p ProteinSample) check() error {
	bounds := []bound{
		above("pre_bun_mg_dl", p.Pre.BUNMgPerDL(), 0, 850),
		above("spktv", p.SpKtV, 0, maxKtV),
		within("residual_clearance_ml_min", p.ResidualMlMin, 0, maxResidual),
	}
	if p.ResidualMlMin > 0 {
		bounds = append(bounds, within("urea_volume_l", p.VolumeL, 1, maxVolumeL))
	}
	return refuse(bounds...)
}

// NPCRConstants gives the constants a, b and c of [NPCR] for a schedule and a
// position in it; an [*unit.InputError] for any other than the five there.
func NPCRConstants(perWeek int, position Position) ([3]float64, error) {
	sets, ok := npcrSets[perWeek]
	if !ok {
		return [3]float64{}, unit.Refuse("sessions_per_week", perWeek, "2 or 3: for other schedules use three samples, or the model of the week")
	}
	set, ok := sets[position]
	if !ok {
		return [3]float64{}, unit.Refuse("position", string(position), "first or last, or middle at three a week")
	}
	return set, nil
}

// CorrectedPre gives the urea before dialysis as it would be without residual
// clearance Kr:
//
//	three a week  C0' = C0·(1 + (0.70 + 3.08/(Kt/V))·Kr/V)
//	two a week    C0' = C0·(1 + (1.15 + 4.56/(Kt/V))·Kr/V)
//
// Kr mL/min, V L. Ranges, refusals and source as in [NPCR].
func CorrectedPre(p ProteinSample) (unit.Urea, error) {
	if err := p.check(); err != nil {
		return 0, err
	}
	if _, err := NPCRConstants(p.PerWeek, p.Position); err != nil {
		return 0, err
	}
	if p.ResidualMlMin == 0 {
		return p.Pre, nil
	}
	k, m := 0.70, 3.08
	if p.PerWeek == 2 {
		k, m = 1.15, 4.56
	}
	return p.Pre * unit.Urea(1+(k+m/p.SpKtV)*p.ResidualMlMin/p.VolumeL), nil
}

// NPCR gives the normalised protein catabolic rate in g/kg/day from two
// samples around one session:
//
//	nPCR = C0 / (a + b·Kt/V + c/(Kt/V)) + 0.168
//
// C0 is BUN in mg/dL before the session, Kt/V single-pool, and
//
//	three a week, first   36.3  5.48  53.5
//	three a week, middle  25.8  1.15  56.4
//	three a week, last    16.3  4.30  56.6
//	two a week, first     48.0  5.14  79.0
//	two a week, last      33.0  3.60  83.2
//
// With residual clearance C0 is replaced by [CorrectedPre]. BUN must be above
// 0, up to 850 mg/dL, spKt/V above 0, up to 50, the schedule and position one of those
// five, and with residual clearance the volume known; otherwise an
// [*unit.InputError] comes back. Results outside 0.4–2.0 and spKt/V outside
// 0.6–2 carry a caution. Against a two-pool model it reads some 5 % high;
// 0.1 g/kg is not a change.
//
// Source: Depner and Daugirdas, J Am Soc Nephrol 1996;7:780–5 (from memory;
// two sets seen in public code, all five tested against the model).
func NPCR(p ProteinSample) (Figure, error) {
	set, err := NPCRConstants(p.PerWeek, p.Position)
	if err != nil {
		return Figure{}, err
	}
	pre, err := CorrectedPre(p)
	if err != nil {
		return Figure{}, err
	}
	f := Figure{Value: pre.BUNMgPerDL()/(set[0]+set[1]*p.SpKtV+set[2]/p.SpKtV) + 0.168}
	if p.SpKtV < 0.6 || p.SpKtV > 2 || f.Value < 0.4 || f.Value > 2 {
		f.Cautions = append(f.Cautions, unit.Caution{Code: "npcr_outside_fit",
			Text: "The protein figure is known for a spKt/V of 0.6 to 2 and results of 0.4 to 2.0 g/kg/day; this one lies outside. Check that the urea is in mg/dL of nitrogen."})
	}
	return f, nil
}
