package kinetics

import (
	"fmt"
	"math"
	"math/big"
	"sort"
	"testing"
)

// The second method: the same model integrated by its power series in numbers
// of 176 bits, and the steady state by Cramer's rule. It shares no code with
// the package and is slow, but has digits to spare where a float64 has none.

const exactBits = 176

func exactly(v float64) *big.Float { return new(big.Float).SetPrec(exactBits).SetFloat64(v) }

func add(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(exactBits).Add(a, b) }
func sub(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(exactBits).Sub(a, b) }
func mul(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(exactBits).Mul(a, b) }
func quo(a, b *big.Float) *big.Float { return new(big.Float).SetPrec(exactBits).Quo(a, b) }
func rounded(a *big.Float) float64   { v, _ := a.Float64(); return v }

// An exactState is both concentrations, the total volume and the area so far.
type exactState struct{ outer, inner, volume, area *big.Float }

type exactWeek struct {
	p      Pools
	c      Cycle
	gain   *big.Float
	breaks []float64 // in the cycle, where a rate changes
}

func newExactWeek(p Pools, c Cycle) *exactWeek {
	w := &exactWeek{p: p, c: c}
	sum := exactly(0)
	for _, s := range c.Sessions {
		sum = add(sum, exactly(s.RemovedL*1000))
		w.breaks = append(w.breaks, s.StartMin, math.Mod(s.StartMin+s.LengthMin, c.LengthMin))
	}
	w.gain = quo(sum, exactly(c.LengthMin))
	w.breaks = append(w.breaks, 0, c.LengthMin)
	sort.Float64s(w.breaks)
	return w
}

// session returns the session that covers the middle of [from, to] or nil.
func (w *exactWeek) session(from, to float64) *CycleSession {
	mid := from + (to-from)/2
	for i := range w.c.Sessions {
		s := &w.c.Sessions[i]
		for _, t := range []float64{mid, mid + w.c.LengthMin} {
			if t > s.StartMin && t < s.StartMin+s.LengthMin {
				return s
			}
		}
	}
	return nil
}

func (w *exactWeek) volumes(volume *big.Float) (outer, inner *big.Float) {
	fe := exactly(w.p.ExtracellularFraction)
	if w.p.Fluid != FromExtracellular {
		outer = mul(fe, volume)
		return outer, sub(volume, outer)
	}
	inner = mul(sub(exactly(1), fe), exactly(w.p.VolumeL*1000))
	return sub(volume, inner), inner
}

// run carries a state from one time of the cycle over some minutes; made is
// the generation, which the columns of the matrix leave out.
func (w *exactWeek) run(s exactState, from, minutes, made float64) exactState {
	at := from
	for left := minutes; left > 0; {
		at = math.Mod(at, w.c.LengthMin)
		next := w.breaks[sort.Search(len(w.breaks), func(i int) bool { return w.breaks[i] > at })]
		length := min(left, next-at)
		s = w.stretch(s, w.session(at, at+length), length, made)
		left -= length
		at = next
	}
	return s
}

func (w *exactWeek) stretch(s exactState, session *CycleSession, length, made float64) exactState {
	clearance, trend := exactly(w.p.ResidualMlMin), w.gain
	if session != nil {
		clearance = add(clearance, exactly(session.ClearanceMlMin))
		trend = sub(trend, quo(exactly(session.RemovedL*1000), exactly(session.LengthMin)))
	}
	end := add(s.volume, mul(trend, exactly(length)))
	lowOuter, lowInner := w.volumes(s.volume)
	if end.Cmp(s.volume) < 0 {
		lowOuter, lowInner = w.volumes(end)
	}
	water := 0.0
	if w.p.Fluid == FromBothCarrying {
		water = math.Abs(rounded(trend))
	}
	fast := (rounded(clearance)+w.p.TransferMlMin+water)/rounded(lowOuter) + (w.p.TransferMlMin+water)/rounded(lowInner)
	steps := int(math.Ceil(max(1, fast*length/8, math.Abs(rounded(trend))*length/rounded(lowOuter)/0.2)))
	for range steps {
		s = w.step(s, clearance, trend, quo(exactly(length), exactly(float64(steps))), exactly(made))
	}
	return s
}

