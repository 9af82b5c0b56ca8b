package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// litresOf is a count of the substitution fluid in mL, as a reading holds it.
func litresOf(ml int) *unit.Litres { return ref(unit.Litres(ml)) }

// both is a reading of what a machine shows as removed and of the substitution fluid.
func both(removed, given int) *Reading {
	return &Reading{Removed: ref(unit.Volume(removed)), Given: litresOf(given)}
}

// filtered is a session of haemodiafiltration under way, 650 mL/h planned.
func filtered(t testing.TB, shows string) *Session {
	s := fallen(t)
	s.Rx.CheckEvery = ref(unit.Minutes(240))
	s.Rx.Filtration, s.Machine.RemovedShows = true, shows
	return s
}

// What a machine's figure for the fluid removed tells, by what it means.
func TestWhatAFigureForTheFluidRemovedTells(t *testing.T) {
	for _, tt := range []struct {
		name, means string
		filtered    bool
		log         []happened
		want        int // −1: nothing is known
		code        string
	}{
		{"not haemodiafiltration", "", false, []happened{{60, removedAt(650)}}, 650, ""},
		{"not haemodiafiltration, whatever was said", RemovedGross, false, []happened{{60, removedAt(650)}}, 650, ""},
		{"net", RemovedNet, true, []happened{{60, removedAt(650)}}, 650, ""},
		{"net, with the other beside it", RemovedNet, true, []happened{{60, both(650, 6000)}}, 650, ""},
		{"not said", "", true, []happened{{60, removedAt(650)}}, -1, "removed_unsaid"},
		{"not said, with the other beside it", "", true, []happened{{60, both(6650, 6000)}}, -1, "removed_unsaid"},
		{"gross", RemovedGross, true, []happened{{60, both(6650, 6000)}}, 650, ""},
		{"gross without the other", RemovedGross, true, []happened{{60, removedAt(6650)}}, -1, "removed_gross"},
		{"gross, the other alone", RemovedGross, true, []happened{{60, &Reading{Given: litresOf(6000)}}}, -1, ""},
		{"the other in another reading", RemovedGross, true, []happened{{60, removedAt(6650)}, {61, &Reading{Given: litresOf(6000)}}}, -1, "removed_gross"},
		{"gross, then without", RemovedGross, true, []happened{{60, both(6650, 6000)}, {90, removedAt(9975)}}, 650, "removed_gross"},
		{"the last display digit", RemovedGross, true, []happened{{2, both(190, 200)}}, 0, ""},
		{"more than the last display digit", RemovedGross, true, []happened{{2, both(190, 300)}}, -1, "removed_cannot"},
		{"the last display digit, at its bound", RemovedGross, true, []happened{{2, both(200, 300)}}, 0, ""},
		{"cannot be, after one that could", RemovedGross, true, []happened{{60, both(6650, 6000)}, {90, both(9000, 9975)}}, 650, "removed_cannot"},
		{"cannot be, then as it should", RemovedGross, true, []happened{{60, both(6000, 6650)}, {61, both(6650, 6000)}}, 650, ""},
		{"both counts began again", RemovedGross, true, []happened{{60, both(6650, 6000)}, {90, &Reading{Removed: ref(unit.Volume(3325)), Given: litresOf(3000), Again: true}}}, 975, ""},
		{"the one count began again", RemovedGross, true, []happened{{60, both(6650, 6000)}, {90, &Reading{Removed: ref(unit.Volume(3325)), Given: litresOf(9000), Again: true}}}, 975, ""},
		{"began again after a lone count", RemovedGross, true, []happened{{60, both(6650, 6000)}, {70, &Reading{Given: litresOf(7000)}}, {90, &Reading{Removed: ref(unit.Volume(2220)), Given: litresOf(2000), Again: true}}}, 870, ""},
		{"said to have begun again, read later", RemovedGross, true, []happened{{60, both(6650, 6000)}, {80, &Reading{Systolic: mm(120), Again: true}}, {90, both(3325, 3000)}}, 975, ""},
		{"struck out", RemovedGross, true, []happened{{60, both(6650, 6000)}, {90, both(9975, 9000)}, {91, nil}}, 650, ""},
	} {
		s := filtered(t, tt.means)
		s.Rx.Filtration = tt.filtered
		for _, h := range tt.log {
			if h.body == nil {
				s.Log[len(s.Log)-1].Struck = &Strike{Reason: "misread"}
				continue
			}
			put(s, on(h.at), h.body)
		}
		got, at := removedBy(s, on(120))
		switch {
		case tt.want < 0 && (got != nil || !at.IsZero()):
			t.Errorf("%s: %s is known", tt.name, got)
		case tt.want >= 0 && (got == nil || int(*got) != tt.want):
			t.Errorf("%s: %v, want %d", tt.name, got, tt.want)
		}
		for _, r := range Remarks(s, on(120)) {
			if strings.HasPrefix(r.Code, "removed_") && (r.Level == LevelLook) != (r.Code == "removed_cannot") {
				t.Errorf("%s: %s of level %s", tt.name, r.Code, r.Level)
			}
		}
		words := NetUnknown(s, on(120))
		if said := slices.Contains(codes(s, on(120)), tt.code); tt.code != "" && (!said || words == "" || !strings.Contains(setNow(t, s, 120).Said[0], words)) {
			t.Errorf("%s: %v, %q is said", tt.name, codes(s, on(120)), words)
		}
		if tt.name == "cannot be, then as it should" {
			continue // the first of the two is remarked on
		}
		if tt.code == "" && (words != "" || slices.Contains(codes(s, on(120)), "removed_gross") || slices.Contains(codes(s, on(120)), "removed_unsaid")) {
			t.Errorf("%s: %q", tt.name, words)
		}
	}
}

