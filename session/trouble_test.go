package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

// Every kind of trouble has a title and says whether the blood goes back; eight are
// seen at once, and no word of them holds an amount, which is the unit's.
func TestTroubles(t *testing.T) {
	first, seen := 0, map[string]bool{}
	for _, one := range Troubles() {
		if one.First {
			first++
		}
		if seen[one.Code] || one.Title == "" || one.Blood.Words() == "" || one.Ring != RingAmbulance && one.Ring != RingUnit {
			t.Errorf("%+v", one)
		}
		seen[one.Code] = true
		if said := one.Title + strings.Join(one.Acts, " "); strings.ContainsAny(said, "0123456789") {
			t.Errorf("%s holds an amount: %q", one.Code, said)
		}
		if got, ok := TroubleOf(one.Code); !ok || got.Title != one.Title {
			t.Errorf("%s is not found: %+v", one.Code, got)
		}
	}
	if first != 8 || len(seen) != 17 {
		t.Errorf("%d of %d are seen at once", first, len(seen))
	}
	for _, code := range []string{TroubleAir, TroubleDark, TroubleFluid, TroubleReaction, TroubleBlood} {
		if one, _ := TroubleOf(code); one.Blood != BloodNever || !one.StaysOut() {
			t.Errorf("%s: the blood goes back %s", code, one.Blood)
		}
	}
	for code, trouble := range troubleOf {
		if _, ok := TroubleOf(trouble); !ok || runWords[code] == nil {
			t.Errorf("%s leads to %s", code, trouble)
		}
	}
}

// What is felt leads to its trouble; words of one's own to none.
func TestFeelingsLeadToTheirTrouble(t *testing.T) {
	for _, f := range Feelings() {
		s := connected(t)
		put(s, on(20), &Unwell{Words: f.Words})
		said := Remarks(s, on(20))
		if len(said) == 0 || said[0].Code != "unwell" || said[0].Trouble() != f.Trouble {
			t.Errorf("%s: %+v", f.Words, said)
		}
		for _, r := range said[1:] { // chills are fever too
			if r.Code != "fever" || f.Trouble != TroubleFever || r.Trouble() != TroubleFever {
				t.Errorf("%s: %+v", f.Words, r)
			}
		}
	}
	s := connected(t)
	put(s, on(20), &Unwell{Words: "odd in the knees"})
	if got := Remarks(s, on(20))[0].Trouble(); got != "" {
		t.Errorf("words of one's own lead to %q", got)
	}
}

func openCodes(s *Session, minutes int) string {
	var list []string
	for _, o := range OpenTroubles(s, on(minutes)) {
		list = append(list, o.Code)
	}
	return strings.Join(list, " ")
}

func TestOpenTroubles(t *testing.T) {
	s := connected(t)
	put(s, on(20), &Trouble{Trouble: TroubleAir, State: TroubleOpen})
	put(s, on(22), &Trouble{Trouble: TroubleLow, State: TroubleOpen})
	put(s, on(30), &Trouble{Trouble: TroubleAir, State: TroubleOpen})
	put(s, on(40), &Trouble{Trouble: TroubleAir, State: TroubleOver, Said: "the nurse: it was outside"})
	put(s, on(50), &Reading{DialTemp: ref(unit.Temperature(389))})
	put(s, on(55), &Reading{DialTemp: ref(unit.Temperature(365))})
	for _, tt := range []struct {
		at   int
		want string
	}{{19, ""}, {20, "air"}, {35, "air low_pressure"}, {40, "low_pressure"}, {50, "low_pressure fluid"}, {56, "low_pressure fluid"}} {
		if got := openCodes(s, tt.at); got != tt.want {
			t.Errorf("at %d: %q, want %q", tt.at, got, tt.want)
		}
	}
	if o := OpenTroubles(s, on(39))[0]; !o.Since.Equal(on(20)) {
		t.Errorf("open since %s, want the first time it was said", o.Since)
	}
	for at, want := range map[int]string{19: "", 20: TroubleAir, 40: "", 56: TroubleFluid} {
		if o, ok := BloodStaysOut(s, on(at)); o.Code != want || ok != (want != "") {
			t.Errorf("at %d the blood stays out for %q, want %q", at, o.Code, want)
		}
	}
	s.Log[len(s.Log)-2].Struck = &Strike{Reason: "not my reading"}
	if got := openCodes(s, 56); got != "low_pressure" {
		t.Errorf("after the reading was struck out: %q", got)
	}
}

// A fluid too hot or too wrong opens its trouble, and each later reading of one
// opens it again after it was said to be over; one that is only unusual never does.
func TestHotFluidOpensAgain(t *testing.T) {
	over := &Trouble{Trouble: TroubleFluid, State: TroubleOver, Said: "the nurse: it has cooled, go on"}
	both := func(r *Reading) []happened { return []happened{{20, r}, {25, over}, {30, r}, {35, over}} }
	for _, tt := range []struct {
		name string
		set  func(*Prescription)
		row  *Reading
		want bool
	}{
		{"38.5", nil, fluidC(38.5), false},
		{"38.6", nil, fluidC(38.6), true},
		{"33", nil, fluidC(33), false},
		{"5 % under what is set", nil, mScm(13.30), false},
		{"more than 5 % under", nil, mScm(13.29), true},
		{"5 % over", nil, mScm(14.70), false},
		{"more than 5 % over", nil, mScm(14.71), true},
		{"13.0, none set", noSet, mScm(13.0), false},
		{"12.99, none set", noSet, mScm(12.99), true},
		{"15.01, none set", noSet, mScm(15.01), true},
	} {
		s := connected(t)
		if tt.set != nil {
			tt.set(s.Rx)
		}
		for _, h := range both(tt.row) {
			put(s, on(h.at), h.body)
		}
		for at, now := range map[int]bool{19: false, 20: true, 25: false, 29: false, 30: true, 34: true, 35: false} {
			if got := openCodes(s, at) == TroubleFluid; got != (now && tt.want) {
				t.Errorf("%s at %d min: open %v", tt.name, at, got)
			}
		}
	}
}

// A look stands until the next reading; a low pressure until a reading is inside.
func TestStanding(t *testing.T) {
	s := connected(t)
	put(s, on(30), &Reading{Systolic: mm(78), DialTemp: ref(unit.Temperature(389))})
	put(s, on(36), &Reading{Systolic: mm(80), DialTemp: ref(unit.Temperature(365))})
	put(s, on(38), &Unwell{Words: "cold"})
	put(s, on(42), &Reading{Systolic: mm(121)})
	for _, tt := range []struct {
		at   int
		want string
	}{{29, ""}, {30, "low_pressure temperature_out"}, {36, "low_pressure"}, {38, "unwell low_pressure"}, {42, ""}} {
		var list []string
		for _, r := range Standing(s, on(tt.at)) {
			list = append(list, r.Code)
		}
		if got := strings.Join(list, " "); got != tt.want {
			t.Errorf("at %d: %q, want %q", tt.at, got, tt.want)
		}
	}
}
