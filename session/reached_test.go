package session

import "testing"

// A call that reached nobody is told from one that did, by all the wordings that
// are usual.
func TestReachedBy(t *testing.T) {
	for text, want := range map[string]Reached{
		"nobody": Nobody, "Nobody.": Nobody, "NOBODY AT ALL": Nobody, "no one": Nobody, "No-one answered": Nobody, "noone": Nobody, "none": Nobody, "-": Somebody,
		"no answer": Nobody, "No answer!": Nobody, "no answer at all": Nobody, "no answer, tried at 22:10 and 22:40": Nobody, "no reply": Nobody,
		"not answered": Nobody, "unanswered": Nobody, "nobody answered": Nobody, "nobody reached": Nobody, "nobody was reached": Nobody, "nobody there": Nobody,
		"engaged": Nobody, "tried, engaged": Nobody, "busy": Nobody, "line busy": Nobody, "The line was engaged all evening": Nobody, "always busy": Nobody,
		"voicemail": Nobody, "voice mail only": Nobody, "got the answering machine": Nobody, "answerphone": Nobody, "left a message": Nobody,
		"voicemail, left a message": Nobody, "tried": Nobody, "tried twice": Nobody, "I tried 3 times": Nobody, "tried the unit at 22.10, nobody picked up": Nobody,
		"tried Sister Berg at 22:10, no answer": Nobody, "rang the unit: no answer": Nobody, "rang Sister Berg – engaged": Nobody, "tried Sister Berg": Nobody,
		"they didn't answer": Nobody, "They didn’t pick up": Nobody, "unit does not answer": Nobody, "couldn't reach anyone": Nobody, "could not get through": Nobody,
		"can't get hold of anyone": Nobody, "unit not reachable": Nobody, "it just rang": Nobody, "rang out": Nobody, "kept ringing": Nobody, "none reached": Nobody,
		"did not ring": Nobody, "haven't rung yet": Nobody, "will ring later": Nobody, "no luck": Nobody, "no signal": Nobody, "not rung": Nobody, "nil": Nobody,
		"nobody answered the night number, tried at 22:10 pm and 10 pm": Nobody, "I rang but nobody answered": Nobody, "nobody at the unit, tried both numbers": Nobody,
		"unit, by day: no answer; at night: engaged": Nobody, "on hold for 20 minutes": Nobody, "no contact": Nobody, "not reached": Nobody,

		"night number engaged; Sister Berg: come in slowly":       Unsure,
		"no answer at first, then the nurse said go on":           Unsure,
		"the doctor was busy but said to come in":                 Unsure,
		"Sister Berg: nobody else has it, go on":                  Unsure,
		"tried the unit, then the ambulance, they came, all well": Unsure,
		"voicemail, rang back at 22:30: come in":                  Unsure,
		"tried Berg she said come in":                             Unsure,
		"no":                                                      Unsure, "not yet": Unsure, "unit closed": Unsure, "later": Unsure, // may be what was said

		"the unit": Somebody, "Unit, by day, +000 1 555 01 10": Somebody, "Unit, at night, +000 1 555 01 99 Nurse Kos": Somebody, "112": Somebody,
		"Sister Berg, come in slowly": Somebody, "112: they came, all well": Somebody, "Nurse Berg: go on, bloods today": Somebody, "go on": Somebody,
		"they measured, all well": Somebody, "come in at once": Somebody, "the technician": Somebody, "Nurse Berg": Somebody, "rang the unit": Somebody,
		"no heparin tonight": Somebody, "the ambulance": Somebody, "a cold; start": Somebody, "those are the new lumens": Somebody, "test again, come in slowly": Somebody,
		"changed the carbon, test twice": Somebody, "do not start": Somebody, "no signs of potassium: go on, and ring again if any come": Somebody,
		"they are on their way": Somebody, "unit, 17:30: go on, new tablets noted": Somebody, "the unit: to be decided": Somebody, "my sister": Somebody,
		"do not wait for the session": Somebody, "start, take off less": Somebody, "use it this once": Somebody, "ok, go on": Somebody, "": Somebody,
		"technician looked and rang back": Somebody, "wait for them here": Somebody, "no dialysis today": Somebody, "nothing by mouth, come in": Somebody,
		"the unit, who said to come in": Somebody, "off the machine tonight": Somebody,
		"do not ring again": Somebody, "don't call tonight": Somebody,
	} {
		if got := ReachedBy(text); got != want {
			t.Errorf("%q: %d, want %d", text, got, want)
		}
	}
}
