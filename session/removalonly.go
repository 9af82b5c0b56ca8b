package session

// RemovalOnly reports whether fluid is removed in a session without dialysis, by the
// unit's order: no dialysis fluid passes the dialyser. Such a session
//
//   - has no bath and no conductivity; what was written of them is judged all the same;
//   - is asked for no test of chlorine, and one that was made counts: the machine may
//     rinse and prime with its own water, and dialysis may follow;
//   - is planned, and bounded in its rate, as every other;
//   - counts for no dose and as no dialysis: fluid that is pressed through the
//     membrane carries potassium and urea along at the level of the blood and so
//     hardly lowers that level (common practice). The day's dialysis is missed unless
//     it is held, and the hours since the last one go on.
//
// Where dialysis follows on the same lines it is an ordinary session and is opened as
// one, so that its fluid is checked before the start.
func (s *Session) RemovalOnly() bool {
	b, _ := First[Opened](s)
	return b != nil && b.RemovalOnly
}

// noFluid reports whether a check of the dialysis fluid does not belong to this
// session: fluid is only removed, and nothing was written of it.
func noFluid[T any](l startLine) bool {
	b, _ := lastBy[T](l.s, l.at)
	return b == nil && l.s.RemovalOnly()
}

// WithoutFluid is a sheet of setting up without the steps that end in an entry about
// the dialysis fluid: its label, its conductivity, its batch and, where the fluid is a
// batch, the test of that. What waited for one of them waits for what that one had
// waited for. On a machine that makes its fluid from tap water the test of the water
// stays, and the prime waits for it: such a machine rinses and primes with that water
// (common practice), on the far side of the membrane from the blood.
func WithoutFluid(sheet RunSheet, m Machine) RunSheet {
	sheet = sheet.withoutEntries("bath_label", "fluid_check", "batch_used")
	if m.Fluid() == FluidBatch {
		sheet = sheet.withoutEntries("chlorine")
	}
	return sheet
}
