package access

import (
	"errors"
	"fmt"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"ebbline/unit"
)

// day is a day of January 2026; 32 is 1 February.
func day(n int) unit.Date { return unit.NewDate(2026, time.January, n) }

// arm has six arterial sites from 4 cm on and six venous ones from 14 cm on.
func arm() []Site {
	var sites []Site
	for i := range 6 {
		sites = append(sites, Site{ID: fmt.Sprint("A", i+1), Side: Arterial, AlongCm: 4 + float64(i)*0.5},
			Site{ID: fmt.Sprint("V", i+1), Side: Venous, AlongCm: 14 + float64(i)*0.5})
	}
	return sites
}

func codes(list []unit.Caution) []string {
	var out []string
	for _, c := range list {
		out = append(out, c.Code)
	}
	return out
}

func TestAllowed(t *testing.T) {
	for _, tt := range []struct {
		k  Kind
		t  Technique
		ok bool
	}{
		{Fistula, RopeLadder, true}, {Fistula, Buttonhole, true},
		{Graft, RopeLadder, true}, {Graft, Buttonhole, false},
		{Catheter, RopeLadder, false}, {Catheter, Buttonhole, false},
		{"shunt", RopeLadder, false}, {Fistula, "area", false},
	} {
		if err := Allowed(tt.k, tt.t); (err == nil) != tt.ok {
			t.Errorf("%s in a %s: %v, want allowed %v", tt.t, tt.k, err, tt.ok)
		}
	}
}

func TestRest(t *testing.T) {
	sites := []Site{{ID: "A1", Side: Arterial}, {ID: "A2", Side: Arterial}, {ID: "A3", Side: Arterial}, {ID: "A4", Side: Arterial, Avoid: "lump"}}
	history := []Needling{{day(1), "A1"}, {day(3), "A2"}, {day(9), "A1"}, {day(40), "A1"}}
	got := Rest(sites, history, day(17), DefaultRule())
	for i, want := range []struct {
		days, times int
		free        bool
	}{{8, 2, false}, {14, 1, true}, {0, 0, true}, {0, 0, false}} {
		if x := got[i]; x.Days != want.days || x.Times != want.times || x.Free != want.free {
			t.Errorf("%s: %+v, want %+v", x.Site.ID, x, want)
		}
	}
}

func TestPropose(t *testing.T) {
	avoid := arm()
	avoid[2].Avoid = "scab" // A2
	for _, tt := range []struct {
		name    string
		sites   []Site
		history []Needling
		want    string
		codes   []string
	}{
		{"a new arm begins at the bottom", arm(), nil, "A1 V1", nil},
		{"the next rungs", arm(), []Needling{{day(27), "A1"}, {day(27), "V1"}}, "A2 V2", nil},
		{"past what is to be avoided", avoid, []Needling{{day(27), "A1"}, {day(27), "V1"}}, "A3 V2", nil},
		{"at the end it begins anew", arm(), []Needling{{day(5), "A1"}, {day(5), "V1"}, {day(27), "A6"}, {day(27), "V6"}}, "A1 V1", nil},
		{"over what has not rested", arm(), []Needling{{day(25), "A2"}, {day(27), "A1"}, {day(27), "V1"}}, "A3 V2", nil},
		{"none has rested: the longest rest", arm(), []Needling{
			{day(20), "A1"}, {day(21), "A2"}, {day(18), "A3"}, {day(23), "A4"}, {day(24), "A5"}, {day(25), "A6"}}, "A3 V1", []string{"not_rested"}},
		{"only far enough apart", []Site{{ID: "A1", Side: Arterial, AlongCm: 8}, {ID: "A2", Side: Arterial, AlongCm: 5}, {ID: "V1", Side: Venous, AlongCm: 11}}, nil, "A2 V1", nil},
		{"not far enough, but rested", []Site{{ID: "A1", Side: Arterial, AlongCm: 8}, {ID: "A2", Side: Arterial, AlongCm: 5}, {ID: "V1", Side: Venous, AlongCm: 11}},
			[]Needling{{day(25), "A2"}}, "A1 V1", []string{"tips_close"}},
	} {
		p, err := Propose(tt.sites, tt.history, day(28), DefaultRule())
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if got := p.Arterial.Site.ID + " " + p.Venous.Site.ID; got != tt.want || !slices.Equal(codes(p.Cautions), tt.codes) {
			t.Errorf("%s: %s %v, want %s %v", tt.name, got, codes(p.Cautions), tt.want, tt.codes)
		}
	}
	for name, bad := range map[string][]Site{
		"no venous site": {{ID: "A1", Side: Arterial}},
		"all avoided":    {{ID: "A1", Side: Arterial}, {ID: "V1", Side: Venous, Avoid: "x"}},
		"two of one id":  {{ID: "A1", Side: Arterial}, {ID: "A1", Side: Venous}},
		"no side":        {{ID: "A1"}},
		"no place":       {{ID: "A1", Side: Arterial, AlongCm: 70}},
	} {
		if _, err := Propose(bad, nil, day(28), DefaultRule()); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s: err = %v, want an InputError", name, err)
		}
	}
}

