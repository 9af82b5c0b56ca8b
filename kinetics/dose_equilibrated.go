package kinetics

import "ebbline/unit"

// Access tells where blood is taken and returned, which decides how much of
// the fall in urea comes back when the session stops.
type Access string

const (
	Arteriovenous Access = "av" // fistula or graft
	Venovenous    Access = "vv" // catheter
)

// check refuses an access that is neither.
func (a Access) check() error {
	if a != Arteriovenous && a != Venovenous {
		return unit.Refuse("access", string(a), "av (fistula or graft) or vv (catheter)")
	}
	return nil
}

// ClearanceTime is the minutes in which the distant parts of the body give
// their urea to the blood: 36 through a fistula or graft, 22 through a
// catheter, whose sample is not thinned by blood that came straight back
// through the heart and lungs.
//
// Sources: 36, Tattersall et al., Kidney Int 1996;50:2094–102, figure read in
// an abstract that compares methods (35 is also in use, from memory); 22 (from
// memory).
func (a Access) ClearanceTime() (float64, error) {
	if err := a.check(); err != nil {
		return 0, err
	}
	if a == Venovenous {
		return 22, nil
	}
	return 36, nil
}

// Equilibrated gives the Kt/V as it stands once the urea in the body has
// levelled out, some half hour to an hour after the session, by the clearance
// time tp of the access (see [Access.ClearanceTime]):
//
//	eKt/V = spKt/V · t / (t + tp)
//
// t is minutes. spKt/V must be above 0, up to 50, t above 0, up to 1440; otherwise an
// [*unit.InputError] comes back. It goes to 0 with the dose and is the one to
// use for short sessions; below 90 minutes it carries a caution. Against a
// two-pool model of usual exchange between the pools it is good to 5 %.
//
// Source: Tattersall et al., Kidney Int 1996;50:2094–102 (form read in an
// abstract that compares methods).
func Equilibrated(spktv, lengthMin float64, access Access) (Figure, error) {
	tp, err := access.ClearanceTime()
	if err != nil {
		return Figure{}, err
	}
	return EquilibratedWith(spktv, lengthMin, tp)
}

// EquilibratedWith is [Equilibrated] with a clearance time in minutes of the
// caller's choice, from 0 to 300: 35 as commonly used, 30.7 as fitted to the
// HEMO data (both from memory), or one computed for a person.
func EquilibratedWith(spktv, lengthMin, clearanceTimeMin float64) (Figure, error) {
	if err := refuse(
		above("spktv", spktv, 0, maxKtV),
		above("session_min", lengthMin, 0, maxSessionMin),
		within("clearance_time_min", clearanceTimeMin, 0, 300),
	); err != nil {
		return Figure{}, err
	}
	f := Figure{Value: spktv * lengthMin / (lengthMin + clearanceTimeMin)}
	if lengthMin < 90 {
		f.Cautions = append(f.Cautions, tattersallShort)
	}
	return f, nil
}

// EquilibratedRate gives the equilibrated Kt/V by the rate equation:
//
//	fistula or graft  eKt/V = spKt/V − 0.60·spKt/V/t + 0.03
//	catheter          eKt/V = spKt/V − 0.47·spKt/V/t + 0.02
//
// t is hours. spKt/V must be above 0, up to 50, and the length above 0, up to 1440 min;
// otherwise an [*unit.InputError] comes back. It was fitted to 2.5–5 h and
// spKt/V 0.8–2; outside it carries a caution, and below about 36 (28) minutes
// the result is no longer above 0.
//
// Source: Daugirdas and Schneditz 1995; both lines read in European Best
// Practice Guidelines, Nephrol Dial Transplant 2002;17 Suppl 7:17–21, and in
// J Am Soc Nephrol 2004;15:194, introduction.
func EquilibratedRate(spktv, lengthMin float64, access Access) (Figure, error) {
	if err := access.check(); err != nil {
		return Figure{}, err
	}
	slope, offset := access.rate()
	return byRate(spktv, lengthMin, 1, slope, offset)
}

// rate gives the two constants of the rate equation.
func (a Access) rate() (slope, offset float64) {
	if a == Venovenous {
		return 0.47, 0.02
	}
	return 0.6, 0.03
}

// The constants of [EquilibratedHEMO].
const (
	hemoShare  = 0.924
	hemoSlope  = 0.395
	hemoOffset = 0.056
)

// EquilibratedHEMO gives the equilibrated Kt/V by the equation fitted to the
// samples of the HEMO trial, which were drawn from fistulas and grafts:
//
//	eKt/V = 0.924·spKt/V − 0.395·spKt/V/t + 0.056
//
// t is hours. Ranges, refusals and cautions as in [EquilibratedRate].
//
// Source: Daugirdas et al., J Am Soc Nephrol 2004;15:194 (from memory; the
// same numbers were seen in public code).
func EquilibratedHEMO(spktv, lengthMin float64) (Figure, error) {
	return byRate(spktv, lengthMin, hemoShare, hemoSlope, hemoOffset)
}

func byRate(spktv, lengthMin, share, slope, offset float64) (Figure, error) {
	if err := refuse(
		above("spktv", spktv, 0, maxKtV),
		above("session_min", lengthMin, 0, maxSessionMin),
	); err != nil {
		return Figure{}, err
	}
	f := Figure{Value: share*spktv - slope*spktv/(lengthMin/60) + offset}
	if lengthMin < 150 || lengthMin > 300 || spktv < 0.8 || spktv > 2 {
		f.Cautions = append(f.Cautions, rateOutside)
	}
	return f, nil
}
