package web

import (
	"io/fs"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"ebbline/record"
)

// What stands on every page, or on none: the way to the card, and no sound.

// The emergency card is one tap from every page, as a plain link that needs no
// script: in the page itself where the card is part of it, so that it needs no
// program either. It is there when the record holds nobody (H-111).
func TestCardIsOneTapAway(t *testing.T) {
	t.Parallel()
	h := home(t, 2, true)
	toCard := regexp.MustCompile(`<a class="card-link" href="((/p/[^"]+)?/card|#wrong-card)">`)
	pages := 0
	for _, p := range walked(t) {
		if !strings.HasPrefix(p.answer.Header().Get("Content-Type"), "text/html") {
			continue
		}
		pages++
		switch to := toCard.FindStringSubmatch(p.answer.Body.String()); {
		case to == nil:
			t.Errorf("%s has no way to the card", p.path)
		case to[1] == "#wrong-card" && !strings.Contains(p.answer.Body.String(), `<section id="wrong-card"`):
			t.Errorf("%s: the way to the card in the page leads nowhere", p.path)
		}
	}
	if pages < 40 {
		t.Errorf("only %d pages were looked at", pages)
	}
	for _, path := range []string{"/p/nobody-here/", "/no/such/page/"} {
		if status, text := h.get(path); status == http.StatusNotFound && strings.Contains(text, "<html") && !toCard.MatchString(text) {
			t.Errorf("%s has no way to the card", path)
		}
	}
	empty := home(t, 0, false)
	if status, _ := empty.get("/card"); status != http.StatusOK {
		t.Errorf("the numbers without a person: %d", status)
	}
}

// Allergies stand on every page on which a drug is drawn up or given, and on the
// sheet (H-61).
func TestAllergyOnDrugPages(t *testing.T) {
	h := home(t, 1, true)
	base := vida + "/session/" + h.life.Open
	for _, path := range []string{base + "/heparin_drawn", base + "/anaesthetic_drawn", base + "/flush_drawn", base + "/saline", base + "/medicine", base + "/supply", base + "/sheet", vida + "/card"} {
		if text := plainText(h.see(path)); !strings.Contains(text, "plasters with zinc oxide") {
			t.Errorf("%s does not say the allergies", path)
		}
	}
	up := home(t, 1, false)
	setting := up.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	top, _, _ := strings.Cut(up.see(setting), `id="lanes"`)
	if !strings.Contains(plainText(top), "Allergies: plasters with zinc oxide") {
		t.Error("setting up names them below the steps")
	}
	h.keep("p-vida-hribar", &record.Person{Name: "Vida Hribar", BirthYear: 1969, Colour: "fern", Adult: true})
	if text := plainText(h.see(base + "/heparin_drawn")); strings.Contains(text, "Allergies") {
		t.Error("somebody without allergies is shown some")
	}
}

// No page sounds, speaks, shakes or pops up: nothing of it can be taken for the
// machine's alarm, or drown it (H-115).
func TestPagesMakeNoSound(t *testing.T) {
	loud := regexp.MustCompile(`(?i)<audio|<video|new Audio|AudioContext|speechSynthesis|\.vibrate\(|new Notification|\balert\(|serviceWorker`)
	looked := 0
	err := fs.WalkDir(files, ".", func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		looked++
		text, err := fs.ReadFile(files, path)
		if at := loud.Find(text); at != nil {
			t.Errorf("%s holds %q", path, at)
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	if looked < 20 {
		t.Errorf("only %d files were looked at", looked)
	}
}
