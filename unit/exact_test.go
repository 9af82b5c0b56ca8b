package unit

import (
	"math"
	"math/big"
	"testing"

	"pgregory.net/rapid"
)

func TestExactOfRecorded(t *testing.T) {
	// 74.6 kg is no binary fraction: as a float64 it is 74.599999999999994…
	if got := Mass(74600).Exact().Rat(); got.Cmp(big.NewRat(746, 10)) != 0 {
		t.Errorf("74600 g = %v kg, want 373/5", got)
	}
	if got := Volume(-5).Exact().Float(); got != -5 {
		t.Errorf("-5 mL = %v", got)
	}
}

func TestExactSetFloat(t *testing.T) {
	for _, tt := range []struct {
		in   float64
		want string
	}{
		{0, "0"}, {0.1, "0.1"}, {74.6, "74.6"}, {74.6234567, "74.6234567"},
		{1e-9, "0.000000001"}, {1e21, "1000000000000000000000"}, {-2.5, "-2.5"},
	} {
		var e ExactMass
		if err := e.SetFloat(tt.in); err != nil || e.String() != tt.want {
			t.Errorf("SetFloat(%v) = %s, %v; want %s", tt.in, e, err, tt.want)
		}
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		e := Mass(72000).Exact()
		if err := e.SetFloat(bad); err == nil || e.String() != "72" {
			t.Errorf("SetFloat(%v) = %s, %v; want a refusal and the old value", bad, e, err)
		}
	}
}

func TestExactWithin(t *testing.T) {
	e := Mass(20000).Exact()
	if !e.Within(20, 300) || e.Within(20.001, 300) || !e.Within(0, 20) || e.Within(0, 19.999) {
		t.Error("Within misplaces 20 kg")
	}
	// As binary fractions the bound 0.1 would lie above one tenth.
	if tenth := Mass(100).Exact(); !tenth.Within(0.1, 1) || !tenth.Within(0, 0.1) {
		t.Error("one tenth is not within its own bounds")
	}
}

func TestExactString(t *testing.T) {
	third := ExactMass{rat: big.NewRat(1, 3)}
	if got := third.String(); got != "0.333333333333" {
		t.Errorf("one third = %s", got)
	}
	if got := (ExactMass{}).String(); got != "0" {
		t.Errorf("zero Exact = %q", got)
	}
}

// A changed Rat must not reach the value it came from.
func TestExactIsNotShared(t *testing.T) {
	e := Mass(72000).Exact()
	e.Rat().SetInt64(1)
	if e.String() != "72" {
		t.Errorf("the value became %s", e)
	}
}

func TestExactReadsBackAnyFloat(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.Float64Range(-1e12, 1e12).Draw(t, "v")
		var e ExactVolume
		if err := e.SetFloat(v); err != nil || e.Float() != v {
			t.Fatalf("SetFloat(%v) reads back %v, %v", v, e.Float(), err)
		}
	})
}
