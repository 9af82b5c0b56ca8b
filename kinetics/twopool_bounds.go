package kinetics

// What the model takes, far beyond any person. Inside these bounds every
// figure stays finite and every reckoning ends; TestSteadyAtTheBounds goes to
// all of them at once.
const (
	leastVolumeL   = 0.01
	mostVolumeL    = 1e4
	leastFraction  = 0.001 // of the water outside the cells, and inside them
	mostFraction   = 0.999
	mostGeneration = 1e6  // mg/min
	mostClearance  = 1e5  // mL/min
	mostTransfer   = 1e13 // mL/min, so that one pool can be written as two
	mostMinutes    = 1e7  // 19 years
	mostLitres     = 1e4  // of fluid, in one session or gap
	mostLevel      = 1e6  // mg/mL
	mostFlow       = 1e12 // mL/min of fluid, for a litre taken off in a microsecond
)
