package web

import (
	"regexp"
	"strings"
	"testing"
)

// The guide says in plain words what software cannot close, and every section
// can be linked to.
func TestGuide(t *testing.T) {
	h, ida := settled(t)
	for _, path := range []string{"/guide", ida + "/guide"} {
		page := h.see(path)
		for _, id := range []string{"what", "session", "trouble", "stops", "asked", "not-saved", "correct", "paper", "two", "phone", "limits", "cannot", "read", "screens", "copies", "ask"} {
			if strings.Count(page, `href="#`+id+`"`) != 1 || strings.Count(page, `id="`+id+`"`) != 1 {
				t.Errorf("%s: section %s cannot be found from the list of sections", path, id)
			}
		}
		if links, sections := strings.Count(page, `href="#`)-1, strings.Count(page, "<h2 id="); links != sections || sections != 16 {
			t.Errorf("%s: %d links for %d sections", path, links, sections)
		}
	}
	text := plainText(h.see("/guide"))
	for what, words := range map[string]string{
		"the unit first":               "Your unit’s own instructions come first.",
		"a change nobody typed":        "An order you were told and did not type is not in the plan",
		"the water works":              "After a burst main, a flood or a dose of extra chlorine",
		"the same spot":                "The place that hurts least is the place that wears out",
		"signs that lie apart":         "Add them up yourself, and ring your unit the same day",
		"it does not watch":            "It does not watch you.",
		"a needle that slips":          "A needle that slips may change no pressure at all",
		"a session nobody holds":       "If you live alone and are too ill to look, no program rings for you",
		"not saved":                    "NOT SAVED – USE PAPER means that it is not",
		"a copy":                       "ebbline copy",
		"no codes of machines":         "An alarm is looked up in the machine’s own handbook, never here",
		"no device":                    "not a medical device",
		"limits that nobody set":       "not set by your unit",
		"the numbers, where there are": "+000 1 99",
	} {
		if !strings.Contains(text, words) {
			t.Errorf("%s: the guide does not say %q", what, words)
		}
	}
	if id := regexp.MustCompile(`\b(H-\d+|CC\d+)\b`).FindString(text); id != "" {
		t.Errorf("the guide speaks of %s", id)
	}
	h.silent("/guide", "+000 1 555") // of another household
}
