package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// without takes what was written of a thing out of a session.
func without(s *Session, item string) {
	s.Log = slices.DeleteFunc(s.Log, func(e Event) bool {
		b, is := e.Body.(*Supply)
		return is && b.Item == item
	})
}

// used makes items of a shelf that each session uses; "−" before a name is one
// that is used no more.
func used(items ...string) []ShelfItem {
	var list []ShelfItem
	for _, names := range items {
		off := strings.HasPrefix(names, "−")
		list = append(list, ShelfItem{Names: strings.Split(strings.TrimPrefix(names, "−"), "; "), Each: !off, Off: off})
	}
	return list
}

func heldOf(s *Session, kind string, on LotOnShelf) map[string]LotOnShelf {
	for _, e := range slices.Backward(s.Log) {
		if e.Kind == kind {
			return map[string]LotOnShelf{e.ID: on}
		}
	}
	return nil
}

// Each thing that the start line asks of lots, with its neighbours.
func TestLots(t *testing.T) {
	yes := []string{"dialyser", "lines", "needles"}
	later, other := date(t, "2027-01-31"), date(t, "2026-11-30")
	catheter := func(s *Session) {
		s.Rx.Access = "catheter"
		edit(s, func(b *AccessCheck) { b.Thrill = "not_applicable" })
	}
	for _, tt := range []struct {
		name  string
		want  CheckState
		words string // all that is said
		set   func(*Session, *History)
	}{
		{"all written", Ready, "Dialyser, lines, needles, concentrate, heparin, chlorine test: in date.", func(*Session, *History) {}},
		{"more than a sentence holds", Ready, "Dialyser, lines, needles, concentrate, saline, heparin: in date. Local anaesthetic, chlorine test: in date.", func(s *Session, _ *History) {
			put(s, evening.Add(mins(23)), &Supply{Item: "Saline", Lot: "s1", Expiry: later})
			put(s, evening.Add(mins(33)), &AnaestheticDrawn{Strength: 10, Volume: 40, Lot: "a1", Expiry: later})
		}},
		{"one without an expiry on its label", Ready, "Dialyser, lines, concentrate, heparin, chlorine test: in date. Needles: no expiry on the label.", func(s *Session, _ *History) {
			edit(s, func(b *Supply) { b.Expiry = unit.Date{} })
			miss[Supply](s, "expiry", DoesNotApply)
		}},

		// What is always there: open before the first session and where it is the
		// habit, else said.
		{"first session, no lines", OpenYet, "Lines: lot not written.", func(s *Session, _ *History) { without(s, "lines") }},
		{"never written before", Look, "Lines: lot not written.", func(s *Session, h *History) {
			without(s, "lines")
			h.Opened = [][]string{{"dialyser"}, {"dialyser"}, {"dialyser"}}
		}},
		{"written once in three", Look, "Lines: lot not written.", func(s *Session, h *History) {
			without(s, "lines")
			h.Opened = [][]string{{"dialyser"}, yes, {"dialyser"}}
		}},
		{"written twice in three", OpenYet, "Lines: lot not written.", func(s *Session, h *History) {
			without(s, "lines")
			h.Opened = [][]string{yes, {"dialyser"}, {"Blood lines"}}
		}},
		{"written in the one before", OpenYet, "Lines: lot not written.", func(s *Session, h *History) {
			without(s, "lines")
			h.Opened = [][]string{yes}
		}},
		{"an empty lot is none", OpenYet, "Needles: lot not written.", func(s *Session, _ *History) { edit(s, func(b *Supply) { b.Lot = "" }) }},
		{"nothing opened, though never written", OpenYet, "No lots written: dialyser, lines, needles.", func(s *Session, h *History) {
			for _, item := range yes {
				without(s, item)
			}
			h.Opened = [][]string{{}, {}, {}}
		}},

		// A catheter has caps in the place of needles.
		{"catheter, needles written", OpenYet, "Caps: lot not written.", func(s *Session, _ *History) { catheter(s) }},
		{"catheter, caps written", Ready, "Dialyser, lines, needles, catheter caps, concentrate, heparin: in date. Chlorine test: in date.", func(s *Session, _ *History) {
			catheter(s)
			put(s, evening.Add(mins(23)), &Supply{Item: "catheter caps", Lot: "k1", Expiry: later})
		}},
		{"a catheter since: needles were the habit", OpenYet, "Caps: lot not written.", func(s *Session, h *History) {
			catheter(s)
			without(s, "needles")
			with := append(yes, "caps")
			h.Shelf, h.Opened = used("needle; needles"), [][]string{yes, with, with}
		}},

		// Bags in the place of concentrate.
		{"bags", Ready, "Dialyser, lines, needles, bags, heparin, chlorine test: in date.", func(s *Session, _ *History) { s.Machine.Kind = "low_volume" }},
		{"a cartridge is dialyser and lines", Ready, "Cartridge, needles, bags, heparin, chlorine test: in date.", func(s *Session, _ *History) {
			s.Machine.Kind = "low_volume"
			without(s, "dialyser")
			without(s, "lines")
			put(s, evening.Add(mins(21)), &Supply{Item: "cartridge", Lot: "k1", Expiry: later})
		}},
		{"bags of the shelf by their label", Ready, "Dialyser, lines, needles, bags, heparin, chlorine test: in date.", func(s *Session, h *History) {
			s.Machine.Kind = "low_volume"
			h.Shelf = used("dialysate, L; bath", "acid concentrate, L")
		}},
		{"bags of the shelf, no label read", OpenYet, "Dialysate: lot not written.", func(s *Session, h *History) {
			s.Machine.Kind = "low_volume"
			h.Shelf = used("dialysate, L; bath")
			s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == "bath_label" })
		}},

		// What the shelf says is used in each session.
		{"first session, shelf has saline and more", OpenYet, "Bicarbonate cartridge, saline 1 L, saline flush: lot not written.", func(s *Session, h *History) {
			h.Shelf = used("line set; lines", "saline 1 L; saline", "saline flush", "bicarbonate cartridge", "acid concentrate, L; bath", "heparin vial; heparin", "gloves, pair", "chlorine test", "local anaesthetic")
		}},
		{"the same by a household that never wrote them", Look, "Bicarbonate cartridge, saline 1 L: lot not written.", func(s *Session, h *History) {
			h.Shelf, h.Opened = used("saline 1 L; saline", "bicarbonate cartridge"), [][]string{yes, yes, yes}
		}},
		{"by another name", Ready, "Dialyser, lines, needles, concentrate, normal saline, heparin: in date. Chlorine test: in date.", func(s *Session, h *History) {
			h.Shelf = used("saline 1 L; saline", "line set; lines")
			put(s, evening.Add(mins(23)), &Supply{Item: "normal saline", Lot: "s1", Expiry: later})
		}},
		{"needles of two gauges, one lot", Ready, "Dialyser, lines, needles, concentrate, heparin, chlorine test: in date.", func(s *Session, h *History) {
			h.Shelf = used("arterial needle, 16 G; arterial needle", "venous needle, 15 G; venous needle")
		}},
		{"needles of two gauges, the one written by its name", OpenYet, "Venous needle: lot not written.", func(s *Session, h *History) {
			h.Shelf = used("arterial needle, 16 G; arterial needle", "venous needle, 15 G; venous needle")
			edit(s, func(b *Supply) { b.Item = "Arterial needle" })
		}},

		// Habits beside them.
		{"gloves, a habit", OpenYet, "Gloves: lot not written.", func(s *Session, h *History) {
			h.Shelf, h.Opened = used("gloves, pair; gloves"), [][]string{append(yes, "gloves"), append(yes, "Glove"), yes}
		}},
		{"gloves, written once", Ready, "Dialyser, lines, needles, concentrate, heparin, chlorine test: in date.", func(s *Session, h *History) {
			h.Shelf, h.Opened = used("gloves, pair; gloves"), [][]string{append(yes, "gloves"), yes, yes}
		}},
		{"flushes, used no more", Ready, "Dialyser, lines, needles, concentrate, heparin, chlorine test: in date.", func(s *Session, h *History) {
			with := append(yes, "saline flush")
			h.Shelf, h.Opened = used("−saline flush"), [][]string{with, with, with}
		}},
		{"anaesthetic, not used today", Ready, "Dialyser, lines, needles, concentrate, heparin, chlorine test: in date.", func(s *Session, h *History) {
			with := append(yes, "local anaesthetic", "heparin", "chlorine test")
			h.Opened = [][]string{with, with, with}
		}},

		// What the shelf says otherwise.
		{"as on the shelf", Ready, "Dialyser, lines, needles, concentrate, heparin, chlorine test: in date.", func(s *Session, h *History) {
			h.OnShelf = heldOf(s, "supply", LotOnShelf{Expires: []unit.Date{other, later}})
		}},
		{"another expiry on the shelf", StopHere, "Needles: lot n1 typed to 31 January 2027, shelf has 30 November 2026. Read the label.", func(s *Session, h *History) {
			h.OnShelf = heldOf(s, "supply", LotOnShelf{Expires: []unit.Date{other}})
		}},
		{"an expiry on the shelf, none typed", StopHere, "Needles: lot n1 typed without expiry, shelf has 30 November 2026. Read the label.", func(s *Session, h *History) {
			h.OnShelf = heldOf(s, "supply", LotOnShelf{Expires: []unit.Date{other}})
			edit(s, func(b *Supply) { b.Expiry = unit.Date{} })
			miss[Supply](s, "expiry", DoesNotApply)
		}},
		{"no expiry on the shelf", Ready, "Dialyser, lines, needles, concentrate, heparin, chlorine test: in date.", func(s *Session, h *History) {
			h.OnShelf = heldOf(s, "supply", LotOnShelf{Expires: []unit.Date{{}}})
		}},
		{"heparin of another expiry", StopHere, "Heparin: lot h1 typed to 31 January 2027, shelf has 30 November 2026. Read the label.", func(s *Session, h *History) {
			h.OnShelf = heldOf(s, "heparin_drawn", LotOnShelf{Expires: []unit.Date{other}})
		}},
		{"a strip of another expiry", StopHere, "Chlorine test: lot c1 typed to 31 January 2027, shelf has 30 November 2026. Read the label.", func(s *Session, h *History) {
			h.OnShelf = heldOf(s, "chlorine", LotOnShelf{Expires: []unit.Date{other}})
		}},
		{"a bath that is set aside", StopHere, "Concentrate: lot b1 is set aside, a torn seal. Take another.", func(s *Session, h *History) {
			h.OnShelf = heldOf(s, "bath_label", LotOnShelf{Held: "a torn seal", Sure: true})
		}},
		{"a recall that may mean it", Look, "Needles: lot n1 may be meant by the recall of needle. Look at the box.", func(s *Session, h *History) {
			h.OnShelf = heldOf(s, "supply", LotOnShelf{Held: "recall of needle"})
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			s, h := ready(t), History{}
			tt.set(s, &h)
			c := check(t, StartLine(s, h, evening.Add(mins(40))), CheckLots)
			if c.State != tt.want || c.Words != tt.words {
				t.Errorf("%s %q, want %s %q", c.State, c.Words, tt.want, tt.words)
			}
		})
	}
}

