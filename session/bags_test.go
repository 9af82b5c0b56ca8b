package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// A bag that is hung while the treatment runs is looked at like the first one, each
// time, on a machine with ready bags only.
func TestBagHungInTheRun(t *testing.T) {
	good := BathLabel{K: 200, Ca: 150, Lot: "B9", Expiry: unit.DateOf(evening.Add(300 * 24 * time.Hour)), Seal: Yes, Clear: Yes}
	with := func(f func(*BathLabel)) BathLabel { b := good; f(&b); return b }
	for _, tt := range []struct {
		name, kind string
		bag        BathLabel
		code       string
		words      string
	}{
		{"good", "bags", good, "", ""},
		{"another potassium", "bags", with(func(b *BathLabel) { b.K = 300 }), "bag_wrong", "Label K 3"},
		{"another calcium", "bags", with(func(b *BathLabel) { b.Ca = 125 }), "bag_wrong", "Label Ca 1.25"},
		{"expired", "bags", with(func(b *BathLabel) { b.Expiry = unit.DateOf(evening).Add(-1) }), "bag_wrong", "expired"},
		{"a leak", "bags", with(func(b *BathLabel) { b.Seal = No }), "bag_wrong", "seal"},
		{"cloudy", "bags", with(func(b *BathLabel) { b.Clear = No }), "bag_wrong", "not clear"},
		{"not looked at", "bags", with(func(b *BathLabel) { b.Seal = "" }), "bag_open", "Look at it now"},
		{"no lot", "bags", with(func(b *BathLabel) { b.Lot = "" }), "bag_open", "Lot of the bag"},
		{"a leak of no bag", "single_pass", with(func(b *BathLabel) { b.Seal = No }), "", ""},
	} {
		s := fallen(t)
		s.Machine.Kind = tt.kind
		s.Rx.BathK, s.Rx.BathCa = 200, 150
		bag := tt.bag
		again := bag
		again.Replaces = bagName(&bag, &Event{At: on(60)})
		put(s, on(60), &bag)
		put(s, on(70), &again)
		var said []Remark
		for _, r := range Remarks(s, on(80)) {
			if strings.HasPrefix(r.Code, "bag_") {
				said = append(said, r)
			}
		}
		switch {
		case tt.code == "" && len(said) > 0, tt.code != "" && len(said) != 2:
			t.Errorf("%s: %+v", tt.name, said)
		case tt.code != "" && (said[0].Code != tt.code || !strings.Contains(said[0].Words, tt.words) || said[0].Entry == ""):
			t.Errorf("%s: %+v, want %s %q", tt.name, said[0], tt.code, tt.words)
		}
	}
}

// A machine of "bags or a made batch" is the same machine as the one of the two that
// it turns out to be; no other kind is.
func TestOneMachineOnceItsFluidIsSaid(t *testing.T) {
	kinds := []string{"single_pass", "batch", "bags", "low_volume"}
	for _, a := range kinds {
		for _, b := range kinds {
			one, other := Machine{Name: "the machine", Kind: a}, Machine{Name: "The machine", Kind: b}
			is := a == b || a == "low_volume" && b != "single_pass" || b == "low_volume" && a != "single_pass"
			if one.IsOne(other) != is || one.same(other) != is {
				t.Errorf("%s and %s: one %v, same %v", a, b, one.IsOne(other), one.same(other))
			}
		}
	}
	for kind, want := range map[string]Fluid{"single_pass": FluidTap, "": FluidTap, "batch": FluidBatch, "low_volume": FluidBatch, "bags": FluidBags} {
		if m := (Machine{Kind: kind}); m.Fluid() != want || m.FluidUnsaid() != (kind == "low_volume") {
			t.Errorf("%q: %s, unsaid %v", kind, m.Fluid(), m.FluidUnsaid())
		}
	}
}

// What is not looked for in a session goes by its fluid.
func TestOpenItemsByFluid(t *testing.T) {
	for kind, want := range map[string][3]bool{ // chlorine, conductivity, label
		"single_pass": {true, true, true}, "batch": {true, true, true}, "low_volume": {true, true, true}, "bags": {false, false, true}, "batch, named": {},
	} {
		s := newSession(t)
		name, named := strings.CutSuffix(kind, ", named")
		s.Machine.Kind = name
		put(s, evening, &Opened{Place: "home", Source: "live"})
		if named {
			put(s, evening.Add(mins(1)), &BatchUsed{Batch: "batch-1"})
		}
		put(s, evening.Add(mins(30)), &Connected{})
		for i, entry := range []string{"chlorine", "fluid_check", "bath_label"} {
			is := slices.ContainsFunc(OpenItems(s), func(o OpenItem) bool { return o.Kind == entry })
			if is != want[i] {
				t.Errorf("%s: %s open %v", kind, entry, is)
			}
		}
	}
}
