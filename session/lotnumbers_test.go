package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// A lot of the shelf that says another number than was typed from the thing in the
// hand stops, in the check of that number, and names both (H-55, H-66, H-70, H-141). The
// same number, and a shelf that knows none, change nothing.
func TestShelfSaysAnotherNumber(t *testing.T) {
	iu := func(n unit.Strength) LotNumbers { return LotNumbers{Strength: &n} }
	bath := func(k, ca unit.Molar) LotNumbers { return LotNumbers{K: &k, Ca: &ca} }
	step := func(n unit.Concentration) LotNumbers { return LotNumbers{ReadsDown: &n} }
	lock := func(n unit.Content) LotNumbers { return LotNumbers{Content: &n} }
	for _, tt := range []struct {
		name, check, kind string
		says              []LotNumbers
		words             string // empty: nothing is said
	}{
		{"heparin, the same", CheckHeparin, "heparin_drawn", []LotNumbers{iu(1000)}, ""},
		{"heparin, one more", CheckHeparin, "heparin_drawn", []LotNumbers{iu(1001)}, "strength typed 1 000 IU/mL, shelf has 1 001 IU/mL. Read the label."},
		{"heparin, one less", CheckHeparin, "heparin_drawn", []LotNumbers{iu(999)}, "shelf has 999 IU/mL"},
		{"heparin, ten times", CheckHeparin, "heparin_drawn", []LotNumbers{iu(10000)}, "shelf has 10 000 IU/mL"},
		{"heparin, delivered twice", CheckHeparin, "heparin_drawn", []LotNumbers{iu(1000), iu(5000)}, "shelf has 5 000 IU/mL"},
		{"no number on the shelf", CheckHeparin, "heparin_drawn", []LotNumbers{{}}, ""},
		{"not on the shelf", CheckHeparin, "heparin_drawn", nil, ""},
		{"bath, the same", CheckBath, "bath_label", []LotNumbers{bath(200, 150)}, ""},
		{"bath, K", CheckBath, "bath_label", []LotNumbers{bath(201, 150)}, "K typed 2 mmol/L, shelf has 2.01 mmol/L."},
		{"bath, K 0", CheckBath, "bath_label", []LotNumbers{bath(0, 150)}, "shelf has 0 mmol/L"},
		{"bath, Ca", CheckBath, "bath_label", []LotNumbers{bath(200, 125)}, "Ca typed 1.5 mmol/L, shelf has 1.25 mmol/L."},
		{"strip, the same", CheckChlorine, "chlorine", []LotNumbers{step(50)}, ""},
		{"strip", CheckChlorine, "chlorine", []LotNumbers{step(51)}, "lowest step typed 0.05 mg/L, shelf has 0.051 mg/L."},
		{"lock, the same", CheckLock, "catheter_lock", []LotNumbers{lock(400)}, ""},
		{"lock", CheckLock, "catheter_lock", []LotNumbers{lock(410)}, "strength typed 4 %, shelf has 4.1 %."},
		{"lock of heparin on the shelf", CheckLock, "catheter_lock", []LotNumbers{iu(5000)}, "strength typed none, shelf has 5 000 IU/mL."},
	} {
		s := ready(t)
		if tt.check == CheckLock {
			s = byCatheter(t)
			put(s, evening.Add(mins(28)), inHand(t))
		}
		at := evening.Add(mins(40))
		before := StartLine(s, known(), at)
		h := known()
		h.OnShelf = heldOf(s, tt.kind, LotOnShelf{Says: tt.says})
		if len(h.OnShelf) != 1 {
			t.Fatalf("%s: no %s in the session", tt.name, tt.kind)
		}
		for i, c := range StartLine(s, h, at) {
			words := strings.ReplaceAll(c.Words, "\u00a0", " ")
			switch {
			case c.ID == tt.check && tt.words != "":
				if c.State != StopHere || !strings.Contains(words, tt.words) {
					t.Errorf("%s: %s %q", tt.name, c.State, words)
				}
			case c.State != before[i].State || c.Words != before[i].Words:
				t.Errorf("%s: %s changed from %q to %s %q", tt.name, c.ID, before[i].Words, c.State, words)
			}
		}
	}
}