// A session held elsewhere ran on another machine: its figure is what came off.
func TestRemovedElsewhereIsNet(t *testing.T) {
	s := filtered(t, RemovedGross)
	put(s, on(60), removedAt(650))
	if got, _ := removedBy(s, on(61)); got != nil {
		t.Errorf("at home: %s", got)
	}
	edit(s, func(b *Opened) { b.Place = "elsewhere" })
	if got, _ := removedBy(s, on(61)); got == nil || *got != 650 {
		t.Errorf("elsewhere: %v", got)
	}
}

// Said from the first figure that tells nothing, and again after one that did.
func TestUnknownRemovalIsSaidAgain(t *testing.T) {
	s := filtered(t, RemovedGross)
	put(s, on(30), removedAt(3300))
	put(s, on(60), removedAt(6600))
	put(s, on(90), both(9975, 9000))
	put(s, on(120), &Reading{Systolic: mm(130)})
	put(s, on(150), removedAt(16_600))
	var at []int
	for _, r := range Remarks(s, on(160)) {
		if r.Code == "removed_gross" {
			at = append(at, int(r.At.Sub(on(0)).Minutes()))
		}
	}
	if !slices.Equal(at, []int{30, 150}) {
		t.Errorf("said at %v", at)
	}
	// 6,600 mL of which 6,000 are not known to be substitution fluid is over no goal.
	if got := codes(s, on(160)); slices.Contains(got, "goal_exceeded") || slices.Contains(got, "removal_ahead") {
		t.Errorf("remarked on a figure that is not net: %v", got)
	}
}

