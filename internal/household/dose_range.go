package household

import "ebbline/trend"

// eightyOf gives the range in which 80 of 100 values lie; the same value twice
// where there is only one, and nothing where there is none.
func eightyOf(values []float64) (low, high float64) {
	low, _ = trend.Quantile(values, 0.1)
	high, _ = trend.Quantile(values, 0.9)
	return low, high
}
