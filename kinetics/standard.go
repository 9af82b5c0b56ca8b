package kinetics

import (
	"math"

	"ebbline/unit"
)

// StandardKtV gives the weekly standard Kt/V of equal sessions spread evenly
// over the week, by the algebraic form
//
//	           10080·(1 − e^−eKt/V)/t
//	S = ──────────────────────────────────────
//	    (1 − e^−eKt/V)/spKt/V + 10080/(N·t) − 1
//
// t is minutes, N sessions a week (3.5 for every other day). It takes the body
// as of fixed volume without residual function, so it reads low for a person
// who removes fluid or still passes urine: see [StandardFull]. For sessions of
// different length, or a week with one missed, use the definition over the
// model of the week.
//
// spKt/V and eKt/V must be above 0, up to 50, t above 0, N above 0, up to 14, and N·t at
// most a week; otherwise an [*unit.InputError] comes back. At N·t = 10080 it
// is 10080/t·spKt/V; as the dose grows it rises to [StandardCeiling].
// Without fluid removal and residual function it is within 5 % of a two-pool
// model.
//
// Source: Leypoldt, Jaber, Zimmerman, Semin Dial 2004;17:142–5 (from memory;
// tested against the model and against published pairs).
func StandardKtV(spktv, ektv, perWeek, lengthMin float64) (Figure, error) {
	if err := refuse(
		above("spktv", spktv, 0, maxKtV),
		above("ektv", ektv, 0, maxKtV),
	); err != nil {
		return Figure{}, err
	}
	if err := checkSchedule(perWeek, lengthMin); err != nil {
		return Figure{}, err
	}
	fall := -math.Expm1(-ektv) // 1 − e^−eKt/V, without losing digits at a low dose
	gap := minutesAWeek/(perWeek*lengthMin) - 1
	return Figure{Value: minutesAWeek * fall / lengthMin / (fall/spktv + gap)}, nil
}

// checkSchedule refuses more minutes of treatment than a week has.
func checkSchedule(perWeek, lengthMin float64) error {
	if err := refuse(
		above("sessions_per_week", perWeek, 0, maxSessionsAWk),
		above("session_min", lengthMin, 0, maxSessionMin),
	); err != nil {
		return err
	}
	if perWeek*lengthMin > minutesAWeek {
		return unit.Refuse("session_min", lengthMin, "at most "+plain(minutesAWeek/perWeek)+" for "+plain(perWeek)+" sessions a week")
	}
	return nil
}

// StandardCeiling gives the standard Kt/V that no dose in so much time can
// pass without residual function or fluid removal:
//
//	N / (1 − N·t/10080)
//
// N sessions a week, t minutes, as in [StandardKtV]; N·t must be less than a
// week, otherwise an [*unit.InputError] comes back.
//
// Source: the limit of [StandardKtV], by algebra.
func StandardCeiling(perWeek, lengthMin float64) (float64, error) {
	if err := checkSchedule(perWeek, lengthMin); err != nil {
		return 0, err
	}
	rest := 1 - perWeek*lengthMin/minutesAWeek
	if rest <= 0 {
		return 0, unit.Refuse("session_min", lengthMin, "less than the whole week in treatment")
	}
	return perWeek / rest, nil
}

// A WholeWeek is what [StandardFull] counts besides the sessions' clearance.
type WholeWeek struct {
	RemovedL      float64 // fluid removed in a week
	VolumeL       float64 // urea volume after a session
	ResidualMlMin float64 // residual urea clearance
}

// StandardFull adds fluid removed and residual clearance to a standard Kt/V:
//
//	stdKt/V = S / (1 − 0.74/N · UFw/V) + Kr·(0.974/(spKt/V + 1.62) + 0.40)·10080/V
//
// S is the figure of [StandardKtV] for the same spKt/V and N sessions a week,
// UFw litres removed in a week, V litres (in the last term millilitres), Kr
// mL/min. UFw must lie from 0 to 100 L, V from 1 to 250 L, Kr from 0 to 150
// mL/min, and the fluid of one session must stay below V/0.74; otherwise an
// [*unit.InputError] comes back. More than 15 % of V in one session carries a
// caution. Over 40 two-pool cases it is 0.7 % high on average and 5.2 % at
// worst.
//
// Source: Daugirdas et al., Kidney Int 2010;77:637–44 (from memory; tested
// against the model).
func StandardFull(s, spktv, perWeek float64, w WholeWeek) (Figure, error) {
	if err := refuse(
		above("stdktv", s, 0, 1e4),
		above("spktv", spktv, 0, maxKtV),
		above("sessions_per_week", perWeek, 0, maxSessionsAWk),
		within("weekly_removed_l", w.RemovedL, 0, 4*maxRemovedL),
		within("urea_volume_l", w.VolumeL, 1, maxVolumeL),
		within("residual_clearance_ml_min", w.ResidualMlMin, 0, maxResidual),
	); err != nil {
		return Figure{}, err
	}
	session := w.RemovedL / perWeek / w.VolumeL // share of V removed in one session
	left := 1 - 0.74*session
	if left <= 0 {
		return Figure{}, unit.Refuse("weekly_removed_l", w.RemovedL, "less in one session than the urea volume holds")
	}
	kidneys := w.ResidualMlMin * (0.974/(spktv+1.62) + 0.40) * minutesAWeek / (w.VolumeL * 1000)
	f := Figure{Value: s/left + kidneys}
	if session > 0.15 {
		f.Cautions = append(f.Cautions, fluidOutside)
	}
	return f, nil
}

var fluidOutside = unit.Caution{Code: "weekly_fluid_outside_fit", Text: "More than 15 % of the urea volume is removed in one session; the fluid term of the standard Kt/V is not known to hold there."}

// SinglePoolNeeded gives the single-pool Kt/V that each of N equal sessions of
// t minutes needs to reach a standard Kt/V, with eKt/V by [Equilibrated] and no
// credit for fluid or residual function. It is solved by bisection to 1e-12.
//
// The standard Kt/V must be above 0 and below the [StandardCeiling] and below
// what spKt/V 50 gives; otherwise an [*unit.InputError] says that no dose in
// this time reaches it.
//
// Source: computed from [StandardKtV].
func SinglePoolNeeded(stdktv, perWeek, lengthMin float64, access Access) (float64, error) {
	if err := refuse(above("stdktv", stdktv, 0, 1e4)); err != nil {
		return 0, err
	}
	reached := func(spktv float64) (float64, error) {
		e, err := Equilibrated(spktv, lengthMin, access)
		if err != nil {
			return 0, err
		}
		s, err := StandardKtV(spktv, e.Value, perWeek, lengthMin)
		return s.Value, err
	}
	most, err := reached(maxKtV)
	if err != nil {
		return 0, err
	}
	if stdktv >= most {
		return 0, unit.Refuse("stdktv", stdktv, "less than "+plain(math.Floor(most*1000)/1000)+", the most that these sessions can give")
	}
	lo, hi := 0.0, maxKtV
	for hi-lo > 1e-12 {
		mid := (lo + hi) / 2
		if mid == lo || mid == hi {
			break
		}
		got, err := reached(mid)
		if err != nil {
			return 0, err
		}
		if got < stdktv {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2, nil
}