func (w *exactWeek) step(s exactState, clearance, trend, h, made *big.Float) exactState {
	outer, inner := w.volumes(s.volume)
	outerTrend, innerTrend := trend, exactly(0)
	if w.p.Fluid != FromExtracellular {
		outerTrend = mul(exactly(w.p.ExtracellularFraction), trend)
		innerTrend = sub(trend, outerTrend)
	}
	inward, outward := exactly(w.p.TransferMlMin), exactly(w.p.TransferMlMin)
	if w.p.Fluid == FromBothCarrying {
		if innerTrend.Sign() > 0 {
			inward = add(inward, innerTrend)
		} else {
			outward = sub(outward, innerTrend)
		}
	}
	leave := add(clearance, inward)
	e, i := s.outer, s.inner // coefficient·h^n
	sumE, sumI, area := e, i, mul(e, h)
	perOuter, perInner := quo(h, outer), quo(h, inner)
	for n := 0; n < 140; n++ {
		k := exactly(float64(n + 1))
		de := sub(mul(outward, i), mul(add(leave, mul(outerTrend, k)), e))
		if n == 0 {
			de = add(de, made)
		}
		di := sub(mul(inward, e), mul(add(outward, mul(innerTrend, k)), i))
		e, i = quo(mul(de, perOuter), k), quo(mul(di, perInner), k)
		sumE, sumI = add(sumE, e), add(sumI, i)
		area = add(area, quo(mul(e, h), exactly(float64(n+2))))
		if n > 8 && rounded(e)*rounded(e) <= 1e-90*rounded(sumE)*rounded(sumE) && rounded(i)*rounded(i) <= 1e-90*rounded(sumI)*rounded(sumI) {
			break
		}
	}
	return exactState{sumE, sumI, add(s.volume, mul(trend, h)), add(s.area, area)}
}

// steady gives what [Pools.Steady] gives.
func (w *exactWeek) steady() Steady {
	first := w.c.Sessions[0].StartMin
	volume, lowest := exactly(0), exactly(0)
	for i, s := range w.c.Sessions {
		end := s.StartMin + s.LengthMin
		volume = add(volume, sub(mul(w.gain, exactly(s.LengthMin)), exactly(s.RemovedL*1000)))
		if volume.Cmp(lowest) < 0 {
			lowest = volume
		}
		next := first + w.c.LengthMin
		if i+1 < len(w.c.Sessions) {
			next = w.c.Sessions[i+1].StartMin
		}
		volume = add(volume, mul(w.gain, sub(exactly(next), exactly(end))))
		if volume.Cmp(lowest) < 0 {
			lowest = volume
		}
	}
	zero, one := exactly(0), exactly(1)
	start := sub(exactly(w.p.VolumeL*1000), lowest)
	a := w.run(exactState{one, zero, start, zero}, first, w.c.LengthMin, 0)
	b := w.run(exactState{zero, one, start, zero}, first, w.c.LengthMin, 0)
	g := w.run(exactState{zero, zero, start, zero}, first, w.c.LengthMin, w.p.GenerationMgMin)
	// (1 − a.outer)·x − b.outer·y = g.outer and so on.
	m11, m12, m21, m22 := sub(one, a.outer), sub(zero, b.outer), sub(zero, a.inner), sub(one, b.inner)
	det := sub(mul(m11, m22), mul(m12, m21))
	state := exactState{
		quo(sub(mul(g.outer, m22), mul(m12, g.inner)), det),
		quo(sub(mul(m11, g.inner), mul(m21, g.outer)), det),
		start, zero,
	}

	out := Steady{}
	total, removed := zero, zero
	for i, s := range w.c.Sessions {
		pre := exactState{state.outer, state.inner, state.volume, zero}
		post := w.run(pre, s.StartMin, s.LengthMin, w.p.GenerationMgMin)
		hour := w.run(post, s.StartMin+s.LengthMin, 60, w.p.GenerationMgMin)
		next := first + w.c.LengthMin
		if i+1 < len(w.c.Sessions) {
			next = w.c.Sessions[i+1].StartMin
		}
		state = w.run(post, s.StartMin+s.LengthMin, next-s.StartMin-s.LengthMin, w.p.GenerationMgMin)
		total = add(total, state.area)
		removed = add(removed, mul(post.area, exactly(s.ClearanceMlMin)))
		po, pi := w.volumes(post.volume)
		mixed := quo(add(mul(po, post.outer), mul(pi, post.inner)), post.volume)
		out.MeanPre += rounded(pre.outer) / float64(len(w.c.Sessions))
		out.Sessions = append(out.Sessions, Levels{
			Pre: rounded(pre.outer), Post: rounded(post.outer), Rebound60: rounded(hour.outer), Mixed: rounded(mixed),
			URR:   rounded(quo(sub(pre.outer, post.outer), pre.outer)),
			SpKtV: w.ktv(s, pre.outer, post.outer), EKtV: w.ktv(s, pre.outer, mixed), EKtV60: w.ktv(s, pre.outer, hour.outer),
		})
	}
	out.TimeAveraged = rounded(total) / w.c.LengthMin
	out.EKRMlMin = w.p.GenerationMgMin / out.TimeAveraged
	out.StdKtV = w.p.GenerationMgMin / out.MeanPre / (w.p.VolumeL * 1000) * 10080
	out.RemovedG = rounded(removed) / 1000
	return out
}