// A bath whose lot says otherwise stays in sight when another is connected; K does
// not hide Ca.
func TestShelfSaysStaysInSight(t *testing.T) {
	s := ready(t)
	h := known()
	h.OnShelf = heldOf(s, "bath_label", LotOnShelf{Says: []LotNumbers{{K: ref(unit.Molar(300)), Ca: ref(unit.Molar(125))}}})
	at := evening.Add(mins(40))
	if c := check(t, StartLine(s, h, at), CheckBath); !strings.Contains(c.Words, "K typed") || !strings.Contains(c.Words, "Ca typed") {
		t.Errorf("both: %q", c.Words)
	}
	b, _ := Last[BathLabel](s)
	again := *b
	again.Lot = "b2"
	put(s, evening.Add(mins(38)), &again)
	if c := check(t, StartLine(s, h, at), CheckBath); c.State != Look || !strings.Contains(c.Words, "K typed") || !strings.Contains(c.Words, "Ca typed") {
		t.Errorf("another canister: %s %q", c.State, c.Words)
	}
}

// So do a vial of heparin and a chlorine test that another one followed, each beside
// what counts now; the right one is said with its time.
func TestShelfSaidOfHeparinAndTests(t *testing.T) {
	at := evening.Add(mins(40))
	for _, tt := range []struct {
		check, kind, was string
		says             LotNumbers
		again            func(*Session) any
	}{
		{CheckHeparin, "heparin_drawn", "strength typed", LotNumbers{Strength: ref(unit.Strength(5000))}, func(s *Session) any {
			b, _ := Last[HeparinDrawn](s)
			again := *b
			return &again
		}},
		{CheckChlorine, "chlorine", "lowest step typed", LotNumbers{ReadsDown: ref(unit.Concentration(500))}, func(s *Session) any {
			b, _ := Last[Chlorine](s)
			again := *b
			return &again
		}},
	} {
		s, h := ready(t), known()
		h.OnShelf = heldOf(s, tt.kind, LotOnShelf{Says: []LotNumbers{tt.says}})
		if c := check(t, StartLine(s, h, at), tt.check); c.State != StopHere || strings.Count(c.Words, tt.was) != 1 {
			t.Errorf("%s: %s %q", tt.check, c.State, c.Words)
		}
		put(s, evening.Add(mins(38)), tt.again(s))
		if c := check(t, StartLine(s, h, at), tt.check); c.State != Look || !strings.Contains(c.Words, tt.was) || !strings.Contains(c.Words, "At 17:38: ") {
			t.Errorf("%s, another one: %s %q", tt.check, c.State, c.Words)
		}
	}
}

// Which numbers a thing has on its label goes by its names; most have none.
func TestLotNumbersOf(t *testing.T) {
	for _, tt := range []struct {
		names []string
		want  string
	}{
		{[]string{"heparin vial"}, "strength_iu_ml"}, {[]string{"catheter lock"}, "strength_iu_ml strength_percent"}, {[]string{"heparin lock"}, "strength_iu_ml strength_percent"},
		{[]string{"citrate 4 %", "catheter lock"}, "strength_iu_ml strength_percent"}, {[]string{"acid concentrate, L"}, "k_mmol_l ca_mmol_l"},
		{[]string{"dialysate, L"}, "k_mmol_l ca_mmol_l"}, {[]string{"bath"}, "k_mmol_l ca_mmol_l"}, {[]string{"chlorine strip"}, "reads_down_to_mg_l"},
		{[]string{"dialyser"}, ""}, {[]string{"bicarbonate cartridge"}, ""}, {[]string{"Luer-lock cap"}, ""}, {[]string{"waste bag"}, ""}, {nil, ""},
	} {
		var keys []string
		for _, n := range LotNumbersOf(tt.names...) {
			keys = append(keys, n.Key)
		}
		if strings.Join(keys, " ") != tt.want {
			t.Errorf("%v: %v, want %s", tt.names, keys, tt.want)
		}
	}
	var all LotNumbers
	for i, n := range AllLotNumbers() {
		if err := n.Set(&all, []string{"1000", "1.35", "2", "1.5", "0.02"}[i]); err != nil {
			t.Errorf("%s: %v", n.Key, err)
		}
		if value, text, known := n.Of(all); !known || value < n.Lo || value > n.Hi || !strings.HasSuffix(text, n.Unit) {
			t.Errorf("%s: %v %q %v", n.Key, value, text, known)
		}
		if err := n.Set(&LotNumbers{}, "many"); err == nil {
			t.Errorf("%s: taken", n.Key)
		}
	}
	if slices.Contains([]bool{all.Strength == nil, all.Content == nil, all.K == nil, all.Ca == nil, all.ReadsDown == nil}, true) {
		t.Errorf("not all set: %+v", all)
	}
}
