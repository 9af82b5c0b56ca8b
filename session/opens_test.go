package session

import (
	"slices"
	"testing"
)

// What a session opens goes by access, machine and shelf, in the order in which it
// is opened, and names the entry that its lot is written with.
func TestOpenings(t *testing.T) {
	for _, tt := range []struct {
		name          string
		access, kind  string
		shelf         []ShelfItem
		want, entries []string
	}{
		{"a fistula", "fistula", "", nil,
			[]string{"dialyser", "lines", "needles", "concentrate", "bicarbonate", "saline", "flushes"},
			[]string{"supply", "supply", "supply", "bath_label", "supply", "supply", "flush_drawn"}},
		{"a catheter", "catheter", "", nil,
			[]string{"dialyser", "lines", "caps", "concentrate", "bicarbonate", "saline", "flushes"}, nil},
		{"bags", "fistula", "low_volume", nil,
			[]string{"dialyser", "lines", "needles", "bags", "saline", "flushes"}, nil},
		{"a cartridge of the shelf", "fistula", "low_volume", []ShelfItem{{Names: []string{"Cartridge with lines"}, Each: true}, {Names: []string{"cap"}, Each: true}},
			[]string{"Cartridge with lines", "needles", "bags", "saline", "flushes"}, nil},
	} {
		s := newSession(t)
		s.Rx = byDays("mon", "wed", "fri")
		s.Rx.Access, s.Machine.Kind = tt.access, tt.kind
		put(s, evening.Add(mins(1)), &Supply{Item: "saline", Lot: "S1"})
		put(s, evening.Add(mins(2)), &BathLabel{Lot: "B1"})
		var names, entries []string
		for _, o := range Openings(s, History{Shelf: tt.shelf}, evening.Add(mins(3))) {
			names, entries = append(names, o.Name), append(entries, o.Kind)
			switch want := map[string][]string{"saline": {"S1"}, "concentrate": {"B1"}, "bags": {"B1"}}[o.Name]; {
			case !slices.Equal(o.Lots, want):
				t.Errorf("%s: %s holds %v, want %v", tt.name, o.Name, o.Lots, want)
			}
		}
		if !slices.Equal(names, tt.want) || tt.entries != nil && !slices.Equal(entries, tt.entries) {
			t.Errorf("%s opens %v with %v", tt.name, names, entries)
		}
	}
}
