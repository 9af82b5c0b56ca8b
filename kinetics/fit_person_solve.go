package kinetics

import (
	"math"
	"slices"
)

// A fitDraw is a draw with room to work out its steady state at any volume and
// clearance factor.
type fitDraw struct {
	MonthlyDraw
	sessions []CycleSession // with the clearances of the moment
	levels   []Levels
}

func newFitDraw(d MonthlyDraw) *fitDraw {
	return &fitDraw{MonthlyDraw: d, sessions: slices.Clone(d.Cycle.Sessions), levels: make([]Levels, len(d.Cycle.Sessions))}
}

// predicted gives the logarithms of the levels (pre, post, next pre) for a
// generation of 1; the generation adds its own.
func (d *fitDraw) predicted(shape Shape, lnVolume, lnFactor float64) ([3]float64, bool) {
	factor := math.Exp(lnFactor)
	for i := range d.sessions {
		d.sessions[i].ClearanceMlMin = d.Cycle.Sessions[i].ClearanceMlMin * factor
	}
	cycle := Cycle{d.Cycle.LengthMin, d.sessions}
	s, err := shape.Pools(math.Exp(lnVolume), 1).Steady(cycle, d.levels)
	if err != nil {
		return [3]float64{}, false
	}
	at := s.Sessions[d.Session]
	next := s.Sessions[(d.Session+1)%len(s.Sessions)]
	return [3]float64{math.Log(at.Pre), math.Log(at.Post), math.Log(next.Pre)}, true
}

// drawn gives the logarithms of what was measured.
func (d *fitDraw) drawn() []float64 {
	y := []float64{math.Log(d.Pre), math.Log(d.Post)}
	if d.NextPre > 0 {
		y = append(y, math.Log(d.NextPre))
	}
	return y
}

// A personFit is the least-squares problem of [EstimatePerson] in
// ln volume, ln generation and ln factor.
type personFit struct {
	shape Shape
	errs  SampleErrors
	prior *VolumePrior
	draws []*fitDraw
	from  []int // the draw's place in the list as given
}

// A fitView is one draw seen from a point: what is left of the samples, how
// the prediction moves with the three parameters, and the inverse of the
// samples' covariance.
type fitView struct {
	rest    []float64
	slope   [][3]float64
	inverse [][]float64
}

func (e *personFit) view(d *fitDraw, at [3]float64) (fitView, bool) {
	const step = 1e-4
	var ends [4][3]float64
	for k, move := range [4][2]float64{{step, 0}, {-step, 0}, {0, step}, {0, -step}} {
		var ok bool
		if ends[k], ok = d.predicted(e.shape, at[0]+move[0], at[2]+move[1]); !ok {
			return fitView{}, false
		}
	}
	var v fitView
	for i, y := range d.drawn() {
		mid := (ends[0][i] + ends[1][i] + ends[2][i] + ends[3][i]) / 4
		v.rest = append(v.rest, y-at[1]-mid)
		v.slope = append(v.slope, [3]float64{(ends[0][i] - ends[1][i]) / (2 * step), 1, (ends[2][i] - ends[3][i]) / (2 * step)})
	}
	// One session's own clearance moves its post sample against the pre, about
	// as the clearance of all sessions moves the ratio of the two.
	own := v.slope[1][2] - v.slope[0][2]
	cov := make([][]float64, len(v.rest))
	for i := range cov {
		cov[i] = make([]float64, len(v.rest))
		for j := range cov[i] {
			cov[i][j] = e.errs.Month * e.errs.Month
		}
		cov[i][i] += e.errs.Sample * e.errs.Sample
	}
	cov[1][1] += own * own * e.errs.Session * e.errs.Session
	v.inverse = inverseOf(cov)
	return v, true
}

// solve runs Gauss–Newton and gives the best fit with its covariance.
func (e *personFit) solve(at [3]float64) (best [3]float64, cov [3][3]float64, ok bool) {
	const sweeps = 30
	for range sweeps {
		var hess [3][3]float64
		var pull [3]float64
		for _, d := range e.draws {
			v, ok := e.view(d, at)
			if !ok {
				return at, cov, false
			}
			for i := range v.rest {
				for j := range v.rest {
					w := v.inverse[i][j]
					for a := range 3 {
						pull[a] += v.slope[i][a] * w * v.rest[j]
						for b := range 3 {
							hess[a][b] += v.slope[i][a] * w * v.slope[j][b]
						}
					}
				}
			}
		}
		weight := 1 / (e.errs.Clearance * e.errs.Clearance)
		hess[2][2] += weight
		pull[2] -= weight * at[2]
		if e.prior != nil {
			weight = 1 / (e.prior.Spread * e.prior.Spread)
			hess[0][0] += weight
			pull[0] += weight * (math.Log(e.prior.VolumeL) - at[0])
		}
		flat := inverseOf([][]float64{hess[0][:], hess[1][:], hess[2][:]})
		if flat == nil {
			return at, cov, false
		}
		longest := 0.0
		for a := range 3 {
			step := 0.0
			for b := range 3 {
				cov[a][b] = flat[a][b]
				step += flat[a][b] * pull[b]
			}
			step = max(-0.5, min(0.5, step)) // no leap beyond a factor of 1.6
			at[a] += step
			longest = max(longest, math.Abs(step))
		}
		if longest < 1e-10 {
			return at, cov, true
		}
	}
	return at, cov, false
}

// monthAbove is how far the generation of draw k lies above the mean of the
// months, as a logarithm.
func (e *personFit) monthAbove(k int, at [3]float64) float64 {
	v, ok := e.view(e.draws[k], at)
	if !ok {
		return 0
	}
	sum := 0.0
	for i := range v.rest {
		for j := range v.rest {
			sum += v.inverse[i][j] * v.rest[j]
		}
	}
	return e.errs.Month * e.errs.Month * sum
}

// inverseOf inverts a symmetric positive matrix of a few rows by Gauss–Jordan
// with pivots; nil when it has no inverse.
func inverseOf(m [][]float64) [][]float64 {
	n := len(m)
	a := make([][]float64, n)
	for i := range a {
		a[i] = make([]float64, 2*n)
		copy(a[i], m[i])
		a[i][n+i] = 1
	}
	for c := range n {
		best := c
		for i := c + 1; i < n; i++ {
			if math.Abs(a[i][c]) > math.Abs(a[best][c]) {
				best = i
			}
		}
		a[c], a[best] = a[best], a[c]
		pivot := a[c][c]
		if pivot == 0 || math.IsNaN(pivot) {
			return nil
		}
		for j := range a[c] {
			a[c][j] /= pivot
		}
		for i := range n {
			if i == c {
				continue
			}
			f := a[i][c]
			for j := range a[i] {
				a[i][j] -= f * a[c][j]
			}
		}
	}
	for i := range a {
		a[i] = a[i][n:]
	}
	return a
}

// cholesky3 gives the lower root of a covariance.
func cholesky3(m [3][3]float64) (l [3][3]float64) {
	for i := range 3 {
		for j := 0; j <= i; j++ {
			sum := m[i][j]
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(max(sum, 0))
			} else if l[j][j] > 0 {
				l[i][j] = sum / l[j][j]
			}
		}
	}
	return l
}

// middle is the median.
func middle(v []float64) float64 {
	s := slices.Sorted(slices.Values(v))
	n := len(s)
	if n == 0 {
		return 0
	}
	return (s[(n-1)/2] + s[n/2]) / 2
}