// ktv finds V′ by halving the interval on the closed form of one pool.
func (w *exactWeek) ktv(s CycleSession, pre, level *big.Float) KtV {
	if s.ClearanceMlMin == 0 {
		return KtV{0, true} // whatever the pool
	}
	trend := sub(w.gain, quo(exactly(s.RemovedL*1000), exactly(s.LengthMin)))
	e := add(add(exactly(s.ClearanceMlMin), exactly(w.p.ResidualMlMin)), trend)
	g := exactly(w.p.GenerationMgMin)
	rest := sub(mul(e, level), g)
	// want = ∫dt/V of the pool: ln((E·pre − G)/(E·level − G))/E, and its limit.
	x := rounded(quo(mul(e, sub(pre, level)), rest))
	want := math.Log1p(x) / rounded(e)
	if math.Abs(x) < 1e-10 {
		want = rounded(quo(sub(pre, level), rest)) * (1 - x/2)
	}
	if !(want > 0) || math.IsInf(want, 0) {
		return KtV{}
	}
	tr := rounded(trend)
	lo, hi := math.Log(1e-40), math.Log(1e15)
	for range 200 {
		mid := (lo + hi) / 2
		v := math.Exp(mid)
		y := -tr * s.LengthMin / v // V0/V′ − 1
		if tau := s.LengthMin / v; y <= -1 {
			lo = mid
		} else {
			if math.Abs(y) > 1e-12 {
				tau *= math.Log1p(y) / y
			}
			if tau > want {
				lo = mid
			} else {
				hi = mid
			}
		}
	}
	return KtV{s.ClearanceMlMin * s.LengthMin / math.Exp((lo+hi)/2), true}
}

