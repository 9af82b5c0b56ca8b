package report

import (
	"testing"
	"time"

	"ebbline/unit"
)

func TestWords(t *testing.T) {
	for _, tt := range []struct{ got, want string }{
		{minus("-120"), "−120"}, {minus("120"), "120"},
		{hours(45), "45\u00a0min"}, {hours(240), "4\u00a0h"}, {hours(267), "4\u00a0h\u00a027\u00a0min"},
		{later(16 * time.Minute), "16\u00a0min later"}, {later(14 * time.Hour), "14\u00a0h later"},
		{later(24 * time.Hour), "1\u00a0day later"}, {later(50 * time.Hour), "2\u00a0days 2\u00a0h later"},
		{letter(0), "a"}, {letter(25), "z"}, {letter(26), "aa"}, {letter(51), "az"}, {letter(52), "ba"},
		{joined(", ", "", "a", "", "b"), "a, b"}, {joined(", "), ""},
		{lower("Total chlorine"), "total chlorine"}, {lower("TMP"), "TMP"}, {lower("pH"), "pH"},
		{Value{Text: "−1.9"}.kind(), "figure"}, {Value{Text: "< 0.05"}.kind(), "figure"}, {Value{Text: "128/74"}.kind(), "figure"},
		{Value{Text: "clean"}.kind(), "words"}, {Value{Text: "20:10–20:26 bathroom"}.kind(), "words"}, {Value{}.kind(), "words"},
	} {
		if tt.got != tt.want {
			t.Errorf("got %q, want %q", tt.got, tt.want)
		}
	}
}

func (v Value) kind() string {
	if v.figure() {
		return "figure"
	}
	return "words"
}

func TestLetterNeverRepeats(t *testing.T) {
	seen := map[string]bool{}
	for i := range 2000 {
		if l := letter(i); seen[l] {
			t.Fatalf("%q twice", l)
		} else {
			seen[l] = true
		}
	}
}

// The sheet's hours are those of the quantity it prints.
func TestHoursAreMinutes(t *testing.T) {
	if got := hours(unit.Minutes(255)); got != "4\u00a0h\u00a015\u00a0min" {
		t.Error(got)
	}
}
