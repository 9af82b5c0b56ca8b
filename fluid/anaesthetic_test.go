package fluid

import (
	"errors"
	"math"
	"testing"

	"ebbline/unit"
)

func TestSumAnaesthetic(t *testing.T) {
	for _, tt := range []struct {
		name         string
		weight       unit.Mass
		given        []Injection
		limit        AnaestheticLimit
		total, limMg float64
		over         bool
	}{
		{"nothing given", 72_000, nil, StricterLidocaine(), 0, 200, false},
		{"two sites, 0.2 mL of 1 % each", 72_000,
			[]Injection{{"A1", 20, 10}, {"V1", 20, 10}}, StricterLidocaine(), 4, 200, false},
		// 72 kg: 3 mg/kg would be 216, so the 200 mg count: 20 mL of 1 %.
		{"exactly the most", 72_000, []Injection{{"A1", 2000, 10}}, StricterLidocaine(), 200, 200, false},
		{"a hundredth of a mL more", 72_000, []Injection{{"A1", 2001, 10}}, StricterLidocaine(), 200.1, 200, true},
		{"the same mL of 2 %", 72_000, []Injection{{"A1", 1001, 20}}, StricterLidocaine(), 200.2, 200, true},
		// 45 kg: 135 mg by weight.
		{"a light person", 45_000, []Injection{{"A1", 1351, 10}}, StricterLidocaine(), 135.1, 135, true},
		{"the wider limit", 45_000, []Injection{{"A1", 1351, 10}}, WiderLidocaine(), 135.1, 202.5, false},
		{"the wider limit's most", 100_000, []Injection{{"A1", 3000, 10}}, WiderLidocaine(), 300, 300, false},
	} {
		a, err := SumAnaesthetic(tt.given, tt.weight, tt.limit)
		if err != nil || math.Abs(a.TotalMg-tt.total) > 1e-12 || math.Abs(a.LimitMg-tt.limMg) > 1e-12 || a.Over != tt.over || a.Limit.Source == "" {
			t.Errorf("%s: %+v, %v", tt.name, a, err)
		}
	}
}

// Several tries at one site add up there.
func TestSumAnaestheticBySite(t *testing.T) {
	a, err := SumAnaesthetic([]Injection{{"V2", 30, 10}, {"A1", 10, 20}, {"V2", 15, 10}}, 72_000, StricterLidocaine())
	if err != nil || len(a.Sites) != 2 || a.Sites[0] != (SiteSum{"V2", 4.5}) || a.Sites[1] != (SiteSum{"A1", 2}) {
		t.Errorf("%+v, %v", a.Sites, err)
	}
}

func TestSumAnaestheticRefuses(t *testing.T) {
	one := []Injection{{"A1", 20, 10}}
	for name, err := range map[string]error{
		"below zero mL":   second(SumAnaesthetic([]Injection{{"A1", -1, 10}}, 72_000, StricterLidocaine())),
		"below zero %":    second(SumAnaesthetic([]Injection{{"A1", 1, -1}}, 72_000, StricterLidocaine())),
		"more than 100 %": second(SumAnaesthetic([]Injection{{"A1", 1, 1001}}, 72_000, StricterLidocaine())),
		"no weight":       second(SumAnaesthetic(one, 0, StricterLidocaine())),
		"no limit":        second(SumAnaesthetic(one, 72_000, AnaestheticLimit{})),
		"limit NaN":       second(SumAnaesthetic(one, 72_000, AnaestheticLimit{math.NaN(), 200, ""})),
	} {
		if ie := (*unit.InputError)(nil); !errors.As(err, &ie) {
			t.Errorf("%s: %v, want a refusal", name, err)
		}
	}
}

func second[A any](_ A, err error) error { return err }