// compareExactly compares a steady state with that of the second method.
func compareExactly(t interface {
	Errorf(string, ...any)
	Helper()
}, name string, p Pools, c Cycle, within float64) float64 {
	t.Helper()
	got, err := p.Steady(c, nil)
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return 0
	}
	want := newExactWeek(p, c).steady()
	worst := 0.0
	checkWithin := func(what string, got, want, within float64) {
		d := apart(got, want)
		if worst = max(worst, d); !(d <= within) {
			t.Errorf("%s: %s = %.13g, want %.13g (apart %.2g) %+v %+v", name, what, got, want, d, p, c)
		}
	}
	check := func(what string, got, want float64) { checkWithin(what, got, want, within) }
	check("stdKt/V", got.StdKtV, want.StdKtV)
	check("mean pre", got.MeanPre, want.MeanPre)
	check("time-averaged", got.TimeAveraged, want.TimeAveraged)
	check("EKR", got.EKRMlMin, want.EKRMlMin)
	check("removed", got.RemovedG, want.RemovedG)
	if !(math.Abs(got.Balance) < 1e-10) {
		t.Errorf("%s: balance misses by %.2g", name, got.Balance)
	}
	for i, w := range want.Sessions {
		l := got.Sessions[i]
		at := func(s string) string { return fmt.Sprintf("session %d %s", i, s) }
		check(at("pre"), l.Pre, w.Pre)
		check(at("post"), l.Post, w.Post)
		check(at("rebound"), l.Rebound60, w.Rebound60)
		check(at("mixed"), l.Mixed, w.Mixed)
		if math.Abs(l.URR-w.URR) > 1e-14 {
			check(at("URR"), l.URR, w.URR)
		}
		for _, k := range []struct {
			what      string
			got, want KtV
			level     float64
		}{{"spKt/V", l.SpKtV, w.SpKtV, w.Post}, {"eKt/V", l.EKtV, w.EKtV, w.Mixed}, {"eKt/V 60", l.EKtV60, w.EKtV60, w.Rebound60}} {
			// A fall that two float64 levels cannot tell from none says nothing
			// of the pool.
			digits := math.Abs(w.Pre-k.level) / w.Pre
			if k.what == "eKt/V 60" {
				// Nor does a level an hour later that lies where such a session
				// settles: every pool comes that near.
				s := c.Sessions[i]
				excess := s.ClearanceMlMin + p.ResidualMlMin + c.GainMlMin() - s.RemovedL*1000/s.LengthMin
				digits = min(digits, math.Abs(excess*k.level/p.GenerationMgMin-1))
			}
			if digits*within < 1e-15 {
				continue
			}
			if k.got.Exists != k.want.Exists {
				t.Errorf("%s: %s = %v, want %v %+v %+v", name, at(k.what), k.got, k.want, p, c)
			} else if k.got.Exists {
				// Less than a thousandth takes its share of the digits.
				checkWithin(at(k.what), k.got.Value, k.want.Value, within*max(1, 1e-3/digits))
			}
		}
	}
	return worst
}

