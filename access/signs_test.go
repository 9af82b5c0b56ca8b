package access

import (
	"slices"
	"testing"

	"ebbline/unit"
)

func TestSigns(t *testing.T) {
	yes, no := true, false
	for _, tt := range []struct {
		name  string
		in    Signs
		kind  Kind
		codes []string
	}{
		{"well", Signs{Thrill: &yes, Celsius: 366}, Fistula, nil},
		{"not felt for", Signs{}, Fistula, []string{"thrill_not_felt_for"}},
		{"no thrill", Signs{Thrill: &no}, Graft, []string{"no_thrill"}},
		{"a catheter has none", Signs{}, Catheter, nil},
		{"a little red", Signs{Thrill: &yes, Redness: 1}, Fistula, nil},
		{"red and warm", Signs{Thrill: &yes, Redness: 1, Warmth: true}, Fistula, []string{"infection_signs"}},
		{"warm and painful", Signs{Thrill: &yes, Warmth: true, Pain: true}, Fistula, []string{"infection_signs"}},
		{"pus", Signs{Thrill: &yes, Pus: true}, Fistula, []string{"infection_signs"}},
		{"37.7 °C", Signs{Thrill: &yes, Celsius: 377}, Fistula, nil},
		{"37.8 °C", Signs{Thrill: &yes, Celsius: 378}, Fistula, []string{"infection_signs"}},
		{"chills alone", Signs{Thrill: &yes, Chills: true}, Fistula, []string{"infection_signs"}},
		{"fever with a catheter", Signs{Celsius: 385}, Catheter, []string{"infection_signs"}},
		{"cold hand", Signs{Thrill: &yes, Hand: true}, Fistula, []string{"cold_hand"}},
		{"everything", Signs{Thrill: &no, Redness: 3, Chills: true, Hand: true}, Fistula, []string{"no_thrill", "infection_signs", "cold_hand"}},
	} {
		if got := codes(tt.in.Remarks(tt.kind, RopeLadder)); !slices.Equal(got, tt.codes) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.codes)
		}
	}
	ladder := Signs{Thrill: &yes, Pus: true}.Remarks(Fistula, RopeLadder)[0].Text
	hole := Signs{Thrill: &yes, Pus: true}.Remarks(Fistula, Buttonhole)[0].Text
	if ladder == hole {
		t.Error("pus in a buttonhole is worded like any other")
	}
}

func TestBleeding(t *testing.T) {
	press := func(minutes ...unit.Minutes) []Holding {
		var list []Holding
		for i, m := range minutes {
			list = append(list, Holding{On: day(i), Arterial: 10, Venous: m})
		}
		return list
	}
	for _, tt := range []struct {
		in   []Holding
		long bool
	}{
		{nil, false},
		{press(25, 25), false},
		{press(20, 20, 20), false},
		{press(21, 10, 21, 10, 10, 21), true},
		{press(21, 21, 21, 10, 10, 10, 10), false}, // one of the three has left the last six
	} {
		if got := DefaultBleedingRule().Remarks(tt.in); (got != nil) != tt.long {
			t.Errorf("%v: %v, want %v", tt.in, got, tt.long)
		}
	}
}
