package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/session"
)

// A fluid too hot or wrong that is asked about: the answer leads with what that is and
// the way to its steps, before any field; a value only a little off has none.
func TestHotFluidAskedAboutLeadsToItsSteps(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	for _, tt := range []struct{ key, value, want string }{
		{"dialysate_temp_c", "38.9", "<b>38.9\u00a0°C</b>: if the machine shows it, it is too hot."},
		{"conductivity_ms_cm", "12.2", "<b>12.20\u00a0mS/cm</b>: if the machine shows it, it is wrong."},
		{"dialysate_temp_c", "38.3", ""},
		{"dialysate_temp_c", "34.2", ""},
	} {
		status, _, text := h.post(base+"/reading", formOf("id", newID(), "venous_mmhg", "135", tt.key, tt.value))
		_, form, _ := strings.Cut(text, `data-kind="reading"`)
		head, _, _ := strings.Cut(form, `class="field`)
		if status != http.StatusUnprocessableEntity {
			t.Fatalf("%s %s: %d", tt.key, tt.value, status)
		}
		if there := strings.Contains(head, `href="#wrong-fluid"`); there != (tt.want != "") || !strings.Contains(head, tt.want) {
			t.Errorf("%s %s: the answer begins %q, want %q", tt.key, tt.value, plainText(head), tt.want)
		}
		if again := strings.Contains(form, `name="again.`+tt.key+`"`); again != (tt.want == "") {
			t.Errorf("%s %s is typed again: %v", tt.key, tt.value, again)
		}
	}
	if strings.Contains(mainOf(h.see(base)), `href="#wrong-fluid"`) {
		t.Error("an empty form leads to the fluid")
	}
}

// The tile says what opened it, with the time, and asks about the bypass.
func TestFluidTileSaysWhatOpenedIt(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	h.saved(base+"/reading", "dialysate_temp_c", "38.9", "again.dialysate_temp_c", "38.9", "conductivity_ms_cm", "12.2", "again.conductivity_ms_cm", "12.2")
	at := h.now.Format("15:04")
	h.later(5 * time.Minute)
	h.saved(base+"/reading", "dialysate_temp_c", "36.5")
	if text := plainText(h.troubleOn(base, session.TroubleFluid)); !strings.Contains(text, plainText("38.9\u00a0°C 12.20\u00a0mS/cm "+at)) || !strings.Contains(text, "Is the machine in bypass?") {
		t.Errorf("%s", text)
	}
	if text := plainText(h.troubleOn(base, session.TroubleAir)); strings.Contains(text, "bypass") {
		t.Errorf("air: %s", text)
	}
}
