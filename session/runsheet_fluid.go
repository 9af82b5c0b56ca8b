package session

import "slices"

// BatchStep is the step of setting up that names the batch.
const BatchStep = "batch"

// FitFluid is the general sheet of setting up as the fluid of a machine asks for it. A
// sheet of the household's own stays as it is, and so does that of a machine whose fluid
// is from tap water, or of which it is not said whether it is bags or a batch.
//
//   - a batch: no water is turned on; the batch is named, and its test ticks the step
//     of the test
//   - ready bags: neither water nor its test nor conductivity; each bag is looked at
func FitFluid(r RunSheet, m Machine) RunSheet {
	if r.Phase != SetUp || r.Marked != ReplaceMark || m.FluidUnsaid() {
		return r
	}
	switch m.Fluid() {
	case FluidBatch:
		return r.fitBatch()
	case FluidBags:
		return r.fitBags()
	}
	return r
}

func (r RunSheet) fitBatch() RunSheet {
	r = r.without("water_runs", "water_on")
	if i := r.index("chlorine"); i >= 0 {
		s := &r.Steps[i]
		s.Words, s.After = "Total chlorine of this batch, if it is not tested yet", []string{BatchStep}
		s.Stop = "Over the limit: second sample; still over: this batch is not used, ring the unit"
	}
	at := max(r.index("machine_on"), 0)
	step := Step{ID: BatchStep, Words: "Batch: read its name and its use-by, say which it is", Lane: LaneHands, Usual: 1, Tick: TickValue, Entry: "batch_used",
		Stop: "Past its use-by, or not known which it is: do not use it"}
	if r.index("fit") >= 0 {
		step.After = []string{"fit"}
	}
	r.Steps = slices.Insert(r.Steps, at, step)
	return r
}

func (r RunSheet) fitBags() RunSheet {
	r = r.without("chlorine", "water_runs", "water_on", "conductivity")
	if i := r.index("bath"); i >= 0 {
		s := &r.Steps[i]
		s.Words = "Each bag: potassium and calcium on its label, lot, expiry, seal whole, fluid clear; hang it"
		s.Stop = "Not what is prescribed, a leak or cloudy: do not use it"
	}
	return r
}
