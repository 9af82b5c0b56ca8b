package trend

// A Watch adds up small departures from a known centre, so that a slow drift
// is seen long before single values stand out: the two-sided cumulative sum
// of Page. The zero Watch is of no use; make one with [WatchOn].
type Watch struct {
	Centre, Spread float64
	Slack          float64 // departures up to this many spreads count for nothing
	Limit          float64 // a sum beyond this many spreads is a signal
	Up, Down       float64 // the sums so far, in spreads
	Seen           int
}

// Defaults of a watch: tuned to a drift of one spread, which it sees after
// about 10 values, with one false signal in about 465 values. Source: tables
// of the cumulative sum in Montgomery DC, Introduction to Statistical Quality
// Control (from memory); method of Page ES, Biometrika 1954;41:100–15 (from
// memory).
const (
	defaultSlack = 0.5
	defaultLimit = 5
)

// WatchOn begins a watch on values that are known to lie about centre with the
// given spread, above 0. Without a spread it never signals.
func WatchOn(centre, spread float64) *Watch {
	return &Watch{Centre: centre, Spread: spread, Slack: defaultSlack, Limit: defaultLimit}
}

// Add takes the next value and says Rising or Falling when a sum has passed
// the limit, otherwise Steady. A signal stays until [Watch.Reset]. A value
// that is no number is left out.
func (w *Watch) Add(value float64) Says {
	if len(finite([]float64{value})) == 1 && w.Spread > 0 {
		z := (value - w.Centre) / w.Spread
		w.Up = max(0, w.Up+z-w.Slack)
		w.Down = max(0, w.Down-z-w.Slack)
		w.Seen++
	}
	return w.Says()
}

// Says gives what the sums show now.
func (w *Watch) Says() Says {
	switch {
	case w.Up > w.Limit && w.Up >= w.Down:
		return Rising
	case w.Down > w.Limit:
		return Falling
	}
	return Steady
}

// Reset begins anew about a centre, after a cause was found.
func (w *Watch) Reset(centre float64) {
	w.Centre, w.Up, w.Down, w.Seen = centre, 0, 0, 0
}
