package web

import "testing"

// Where no other screen can reach the pages, the page says how they could.
func TestNoOtherScreens(t *testing.T) {
	h := home(t, 1, false)
	h.says("/screens", "Only this computer can see the pages", "ebbline serve -lan kitchen.local")
	h.silent("/screens", "Show a code", "Paired")
	h.says("/pair", "Vida") // nothing to pair: it leads to the pages
	for _, path := range []string{"/screens/code", "/screens/remove"} {
		if status, _, _ := h.post(path, formOf("screen", "x")); status != 404 {
			t.Errorf("%s: %d, want 404", path, status)
		}
	}
}