// A bath and a strip past their day stop in their own checks; one reason for it is
// enough. Lots does not call them in date.
func TestExpiredBathAndStripAreNotInDate(t *testing.T) {
	for _, tt := range []struct {
		id, words string
		set       func(*Session)
	}{
		{CheckBath, "Concentrate expired 11 March 2026.", func(s *Session) { edit(s, func(b *BathLabel) { b.Expiry = date(t, "2026-03-11") }) }},
		{CheckChlorine, "Chlorine test expired 11 March 2026.", func(s *Session) { edit(s, func(b *Chlorine) { b.Expiry = date(t, "2026-03-11") }) }},
	} {
		s := ready(t)
		tt.set(s)
		line := StartLine(s, History{}, evening.Add(mins(40)))
		if c := check(t, line, CheckLots); c.State != Look || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%s: lots %s %q", tt.id, c.State, c.Words)
		}
		if c := check(t, line, tt.id); c.State != StopHere {
			t.Errorf("%s: %s", tt.id, c.State)
		}
	}
	// A second bath, or test, takes the place of the first.
	s := ready(t)
	edit(s, func(b *BathLabel) { b.Expiry = date(t, "2026-03-11") })
	put(s, evening.Add(mins(25)), &BathLabel{K: 200, Ca: 150, Lot: "b2", Expiry: date(t, "2027-01-31")})
	if c := check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckLots); c.State != Ready {
		t.Errorf("after a second bath: %s %q", c.State, c.Words)
	}
}

