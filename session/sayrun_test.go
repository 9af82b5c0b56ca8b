package session

import (
	"strings"
	"testing"
)

// Every code has words that hold its values, and end as sentences do.
func TestEveryRemarkHasWords(t *testing.T) {
	made := map[string]bool{}
	for seed := range 400 {
		dice := lcg(seed)
		s := anything(t, &dice)
		for _, r := range Remarks(s, evening.Add(mins(600))) {
			made[r.Code] = true
			if r.Words == "" || r.Level != LevelLook && r.Level != LevelNote {
				t.Fatalf("%+v", r)
			}
		}
	}
	if len(made) < 8 {
		t.Errorf("only %d codes were made: %v", len(made), made)
	}
	for code := range runWords {
		for _, f := range []facts{
			{value: "V", was: "W", limit: "L", whose: "set by U"},
			{value: "V", was: "W", limit: "L", whose: "set by U", hard: true},
			{value: "V", limit: "L", felt: true},
		} {
			words := wordsOf(code, f)
			if !strings.Contains(words, "V") && !(code == "chlorine_again" && f.hard) {
				t.Errorf("%s: %q does not hold its value", code, words)
			}
			if end := words[len(words)-1]; end != '.' && end != '?' {
				t.Errorf("%s: %q", code, words)
			}
		}
	}
}
