package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

// A value that leads to help and stands typed is shown in its tile, not the old one, and
// the first button there saves it by the form of the page.
func TestTileShowsWhatIsTypedAndNotSaved(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	for _, tt := range []struct {
		trouble string
		typed   []string
		shown   string
		yes     string
	}{
		{session.TroubleLow, []string{"systolic_mmhg", "51", "diastolic_mmhg", "30"}, "51/30", "diastolic_mmhg=30&amp;systolic_mmhg=51"},
		{session.TroubleFluid, []string{"dialysate_temp_c", "38.9"}, "38.9\u00a0°C", "dialysate_temp_c=38.9"},
		{session.TroubleFever, []string{"body_temperature_c", "39.5"}, "39.5\u00a0°C", "body_temperature_c=39.5"},
		{session.TroubleFluid, []string{"dialysate_temp_c", "43"}, "43\u00a0°C", ""},
	} {
		_, _, text := h.post(base+"/reading", formOf(append(tt.typed, "id", newID())...))
		if n := strings.Count(text, "data-typed"); n != 1 {
			t.Errorf("%v: stands in %d tiles", tt.typed, n)
		}
		_, tile, _ := strings.Cut(text, `<section id="wrong-`+tt.trouble+`"`)
		tile, _, _ = strings.Cut(tile, "</section>")
		if !strings.Contains(tile, `<b class="figure">`+tt.shown+`</b> typed, not saved yet`) {
			t.Errorf("%v: the tile says %s", tt.typed, plainText(tile))
		}
		_, first, _ := strings.Cut(tile, "<button")
		want := ` class="main" form="send-reading" name="yes" value="` + tt.yes + `">Yes, ` + tt.shown + `: save it`
		if strings.HasPrefix(first, want) != (tt.yes != "") {
			t.Errorf("%v: the first button is %.120s", tt.typed, first)
		}
		if !strings.Contains(text, `id="send-reading"`) {
			t.Errorf("%v: there is no such form", tt.typed)
		}
	}
	if strings.Contains(h.see(base), "data-typed") {
		t.Error("nothing is typed, and it stands in a tile")
	}
}
