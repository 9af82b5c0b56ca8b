package main

import (
	"time"

	"ebbline/record"
)

// A line is one line of a file of lives, from which another version of the program can
// be measured. A line with Life begins one; the lines after it belong to it, in order.
type line struct {
	Life      string        `json:"life,omitempty"`     // code of the kind of people
	Unit      string        `json:"unit,omitempty"`     // how their unit meets what is asked
	Eventful  bool          `json:"eventful,omitempty"` // only its branches count
	Entry     *record.Entry `json:"entry,omitempty"`    // joins the record
	Run       bool          `json:"run,omitempty"`      // the remarks are asked for after it
	Branch    string        `json:"branch,omitempty"`   // an event, on a copy of the life so far, until End
	Upto      int           `json:"upto,omitempty"`     // entries of the life that the copy holds
	Uncleaned bool          `json:"uncleaned,omitempty"`
	Start     int           `json:"start,omitempty"` // the start line is asked for: number of the session
	Session   string        `json:"session,omitempty"`
	At        time.Time     `json:"at,omitzero"`
	Checks    []string      `json:"checks,omitempty"`  // by which an event is said there
	Beyond    []string      `json:"beyond,omitempty"`  // rules that have a value beyond a figure of the unit to say
	Remarks   []string      `json:"remarks,omitempty"` // by which it is said on this entry
	Kept      bool          `json:"kept,omitempty"`    // or the plan keeps it from happening
	End       bool          `json:"end,omitempty"`
}

// tell writes a line of the life, where lives are written.
func (l *life) tell(one line) {
	if l.out == nil || l.err != nil && !one.End {
		return
	}
	if err := l.out.Encode(one); err != nil && l.err == nil {
		l.err = err
	}
}
