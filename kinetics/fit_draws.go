package kinetics

import "math"

// A Draw is one person who could have given the samples.
type Draw struct {
	VolumeL         float64
	GenerationMgMin float64
	ClearanceFactor float64 // take every clearance this many times
}

// Pools is the draw as a person of the model. Its sessions' clearances are to
// be taken ClearanceFactor times.
func (p Estimate) Pools(d Draw) Pools { return p.shape.Pools(d.VolumeL, d.GenerationMgMin) }

// Draws gives n persons spread over the estimate as its errors are: to plan
// with all of them is to carry the doubt into the plan. They are the same
// every time: points of the three-dimensional additive recurrence, which fill
// a cube more evenly than chance, taken through the normal quantiles.
//
// Source: Kronecker recurrence with the plastic numbers' kin, Roberts M, The
// unreasonable effectiveness of quasirandom sequences, 2018 (from memory).
func (p Estimate) Draws(n int) []Draw {
	const root = 1.2207440846057596 // of x⁴ = x + 1
	draws := make([]Draw, 0, max(n, 0))
	for k := 1; k <= n; k++ {
		var z [3]float64
		for d := range z {
			_, part := math.Modf(0.5 + float64(k)*math.Pow(root, -float64(d+1)))
			z[d] = math.Sqrt2 * math.Erfinv(2*max(part, 1e-9)-1)
		}
		var x [3]float64
		for i := range x {
			x[i] = p.mean[i]
			for j := 0; j <= i; j++ {
				x[i] += p.root[i][j] * z[j]
			}
		}
		draws = append(draws, Draw{math.Exp(x[0]), math.Exp(x[1]), math.Exp(x[2])})
	}
	return draws
}
