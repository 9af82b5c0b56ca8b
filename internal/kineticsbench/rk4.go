package main

import (
	"fmt"
	"math"
	"time"
)

// A columns state is the three columns of the model, each with the two
// concentrations and the area: what a plain integrator carries.
type columns [9]float64

// A rates is a stretch of constant rates.
type rates struct{ removal, transfer, outer, inner, outerTrend, innerTrend float64 }

func (r *rates) slope(t float64, y *columns) (d columns) {
	o, i := r.outer+r.outerTrend*t, r.inner+r.innerTrend*t
	a, b := -(r.removal+r.outerTrend+r.transfer)/o, r.transfer/o
	c, e := r.transfer/i, -(r.transfer+r.innerTrend)/i
	for k := 0; k < 9; k += 3 {
		d[k] = a*y[k] + b*y[k+1]
		d[k+1] = c*y[k] + e*y[k+1]
		d[k+2] = y[k]
	}
	d[6] += 1 / o
	return d
}

// run goes through a stretch in equal steps of at most step minutes.
func (r *rates) run(y *columns, length, step float64) {
	n := math.Ceil(length / step)
	h := length / n
	for k := 0.0; k < n; k++ {
		t := k * h
		k1 := r.slope(t, y)
		k2 := r.slope(t+h/2, ahead(y, &k1, h/2))
		k3 := r.slope(t+h/2, ahead(y, &k2, h/2))
		k4 := r.slope(t+h, ahead(y, &k3, h))
		for i := range y {
			y[i] += h / 6 * (k1[i] + 2*k2[i] + 2*k3[i] + k4[i])
		}
	}
}

func ahead(y, k *columns, h float64) *columns {
	var out columns
	for i := range out {
		out[i] = y[i] + h*k[i]
	}
	return &out
}

// rk4Steady finds a steady state by the classical Runge–Kutta method, with the
// three columns and the 2×2 equation that the peers use too.
func rk4Steady(p problem, step float64) []float64 {
	gain := p.cycle.GainMlMin()
	sessions := p.cycle.Sessions
	next := func(i int) float64 {
		if i+1 < len(sessions) {
			return sessions[i+1].StartMin
		}
		return sessions[0].StartMin + p.cycle.LengthMin
	}
	volume, lowest := 0.0, 0.0
	for i, s := range sessions {
		volume += gain*s.LengthMin - s.RemovedL*1000
		lowest = min(lowest, volume)
		volume += gain * (next(i) - s.StartMin - s.LengthMin)
		lowest = min(lowest, volume)
	}
	volume = p.pools.VolumeL*1000 - lowest
	y := columns{0: 1, 4: 1}
	part := func(length, clearance, trend float64) {
		if length <= 0 {
			return
		}
		fo, fi := p.pools.ExtracellularFraction, 1-p.pools.ExtracellularFraction
		r := rates{removal: p.pools.ResidualMlMin + clearance, transfer: p.pools.TransferMlMin}
		if p.pools.Fluid == 0 {
			r.inner = fi * p.pools.VolumeL * 1000
			r.outer, r.outerTrend = volume-r.inner, trend
		} else {
			r.outer, r.outerTrend, r.inner, r.innerTrend = fo*volume, fo*trend, fi*volume, fi*trend
		}
		r.run(&y, length, step)
		volume += trend * length
	}
	var seen [][3]float64
	look := func() { seen = append(seen, [3]float64{y[0], y[3], y[6]}) }
	for i, s := range sessions {
		gap := next(i) - s.StartMin - s.LengthMin
		look()
		part(s.LengthMin, s.ClearanceMlMin, gain-s.RemovedL*1000/s.LengthMin)
		look()
		part(60, 0, gain)
		look()
		part(gap-60, 0, gain)
	}
	g := p.pools.GenerationMgMin
	m11, m12, m21, m22 := 1-y[0], -y[3], -y[1], 1-y[4]
	det := m11*m22 - m12*m21
	x0, x1 := g*(y[6]*m22-m12*y[7])/det, g*(m11*y[7]-m21*y[6])/det
	out := []float64{(y[2]*x0 + y[5]*x1 + y[8]*g) / p.cycle.LengthMin}
	for _, l := range seen {
		out = append(out, l[0]*x0+l[1]*x1+l[2]*g)
	}
	return out
}

// rk4 times the method at one step.
func rk4(problems []problem, step float64) (result, error) {
	r := result{route: "Runge–Kutta 4, plain Go", setting: fmt.Sprintf("step %g min", step)}
	var answers [][]float64
	for _, p := range problems {
		var answer []float64
		least := time.Duration(1 << 62)
		for range 25 {
			began := time.Now()
			answer = rk4Steady(p, step)
			least = min(least, time.Since(began))
		}
		answers = append(answers, answer)
		r.seconds = append(r.seconds, least.Seconds())
	}
	var err error
	r.worst, err = worst(problems, answers)
	return r, err
}
