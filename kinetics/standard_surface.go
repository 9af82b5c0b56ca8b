package kinetics

// The volume over body surface, in L/m², by which the surface-normalised
// standard Kt/V is scaled.
const (
	AdultVolumePerSurface = 20.0 // between the medians of men, 21.34, and women, 18.50
	ChildVolumePerSurface = 17.5
)

// SurfaceNormalised scales a standard Kt/V from water to body surface, since
// small people and women need more clearance for their water than large men:
//
//	SAN = stdKt/V · (V/S) / M
//
// V is litres by [Watson], S m² by [DuBois], M the reference in L/m²:
// [AdultVolumePerSurface] or [ChildVolumePerSurface]. stdKt/V must lie from 0 to
// 10 000, V from 1 to 250, S from 0.1 to 5 and M from 1 to 100; otherwise an
// [*unit.InputError] comes back.
//
// Sources: adults, Daugirdas et al. 2008, PMC2692381 (abstract read: minimum
// 2.0 a week, that is 40 L/m²); children, PMC2863971 (abstract read: candidate
// target 2.45).
func SurfaceNormalised(stdktv, volumeL, surfaceM2, reference float64) (float64, error) {
	if err := refuse(
		within("stdktv", stdktv, 0, 1e4),
		within("urea_volume_l", volumeL, 1, maxVolumeL),
		within("surface_m2", surfaceM2, 0.1, 5),
		within("volume_per_surface_l_m2", reference, 1, 100),
	); err != nil {
		return 0, err
	}
	return stdktv * (volumeL / surfaceM2) / reference, nil
}

// StandardForSurface gives the standard Kt/V at which the surface-normalised
// one, for adults, reaches a wanted value:
//
//	stdKt/V = SAN · 20 / (V/S)
//
// Ranges as in [SurfaceNormalised]. For a wanted 2.0 it is 40/(V/S).
//
// Source: [SurfaceNormalised] turned round.
func StandardForSurface(san, volumeL, surfaceM2 float64) (float64, error) {
	if err := refuse(
		within("san_stdktv", san, 0, 1e4),
		within("urea_volume_l", volumeL, 1, maxVolumeL),
		within("surface_m2", surfaceM2, 0.1, 5),
	); err != nil {
		return 0, err
	}
	return san * AdultVolumePerSurface / (volumeL / surfaceM2), nil
}
