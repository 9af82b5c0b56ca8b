package unit

import "testing"

// What cannot be seen is no text, in whatever way it is blank.
func TestLegible(t *testing.T) {
	for _, blank := range []string{"", " ", "\u00a0", "\u200b", "\u00ad", "\u2060\u2060", "\u2800", "\u3164", "\u115f\u1160", "\uffa0", "\u3000", "\ufeff", "\ufe0f", "\u034f", "\n\t"} {
		if n := Legible(blank); n != 0 || AsSeen(blank) != "" {
			t.Errorf("%q: %d legible, seen as %q", blank, n, AsSeen(blank))
		}
	}
	for text, want := range map[string]int{"a": 1, "7": 1, "--": 0, ".": 0, "K-1": 2, "护士": 2, "+000 2": 4, "a\u200bb": 2, "½": 1, "é": 1} {
		if n := Legible(text); n != want {
			t.Errorf("%q: %d legible, want %d", text, n, want)
		}
	}
	if got := AsSeen(" a\u200b b\u00ad "); got != "a b" {
		t.Errorf("seen as %q", got)
	}
}
