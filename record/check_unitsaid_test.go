package record

import (
	"testing"

	"ebbline/session"
)

// unitSays are texts, and what stands against each as the unit's word.
var unitSays = map[string]Step{
	"Sister Holm: the bubble was outside, go on": "", "Nurse R": "", "the night nurse, Ana: give it back": "", "I spoke with Berg, go on": "",
	"my unit: it has cooled": "", "Dr Å said yes": "", "护士说可以": "", "сестра Анна: можно": "", "Sister Holm told me to go on": "",

	"unit": Refuse, "asdfgh": Refuse, "aaaa": Refuse, "aaaa bbbb": Refuse, "1234": Refuse, "0 1 2 3": Refuse, "unit unit": Refuse, "- - -": Refuse, "Holm 22:10": Refuse,
	"me": Refuse, "myself": Refuse, "no answer": Refuse,

	"unit said no, leave the blood out": Ask, "Sister Holm: do not": Ask, "Sister Holm: don’t give it back": Ask, "Sister Holm: DONT": Ask,
	"Sister Holm: never": Ask, "Sister Holm: it stays where it is": Ask, "Sister Holm: keep it out": Ask,
	"I decided": Ask, "I Decided": Ask, "my wife": Ask, "My Wife said yes": Ask, "I myself": Ask, "decided it myself": Ask, "me and my husband": Ask,
}

// The unit's word is somebody's, in words; one that speaks against it, or of oneself
// only, is asked about and taken when it is typed again (H-138).
func TestTheUnitsWord(t *testing.T) {
	for said, want := range unitSays {
		b := begun(t)
		b.must("trouble", "session-01", wrong(session.TroubleAir))
		for key, e := range map[string]Entry{
			"said":      b.entry("trouble", "session-01", &session.Trouble{Trouble: session.TroubleAir, State: session.TroubleOver, Said: said}),
			"unit_said": b.entry("goal_changed", "session-01", &session.GoalChanged{Goal: 2000, Unit: said}),
		} {
			found := Check(b.h, e)
			if want == "" && len(found) > 0 || want != "" && (len(found) != 1 || found[0].Step != want || found[0].Field != key) {
				t.Errorf("%s %q: %v, want %q", key, said, found, want)
			}
			e.Again = map[string]string{key: said}
			if found := Check(b.h, e); (len(found) > 0) != (want == Refuse) {
				t.Errorf("%s %q, typed again: %v", key, said, found)
			}
		}
	}
}
