package household

import (
	"slices"
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// byFiltration makes every order of an invented life one of haemodiafiltration.
func byFiltration(e *record.Entry) bool {
	if rx, is := e.Body.(*session.Prescription); is {
		rx.Filtration = true
	}
	return true
}

// Water and Today say what is not known to be ultrapure, and that it is because of
// haemodiafiltration; without that order nothing is said of it.
func TestWaterIsHeldToUltrapureBetweenSessions(t *testing.T) {
	for _, filtered := range []bool{false, true} {
		keep := func(e *record.Entry) bool {
			if filtered {
				byFiltration(e)
			}
			return true
		}
		h, m, _ := invented(t, 4, 6, keep)
		if len(h.Upkeep.Results) == 0 {
			t.Fatal("no water result in this life")
		}
		impure := h.Upkeep.ImpureAt(present)
		if len(impure) == 0 {
			t.Fatal("every result of this life is within ultrapure water: it shows nothing")
		}
		said := slices.ContainsFunc(WaterRemarks(h, present), func(c unit.Caution) bool {
			return c.Code == "not_ultrapure" && strings.Contains(c.Text, "because of haemodiafiltration")
		})
		if said != filtered {
			t.Errorf("haemodiafiltration %v, said %v", filtered, said)
		}
		over := slices.ContainsFunc(impure, record.Impure.Over)
		stands := slices.ContainsFunc(StandsInTheWay(h, m, present), func(o Obstacle) bool {
			return o.Stop && strings.Contains(o.Words, "because of haemodiafiltration")
		})
		if stands != (filtered && over) {
			t.Errorf("haemodiafiltration %v, over %v, in the way %v", filtered, over, stands)
		}
		t.Logf("%d figures, over: %v", len(impure), over)
	}
}

// A dose worked out by flows says that what the substitution fluid clears is not in it;
// one whose clearance came from the bloods, or of haemodialysis, does not.
func TestDoseByFlowsSaysThatConvectionIsNotCounted(t *testing.T) {
	has := func(list []unit.Caution) bool {
		return slices.ContainsFunc(list, func(c unit.Caution) bool { return c.Code == "convection_not_counted" })
	}
	for _, tt := range []struct {
		name     string
		keep     func(e *record.Entry) bool
		want     bool
		byBloods bool
	}{
		{"haemodialysis", nil, false, false},
		{"haemodiafiltration", byFiltration, true, false},
		{"haemodiafiltration, no KoA", func(e *record.Entry) bool {
			if rx, is := e.Body.(*session.Prescription); is {
				rx.Filtration, rx.KoA = true, nil
			}
			return true
		}, false, true},
	} {
		h, m, _ := invented(t, 4, 6, tt.keep)
		v := DoseOf(m, present)
		if v.Fortnight == nil {
			t.Fatalf("%s: %s%s", tt.name, v.Why, v.NoStretch)
		}
		if (v.Person.Clearance == FromVolume) != tt.byBloods {
			t.Fatalf("%s: clearance from %s", tt.name, v.Person.Clearance)
		}
		if has(v.Fortnight.Cautions) != tt.want {
			t.Errorf("%s: the fortnight: %+v", tt.name, v.Fortnight.Cautions)
		}
		b, err := WeekBookOf(h, m, present)
		if err != nil {
			t.Fatal(err)
		}
		if has(b.Cautions) != tt.want {
			t.Errorf("%s: the weeks: %+v", tt.name, b.Cautions)
		}
		shares := 0
		for _, month := range v.Months {
			for _, s := range month.Sampled {
				if d := s.Delivered; d != nil {
					shares++
					if has(d.Cautions) != tt.want {
						t.Errorf("%s: the share delivered: %+v", tt.name, d.Cautions)
					}
				}
			}
		}
		if !tt.byBloods && shares == 0 {
			t.Errorf("%s: no share was worked out", tt.name)
		}
	}
}
