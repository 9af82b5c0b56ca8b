package access

import (
	"math/rand/v2"
	"slices"
	"testing"

	"ebbline/trend"
	"ebbline/unit"
)

// venous gives one reading every other day at 15 G and 300 mL/min.
func venous(mmhg ...unit.Pressure) []Pressure {
	var list []Pressure
	for i, p := range mmhg {
		list = append(list, Pressure{On: day(1 + 2*i), Side: Venous, MmHg: p, Flow: 300, Gauge: 15})
	}
	return list
}

var level = []unit.Pressure{140, 138, 143, 139, 141, 140, 142, 137, 140, 141, 139, 140}

func TestComparePressure(t *testing.T) {
	up := venous(append(slices.Clone(level), 175, 176, 178)...)
	got := Compare(up, Venous)
	if got.Says != trend.Rising || !slices.Equal(codes(got.Cautions), []string{"venous_pressure_up"}) {
		t.Errorf("a quarter up: %+v", got)
	}
	if got := Compare(venous(append(slices.Clone(level), 141, 139, 140)...), Venous); got.Says != trend.Steady || got.Cautions != nil {
		t.Errorf("level: %+v", got)
	}
	if got := Compare(venous(level[:8]...), Venous); got.Says != trend.TooFew {
		t.Errorf("eight readings: %+v", got)
	}
	if got := Compare(nil, Venous); got.Says != trend.TooFew {
		t.Errorf("none: %+v", got)
	}

	// A change of gauge or of flow is not a rise, however large.
	thin := venous(append(slices.Clone(level), 240, 241, 242)...)
	for i := range 3 {
		thin[12+i].Gauge = 17
	}
	if got := Compare(thin, Venous); got.Says != trend.TooFew || got.N != 3 {
		t.Errorf("another gauge: %+v", got)
	}
	fast := venous(append(slices.Clone(level), 190, 191, 192)...)
	for i := range 3 {
		fast[12+i].Flow = 350
	}
	if got := Compare(fast, Venous); got.Says != trend.TooFew || got.N != 3 {
		t.Errorf("another flow: %+v", got)
	}
	for i := range 3 { // within ten of it is like
		fast[12+i].Flow = 310
	}
	if got := Compare(fast, Venous); got.Says != trend.Rising {
		t.Errorf("310 against 300 mL/min: %+v", got)
	}

	// The arterial side pulls harder.
	var arterial []Pressure
	for _, p := range up {
		p.Side, p.MmHg = Arterial, -p.MmHg
		arterial = append(arterial, p)
	}
	if got := Compare(append(arterial, venous(level...)...), Arterial); got.Says != trend.Rising || codes(got.Cautions)[0] != "arterial_pressure_up" {
		t.Errorf("arterial: %+v", got)
	}
}

// On simulated years with known truth: readings that vary by 8 mmHg about 140
// for 200 sessions, and the same with 0.7 mmHg more at each session from the
// 40th on, which a quarter (35 mmHg) would show after 50.
func TestPressureDriftIsSeen(t *testing.T) {
	const runs = 300
	r := rand.New(rand.NewPCG(5, 6))
	falseFlags, looks, delays, missed := 0, 0, []float64(nil), 0
	for range runs {
		var steady, drifting []float64
		for i := range 200 {
			v := 140 + 8*r.NormFloat64()
			steady = append(steady, v)
			drifting = append(drifting, v+0.7*float64(max(0, i-40)))
		}
		for n := baseline + 1; n <= 200; n++ {
			looks++
			if driftAt(steady[:n]) >= 0 || trend.ChangeOf(steady[:n], recent, previous, quarter).Says == trend.Rising {
				falseFlags++
			}
		}
		at := -1
		for n := 41; n <= 120 && at < 0; n++ {
			if driftAt(drifting[:n]) >= 0 {
				at = n - 40
			}
		}
		if at < 0 {
			missed++
			continue
		}
		delays = append(delays, float64(at))
	}
	seen, _ := trend.Quantile(delays, 0.5)
	late, _ := trend.Quantile(delays, 0.95)
	share := float64(falseFlags) / float64(looks)
	t.Logf("false: %.3f of sessions; a drift of 0.7 mmHg a session seen after %.0f sessions (95 %%: %.0f), missed %d of %d", share, seen, late, missed, runs)
	if share > 0.05 {
		t.Errorf("a level access is called rising at %.3f of sessions, want at most 1 in 20", share)
	}
	if missed > 0 || seen > 25 || late > 40 {
		t.Errorf("the drift is seen after %.0f sessions (95 %%: %.0f), missed %d times", seen, late, missed)
	}
}

func TestDriftStandsOnlyWhileItLasts(t *testing.T) {
	var sizes []float64
	for range 20 {
		sizes = append(sizes, 138, 142)
	}
	for range 30 {
		sizes = append(sizes, 155)
	}
	at := driftAt(sizes)
	if at < 40 || at > 44 {
		t.Errorf("a step of 15 mmHg seen at reading %d, want soon after the 40th", at)
	}
	for range 200 { // back where it was, after the narrowing was opened
		sizes = append(sizes, 138, 142)
	}
	if at := driftAt(sizes); at != -1 {
		t.Errorf("still called a drift after it went back: %d", at)
	}
}

func TestGauge(t *testing.T) {
	for _, tt := range []struct {
		a, v int
		flow unit.Flow
		want []string
	}{
		{17, 17, 250, nil}, {17, 17, 251, []string{"flow_above_gauge"}},
		{16, 15, 350, nil}, {16, 15, 360, []string{"flow_above_gauge"}},
		{15, 15, 450, nil}, {20, 20, 450, nil},
	} {
		if got := codes(FlowForGauge(tt.a, tt.v, tt.flow)); !slices.Equal(got, tt.want) {
			t.Errorf("%d G and %d G at %s: %v, want %v", tt.a, tt.v, tt.flow, got, tt.want)
		}
	}
	if lo, hi, ok := GaugeFlow(16); !ok || lo != 250 || hi != 350 {
		t.Errorf("16 G: %s to %s, %v", lo, hi, ok)
	}
	for p, want := range map[unit.Pressure][]string{-250: nil, -251: {"arterial_low"}, 0: nil, 120: {"arterial_sign"}} {
		if got := codes(ArterialPressure(p)); !slices.Equal(got, want) {
			t.Errorf("%s: %v, want %v", p, got, want)
		}
	}
}
