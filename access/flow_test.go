package access

import (
	"math"
	"slices"
	"testing"
)

// Worked examples from the access literature's formulas.
func TestFlows(t *testing.T) {
	near := func(name string, got float64, err error, want, within float64) {
		t.Helper()
		if err != nil || math.Abs(got-want) > within {
			t.Errorf("%s = %v, %v; want %v", name, got, err, want)
		}
	}
	r, err := Recirculation(60, 56, 20)
	near("recirculation 60, 56, 20", r, err, 0.10, 1e-12)
	q, err := FlowByReversal(300, 0.30)
	near("reversal, 300 at 0.30", q, err, 700, 1e-9)
	q, err = FlowByDialysateUrea(220, 10, 8.2)
	near("dialysate urea, 220, 10.0, 8.2", q, err, 1002.22222, 1e-4)
	q, err = FlowByDialysance(220, 180)
	near("dialysance, 220, 180", q, err, 990, 1e-9)

	for name, bad := range map[string]func() (float64, error){
		"arterial above systemic": func() (float64, error) { return Recirculation(60, 61, 20) },
		"venous above arterial":   func() (float64, error) { return Recirculation(60, 30, 40) },
		"nothing removed":         func() (float64, error) { return Recirculation(60, 60, 60) },
		"no recirculation":        func() (float64, error) { return FlowByReversal(300, 0) },
		"all of it":               func() (float64, error) { return FlowByReversal(300, 1) },
		"no blood flow":           func() (float64, error) { return FlowByReversal(0, 0.3) },
		"reversed not lower":      func() (float64, error) { return FlowByDialysateUrea(220, 8, 8) },
		"no number":               func() (float64, error) { return FlowByDialysance(math.NaN(), 100) },
		"reversed higher":         func() (float64, error) { return FlowByDialysance(180, 220) },
	} {
		if got, err := bad(); err == nil {
			t.Errorf("%s gives %v", name, got)
		}
	}
}

func TestFlowConcern(t *testing.T) {
	for _, tt := range []struct {
		k             Kind
		flow, earlier float64
		want          []string
	}{
		{Fistula, 500, 0, nil}, {Fistula, 499, 0, []string{"access_flow_low"}},
		{Graft, 600, 0, nil}, {Graft, 599, 0, []string{"access_flow_low"}},
		{Fistula, 900, 1200, []string{"access_flow_fell"}}, {Fistula, 901, 1200, nil},
		{Fistula, 450, 900, []string{"access_flow_low", "access_flow_fell"}},
	} {
		if got := codes(FlowConcern(tt.k, tt.flow, tt.earlier)); !slices.Equal(got, tt.want) {
			t.Errorf("%s, %v after %v: %v, want %v", tt.k, tt.flow, tt.earlier, got, tt.want)
		}
	}
}
