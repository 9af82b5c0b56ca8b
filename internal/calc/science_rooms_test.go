package calc

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"path/filepath"
	"testing"

	"ebbline/access"
	"ebbline/fluid"
	"ebbline/unit"
)

// A roomCheck reckons a value from outside by the room that it belongs to.
type roomCheck struct {
	room string
	by   func(in inputs) ([]float64, error)
	only int // how many of the expected values the room answers; 0 for all
}

type inputs map[string]any

func (in inputs) num(key string) float64 {
	v, ok := in[key].(float64)
	if !ok {
		panic("the row has no number " + key) // of the test's own table
	}
	return v
}

// roomChecks holds the values from outside that are about fluid and the
// access. The table of all of them, with what holds each, stands in kinetics.
var roomChecks = map[string]roomCheck{
	"C-uf-1": {room: "fluid", by: func(in inputs) ([]float64, error) {
		p, err := planToRemove(in.num("UF_mL"), in.num("W_kg"), 60*in.num("t_h"), nil)
		return []float64{p.RateMlHKg}, err
	}},
	"C-uf-2": {room: "fluid", by: func(in inputs) ([]float64, error) {
		limit := new(exact[unit.ExactRatePerKg](10))
		p, err := planToRemove(in.num("UF_mL"), in.num("W_kg"), 240, limit)
		if err != nil {
			return nil, err
		}
		return []float64{*p.ShortestSessionMin / 60}, nil
	}},
	"F-uf-05": {room: "fluid", by: func(in inputs) ([]float64, error) {
		r, err := fluid.RatesByWeight(exact[unit.ExactMass](in.num("W_kg")))
		return []float64{r.TwentyPct}, err
	}},
	"C-uf-3": {room: "fluid", by: func(inputs) ([]float64, error) {
		var perKg []float64
		for _, w := range []float64{50, 70, 100} {
			r, err := fluid.RatesByWeight(exact[unit.ExactMass](w))
			if err != nil {
				return nil, err
			}
			perKg = append(perKg, r.TwentyPct/w, r.FortyPct/w)
		}
		return perKg, nil
	}},
	"R-uf-08": {room: "fluid", only: 1, by: func(inputs) ([]float64, error) {
		// Without a history, after 40 h: three a week are 56 h apart, where the
		// middle of the band, 3 %, is as far as the weight is looked for.
		post := exact[unit.ExactMass](80)
		w, err := fluid.WeighIn(fluid.WeighInInput{Entered: post, DryWeight: post, LastPost: &post, HoursSincePost: new(40.0)})
		return []float64{100 * (w.ExpectedKg - 80) / 80 * 56 / 40}, err
	}},
	"F-ac-01": {room: "access", by: func(in inputs) ([]float64, error) {
		s, err := access.Static{ChamberMmHg: in.num("P"), HeightCm: in.num("H_cm"), MeanMmHg: 95}.Estimate()
		return []float64{s.MmHg}, err
	}},
	"R-ac-02": {room: "access", only: 1, by: func(inputs) ([]float64, error) {
		// The ratio is found by looking where the caution begins.
		for tenth := range 1000 {
			s, err := access.Static{ChamberMmHg: float64(tenth)/10 - 3.4, MeanMmHg: 100}.Estimate()
			if err != nil {
				return nil, err
			}
			if len(s.Cautions) > 0 && s.Ratio > 0.01 {
				return []float64{math.Floor(s.Ratio*100) / 100}, nil
			}
		}
		return nil, errors.New("no ratio carries a caution")
	}},
	"F-ac-06": {room: "access", by: func(in inputs) ([]float64, error) {
		r, err := access.Recirculation(in.num("S"), in.num("A"), in.num("V"))
		return []float64{100 * r}, err
	}},
	"F-ac-08": {room: "access", by: func(in inputs) ([]float64, error) {
		q, err := access.FlowByDialysateUrea(in.num("K"), in.num("Cn"), in.num("Cr"))
		return []float64{q}, err
	}},
	"C-ac-2": {room: "access", by: func(in inputs) ([]float64, error) {
		q, err := access.FlowByReversal(unit.Flow(in.num("Qb")), in.num("R"))
		return []float64{q}, err
	}},
	"C-ac-3": {room: "access", by: func(in inputs) ([]float64, error) {
		q, err := access.FlowByDialysance(in.num("Dn"), in.num("Dr"))
		return []float64{q}, err
	}},
	"M-va-01": {room: "access", by: func(inputs) ([]float64, error) {
		return []float64{leastUnremarked(access.Graft), leastUnremarked(access.Fistula)}, nil
	}},
}

// leastUnremarked is the least whole access flow that nothing is said about.
func leastUnremarked(k access.Kind) float64 {
	flow := 2000.0
	for flow > 0 && len(access.FlowConcern(k, flow-1, 0)) == 0 {
		flow--
	}
	return flow
}

func planToRemove(goalMl, dryKg, minutes float64, limit *unit.ExactRatePerKg) (fluid.Plan, error) {
	dry := exact[unit.ExactMass](dryKg)
	return fluid.NewPlan(fluid.PlanInput{PreWeight: dry, DryWeight: dry, Session: exact[unit.ExactMinutes](minutes),
		Saline: exact[unit.ExactVolume](goalMl), RateLimit: limit})
}

// exact makes an exact value of a number of the test's own table.
func exact[E any, P interface {
	*E
	SetFloat(float64) error
}](v float64) E {
	var e E
	if err := P(&e).SetFloat(v); err != nil {
		panic(err)
	}
	return e
}

// TestChecksOfRooms holds each of these rows, and fails on one that is not
// among the values from outside.
func TestChecksOfRooms(t *testing.T) {
	raw, err := os.ReadFile(filepath.Join("..", "..", "kinetics", "testdata", "checks.json"))
	if err != nil {
		t.Fatal(err)
	}
	var rows []struct {
		ID, Quantity, Source string
		Inputs               inputs
		Expected             any
		Tolerance            float64
	}
	if err := json.Unmarshal(raw, &rows); err != nil {
		t.Fatal(err)
	}
	held := 0
	for _, row := range rows {
		check, ok := roomChecks[row.ID]
		if !ok {
			continue
		}
		held++
		got, err := check.by(row.Inputs)
		if err != nil {
			t.Errorf("%s: %v", row.ID, err)
			continue
		}
		want, ok := row.Expected.([]any)
		if !ok {
			want = []any{row.Expected}
		}
		if check.only > 0 {
			want = want[:check.only]
		}
		if len(got) != len(want) {
			t.Errorf("%s = %v, want %v", row.ID, got, want)
			continue
		}
		for i := range want {
			if w := want[i].(float64); !(math.Abs(got[i]-w) <= row.Tolerance+1e-12*w) {
				t.Errorf("%s, %s [%d] = %v, want %v ± %v (%s)", row.ID, row.Quantity, i, got[i], w, row.Tolerance, row.Source)
			}
		}
	}
	if held != len(roomChecks) {
		t.Errorf("%d of %d rows were found", held, len(roomChecks))
	}
}
