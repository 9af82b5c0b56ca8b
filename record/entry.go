package record

import (
	"bytes"
	"encoding/json"
	"errors"
	"io"
	"strings"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// An Entry is one thing that happened, as somebody wrote it down.
type Entry struct {
	ID       string // made by the sender, so that sending twice is harmless
	Kind     string
	At       time.Time // when it happened, in the zone it happened in
	Zone     string    // name of that zone, "Europe/Oslo"
	Written  time.Time // when it was written down, UTC
	By       string    // who wrote it
	Device   string    // on which screen
	Person   string    // whose record it belongs to
	Session  string    // which session, for what belongs to one
	Corrects string    // the entry that this one replaces
	Reason   string    // why it was corrected
	Missing  map[string]session.Missing
	Again    map[string]string // values that were asked about, as typed the second time
	Body     any               // pointer to the struct of the kind
}

// wire is the JSON of an entry. At is written in UTC beside the zone's name
// and its offset at that moment, so that a clock change stays readable without
// a zone table.
type wire struct {
	ID       string                     `json:"id"`
	Kind     string                     `json:"kind"`
	At       string                     `json:"at"`
	Zone     string                     `json:"zone"`
	Offset   *int                       `json:"offset_min"`
	Written  string                     `json:"written,omitempty"`
	By       string                     `json:"by,omitempty"`
	Device   string                     `json:"device,omitempty"`
	Person   string                     `json:"person,omitempty"`
	Session  string                     `json:"session,omitempty"`
	Corrects string                     `json:"corrects,omitempty"`
	Reason   string                     `json:"reason,omitempty"`
	Missing  map[string]session.Missing `json:"missing,omitempty"`
	Again    map[string]string          `json:"again,omitempty"`
	Values   json.RawMessage            `json:"values"`
}

// MarshalJSON writes the entry as one JSON object.
func (e Entry) MarshalJSON() ([]byte, error) {
	values, err := json.Marshal(e.Body)
	if err != nil {
		return nil, err
	}
	_, offset := e.At.Zone()
	offset /= 60
	w := wire{
		ID: e.ID, Kind: e.Kind, At: e.At.UTC().Format(time.RFC3339), Zone: e.Zone, Offset: &offset,
		By: e.By, Device: e.Device, Person: e.Person, Session: e.Session,
		Corrects: e.Corrects, Reason: e.Reason, Missing: e.Missing, Again: e.Again, Values: values,
	}
	if !e.Written.IsZero() {
		w.Written = e.Written.UTC().Format(time.RFC3339)
	}
	return json.Marshal(w)
}

// ReadEntry reads one entry strictly: unknown keys, inside the lines of a list too,
// unknown kinds and values of the wrong type are refused, each with a finding that
// names the key.
func ReadEntry(raw []byte) (Entry, error) {
	var w wire
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&w); err != nil {
		return Entry{}, Findings{{Field: "entry", Step: Refuse, Words: "cannot be read as an entry: " + plainJSONError(err)}}
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return Entry{}, Findings{{Field: "entry", Step: Refuse, Words: "has something after it; one entry stands on one line"}}
	}
	e, err := w.entry()
	if kind, ok := Find(w.Kind); ok && err == nil {
		if stray := kind.strayKeys(w.Values); len(stray) > 0 {
			return e, stray
		}
	}
	return e, err
}

func (w wire) entry() (Entry, error) {
	e := Entry{
		ID: w.ID, Kind: w.Kind, Zone: w.Zone, By: w.By, Device: w.Device, Person: w.Person,
		Session: w.Session, Corrects: w.Corrects, Reason: w.Reason, Missing: w.Missing, Again: w.Again,
	}
	var bad Findings
	at, err := time.Parse(time.RFC3339, w.At)
	if err != nil {
		bad = append(bad, Finding{Field: "at", Step: Refuse, Words: quote(w.At) + " is not a moment; needs one such as 2026-03-01T05:30:00Z"})
	}
	e.At = at.UTC()
	if w.Zone != "" {
		if zone, err := LoadZone(w.Zone); err != nil {
			bad = append(bad, Finding{Field: "zone", Step: Refuse, Words: quote(w.Zone) + " is not a time zone; needs a name such as Europe/Oslo"})
		} else {
			e.At = e.At.In(zone)
			if _, offset := e.At.Zone(); w.Offset != nil && offset/60 != *w.Offset {
				// The offset written then is what the person's clock showed; a
				// zone table that has changed since does not move the moment.
				e.At = e.At.In(time.FixedZone(w.Zone, *w.Offset*60))
			}
		}
	}
	if w.Written != "" {
		if e.Written, err = time.Parse(time.RFC3339, w.Written); err != nil {
			bad = append(bad, Finding{Field: "written", Step: Refuse, Words: quote(w.Written) + " is not a moment"})
		}
	}
	kind, ok := Find(w.Kind)
	if !ok {
		bad = append(bad, Finding{Field: "kind", Step: Refuse, Words: quote(w.Kind) + " is not a kind of entry; `ebbline schema` lists them"})
		return e, bad
	}
	e.Kind = kind.Name // one text for all entries of a kind
	if body, ok := kind.fromOwn(w.Values); ok && len(bad) == 0 {
		e.Body = body
		return e, nil
	}
	body, problems := kind.FromJSON(w.Values)
	e.Body = body
	bad = append(bad, problems...)
	if len(bad) > 0 {
		return e, bad
	}
	return e, nil
}

func plainJSONError(err error) string {
	var syntax *json.SyntaxError
	var input *unit.InputError
	var sort *json.UnmarshalTypeError
	switch {
	case errors.As(err, &input):
		return input.Error()
	case errors.As(err, &syntax), errors.Is(err, io.ErrUnexpectedEOF), errors.Is(err, io.EOF):
		return "it is not whole JSON"
	case errors.As(err, &sort):
		return quote(sort.Field) + " holds a " + sort.Value + "; `ebbline schema` says what belongs there"
	}
	if key, unknown := strings.CutPrefix(err.Error(), "json: unknown field "); unknown {
		return quote(strings.Trim(key, `"`)) + " is no part of an entry; `ebbline schema` lists what is"
	}
	return clip(err.Error())
}
