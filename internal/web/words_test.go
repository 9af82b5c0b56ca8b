package web

import (
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// What is read across a room is the number; its unit is small beside it, and
// what a caution rests on stands small behind what it says.
func TestHeadlinesAndSources(t *testing.T) {
	for text, want := range map[string]string{
		"1640\u00a0mL": "1640<small>\u00a0mL</small>",
		"−50\u00a0mL":  "−50<small>\u00a0mL</small>",
		"–":            "–",
		"<b>":          "&lt;b&gt;",
	} {
		if got := string(figure(text)); got != want {
			t.Errorf("figure(%q) = %q, want %q", text, got, want)
		}
	}
	for text, want := range map[string]string{
		"High (A B, J C 2011;79:250–7; D E, K 2016;68:911). Ask your unit.": "High. Ask your unit. <small class=\"cite\">A B, J C 2011;79:250–7; D E, K 2016;68:911</small>",
		"Set by Dr B (on 7 March 2026).":                                    "Set by Dr B (on 7 March 2026).",
		"5 < 6 & 7":                                                         "5 &lt; 6 &amp; 7",
	} {
		if got := string(cited(text)); got != want {
			t.Errorf("cited(%q) = %q, want %q", text, got, want)
		}
	}
}

func TestSignsOfTerms(t *testing.T) {
	ml := func(v unit.Volume) *unit.Volume { return &v }
	for _, tt := range []struct {
		term session.Term
		want string
	}{
		{session.Term{Code: "pre_weight"}, ""},
		{session.Term{Code: "above_dry", ML: ml(1600)}, ""},
		{session.Term{Code: "intake", ML: ml(300)}, "+\u00a0"},
		{session.Term{Code: "washback", ML: ml(0)}, ""},
		{session.Term{Code: "rounding", ML: ml(-20)}, ""},
		{session.Term{Code: "goal"}, "=\u00a0"},
		{session.Term{Code: "left_over"}, "−\u00a0"},
	} {
		if got := signOf(tt.term); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.term.Code, got, tt.want)
		}
	}
}

func TestCountOf(t *testing.T) {
	for n, want := range map[int]string{0: "0 sessions", 1: "1 session", 2: "2 sessions"} {
		if got := countOf(n, "session", "sessions"); got != want {
			t.Errorf("%d: %q", n, got)
		}
	}
}
