package stock

import (
	"errors"
	"testing"

	"pgregory.net/rapid"

	"ebbline/unit"
)

func TestRecallMatches(t *testing.T) {
	lots := Recall{Maker: "Maker A", Item: "Line set", Lots: []string{"24A-107O", "I5/2"}}
	ranges := Recall{Maker: "Maker A", Item: "Line set", Ranges: []LotRange{{"24A98", "24A105"}, {"C07A", "C07F"}}}
	for _, tt := range []struct {
		recall           Recall
		item, maker, lot string
		want             Match
	}{
		{lots, "Line set", "Maker A", "24A-107O", Recalled},
		{lots, "line  SET", "maker a", "24a 1070", Recalled}, // case, spaces, O and 0
		{lots, "Line set", "Maker A", "152", Recalled},       // I and 1, slash
		{lots, "Line set", "Maker A", "l5/2", Look},          // l for I
		{lots, "Line set", "Maker A", "24A-1O78", NoMatch},
		{lots, "Line set", "Maker A", "24A-107", NoMatch},
		{lots, "Line set", "Maker A", "", Look},
		{lots, "Line set", "", "24A-107O", Look},
		{lots, "Line set", "", "other", NoMatch},
		{lots, "Line set", "Maker B", "24A-107O", NoMatch}, // another maker's lot of the same code
		{lots, "Needle", "Maker A", "24A-107O", NoMatch},
		{ranges, "Line set", "Maker A", "24A97", NoMatch},
		{ranges, "Line set", "Maker A", "24A98", Recalled},
		{ranges, "Line set", "Maker A", "24A100", Recalled}, // as a number, though "100" < "98" as text
		{ranges, "Line set", "Maker A", "24a-0105", Recalled},
		{ranges, "Line set", "Maker A", "24A106", NoMatch},
		{ranges, "Line set", "Maker A", "24B100", NoMatch},
		{ranges, "Line set", "Maker A", "24A100X", NoMatch}, // built otherwise
		{ranges, "Line set", "Maker A", "C07C", Recalled},
		{ranges, "Line set", "Maker A", "C07G", NoMatch},
		{Recall{Maker: "Maker A", Item: "Line set", All: true}, "Line set", "Maker A", "", Recalled},
		{Recall{Maker: "Maker A", Item: "Line set", All: true}, "Line set", "", "X", Look},
	} {
		if got := tt.recall.Matches(tt.item, tt.maker, tt.lot); got != tt.want {
			t.Errorf("%q %q %q = %s, want %s", tt.item, tt.maker, tt.lot, got, tt.want)
		}
	}
}

func TestRecallCheck(t *testing.T) {
	for name, bad := range map[string]Recall{
		"no item":         {Maker: "A", Lots: []string{"X"}},
		"no maker":        {Item: "X", Lots: []string{"X"}},
		"no lots":         {Maker: "A", Item: "X"},
		"empty lot":       {Maker: "A", Item: "X", Lots: []string{" - "}},
		"backwards":       {Maker: "A", Item: "X", Ranges: []LotRange{{"A9", "A1"}}},
		"built otherwise": {Maker: "A", Item: "X", Ranges: []LotRange{{"A9", "9A"}}},
		"no end":          {Maker: "A", Item: "X", Ranges: []LotRange{{"A9", ""}}},
	} {
		if _, err := bad.Search(nil, nil); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s: err = %v, want an InputError", name, err)
		}
	}
}

func TestRecallSearch(t *testing.T) {
	shelf := []Item{
		{Name: "Line set", Lots: []Lot{{Code: "A1", Maker: "M", Count: 3 * one}, {Code: "AI", Maker: "m", Count: one}, {Code: "A1", Maker: "N", Count: one}}},
		{Name: "Needle", Lots: []Lot{{Code: "A1", Maker: "M", Count: one}}},
	}
	past := []Past{{Session: "s1", Item: "Line set", Maker: "M", Lot: "a 1"}, {Session: "s2", Item: "Line set", Maker: "M", Lot: "A2"}}
	found, err := Recall{Maker: "M", Item: "Line set", Lots: []string{"A1"}}.Search(shelf, past)
	if err != nil || len(found.Shelf) != 2 || len(found.Past) != 1 || found.Past[0].Past.Session != "s1" {
		t.Fatalf("%+v, %v; want two lots and session s1", found, err)
	}
	held := found.Hold(shelf)
	if !held[0].Lots[0].Held || !held[0].Lots[1].Held || held[0].Lots[2].Held || held[1].Lots[0].Held {
		t.Errorf("held %+v", held)
	}
	if shelf[0].Lots[0].Held {
		t.Error("the shelf given was changed")
	}
	if got := Usable(held[0].Lots, on(1)); got != one {
		t.Errorf("%s can still be used, want the one piece of the other maker", got)
	}
	none, err := Recall{Maker: "M", Item: "Line set", Lots: []string{"Z9"}}.Search(shelf, past)
	if err != nil || !none.None() {
		t.Errorf("no match: %+v, %v", none, err)
	}
}

// However a recalled lot is typed, once held it is never offered.
func TestRecalledLotIsNeverOffered(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		code := rapid.StringMatching(`[A-Z0-9]{3,8}`).Draw(t, "code")
		typed := rapid.Custom(func(t *rapid.T) string {
			out := ""
			for _, c := range code {
				s := string(c)
				switch {
				case c == 'O' && rapid.Bool().Draw(t, "o"):
					s = "0"
				case c == 'I' && rapid.Bool().Draw(t, "i"):
					s = "1"
				case c >= 'A' && c <= 'Z' && rapid.Bool().Draw(t, "lower"):
					s = string(c + 'a' - 'A')
				}
				out += rapid.SampledFrom([]string{"", " ", "-"}).Draw(t, "gap") + s
			}
			return out
		}).Draw(t, "typed")
		shelf := []Item{{Name: "x", Lots: []Lot{{Code: typed, Maker: "M", Count: one}, {Code: "OTHER-999-999", Maker: "M", Count: one}}}}
		found, err := Recall{Maker: "M", Item: "x", Lots: []string{code}}.Search(shelf, nil)
		if err != nil {
			t.Fatal(err)
		}
		for _, l := range Offer(found.Hold(shelf)[0].Lots, on(1)) {
			if l.Code == typed {
				t.Fatalf("%q is offered, though %q is recalled", typed, code)
			}
		}
	})
}

// Codes that look alike compare alike: wide letters and digits, and what cannot be
// seen; a letter of another script stays another letter.
func TestLotsThatLookAlike(t *testing.T) {
	for _, code := range []string{
		"Ｈ－１０", "h 1\u200b0", "\ufeffH-10", "H\u00ad-10", "H\u2060 10", "H\u280010", "H10\ufe0f", "𝐇𝟏𝟎", "H\u3164-10", "H¹⁰", "\u202dH10\u202c", "H\u300010", "Ｈ．１０",
	} {
		if got := NormalLot(code); got != "H10" {
			t.Errorf("%q is %q", code, got)
		}
	}
	for _, code := range []string{"\u200b", "\u00ad", "\u2800", "\u3164", "\u3000"} {
		if got := NormalLot(code); got != "" {
			t.Errorf("%q is %q", code, got)
		}
	}
	if NormalLot("\u041d10") == "H10" { // the Cyrillic En
		t.Error("a letter of another script was taken for H")
	}
}