// What was opened after the lines were joined changes nothing at the start.
func TestLotsOfLater(t *testing.T) {
	s := connected(t)
	put(s, on(30), &Supply{Item: "saline", Lot: "s9", Expiry: date(t, "2026-01-01")})
	if c := check(t, StartLine(s, History{}, on(60)), CheckLots); c.State != Ready || strings.Contains(c.Words, "saline") {
		t.Errorf("%s %q", c.State, c.Words)
	}
}

// The history keeps the names of the last three sessions treated at home.
func TestHistoryKeepsWhatWasOpened(t *testing.T) {
	var h History
	add := func(place string, treated bool, items ...string) {
		s := &Session{}
		put(s, evening, &Opened{Place: place})
		for _, item := range items {
			put(s, evening, &Supply{Item: item, Lot: "1"})
		}
		put(s, evening, &Supply{Item: "nameless"}).Struck = &Strike{}
		put(s, evening, &Supply{Item: "without a lot"})
		if treated {
			put(s, evening.Add(time.Hour), &Connected{})
		}
		h.Add(s)
	}
	add("home", true, "dialyser")
	before := h
	add("elsewhere", true, "their lines")
	add("home", false, "given up")
	add("home", true, "lines", "lines", "saline")
	add("home", true)
	add("home", true, "needles")
	want := [][]string{{"lines", "saline"}, nil, {"needles"}}
	if !slices.EqualFunc(h.Opened, want, slices.Equal[[]string]) {
		t.Errorf("kept %v, want %v", h.Opened, want)
	}
	if len(before.Opened) != 1 || before.Opened[0][0] != "dialyser" {
		t.Errorf("an earlier history changed: %v", before.Opened)
	}
}

