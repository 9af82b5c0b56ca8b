package stock

import (
	"math"
	"slices"
	"testing"

	"ebbline/unit"
)

func TestCountDrift(t *testing.T) {
	c := Count{Before: 20 * one, Received: 24 * one, TakenOut: one, Booked: 13 * one, Shelf: 27 * one}
	if got := c.Drift(); got != 3*one {
		t.Errorf("drift %s, want 3: 20 + 24 − 1 − 13 is 30, and 27 lie there", got)
	}
	if got := c.Remark("dialyser", one); len(got) != 1 || got[0].Code != "fewer_than_booked" {
		t.Errorf("three missing: %v", got)
	}
	// Of the three, two were written down as spares: the book had them off already.
	if noted := (Count{Before: 20 * one, Received: 24 * one, TakenOut: one, Booked: 13 * one, Noted: 2 * one, Shelf: 27 * one}); noted.Drift() != one || noted.used() != c.used() {
		t.Errorf("drift %s and %s used, want 1 and 16", noted.Drift(), noted.used())
	}
	c.Shelf = 28 * one
	if got := c.Remark("dialyser", one); got != nil {
		t.Errorf("two missing, the use of two sessions: %v", got)
	}
	c.Shelf = 33 * one
	if got := c.Remark("dialyser", one); len(got) != 1 || got[0].Code != "more_than_booked" {
		t.Errorf("three too many: %v", got)
	}
}

func TestSpareFactor(t *testing.T) {
	exact := func(booked, drift int) Count { // nothing came, and drift more went than was booked
		return Count{Before: 1000 * one, Booked: unit.Pieces(booked) * one, Shelf: unit.Pieces(1000-booked-drift) * one}
	}
	for _, tt := range []struct {
		name    string
		counts  []Count
		per     unit.Pieces
		want    float64
		learned bool
	}{
		{"no counts", nil, one, 1.1, false},
		// (11 + 30) / (10 + 20)
		{"half as much again over twenty", []Count{exact(20, 10)}, one, 41.0 / 30, true},
		{"exact over years", []Count{exact(500, 0)}, one, 511.0 / 510, true},
		{"too few sessions to have learned", []Count{exact(5, 0)}, one, 16.0 / 15, false},
		{"less than the book", []Count{exact(200, -20)}, one, 1, true},
		{"a loss, not a habit", []Count{exact(50, 400)}, one, 2, true},
		{"no use", nil, 0, 1.1, false},
	} {
		got, learned := SpareFactor(tt.counts, tt.per)
		if math.Abs(got-tt.want) > 1e-12 || learned != tt.learned {
			t.Errorf("%s: %v, %v; want %v, %v", tt.name, got, learned, tt.want, tt.learned)
		}
	}
}

func TestCheckDelivery(t *testing.T) {
	far := on(400)
	lines := CheckDelivery(
		[]Ordered{{"dialyser", 24 * one}, {"needle", 50 * one}, {"saline", 10 * one}},
		[]Received{
			{Item: "Dialyser", Lot: Lot{Code: "A", Count: 12 * one, Expires: far}},
			{Item: "dialyser", Lot: Lot{Code: "B", Count: 12 * one, Expires: far}, Damaged: 2 * one},
			{Item: "needle", Lot: Lot{Count: 30 * one, Expires: far}},
			{Item: "needle", Lot: Lot{Code: "C", Count: 20 * one, Expires: on(0)}},
			{Item: "saline", Lot: Lot{Code: "D", Count: 12 * one, Expires: on(80)}},
			{Item: "other dialyser", Lot: Lot{Code: "E", Count: one}},
		}, on(1))
	for i, want := range []struct {
		came, damaged unit.Pieces
		codes         []string
	}{
		{22 * one, 2 * one, []string{"damaged", "short"}},
		{30 * one, 0, []string{"lot_missing", "expired", "short"}},
		{12 * one, 0, []string{"near_expiry", "too_many"}},
		{one, 0, []string{"expiry_missing", "not_ordered"}},
	} {
		l := lines[i]
		var codes []string
		for _, c := range l.Cautions {
			codes = append(codes, c.Code)
		}
		if l.Came != want.came || l.Damaged != want.damaged || !slices.Equal(codes, want.codes) {
			t.Errorf("%s: %s came, %s damaged, %v; want %s, %s, %v", l.Item, l.Came, l.Damaged, codes, want.came, want.damaged, want.codes)
		}
	}
	// Three months from 1 January: 31 March is near, 1 April is not.
	for day, near := range map[int]bool{90: true, 91: false} {
		l := CheckDelivery([]Ordered{{"x", one}}, []Received{{Item: "x", Lot: Lot{Code: "A", Count: one, Expires: on(day)}}}, on(1))
		if got := len(l[0].Cautions) > 0; got != near {
			t.Errorf("expires %s: near %v, want %v", on(day), got, near)
		}
	}
}
