package water

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// Each bound on it and beside it, as the trade writes them: "<1 gpg" is
// outside at 17, "≥ 90 %" is inside at 90.
func TestBounds(t *testing.T) {
	for _, tt := range []struct {
		reading Reading
		value   float64
		outside []Weight
	}{
		{Hardness, 16.9, nil}, {Hardness, 17, []Weight{Warn}},
		{Rejection, 90, nil}, {Rejection, 89.9, []Weight{Warn}},
		{FilterDrop, 15, nil}, {FilterDrop, 15.1, []Weight{Warn}},
		{PrefilterDrop, 20, nil}, {PrefilterDrop, 20.1, []Weight{Warn}},
		{FeedTemperature, 18, nil}, {FeedTemperature, 17.9, []Weight{Show}}, {FeedTemperature, 29.1, []Weight{Show}},
		{ContactTime, 10.1, nil}, {ContactTime, 10, []Weight{Warn}},
		{Resistivity, 1.01, nil}, {Resistivity, 1, []Weight{Stop}},
		{UVDose, 30, []Weight{Warn}},
		{ResidualChlorine, 0.1, nil}, {ResidualChlorine, 0.11, []Weight{Stop}},
		{ResidualPeracid, 0.9, nil}, {ResidualPeracid, 1, []Weight{Stop}},
		{ResidualAldehyde, 3, []Weight{Stop}},
		{FluidTemperature, 38, nil}, {FluidTemperature, 38.1, []Weight{Warn}},
		{FluidTemperature, 38.5, []Weight{Warn}}, {FluidTemperature, 38.6, []Weight{Warn, Stop}}, {FluidTemperature, 34.4, []Weight{Warn}},
		{FluidPH, 6.9, nil}, {FluidPH, 7.7, []Weight{Warn}},
		{FluidConductance, 14, nil}, {FluidConductance, 12.4, []Weight{Warn}},
	} {
		var got []Weight
		for _, b := range BoundsOf(tt.reading) {
			ok, cautions := b.Holds(tt.value)
			if !ok {
				got = append(got, b.Weight)
				if len(cautions) != 1 || !strings.Contains(cautions[0].Text, "program default") {
					t.Errorf("%s: the caution does not say who set the bound: %v", tt.reading, cautions)
				}
			}
		}
		if !slices.Equal(got, tt.outside) {
			t.Errorf("%s %v: %v, want %v", tt.reading, tt.value, got, tt.outside)
		}
	}
	for _, b := range DefaultBounds() {
		if b.Source == "" || b.Status == "" || b.Weight == "" || b.Low == nil && b.High == nil {
			t.Errorf("%s lacks a source, status, weight or any bound: %+v", b.Label, b)
		}
	}
}

func TestBoundSet(t *testing.T) {
	b := BoundsOf(Rejection)[0]
	low := 95.0
	own, err := b.Set("Sister Example", "2026-03-03", &low, nil)
	if err != nil {
		t.Fatal(err)
	}
	ok, cautions := own.Holds(94)
	if ok || !strings.Contains(cautions[0].Text, "Sister Example on 2026-03-03") {
		t.Errorf("94 %% against the unit's 95: %v, %v", ok, cautions)
	}
	if ok, _ := b.Holds(94); !ok {
		t.Error("the default changed too")
	}
	high := 90.0
	if _, err := b.Set("Sister Example", "2026-03-03", &low, &high); err == nil {
		t.Error("a low bound above the high one was taken")
	}
	if _, err := b.Set("", "2026-03-03", &low, nil); err == nil {
		t.Error("a bound of nobody was taken")
	}
}

func TestPlantReadings(t *testing.T) {
	near := func(name string, got float64, err error, want float64) {
		t.Helper()
		if err != nil || math.Abs(got-want) > 1e-6*max(1, want) {
			t.Errorf("%s = %v, %v; want %v", name, got, err, want)
		}
	}
	refused := func(name string, err error) {
		t.Helper()
		if !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s: err = %v, want an InputError", name, err)
		}
	}
	// One grain per US gallon is the 17 mg/L of the limit, to its digits.
	h, err := HardnessMgPerL(1, "gpg")
	near("1 gpg", h, err, 17.1)
	h, err = HardnessMgPerL(1, "°dH")
	near("1 °dH", h, err, 17.8)
	h, err = HardnessMgPerL(1, "°fH")
	near("1 °fH", h, err, 10)
	h, err = HardnessMgPerL(0.1, "mmol/L")
	near("0.1 mmol/L", h, err, 10.01)
	_, err = HardnessMgPerL(1, "mg/L")
	refused("bare mg/L", err)
	_, err = HardnessMgPerL(-1, "gpg")
	refused("negative hardness", err)

	d, err := PressureDrop(60, 44, "psi")
	near("60 to 44 psi", d, err, 16)
	d, err = PressureDrop(4, 3, "bar")
	near("1 bar", d, err, 14.503774)
	d, err = PressureDrop(40, 40.5, "psi")
	near("gauges' play", d, err, 0)
	_, err = PressureDrop(40, 50, "psi")
	refused("after above before", err)
	_, err = PressureDrop(40, 30, "atm")
	refused("unknown unit", err)

	r, err := RejectionPercent(500, 12.5)
	near("500 to 12.5", r, err, 97.5)
	_, err = RejectionPercent(500, 600)
	refused("product above feed", err)
	_, err = RejectionPercent(0, 0)
	refused("no feed", err)

	share, cautions, err := ProductRise(8, 10)
	near("8 to 10", share, err, 0.25)
	if len(cautions) != 1 {
		t.Error("a quarter above the baseline is not remarked on")
	}
	if _, cautions, _ = ProductRise(8, 9.9); cautions != nil {
		t.Errorf("under a quarter: %v", cautions)
	}
	m, err := ContactMinutes(56, 4)
	near("56 L at 4 L/min", m, err, 14)
	_, err = ContactMinutes(56, 0)
	refused("no flow", err)
}

func TestSelfTests(t *testing.T) {
	for _, tt := range []struct {
		tries []int
		codes []string
	}{
		{nil, nil},
		{[]int{1, 1, 1}, nil},
		{[]int{1, 2}, []string{"self_test_repeated"}},
		{[]int{2, 2, 2, 1}, []string{"self_test_failing"}},
		{[]int{2, 2, 2, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}, nil},
		{[]int{2, 3, 2}, []string{"self_test_repeated", "self_test_failing"}},
	} {
		if got := codes(SelfTests(tt.tries)); !slices.Equal(got, tt.codes) {
			t.Errorf("%v: %v, want %v", tt.tries, got, tt.codes)
		}
	}
}
