package stock

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"testing"

	"ebbline/unit"
)

func luck(seed uint64) func() float64 { return rand.New(rand.NewPCG(seed, 7)).Float64 }

// The table of reserves over a hundred years of the default house: the default
// reserve keeps stock-outs under one session in a thousand, and so does the
// six of the usual three sessions a week; run with -v to see it.
func TestTrials(t *testing.T) {
	table, err := DefaultHouse().Trials(10, 100*365, func() func() float64 { return luck(1) })
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range table {
		s := row.Service
		t.Logf("reserve %2d: %.2f stock-outs in 1,000 of %d sessions; shelf %.1f sessions on average, %.0f at most", row.Reserve, s.PerThousand(), s.Sessions, s.MeanShelf, s.MostShelf)
		if row.Reserve >= DefaultReserve && s.PerThousand() >= 1 {
			t.Errorf("a reserve of %d leaves %.2f stock-outs in 1,000", row.Reserve, s.PerThousand())
		}
	}
	lowest, ok := Lowest(table, 1)
	if !ok || lowest > DefaultReserve || lowest == 0 {
		t.Errorf("lowest reserve %d, %v; want one above 0, up to the default", lowest, ok)
	}
	if first := table[0].Service.PerThousand(); first < 1 {
		t.Errorf("no reserve at all and only %.2f stock-outs in 1,000: the trial shows nothing", first)
	}
}

func TestSimulateWithoutBadLuck(t *testing.T) {
	h := DefaultHouse()
	h.Forgets, h.Failed, h.Late, h.Reserve = 0, 0, 0, 0
	for _, every := range []int{1, 2, 3} {
		for _, pack := range []unit.Pieces{one, 12 * one} {
			h.EveryDays, h.Pack = every, pack
			s, err := h.Simulate(5*365, luck(2))
			if err != nil || s.StockOuts > 0 || s.Sessions != (5*365+every-1)/every {
				t.Errorf("every %d days, packs of %s: %+v, %v; want every session served", every, pack, s, err)
			}
		}
	}
	h.Late, h.LateDays = 0.99, 60
	if s, err := h.Simulate(5*365, luck(2)); err != nil || s.PerThousand() < 100 {
		t.Errorf("deliveries always late by weeks, no reserve: %+v, %v; want many stock-outs", s, err)
	}
}

func TestSimulateRepeats(t *testing.T) {
	a, err := DefaultHouse().Simulate(2000, luck(3))
	if err != nil {
		t.Fatal(err)
	}
	if b, _ := DefaultHouse().Simulate(2000, luck(3)); a != b {
		t.Errorf("the same draws gave %+v and %+v", a, b)
	}
	h := DefaultHouse()
	h.Late = 1
	if _, err := h.Simulate(10, luck(1)); !errors.As(err, new(*unit.InputError)) {
		t.Errorf("a certain lateness: err = %v, want an InputError", err)
	}
	if _, ok := Lowest([]Trial{{0, Service{Sessions: 10, StockOuts: 5}}}, 1); ok {
		t.Error("a table without a good row has a lowest reserve")
	}
}

// The columns of the table in docs/decisions/2026-11-25-shelf-reserve.md.
func tableColumns() []struct {
	name  string
	house House
} {
	early, late, last := DefaultHouse(), DefaultHouse(), DefaultHouse()
	late.LateDays = 7
	last.Early = 0
	return []struct {
		name  string
		house House
	}{{"a week early", early}, {"a week late", late}, {"on the last day", last}}
}

// What the table says, on a tenth of its years: asked for a week early, two
// sessions in reserve are the least that keeps stock-outs under one in a thousand
// sessions; with deliveries a week late the eight of the table do and four do not;
// asked for on the last day no reserve does.
func TestReserveTable(t *testing.T) {
	for _, column := range tableColumns() {
		table, err := column.house.Trials(8, 100*365, func() func() float64 { return luck(1) })
		if err != nil {
			t.Fatal(err)
		}
		lowest, ok := Lowest(table, 1)
		var held bool
		switch column.name {
		case "a week early":
			held = ok && lowest == 2
		case "a week late":
			held = ok && lowest > 4
		case "on the last day":
			held = !ok && table[8].Service.PerThousand() > 100
		}
		if !held {
			t.Errorf("%s: lowest reserve %d, %v\n%+v", column.name, lowest, ok, table)
		}
	}
}

// The table over a thousand years of each house, printed again:
//
//	go test ./stock -run xxx -bench ReserveTable -benchtime 1x
func BenchmarkReserveTable(b *testing.B) {
	for _, column := range tableColumns() {
		for reserve := range 9 {
			house := column.house
			house.Reserve = reserve
			b.Run(fmt.Sprintf("%s, reserve %d", column.name, reserve), func(b *testing.B) {
				var s Service
				for b.Loop() {
					var err error
					if s, err = house.Simulate(1000*365, luck(1)); err != nil {
						b.Fatal(err)
					}
				}
				b.ReportMetric(s.PerThousand(), "stockouts/1000")
				b.ReportMetric(s.MeanShelf, "shelf")
				b.ReportMetric(float64(s.Sessions), "sessions")
			})
		}
	}
}

func BenchmarkSimulateYear(b *testing.B) {
	h := DefaultHouse()
	for b.Loop() {
		if _, err := h.Simulate(365, luck(1)); err != nil {
			b.Fatal(err)
		}
	}
}
