package session

import (
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

// odd is a reading of a pulse that is newly irregular; 0 for no figure.
func odd(v int) *Reading {
	r := &Reading{Irregular: true}
	if v > 0 {
		r.Pulse = ref(unit.Pulse(v))
	}
	return r
}

// A pulse that is newly irregular is said once while it stays so, and again after
// a pulse that was not; with a figure out of its bounds it is one remark.
func TestIrregularPulse(t *testing.T) {
	for _, tt := range []struct {
		name string
		rows []*Reading
		want []int
	}{
		{"newly", []*Reading{pulse(72), odd(72)}, []int{1}},
		{"while it stays", []*Reading{odd(72), odd(75), odd(70)}, []int{0}},
		{"gone and back", []*Reading{odd(72), pulse(72), odd(72)}, []int{0, 2}},
		{"a row with no pulse between", []*Reading{odd(72), tmp(60), odd(72)}, []int{0}},
		{"no figure", []*Reading{odd(0), odd(0)}, []int{0}},
		{"out of bounds too", []*Reading{odd(130)}, []int{0}},
		{"out first, then irregular", []*Reading{pulse(130), odd(131), odd(132)}, []int{0, 1}},
		{"irregular, then out", []*Reading{odd(110), odd(130), odd(144), odd(145)}, []int{0, 1, 3}},
	} {
		s := withReadings(t, tt.rows...)
		var got []int
		for _, r := range Remarks(s, on(30*len(tt.rows))) {
			if r.Code == "pulse_out" && r.Level == LevelLook && r.Trouble() == TroubleHeart {
				got = append(got, int(r.At.Sub(on(0)).Minutes())/30-1)
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: said at %v, want %v", tt.name, got, tt.want)
		}
	}
	for row, says := range map[*Reading]string{
		odd(72): "Pulse 72, newly irregular. Ring", odd(0): "Pulse newly irregular, no figure written. Measure it. Ring",
		odd(130): "Pulse 130, over 120 (" + ownDefault + "), and newly irregular. Ring",
	} {
		if got := saidOf(withReadings(t, row), on(31), "pulse_out"); len(got) != 1 || !strings.HasPrefix(got[0], says) {
			t.Errorf("%q, want %q", got, says)
		}
	}
}

// The TMP goes by the unit's figure, by 300 mmHg where it set none, and in
// haemodiafiltration by the unit's alone.
func TestTMPByTheUnit(t *testing.T) {
	for _, tt := range []struct {
		name string
		set  func(*Prescription)
		want []int
	}{
		{"none set", func(*Prescription) {}, []int{301, 351}},
		{"the unit's", func(rx *Prescription) { rx.TMPAbove = mm(250) }, []int{251, 301, 351}},
		{"the unit's is higher", func(rx *Prescription) { rx.TMPAbove = mm(350) }, []int{351}},
		{"haemodiafiltration", func(rx *Prescription) { rx.Filtration = true }, nil},
		{"haemodiafiltration, the unit's", func(rx *Prescription) { rx.Filtration, rx.TMPAbove = true, mm(320) }, []int{351}},
	} {
		s := connected(t)
		s.Rx.CheckEvery = ref(unit.Minutes(240))
		tt.set(s.Rx)
		rows := []int{250, 251, 300, 301, 351}
		for i, v := range rows {
			put(s, on(5*(i+1)), tmp(v))
		}
		var got []int
		for _, r := range Remarks(s, on(30)) {
			if r.Code == "tmp_high" {
				got = append(got, rows[int(r.At.Sub(on(0)).Minutes())/5-1])
				if whose := tt.set != nil && s.Rx.TMPAbove != nil; whose != strings.Contains(r.Words, "set by Dr Lind") {
					t.Errorf("%s: %q", tt.name, r.Words)
				}
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: said at %v, want %v", tt.name, got, tt.want)
		}
	}
}

// With one needle no fall or rise of line pressure is remarked on; what is out of
// its bounds is.
func TestOneNeedle(t *testing.T) {
	rows := []*Reading{
		{Venous: mm(145), Arterial: mm(-160), BloodFlow: flow(300)}, {Venous: mm(90), Arterial: mm(-230), BloodFlow: flow(300)},
		{Venous: mm(190), Arterial: mm(-260), TMP: mm(320), BloodFlow: flow(300)},
	}
	s := withReadings(t, rows...)
	if got := codes(s, on(91)); !slices.Equal(got, []string{"venous_fall", "arterial_fall", "venous_rise", "tmp_high", "arterial_low"}) || OneNeedle(s) {
		t.Errorf("two needles: %v", got)
	}
	s.Rx.SingleNeedle = true
	if got := codes(s, on(91)); !slices.Equal(got, []string{"tmp_high", "arterial_low"}) || !OneNeedle(s) {
		t.Errorf("one needle: %v", got)
	}
	if OneNeedle(&Session{}) {
		t.Error("one needle without a prescription")
	}
}

// Chills are said as fever beside the words that told of them, once each time;
// words that deny them are not.
func TestChillsAreFever(t *testing.T) {
	for words, want := range map[string]bool{
		"chills": true, "Chills and cold": true, "I am shivering": true, "shaking, rigors": true, "not well, chills": true, "no appetite; chills": true,
		"No fever, shivering hard": true, "Not any more. Shivering again": true, "not well and shivering": true, "No: chills": true, "no pain but shivering": true,
		"cold and shaking": true, "teeth chattering": true, "shaking with cold": true,
		"no cramps or shivering": false, "no fever, nor any chills": false, "no pain and shivering": false, "no more chills": false, "not shivering any more": false, "feverish": false, "shaky": false,
		"no chills": false, "without any chills": false, "no fever or chills": false, "cold": false, "chilly wine": false, "": false,
	} {
		s := connected(t)
		e := put(s, on(20), &Unwell{Words: words})
		r := Remarks(s, on(21))
		got := len(r) == 2 && r[0].Code == "unwell" && r[1].Code == "fever" && r[1].Entry == e.ID && r[1].Level == LevelLook
		if got != want || len(r) != 2 && len(r) != 1 {
			t.Errorf("%q: %+v", words, r)
		}
	}
	s := connected(t)
	put(s, on(20), &Unwell{Words: "chills"})
	put(s, on(21), bodyC(36.8))
	put(s, on(25), &Unwell{Words: "chills"})
	put(s, on(26), bodyC(38.3))
	if got := saidOf(s, on(30), "fever"); len(got) != 3 || got[0] != got[1] || !strings.Contains(got[2], "38.3") {
		t.Errorf("%q", got)
	}
}
