package kinetics

import "ebbline/unit"

// NominalKtV gives the Kt/V that a clearance would give if it were delivered
// in full and nothing was made or removed meanwhile:
//
//	Kt/V = K·t/V
//
// K mL/min above 0, up to 1000, t minutes above 0, up to 1440, V litres from 1
// to 250; otherwise an [*unit.InputError] comes back.
//
// Source: definition.
func NominalKtV(clearance, lengthMin, volumeL float64) (float64, error) {
	if err := refuse(
		above("clearance_ml_min", clearance, 0, maxBloodFlow),
		above("session_min", lengthMin, 0, maxSessionMin),
		within("urea_volume_l", volumeL, 1, maxVolumeL),
	); err != nil {
		return 0, err
	}
	return clearance * lengthMin / (volumeL * 1000), nil
}

// ClearanceFor gives the clearance in mL/min that a Kt/V amounts to, either
// wanted or delivered:
//
//	K = Kt/V·V/t
//
// Set beside what the dialyser should give at its flows: below some 85–90 % of
// that (a rule of thumb, from memory), look at recirculation, needles,
// clotting, sampling and real time. Kt/V above 0, up to 50, t and V as in
// [NominalKtV]; otherwise an [*unit.InputError] comes back.
//
// Source: definition.
func ClearanceFor(ktv, lengthMin, volumeL float64) (float64, error) {
	if err := refuse(
		above("ktv", ktv, 0, maxKtV),
		above("session_min", lengthMin, 0, maxSessionMin),
		within("urea_volume_l", volumeL, 1, maxVolumeL),
	); err != nil {
		return 0, err
	}
	return ktv * volumeL * 1000 / lengthMin, nil
}

// DialysateFor gives the litres of spent dialysate, fluid removed among them,
// that a Kt/V needs when little dialysate is used:
//
//	D = Kt/V·V/saturation
//
// Kt/V above 0, up to 50, V litres from 1 to 250, saturation above 0, up to 1;
// otherwise an [*unit.InputError] comes back.
//
// Source: the balance of urea; the worked figure 39 L · 0.6 = 23.4 L read at
// renalfellow.org.
func DialysateFor(ktv, volumeL, saturation float64) (float64, error) {
	if err := refuse(
		above("ktv", ktv, 0, maxKtV),
		within("urea_volume_l", volumeL, 1, maxVolumeL),
		above("saturation", saturation, 0, 1),
	); err != nil {
		return 0, err
	}
	return ktv * volumeL / saturation, nil
}

// ShareDelivered gives a delivered clearance as a share of what the dialyser
// should give, with a caution below 0.85. Both mL/min, above 0, up to 1000;
// otherwise an [*unit.InputError] comes back.
//
// Source: rule of thumb (from memory).
func ShareDelivered(delivered, expected float64) (Figure, error) {
	if err := refuse(
		above("delivered_ml_min", delivered, 0, maxBloodFlow),
		above("expected_ml_min", expected, 0, maxBloodFlow),
	); err != nil {
		return Figure{}, err
	}
	f := Figure{Value: delivered / expected}
	if f.Value < 0.85 {
		f.Cautions = append(f.Cautions, unit.Caution{Code: "clearance_short",
			Text: "Less than 85 % of the clearance expected was delivered. Look at recirculation, needle position, clotting, how the samples were drawn, and the time really treated."})
	}
	return f, nil
}
