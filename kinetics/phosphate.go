package kinetics

import (
	"math"

	"ebbline/unit"
)

// MobilisationMlMin is the clearance by which the body's stores refill the
// blood with phosphate, where a person's own is not known: the median of 774
// people, with quartiles of 65 and 116.
//
// Source: Leypoldt et al., Kidney Int 2013, doi 10.1038/ki.2013.205 (abstract
// read). 98 and 99 in 22 people, 45 to 208: Agar et al., Clin J Am Soc Nephrol
// 2011 (abstract read).
const MobilisationMlMin = 87.0

// PhosphateVolume gives the litres in which phosphate falls during a session:
//
//	V = 0.136·W
//
// W is the weight after it in kg, from 1 to 500; otherwise an
// [*unit.InputError] comes back. Median 9.4 L, quartiles 7.2 and 12.0.
//
// Source: Leypoldt et al., Kidney Int 2013 (abstract read).
func PhosphateVolume(postWeightKg float64) (float64, error) {
	if err := refuse(within("post_weight_kg", postWeightKg, minWeightKg, maxWeightKg)); err != nil {
		return 0, err
	}
	return 0.136 * postWeightKg, nil
}

// A PhosphateSession is one session as the pseudo one-compartment model sees
// it.
type PhosphateSession struct {
	PreMmolL       float64 // phosphate in blood before, which the stores hold it to
	MobilisationMl float64 // KM, mL/min; [MobilisationMlMin] where not known
	VolumeL        float64 // after the session; [PhosphateVolume] where not known
	Clearance      float64 // of phosphate, convection included, mL/min
	RemovedL       float64
	LengthMin      float64
}

// PhosphateCourse is what [PhosphateSession.Course] computes.
type PhosphateCourse struct {
	EndMmolL     float64
	After60MmolL float64 // an hour later
	RemovedMmol  float64
	PlateauMmolL float64 // where a long session would settle, nothing removed
	ClearedL     float64 // litres of blood before dialysis cleared: RemovedMmol / PreMmolL
	Cautions     []unit.Caution
}

// Course gives the fall of phosphate in a session, its rise in the hour after
// and the amount removed. It solves
//
//	V·dC/dt = KM·(C_pre − C) − K·C + Qf·C,  V falling at Qf to its end
//	V·dC/dt = KM·(C_pre − C)                afterwards
//	removed = ∫ K·C dt
//
// in closed form: with a = KM + K − Qf and τ = ∫dt/V = ln(V_0/V_t)/Qf,
//
//	C = C_pre·[e^(−aτ) + KM·(1 − e^(−aτ))/a] = C_pre·[1 − (K − Qf)·(1 − e^(−aτ))/a]
//
// which runs smoothly through Qf = 0 (where τ = t/V) and a = 0; the amount
// follows from the balance over the session.
//
// C_pre above 0, up to 20 mmol/L, KM from 0 to 1000, K from 0 to 1000 mL/min,
// V from 0.5 to 250 L, removed from 0 to 25 L, length above 0, up to 1440 min; otherwise
// an [*unit.InputError] comes back. A KM outside 45–210, as measured in people,
// carries a caution, and every result one: it is for direction and size, and
// misses a rise late in the session that some people show.
//
// Source: Agar et al., Clin J Am Soc Nephrol 2011 (structure; abstract read);
// closed forms derived, agreeing with integration.
func (s PhosphateSession) Course() (PhosphateCourse, error) {
	if err := refuse(
		above("pre_mmol_l", s.PreMmolL, 0, 20),
		within("mobilisation_ml_min", s.MobilisationMl, 0, 1000),
		within("volume_l", s.VolumeL, 0.5, maxVolumeL),
		within("clearance_ml_min", s.Clearance, 0, 1000),
		within("removed_l", s.RemovedL, 0, maxRemovedL),
		above("session_min", s.LengthMin, 0, maxSessionMin),
	); err != nil {
		return PhosphateCourse{}, err
	}
	pre, km, k, t := s.PreMmolL, s.MobilisationMl, s.Clearance, s.LengthMin
	endMl, startMl := s.VolumeL*1000, (s.VolumeL+s.RemovedL)*1000
	removal := s.RemovedL * 1000 / t

	// ln(V_0/V_t)/Qf = t/V_0 · −ln(1 − u)/u with u = Qf·t/V_0, below 1 because
	// the volume at the end is above 0.
	u := s.RemovedL * 1000 / startMl
	tau := t / startMl * log1pOver(-u)
	// The fall D = C_pre − C obeys V·dD/dt = (K − Qf)·C_pre − a·D from D = 0.
	fall := (k - removal) * pre * tau * expm1Over(-(km+k-removal)*tau)

	c := PhosphateCourse{
		EndMmolL:     pre - fall,
		After60MmolL: pre - fall*math.Exp(-km*60/endMl),
		PlateauMmolL: pre,
		Cautions:     s.cautions(),
	}
	if k > 0 {
		// Over the session V_t·D_t = (K − Qf)·C_pre·t − (KM + K)·∫D dt, and
		// ∫C = C_pre·t − ∫D. The share comes first so that two clearances near
		// nothing divide to a number.
		share := k / (km + k)
		micromol := k*pre*t - share*((k-removal)*pre*t-endMl*fall)
		c.RemovedMmol = max(0, micromol/1000)
		c.ClearedL = c.RemovedMmol / pre
		c.PlateauMmolL = pre * (1 - share)
	}
	return c, nil
}

func (s PhosphateSession) cautions() []unit.Caution {
	c := []unit.Caution{{Code: "phosphate_model",
		Text: "A model of one space, for direction and size only. It misses the late rise that some people show, and says nothing about binders or diet."}}
	if s.MobilisationMl < 45 || s.MobilisationMl > 210 {
		c = append(c, unit.Caution{Code: "mobilisation_outside",
			Text: "Mobilisation clearances of 45 to 208 mL/min were measured in people (Agar et al. 2011); this one lies outside."})
	}
	if s.Clearance*s.LengthMin < s.RemovedL*1000 {
		c = append(c, unit.Caution{Code: "clearance_below_removal",
			Text: "The clearance is less than the fluid removed a minute, which carries phosphate with it; the clearance is meant with that included."})
	}
	return c
}

// PhosphateWeek gives the litres of blood, at its concentration before
// dialysis, that N equal sessions clear of phosphate in a week:
//
//	N · removed/C_pre
//
// In a steady week the concentration before dialysis is the week's net load of
// phosphate over these litres, so two schedules compare by their ratio. The
// stores are taken to have refilled by the next session, which six long nights
// a week do not quite allow. N above 0, up to 14; the rest as in
// [PhosphateSession.Course].
//
// Source: computed from that model.
func PhosphateWeek(s PhosphateSession, perWeek float64) (float64, error) {
	if err := checkSchedule(perWeek, s.LengthMin); err != nil {
		return 0, err
	}
	c, err := s.Course()
	if err != nil {
		return 0, err
	}
	return perWeek * c.ClearedL, nil
}