// Half a year of sessions by the proposals: no site comes twice in its rest
// time while a free one of its side exists, and none that is to be avoided.
func TestRotation(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var sites []Site
		for _, side := range []Side{Arterial, Venous} {
			n := rapid.IntRange(1, 12).Draw(t, string(side))
			for i := range n {
				s := Site{ID: fmt.Sprint(side[:1], i), Side: side, AlongCm: 3 + 0.5*float64(i)}
				if side == Venous {
					s.AlongCm += rapid.SampledFrom([]float64{4, 12}).Draw(t, "from")
				}
				if i > 0 && rapid.IntRange(0, 4).Draw(t, "avoid") == 0 {
					s.Avoid = "scab"
				}
				sites = append(sites, s)
			}
		}
		r := DefaultRule()
		r.RestDays = rapid.IntRange(1, 21).Draw(t, "rest")
		every := rapid.IntRange(1, 3).Draw(t, "every")
		var history []Needling
		for d := 1; d < 200; d += every {
			p, err := Propose(sites, history, day(d), r)
			if err != nil {
				t.Fatal(err)
			}
			for _, x := range []Rested{p.Arterial, p.Venous} {
				if x.Site.Avoid != "" {
					t.Fatalf("day %d: %s is offered, to be avoided", d, x.Site.ID)
				}
				if x.Free {
					continue
				}
				for _, y := range Rest(sites, history, day(d), r) {
					if y.Free && y.Site.Side == x.Site.Side {
						t.Fatalf("day %d: %s after %d days, though %s is free", d, x.Site.ID, x.Days, y.Site.ID)
					}
				}
			}
			for _, id := range []string{p.Arterial.Site.ID, p.Venous.Site.ID} {
				history = append(history, Needling{day(d), id})
			}
		}
	})
}

func TestEverySiteIsUsed(t *testing.T) {
	var history []Needling
	used := map[string]int{}
	for d := 1; d <= 60; d += 2 {
		p, err := Propose(arm(), history, day(d), DefaultRule())
		if err != nil {
			t.Fatal(err)
		}
		for _, id := range []string{p.Arterial.Site.ID, p.Venous.Site.ID} {
			history = append(history, Needling{day(d), id})
			used[id]++
		}
	}
	for _, s := range arm() { // thirty sessions over six rungs a side
		if used[s.ID] != 5 {
			t.Errorf("%s was used %d times in thirty sessions, want 5", s.ID, used[s.ID])
		}
	}
}

func TestCheckAndArea(t *testing.T) {
	near := append(arm(), Site{ID: "A0", Side: Arterial, AlongCm: 2.9})
	if got, err := Check(near, DefaultRule()); err != nil || !slices.Equal(codes(got), []string{"near_anastomosis"}) {
		t.Errorf("2.9 cm from the anastomosis: %v, %v", got, err)
	}
	var same, spread []Needling
	for i := range 12 {
		same = append(same, Needling{day(i), fmt.Sprint("A", i%3+1)})
		spread = append(spread, Needling{day(i), fmt.Sprint("A", i%4+1)})
	}
	if got := AreaPuncture(arm(), same, Arterial); !slices.Equal(codes(got), []string{"area_puncture"}) {
		t.Errorf("three places of six: %v", got)
	}
	if got := AreaPuncture(arm(), spread, Arterial); got != nil {
		t.Errorf("four places of six: %v", got)
	}
	if got := AreaPuncture(arm(), same[:11], Arterial); got != nil {
		t.Errorf("eleven needlings: %v", got)
	}
	if got := AreaPuncture(arm()[:8], same, Arterial); got != nil {
		t.Errorf("only four sites to use: %v", got)
	}
}

func TestTract(t *testing.T) {
	for _, tt := range []struct {
		in   Tract
		want []string
	}{
		{Tract{Sessions: 8, Hands: []string{"Robin", " robin "}}, nil},
		{Tract{Sessions: 8, Hands: []string{"Robin", "Kim"}}, []string{"many_hands"}},
		{Tract{Sessions: 5, Blunt: true}, []string{"blunt_early"}},
		{Tract{Sessions: 6, Blunt: true}, nil},
		{Tract{Sessions: 12}, nil},
		{Tract{Sessions: 13}, []string{"sharp_late"}},
	} {
		if got := codes(tt.in.Remarks()); !slices.Equal(got, tt.want) {
			t.Errorf("%+v: %v, want %v", tt.in, got, tt.want)
		}
	}
}
