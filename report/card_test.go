package report

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ebbline/report/internal/golden"
)

func card() Card {
	return Card{
		Head: ilsabet, Access: "fistula, left arm", From: "nurse Solveig Dyrhaug, 12 January 2026",
		Words: []string{
			"Stop the pump. Clamp both lines.", "Needle out: press on the hole, lie flat, legs up.",
			"Feeling faint: removal off, legs up, salt water 100 mL as shown to you, and measure the pressure again after five minutes.", "Then ring.",
		},
		Phones: []Phone{{"Ambulance", "113"}, {"Kidney unit, by day", "55 01 02 03"}, {"Kidney unit, at night", "+47 55 01 02 99"}, {"Technician", ""}},
	}
}

func cardFile(t testing.TB, c Card, p Printing) pdfFile {
	t.Helper()
	return written(t, func(b *bytes.Buffer) error { return c.PDF(b, p, made) })
}

func cardPageOf(t testing.TB, c Card, p Printing) string {
	t.Helper()
	h, err := CardHTML(c, p)
	if err != nil {
		t.Fatal(err)
	}
	return string(h)
}

func TestCardLooksAsSeen(t *testing.T) {
	f := cardFile(t, card(), printing)
	f.sound()
	golden.Check(t, "card.txt", f.columns())
	golden.Check(t, "card.html", cardPageOf(t, card(), printing))
	if f.pages() != 1 {
		t.Errorf("%d sides", f.pages())
	}
}

func TestCardHoldsOnlyTheUnitsWords(t *testing.T) {
	text := flow(cardFile(t, card(), printing).words())
	for _, act := range card().Words {
		for _, w := range strings.Fields(act) {
			has(t, "the card", text, w)
		}
	}
	has(t, "the card", text, ilsabet.Name, "born 1971", "fistula, left arm", "plasters with latex", "113", "55 01 02 03", "+47 55 01 02 99", "Solveig Dyrhaug")
	has(t, "the page", cardPageOf(t, card(), printing), `href="tel:&#43;4755010299"`, `href="tel:113"`)
	if strings.Contains(text, "Technician") {
		t.Error("a telephone without a number is on the card")
	}
}

// A number is never broken over two lines, however large the card is set.
func TestCardKeepsANumberOnOneLine(t *testing.T) {
	for _, number := range []string{"113", "+47 55 01 02 99", "0800 1234 5678 extension 4410"} {
		c := card()
		c.Phones = []Phone{{"Kidney unit, at night", number}}
		has(t, "the card", cardFile(t, c, printing).columns(), "Kidney unit, at night  "+number)
	}
}

func TestNoCardSaysSoAndWhomToRing(t *testing.T) {
	c := card()
	c.Words, c.From = nil, ""
	for where, text := range map[string]string{"the paper": cardFile(t, c, printing).words(), "the page": cardPageOf(t, c, printing)} {
		has(t, where, text, "No card from your unit is in the record. Ring:", "113", "55 01 02 03")
		for _, act := range []string{"pump", "Clamp", "legs"} {
			if strings.Contains(text, act) {
				t.Errorf("%s tells what to do though the unit gave no card: %q", where, act)
			}
		}
	}
	c.Phones = nil
	has(t, "the card without numbers", cardFile(t, c, printing).words(), "No telephone number is in the record.")
}

func TestStaleCardSaysSo(t *testing.T) {
	c := card()
	c.Stale = "This card was to be looked at again by 1 February 2026."
	has(t, "the paper", cardFile(t, c, printing).words(), c.Stale)
	has(t, "the page", cardPageOf(t, c, printing), c.Stale)
}

// Each trouble that the unit gave steps for has a side of its own behind the card:
// its number first, the unit's words, who gave them, and whether the blood is
// given back.
func TestCardHasASideForEachTrouble(t *testing.T) {
	c := card()
	c.Troubles = []CardTrouble{
		{Title: "Air or foam", Words: []string{"Clamp the venous line.", "Pump off."}, From: "nurse Solveig Dyrhaug, 12 January 2026",
			Phones: c.Phones[:2], Blood: "Give the blood back: never."},
		{Title: "Itch, wheeze, swelling in the first minutes", Words: []string{"Clamp."}, Stale: "OLD: ask your unit.", Figures: []string{"Saline each time: 100 mL"},
			Phones: []Phone{c.Phones[2], c.Phones[0]}, Blood: "Give the blood back: never."},
	}
	f := cardFile(t, c, Printing{At: "today", Demo: true})
	f.sound()
	sides := f.sides()
	if len(sides) != 3 {
		t.Fatalf("%d sides", len(sides))
	}
	has(t, "the card", sides[0], "If something is wrong", "Stop the pump.", "page 1 of 3")
	for i, one := range c.Troubles {
		side := flow(sides[i+1])
		has(t, one.Title, side, slices.Concat(one.Words, one.Figures, []string{one.Title, one.Blood, one.Phones[0].Number, ilsabet.Name, "DEMONSTRATION", fmt.Sprintf("page %d of 3", i+2)})...)
		if strings.Contains(side, "If something is wrong") || strings.Contains(side, "Needle out") {
			t.Errorf("the side of %s holds the card's own words", one.Title)
		}
		if strings.Index(side, one.Phones[0].Number) > strings.Index(side, one.Words[0]) {
			t.Errorf("%s: the number does not lead", one.Title)
		}
	}
	has(t, "the second", flow(sides[2]), "OLD: ask your unit.")
	if f.smallest() < 6.5 {
		t.Errorf("letters of %.2f points", f.smallest())
	}
}

// No line has more than twelve words, lines of one act are about equal, and
// no word is lost or moved.
func TestCardLinesProperties(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := Card{Words: rapid.SliceOfN(rapid.StringMatching(`([a-z]{1,9} ){0,60}[a-z]{1,9}`), 0, 8).Draw(t, "acts")}
		var got []string
		for _, l := range c.Lines() {
			n := len(strings.Fields(l.Text))
			if n == 0 || n > 12 {
				t.Fatalf("a line of %d words: %q", n, l.Text)
			}
			got = append(got, l.Text)
		}
		if want := strings.Join(c.Words, " "); strings.Join(got, " ") != want {
			t.Fatalf("%q became %q", want, got)
		}
	})
}

func TestLongCardGoesOverThePage(t *testing.T) {
	c := card()
	for i := range 60 {
		c.Words = append(c.Words, fmt.Sprintf("Act number %d, as the unit wrote it down in its own words for this person.", i))
	}
	f := cardFile(t, c, Printing{At: "today", Demo: true})
	f.sound()
	sides := f.sides()
	if len(sides) < 2 {
		t.Fatalf("%d sides", len(sides))
	}
	for i, side := range sides {
		has(t, fmt.Sprintf("side %d", i+1), side, ilsabet.Name, fmt.Sprintf("page %d of %d", i+1, len(sides)), "DEMONSTRATION")
	}
	all := flow(strings.Join(sides, " "))
	for i := range 60 {
		has(t, "the card", all, fmt.Sprintf("number %d,", i))
	}
	if f.smallest() < 6.5 {
		t.Errorf("letters of %.2f points", f.smallest())
	}
}
