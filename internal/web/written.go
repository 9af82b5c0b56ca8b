package web

import (
	"encoding/json"
	"fmt"
	"time"

	"ebbline/session"
)

// wasWritten marks a button with the time at which it was pressed last in this session,
// so that a tired person does not press again to be sure. What opens or ends a trouble
// is marked only while it takes no press.
func (t *wrongTap) wasWritten(v visit, one *session.Session) {
	if t.Kind == "trouble" && !t.Done {
		return
	}
	if at := t.last(v, one); !at.IsZero() {
		t.Said = "written " + clockFace(at)
	}
}

// last gives when a button was pressed last in this session; zero where it was not.
func (t *wrongTap) last(v visit, one *session.Session) time.Time {
	for i := len(one.Log) - 1; i >= 0; i-- {
		e := &one.Log[i]
		if e.Kind != t.Kind || e.Struck != nil || e.At.After(v.now) || !holds(e.Body, t.Name, t.Value) {
			continue
		}
		if b, is := e.Body.(*session.Trouble); !is || b.Trouble == t.Do.Code {
			return e.At
		}
	}
	return time.Time{}
}

// holds reports whether the body of an entry has a value at a key; every body has
// nothing at no key.
func holds(body any, key, value string) bool {
	if key == "" {
		return true
	}
	text, err := json.Marshal(body)
	if err != nil {
		return false
	}
	var values map[string]any
	if err := json.Unmarshal(text, &values); err != nil {
		return false
	}
	got, there := values[key]
	return there && fmt.Sprint(got) == value
}
