package kinetics

import (
	"testing"

	"ebbline/unit"
)

func TestResidualClearance(t *testing.T) {
	c := Collection{UrineMl: 900, UrineUrea: unit.BUN(250), Minutes: 2640, MeanUrea: unit.BUN(41)}
	f, err := ResidualClearance(c)
	if err != nil || len(f.Cautions) != 0 {
		t.Fatalf("%v, %v", f, err)
	}
	near(t, "residual clearance", f.Value, 2.079, 0.0005) // worked by an independent script
	for _, tt := range []struct {
		field  string
		change func(*Collection)
	}{
		{"urine_ml", func(c *Collection) { c.UrineMl = -1 }},
		{"collection_min", func(c *Collection) { c.Minutes = 0 }},
		{"mean_urea", func(c *Collection) { c.MeanUrea = 0 }},
		{"urine_urea", func(c *Collection) { c.UrineUrea = -1 }},
		{"urine_urea", func(c *Collection) { c.Minutes = 10 }}, // no kidneys clear 549 mL/min
	} {
		bad := c
		tt.change(&bad)
		_, err := ResidualClearance(bad)
		refusedAbout(t, "residual clearance", err, tt.field)
	}
	c.UrineMl = 0
	if f, err = ResidualClearance(c); err != nil || f.Value != 0 {
		t.Errorf("no urine: %v, %v", f, err)
	}
	c.Minutes = 600
	if f, err = ResidualClearance(c); err != nil || !hasCode(f.Cautions, "collection_short") {
		t.Errorf("ten hours: %v, %v; want collection_short", f, err)
	}
}

func TestResidualGFR(t *testing.T) {
	got, err := ResidualGFR(2, 5)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean of the two", got, 3.5, 1e-12)
	_, err = ResidualGFR(2, -1)
	refusedAbout(t, "creatinine", err, "creatinine_clearance_ml_min")
}

func TestPerStandardSurface(t *testing.T) {
	for _, tt := range []struct{ surface, want float64 }{{1.73, 3}, {1.38, 3 * 1.73 / 1.38}} {
		got, err := PerStandardSurface(3, tt.surface)
		if err != nil {
			t.Fatal(err)
		}
		near(t, "per 1.73 m²", got, tt.want, 1e-12)
	}
	_, err := PerStandardSurface(3, 0)
	refusedAbout(t, "no surface", err, "surface_m2")
}
