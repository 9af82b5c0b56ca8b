package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

func endotoxin(op water.Op, v float64) water.Result {
	return water.Result{What: water.Endotoxin, Op: op, Value: v, Unit: water.EUPerML}
}

func less(v float64) water.Result {
	r := count(v)
	r.Op = water.Less
	return r
}

// A result that was judged as of standard water is held to ultrapure where
// haemodiafiltration is ordered, and the words say why.
func TestWaterIsHeldToUltrapure(t *testing.T) {
	type result struct {
		point string
		found water.Result
		use   string
	}
	product := water.PointProduct
	for _, tt := range []struct {
		name     string
		filtered bool
		results  []result
		want     []string // how each begins
		stops    int
	}{
		{"haemodialysis", false, []result{{product, count(20), "standard"}}, nil, 0},
		{"no result", true, nil, nil, 0},
		{"under the limit", true, []result{{product, count(0.05), "standard"}}, nil, 0},
		{"at the limit", true, []result{{product, count(0.1), "standard"}}, []string{"Viable count 0.1 CFU/mL in product water"}, 1},
		{"within standard, over ultrapure", true, []result{{product, count(20), "standard"}}, []string{"Viable count 20 CFU/mL in product water"}, 1},
		{"a method that is too coarse", true, []result{{product, less(1), "standard"}}, []string{"Viable count < 1 CFU/mL in product water"}, 0},
		{"a finer one", true, []result{{product, less(0.1), "standard"}}, nil, 0},
		{"endotoxin under", true, []result{{product, endotoxin(water.Less, 0.03), "standard"}}, nil, 0},
		{"endotoxin at the limit", true, []result{{product, endotoxin(water.Equal, 0.03), "standard"}}, []string{"Endotoxin 0.03 EU/mL in product water"}, 1},
		{"a better one since", true, []result{{product, count(20), "standard"}, {product, less(0.1), "standard"}}, nil, 0},
		{"a better one elsewhere", true, []result{{product, count(20), "standard"}, {water.PointInlet, less(0.1), "standard"}}, []string{"Viable count 20 CFU/mL in product water"}, 1},
		{"feed water is not held to it", true, []result{{"feed water", count(20), "standard"}}, nil, 0},
		{"judged as ultrapure already", true, []result{{product, count(0.05), "ultrapure"}}, nil, 0},
	} {
		b := newBook(t)
		if tt.filtered {
			b.filters(session.RemovedNet)
		}
		for i, r := range tt.results {
			id := "sample-0" + string(rune('1'+i))
			b.waterSample(id, r.point, string(r.found.What))
			body := aResult(id, r.found)
			body.Use, body.Owner = r.use, "Sam"
			e := b.house("water_result", body)
			e.Again = map[string]string{"use": "standard"}
			if found := b.try(e); len(found) > 0 {
				t.Fatalf("%s: %v", tt.name, found)
			}
		}
		at := b.now.Add(time.Hour)
		var said []string
		if b.h.Filtered(unit.DateOf(at)) {
			for _, i := range b.h.Upkeep.ImpureAt(at) {
				said = append(said, i.Words())
			}
		}
		if len(said) != len(tt.want) {
			t.Errorf("%s: %q", tt.name, said)
			continue
		}
		for i, w := range said {
			if !strings.HasPrefix(w, tt.want[i]) || !strings.Contains(w, "because of haemodiafiltration") {
				t.Errorf("%s: %q", tt.name, w)
			}
		}
		b.open("session-1")
		s := b.h.Session("session-1")
		var c session.Check
		for _, one := range session.StartLine(s, b.h.Member("person-one").History(s), b.now.Add(time.Hour)) {
			if one.ID == session.CheckWaiting {
				c = one
			}
		}
		if stops := strings.Count(c.Words, "is over: ultrapure is asked for"); stops != tt.stops || stops > 0 && (c.State != session.StopHere || !c.Rings || !strings.Contains(c.Words, "Ring your unit")) {
			t.Errorf("%s: the start line says %s %q", tt.name, c.State, c.Words)
		}
		use, by := b.h.HeldTo(unit.DateOf(at))
		if by != tt.filtered || (use == water.Ultrapure) != tt.filtered {
			t.Errorf("%s: held to %s", tt.name, use)
		}
	}
}

// Microbes judged as of standard water are asked about in a house with haemodiafiltration.
func TestStandardWaterIsAskedInHaemodiafiltration(t *testing.T) {
	chemical := water.Result{What: water.Sodium, Op: water.Equal, Value: 5, Unit: water.MgPerL}
	for _, tt := range []struct {
		name, point, use string
		filtered         bool
		found            water.Result
		asked            bool
	}{
		{"microbes", water.PointProduct, "standard", true, count(3), true},
		{"as ultrapure", water.PointProduct, "ultrapure", true, less(0.1), false},
		{"haemodialysis", water.PointProduct, "standard", false, count(3), false},
		{"chemistry", water.PointProduct, "standard", true, chemical, false},
		{"feed water", "feed water", "standard", true, count(3), false},
	} {
		b := newBook(t)
		if tt.filtered {
			b.filters(session.RemovedNet)
		}
		b.waterSample("sample-01", tt.point, string(tt.found.What))
		body := aResult("sample-01", tt.found)
		body.Use, body.Owner = tt.use, "Sam"
		found := Check(b.h, b.house("water_result", body))
		if asked := strings.Contains(found.On("use"), "because of haemodiafiltration"); asked != tt.asked || !tt.asked && len(found) > 0 {
			t.Errorf("%s: %v", tt.name, found)
		}
	}
}