func TestSteadyAgainstSecondMethod(t *testing.T) {
	usual := Pools{VolumeL: 35, ExtracellularFraction: 1. / 3, GenerationMgMin: 5.35, TransferMlMin: 560}
	with := func(change func(*Pools)) Pools { p := usual; change(&p); return p }
	days := func(removed float64, lengths ...float64) Cycle {
		c := Cycle{LengthMin: 1440 * 3.5}
		for i, l := range lengths {
			c.Sessions = append(c.Sessions, CycleSession{StartMin: 480 + 1440*float64(i), LengthMin: l, ClearanceMlMin: 230, RemovedL: removed})
		}
		return c
	}
	day := func(sessions ...CycleSession) Cycle { return Cycle{LengthMin: 1440, Sessions: sessions} }
	many := Cycle{LengthMin: 1440}
	for i := range 60 {
		many.Sessions = append(many.Sessions, CycleSession{24 * float64(i), 10 + float64(i%3), float64(30 * (i % 7)), 0.03 * float64(i%4)})
	}
	for _, tt := range []struct {
		name string
		p    Pools
		c    Cycle
	}{
		{"usual", usual, days(2.5, 240, 240, 240)},
		{"no fluid", usual, days(0, 240, 240, 240)},
		{"next to no fluid", usual, days(1e-12, 240, 240, 240)},
		{"next to no kidneys", with(func(p *Pools) { p.ResidualMlMin = 1e-12 }), days(2.5, 240, 240, 240)},
		{"next to neither", with(func(p *Pools) { p.ResidualMlMin = 1e-9 }), days(1e-9, 240, 240, 240)},
		{"next to neither, less", with(func(p *Pools) { p.ResidualMlMin = 1e-13 }), days(1e-13, 240, 240, 240)},
		{"much kidney", with(func(p *Pools) { p.ResidualMlMin = 100 }), days(2.5, 240, 240, 240)},
		{"kidneys alone do it", with(func(p *Pools) { p.ResidualMlMin = 12 }), days(2.5, 0.01, 0.01)},
		{"a second", usual, days(0.01, 1./60, 240)},
		{"a millisecond", usual, days(1e-6, 1e-3/60, 240)},
		{"very long", usual, Cycle{5040, []CycleSession{{0, 2700, 230, 3}, {3600, 240, 230, 3}}}},
		{"five days", usual, Cycle{9000, []CycleSession{{0, 7200, 150, 7}}}},
		{"five days, no fluid", usual, Cycle{9000, []CycleSession{{0, 7200, 150, 0}}}},
		{"five days of a strong dialyser", usual, Cycle{9000, []CycleSession{{0, 7200, 400, 7}}}},
		{"all but an hour", usual, Cycle{5040, []CycleSession{{0, 4980, 30, 5}}}},
		{"touching", usual, day(CycleSession{0, 240, 200, 1}, CycleSession{240, 120.5, 100, 0.2}, CycleSession{360.5, 60, 0, 0.5})},
		{"touching round the end", usual, day(CycleSession{200, 240, 200, 1}, CycleSession{1200, 440, 100, 0.2})},
		{"round the end", usual, day(CycleSession{1300, 300, 200, 1})},
		{"within the hour", usual, day(CycleSession{0, 120, 200, 1}, CycleSession{150, 20, 150, 0}, CycleSession{175, 30, 10, 0.3})},
		{"an hour later where the next session settles", Pools{VolumeL: math.E, ExtracellularFraction: 0.25, GenerationMgMin: math.E, ResidualMlMin: 200, TransferMlMin: 0.03}, Cycle{60, []CycleSession{{59.94, 46.73, 1e-3, 0}}}},
		{"an hour's cycle", usual, Cycle{60, []CycleSession{{50, 20, 100, 0.05}}}},
		{"sixty a day", usual, many},
		{"pools far apart", with(func(p *Pools) { p.TransferMlMin = 3 }), days(2.5, 240, 240, 240)},
		{"pools almost shut off", with(func(p *Pools) { p.TransferMlMin = 1e-4 }), days(2.5, 240, 240, 240)},
		{"pools almost one", with(func(p *Pools) { p.TransferMlMin = 20000 }), Cycle{120, []CycleSession{{10, 40, 200, 0.2}}}},
		{"hardly any clearance", usual, Cycle{2880, []CycleSession{{480, 240, 1e-6, 2}}}},
		{"a pump without a dialyser", with(func(p *Pools) { p.ResidualMlMin = 3 }), Cycle{2880, []CycleSession{{480, 240, 0, 2}, {1900, 240, 200, 2}}}},
		{"removal beyond clearance", usual, day(CycleSession{0, 30, 10, 2}, CycleSession{700, 200, 200, 0.3})},
		{"removal is the clearance", usual, day(CycleSession{0, 100, 10, 10 * 1440. / 1340 / 10}, CycleSession{700, 200, 200, 0})},
		{"a litre of person", with(func(p *Pools) { p.VolumeL = 1; p.TransferMlMin = 16 }), day(CycleSession{0, 120, 20, 3})},
		{"the pool outside a hundredth", with(func(p *Pools) { p.ExtracellularFraction = 0.01 }), day(CycleSession{0, 240, 100, 2})},
		{"the pool outside nearly all", with(func(p *Pools) { p.ExtracellularFraction = 0.99 }), day(CycleSession{0, 240, 200, 2})},
		{"a strong dialyser on a small person", with(func(p *Pools) { p.VolumeL = 5 }), day(CycleSession{0, 240, 1000, 2})},
		{"nothing removed in one", usual, day(CycleSession{0, 100, 200, 0}, CycleSession{700, 200, 200, 2})},
	} {
		for _, tt.p.Fluid = range []FluidFrom{FromExtracellular, FromBoth, FromBothCarrying} {
			name := fmt.Sprintf("%s, fluid rule %d", tt.name, tt.p.Fluid)
			d := compareExactly(t, name, tt.p, tt.c, 1e-9)
			t.Logf("%-55s %.1e", name, d)
		}
	}
}
