package session

import (
	"strings"
	"testing"

	"ebbline/unit"
)

func TestByAccess(t *testing.T) {
	for _, tt := range []struct{ sentence, needle, catheter string }{
		{"", "", ""},
		{"Look.", "Look.", "Look."},
		{"Look at both {needles|connections}.", "Look at both needles.", "Look at both connections."},
		{"{Needle|Line} off, {blood|wet}", "Needle off, blood", "Line off, wet"},
	} {
		if got := byAccess(tt.sentence, false); got != tt.needle {
			t.Errorf("%q of needles: %q", tt.sentence, got)
		}
		if got := byAccess(tt.sentence, true); got != tt.catheter {
			t.Errorf("%q of a catheter: %q", tt.sentence, got)
		}
	}
}

// No table of the program is left with a pair that was not chosen from.
func TestEveryPairIsChosenFrom(t *testing.T) {
	catheter := &Prescription{Access: "catheter"}
	whole := func(where string, words ...string) {
		for _, w := range words {
			if w == "" || strings.ContainsAny(w, "{|}") {
				t.Errorf("%s: %q", where, w)
			}
		}
	}
	for _, rx := range []*Prescription{nil, {Access: "fistula"}, catheter} {
		for _, one := range TroublesFor(rx) {
			whole(one.Code, append(one.Acts, one.Title)...)
		}
		for _, st := range WithNightFor(DefaultSetUp(), rx).Steps {
			whole(st.ID, st.Words)
		}
		for code := range runWords {
			whole(code, wordsOf(code, facts{value: "1", was: "2", limit: "3", catheter: rx.ByCatheter()}))
		}
		whole("lines", rx.LineWords())
	}
}

// What the person wrote is never changed, whatever it says of needles.
func TestOwnWordsOfACatheterStay(t *testing.T) {
	const own = "Needle out, blood, line apart. Look at needle and line {so|or so}. Press on the hole."
	s := byCatheter(t)
	put(s, evening.Add(mins(45)), &Connected{BloodFlow: ref(unit.Flow(300))})
	put(s, evening.Add(mins(60)), &Unwell{Words: own})
	said := ""
	for _, r := range Remarks(s, evening.Add(mins(61))) {
		said += r.Words
	}
	if !strings.Contains(said, "“"+own+"”") {
		t.Errorf("own words were changed: %s", said)
	}
}