// One truth, read off a machine that shows the net removal and off one that has the
// substitution fluid in its figure: everything worked out from it is the same.
func TestNetAndGrossMachinesAgree(t *testing.T) {
	began := 0
	for seed := range 300 {
		dice := lcg(seed)
		net, gross := filtered(t, RemovedNet), filtered(t, RemovedGross)
		show := func(at int, body, with any) {
			put(net, on(at), body)
			put(gross, on(at), with)
		}
		removed, given, beganAt, givenAt := 0, 0, 0, 0
		for at := 20; at < 240; at += 20 {
			r := Reading{Systolic: mm(95 + dice.next(50))}
			if dice.next(5) == 0 {
				r.Rate = ref(unit.Rate(dice.next(900)))
			}
			if dice.next(6) == 0 && given-givenAt > 2500 { // both counts begin again, just after the last reading
				r.Again, beganAt, givenAt = true, removed, given
				began++
			}
			removed, given = removed+dice.next(450), given+dice.next(2500)
			a, b := r, r
			a.Removed = ref(unit.Volume(removed - beganAt))
			b.Removed, b.Given = ref(unit.Volume(removed-beganAt+given-givenAt)), litresOf(given-givenAt)
			if dice.next(2) == 0 {
				a.Given = b.Given
			}
			show(at, &a, &b)
			switch dice.next(8) {
			case 0:
				goal := &GoalChanged{Goal: unit.Volume(2000 + dice.next(1000))}
				show(at+5, goal, goal)
			case 1:
				show(at+6, &RemovalOff{}, &RemovalOff{})
				show(at+14, &RemovalOn{}, &RemovalOn{})
			case 2:
				show(at+4, &Drink{Volume: 150}, &Drink{Volume: 150})
			}
			now := on(at + 16)
			a1, err1 := SetNow(net, now)
			a2, err2 := SetNow(gross, now)
			if (err1 == nil) != (err2 == nil) || err1 == nil && (a1.Removed != a2.Removed || !slices.Equal(a1.Options, a2.Options) || !slices.Equal(a1.Said, a2.Said) || a1.Ask != a2.Ask) {
				t.Fatalf("seed %d at %d: %+v\n%+v", seed, at, a1, a2)
			}
			s1, ok1 := ToSetNow(net, now)
			s2, ok2 := ToSetNow(gross, now)
			if s1 != s2 || ok1 != ok2 {
				t.Fatalf("seed %d at %d: to set %+v, %+v", seed, at, s1, s2)
			}
		}
		lastNet, lastGross := Counted(net, on(240)), Counted(gross, on(240))
		off, with := CameOff{Returned: "all", Washback: ref(unit.Volume(300))}, CameOff{Returned: "all", Washback: ref(unit.Volume(300))}
		off.Removed = ref(lastNet.Shown + 10)
		with.Removed, with.Given = ref(lastGross.Shown+510), litresOf(int(lastGross.GivenShown)+500)
		show(240, &off, &with)
		show(270, &WeighOut{Weight: 58_500, Clothing: 500, Scale: "bath"}, &WeighOut{Weight: 58_500, Clothing: 500, Scale: "bath"})
		if a, b := codes(net, on(280)), codes(gross, on(280)); !slices.Equal(a, b) {
			t.Fatalf("seed %d: %v\n%v", seed, a, b)
		}
		a, _ := BalanceOf(net)
		b, _ := BalanceOf(gross)
		if a.Grade == "" || a.ByFluid != b.ByFluid || a.Grade != b.Grade || a.Difference != b.Difference {
			t.Fatalf("seed %d: %+v\n%+v", seed, a, b)
		}
		if x, y := RemovedInAll(net), RemovedInAll(gross); x == nil || y == nil || *x != *y {
			t.Fatalf("seed %d: %v, %v", seed, x, y)
		}
	}
	if began < 100 {
		t.Errorf("the counts began again only %d times", began)
	}
}

// The end of a session on a machine that has the substitution fluid in its total.
func TestTotalsOfAGrossMachine(t *testing.T) {
	s := filtered(t, RemovedGross)
	put(s, on(240), &CameOff{Returned: "all", Washback: ref(unit.Volume(300)), Removed: ref(unit.Volume(26_600))})
	put(s, on(270), &WeighOut{Weight: 58_500, Clothing: 500, Scale: "bath"})
	lacks := func(what string) bool {
		return slices.ContainsFunc(OpenItems(s), func(o OpenItem) bool { return o.Kind == "came_off" && o.What == what })
	}
	if got := RemovedInAll(s); got != nil || !lacks("The substitution fluid in all") {
		t.Errorf("without the other: %v", got)
	}
	if b, _ := BalanceOf(s); b.Grade != "" || b.Words != "Not known: the substitution fluid, which is in the machine's total." {
		t.Errorf("%+v", b)
	}
	s.Machine.RemovedShows = ""
	if b, _ := BalanceOf(s); b.Grade != "" || b.Words != "Not known: whether the substitution fluid is in the machine's total." {
		t.Errorf("%+v", b)
	}
	s.Machine.RemovedShows = RemovedGross
	edit(s, func(b *CameOff) { b.Given = litresOf(24_000) })
	if got := RemovedInAll(s); got == nil || *got != 2600 || lacks("The substitution fluid in all") {
		t.Errorf("%v", got)
	}
	// 60.0 − 58.0 kg by scale; 2,600 − 300 by fluid.
	if b, _ := BalanceOf(s); b.ByFluid != 2300 || b.Difference != -300 {
		t.Errorf("%+v", b)
	}
	// Washed back with fluid from the machine it is the same volume.
	edit(s, func(b *CameOff) { b.WashbackWith = WithMachineFluid })
	if b, _ := BalanceOf(s); b.ByFluid != 2300 {
		t.Errorf("washed back with fluid from the machine: %+v", b)
	}
	edit(s, func(b *CameOff) { b.Given = litresOf(27_000) })
	if b, _ := BalanceOf(s); RemovedInAll(s) != nil || b.Words != "Not known: what came off: the machine's total is less than the substitution fluid in it." {
		t.Errorf("more of the one than of both: %v, %+v", RemovedInAll(s), b)
	}
	edit(s, func(b *CameOff) { b.Given = litresOf(23_900) })
	if got := codes(s, on(241)); !slices.Contains(got, "goal_exceeded") {
		t.Errorf("2,700 of 2,600: %v", got)
	}
}
