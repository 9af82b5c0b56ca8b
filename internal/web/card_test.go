package web

import (
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/report"
	"ebbline/unit"
)

const actsOfUnit = "Pump off\nClamp both lines\nLook at both needles, press where it bleeds\nLie flat, legs up\nNo blood goes back if there is air in it\nRing the ambulance if you feel faint or lose more than a cup\nThen ring us, by day or at night\nWrite down the time and what happened"

// The card shows the unit's own words and numbers, and nothing of the program's.
func TestCard(t *testing.T) {
	h, ida := settled(t)
	page := h.see(ida + "/card")
	if text := plainText(page); !strings.Contains(text, "No card from your unit. Ring:") || !strings.Contains(text, "112") {
		t.Errorf("without a card: %s", text)
	}
	card, _, _ := strings.Cut(page, "</article>")
	for _, own := range []string{"pump", "clamp", "Clamp", "needle"} {
		if strings.Contains(plainText(card), own) {
			t.Errorf("without a card the page says %q of its own", own)
		}
	}
	h.saved(ida+"/card/edit", "words", strings.ReplaceAll(actsOfUnit, "\n", "\r\n")+"\r\n\r\n", "from", "Nurse K", "given_on", "2026-06-01", "review_by", "2027-06-01")
	page = h.see(ida + "/card")
	page, _, _ = strings.Cut(page, "</article>")
	text := plainText(page)
	at := 0
	for _, act := range strings.Split(actsOfUnit, "\n") {
		i := strings.Index(text[at:], act)
		if i < 0 {
			t.Fatalf("%q is not there, or out of order", act)
		}
		at += i
	}
	for _, words := range []string{"Nurse K, 1 June 2026", "good until 1 June 2027", "Ambulance 112", "Unit, at night +000 1 99"} {
		if !strings.Contains(text, words) {
			t.Errorf("the card does not say %q", words)
		}
	}
	if strings.Contains(text, "OLD") {
		t.Error("a new card is called old")
	}
	if strings.Count(page, "<li>") < 8 {
		t.Error("the acts are not lines of a list")
	}
	h.says(ida+"/unit", "From Nurse K, 1 June 2026; look at it again by 1 June 2027")
	h.now = h.now.AddDate(1, 1, 0)
	h.says(ida+"/card", "OLD: to be looked at again since 1 June 2027. Ask your unit.", "Pump off")
	h.says(ida+"/unit", "To be looked at again since 1 June 2027")
}

// No line has more than twelve words, however the unit wrote it.
func TestCardLines(t *testing.T) {
	h, ida := settled(t)
	h.keep("person-ida", &record.Card{Words: strings.Repeat("word ", 30) + "\n\n  two words  ", From: "Nurse K", GivenOn: unit.DateOf(h.now), ReviewBy: unit.DateOf(h.now).Add(300)})
	list := h.see(ida + "/card")
	list = list[strings.Index(list, `<ol class="acts">`):strings.Index(list, "</ol>")]
	lines := strings.Split(list, "<li")[1:]
	if len(lines) != 4 {
		t.Errorf("%d lines of 30 words and 2", len(lines))
	}
	for _, line := range lines {
		_, words, _ := strings.Cut(line, ">")
		if n := len(strings.Fields(plainText(words))); n > 12 || n == 0 {
			t.Errorf("a line of %d words", n)
		}
	}
}

// The more words, the smaller they must be to stay in one look.
func TestCardSize(t *testing.T) {
	size := func(words string) string { return cardSize(report.Card{Words: strings.Split(words, "\n")}) }
	if few, some, many := size("Pump off\nClamp"), size(actsOfUnit), size(actsOfUnit+"\n"+actsOfUnit); few != "few" || some != "some" && some != "many" || many != "many" {
		t.Errorf("%s, %s, %s", few, some, many)
	}
}

func TestNumbersWithoutAPerson(t *testing.T) {
	h := home(t, 0, false)
	h.says("/card", "No card from your unit. Ring the emergency number of your country.")
	h, _ = settled(t)
	h.says("/card", "Ida Brook", "No card from your unit. Ring:") // one person: her card
	h = couple(t)
	h.says("/card", "Numbers to ring", "+000 1 99", "Ida Brook", "Jon Brook")
	h.silent("/card", "No card from your unit")
}

// The card prints as large as a side takes it.
func TestCardPDF(t *testing.T) {
	h, ida := settled(t)
	for range 2 {
		if text := h.see(ida + "/card.pdf"); !strings.HasPrefix(text, "%PDF-") || len(text) < 5000 {
			t.Errorf("%d bytes begin with %q", len(text), text[:min(len(text), 8)])
		}
		h.keep("person-ida", &record.Card{Words: actsOfUnit, From: "Nurse K", GivenOn: unit.DateOf(h.now), ReviewBy: unit.DateOf(h.now).Add(300)})
	}
}

// Bad input to the card comes back as typed.
func TestCardForm(t *testing.T) {
	h, ida := settled(t)
	h.refused(ida+"/card/edit", "is still blank", "words", "Pump off", "from", "Nurse K", "given_on", "2026-06-01")
	_, _, text := h.post(ida+"/card/edit", formOf("words", "Pump off\r\nClamp", "from", "Nurse K", "given_on", "June", "review_by", "2027-01-01"))
	if !strings.Contains(text, "Pump off\nClamp</textarea>") || !strings.Contains(text, `value="June"`) {
		t.Error("what was typed did not come back")
	}
}
