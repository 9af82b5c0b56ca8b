package session

// A Fluid is where the dialysis fluid of a machine comes from.
type Fluid string

const (
	FluidTap   Fluid = "single_pass" // the machine makes it from tap water as it runs
	FluidBatch Fluid = "batch"       // made from tap water beforehand, for one session or several
	FluidBags  Fluid = "bags"        // bought ready
)

// fluidUnsaid is the kind of a machine that was described before the two were told
// apart: bags or a made batch.
const fluidUnsaid = "low_volume"

// Fluid is where the machine's fluid comes from. One that is described as "bags or a
// made batch" counts as a batch, whose water is tested, until it is said which.
func (m Machine) Fluid() Fluid {
	switch m.Kind {
	case string(FluidBags):
		return FluidBags
	case string(FluidBatch), fluidUnsaid:
		return FluidBatch
	}
	return FluidTap
}

// sameKind reports whether two descriptions mean one kind: bags or a made batch is the
// one of the two that it turns out to be.
func (m Machine) sameKind(other Machine) bool {
	unsaid := m.FluidUnsaid() && other.Fluid() != FluidTap || other.FluidUnsaid() && m.Fluid() != FluidTap
	return m.Kind == other.Kind || unsaid
}

// FluidUnsaid reports whether it is to be asked which of the two it is.
func (m Machine) FluidUnsaid() bool { return m.Kind == fluidUnsaid }
