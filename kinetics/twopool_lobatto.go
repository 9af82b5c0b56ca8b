package kinetics

import "math"

// lobattoMost is the largest number of nodes used.
const lobattoMost = 10

// A lobattoRule holds a Legendre–Gauss–Lobatto rule on [0, 1] with what is
// needed to work with smooth functions by their values at its nodes.
//
// Source: Canuto C, Hussaini MY, Quarteroni A, Zang TA, Spectral Methods:
// Fundamentals in Single Domains, Springer 2006, §2.3 (from memory).
type lobattoRule struct {
	n      int
	node   [lobattoMost]float64
	weight [lobattoMost]float64              // of the integral over [0, 1]
	slope  [lobattoMost][lobattoMost]float64 // derivative at node i from the values at j
	ahead  [lobattoMost][lobattoMost]float64 // integral from node i to 1 from the values at j
	top    [lobattoMost]float64              // gives the highest Legendre coefficient
}

func newLobattoRule(n int) *lobattoRule {
	r := &lobattoRule{n: n}
	degree := n - 1
	var x, bary [lobattoMost]float64 // on [−1, 1]
	for i := range n {
		// The inner nodes are the roots of P', found by Newton from the
		// Chebyshev nodes: x ← x − (1−x²)P'/((1−x²)P')', a step that is 0 at ±1.
		x[i] = -math.Cos(math.Pi * float64(i) / float64(degree))
		for range 20 {
			p, before := legendre(degree, x[i])
			x[i] -= (x[i]*p - before) / (float64(n) * p)
		}
		p, _ := legendre(degree, x[i])
		r.node[i] = (1 + x[i]) / 2
		r.weight[i] = 1 / (float64(degree*n) * p * p)
		r.top[i] = p * r.weight[i] * float64(degree)
	}
	for i := range n {
		bary[i] = 1
		for j := range n {
			if j != i {
				bary[i] /= x[i] - x[j]
			}
		}
	}
	for i := range n {
		for j := range n {
			if j != i {
				r.slope[i][j] = 2 * bary[j] / bary[i] / (x[i] - x[j])
				r.slope[i][i] -= r.slope[i][j]
			}
			r.ahead[i][j] = lagrangeIntegral(x[:n], j, x[i])
		}
	}
	return r
}

// legendre returns the Legendre polynomials of degree d and d−1 at x.
func legendre(d int, x float64) (p, before float64) {
	p, before = x, 1
	for k := 2; k <= d; k++ {
		p, before = (float64(2*k-1)*x*p-float64(k-1)*before)/float64(k), p
	}
	return p, before
}

// lagrangeIntegral integrates the j-th Lagrange polynomial of the nodes from
// lo to 1, halved for the interval [0, 1]. Composite Gauss with three points
// of degree 5 on 64 pieces is exact here to rounding.
func lagrangeIntegral(nodes []float64, j int, lo float64) float64 {
	const pieces = 64
	half := (1 - lo) / (2 * pieces)
	sum := 0.0
	for k := range pieces {
		mid := lo + float64(2*k+1)*half
		for _, g := range [3][2]float64{{-math.Sqrt(0.6), 5. / 9}, {0, 8. / 9}, {math.Sqrt(0.6), 5. / 9}} {
			value := g[1] * half
			for m, xm := range nodes {
				if m != j {
					value *= (mid + g[0]*half - xm) / (nodes[j] - xm)
				}
			}
			sum += value
		}
	}
	return sum / 2
}

func (r *lobattoRule) derivative(y, out *[lobattoMost]float64) {
	n := r.n
	if n > lobattoMost {
		return
	}
	yy := y[:n]
	for i := 0; i < n; i++ {
		row, sum := r.slope[i][:len(yy)], 0.0
		for j, v := range yy {
			sum += row[j] * v
		}
		out[i] = sum
	}
}

// topCoefficient is the size of the highest Legendre coefficient of y: about
// the error of taking the polynomial for the function.
func (r *lobattoRule) topCoefficient(y *[lobattoMost]float64) float64 {
	sum := 0.0
	for i := range r.n {
		sum += r.top[i] * y[i]
	}
	return math.Abs(sum)
}