func TestGoodsOf(t *testing.T) {
	for name, want := range map[string][]goods{
		"Dialyser": {dialyserGoods}, "high-flux dialyzer, 1.8 m²": {dialyserGoods}, "line set": {lineGoods}, "blood circuit": {lineGoods}, "Blood lines": {lineGoods}, "saline 1 L": {salineGoods},
		"sodium chloride 0.9 %": {salineGoods}, "saline flush": {flushGoods}, "flushes": {flushGoods}, "needle": {needleGoods}, "plastic cannulas": {needleGoods},
		"catheter cap": {capGoods}, "caps": {capGoods}, "acid concentrate, L": {concentrateGoods}, "bath": {concentrateGoods, bagGoods}, "bicarbonate cartridge": {bicarbonateGoods},
		"cartridge": {dialyserGoods, lineGoods}, "dialysate, L": {bagGoods}, "bags": {bagGoods}, "heparin vial": {heparinGoods}, "chlorine strips": {stripGoods},
		"local anaesthetic": {numbGoods}, "waste bag": nil, "gloves, pair": nil, "tape, roll": nil, "gauze": nil, "mask": nil, "syringe": nil, "catheter dressing": nil,
		"antiseptic swab": nil, "on/off pack": nil, "": nil, "disinfectant, dose": nil, "capsule": nil,
	} {
		if got := goodsOf(name); !slices.Equal(got, want) {
			t.Errorf("%q means %v, want %v", name, got, want)
		}
	}
}
