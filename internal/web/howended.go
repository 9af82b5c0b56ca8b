package web

import "ebbline/session"

// howEnded is how a treatment ended, as the page of coming off says it at its top, with
// the way to put it right.
type howEnded struct{ Words, Why, Entry string }

// returnedWords say what came of the blood in the lines.
var returnedWords = map[string]string{
	"all": "All of the blood was given back.", "part": "A part of the blood was given back.", "none": "No blood was given back.",
}

func howItEnded(one *session.Session, base string) *howEnded {
	off, e := session.Last[session.CameOff](one)
	if off == nil || returnedWords[off.Returned] == "" {
		return nil
	}
	return &howEnded{"Ended at " + clockFace(e.At) + ". " + returnedWords[off.Returned], off.Why, base + "/entry/" + e.ID}
}
