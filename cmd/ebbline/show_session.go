package main

import (
	"fmt"
	"io"
	"regexp"
	"strings"
	"time"
	"unicode"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// sessionWhole is the shape of `show session --json`. Keys are only ever added
// to it.
type sessionWhole struct {
	sessionOut
	Name           string                `json:"name"` // of the person
	Demonstration  bool                  `json:"demonstration"`
	PrescriptionID string                `json:"prescription_id"`
	Prescription   *session.Prescription `json:"prescription"` // the version it was planned from
	Entries        []entryOut            `json:"entries"`
	Missing        []missingOut          `json:"missing"`
	LockAtEnd      []string              `json:"lock_at_end"` // what is wrong with the lock that was given
	lookOut
}

// entryOut is one entry as it counts now.
type entryOut struct {
	ID      string                     `json:"id"`
	Kind    string                     `json:"kind"`
	At      time.Time                  `json:"at"`
	Zone    string                     `json:"zone"`
	Written time.Time                  `json:"written"`
	By      string                     `json:"by"`
	Values  any                        `json:"values"`
	Missing map[string]session.Missing `json:"missing"`
	Struck  *struckOut                 `json:"struck"`
	Was     []wasOut                   `json:"was"` // what it said before it was corrected, oldest first
	late    time.Duration              // typed so much later; 0 when at once
}

type struckOut struct {
	At     time.Time `json:"at"`
	By     string    `json:"by"`
	Reason string    `json:"reason"`
}

type wasOut struct {
	ID      string                     `json:"id"`
	At      time.Time                  `json:"at"`
	Written time.Time                  `json:"written"`
	By      string                     `json:"by"`
	Values  any                        `json:"values"`
	Missing map[string]session.Missing `json:"missing"`
	Reason  string                     `json:"reason"` // why it was replaced
}

type missingOut struct {
	Kind string          `json:"kind"`
	Key  string          `json:"key"` // empty when the whole entry is not there
	What string          `json:"what"`
	Why  session.Missing `json:"why"` // empty while nobody has said
}

// couldBeID tells what may be the id of an entry from a date that is none:
// digits and marks alone are always meant as a date.
func couldBeID(s string) bool {
	return idShape.MatchString(s) && strings.ContainsFunc(s, unicode.IsLetter)
}

var idShape = regexp.MustCompile(`^[A-Za-z0-9._-]{8,64}$`)

// findSession gives the one session that a date or an id names.
func findSession(h *record.Household, name string) (*session.Session, error) {
	if s := h.Session(name); s != nil {
		return s, nil
	}
	day, err := unit.ParseDate(name)
	switch {
	case err != nil && couldBeID(name):
		return nil, absence(fmt.Sprintf("No session has the id %s; `ebbline show` lists those there are", name))
	case err != nil:
		return nil, refusal{fmt.Sprintf("session: %q is neither the id of a session nor a date; accepted is YYYY-MM-DD", name)}
	}
	var on []*session.Session
	for _, m := range h.People {
		for _, s := range m.Sessions {
			if !s.Abandoned() && session.Night(s) == day {
				on = append(on, s)
			}
		}
	}
	switch len(on) {
	case 0:
		return nil, absence(fmt.Sprintf("No session belongs to %s; `ebbline show` lists those there are", day))
	case 1:
		return on[0], nil
	}
	var each []string
	for _, s := range on {
		p, _ := h.Member(s.Person).Person.Now()
		each = append(each, fmt.Sprintf("%s (%s)", s.ID, p.Name))
	}
	return nil, refusal{fmt.Sprintf("session: %d belong to %s; name one by its id: %s", len(on), day, strings.Join(each, ", "))}
}

func showSession(t *terminal, h *record.Household, name string, now time.Time, asJSON bool) error {
	s, err := findSession(h, name)
	if err != nil {
		return err
	}
	out := wholeOf(h, s, now)
	if asJSON {
		return printJSON(&t.out, out)
	}
	printSession(&t.out, out)
	return nil
}

func wholeOf(h *record.Household, s *session.Session, now time.Time) sessionWhole {
	p, _ := h.Member(s.Person).Person.Now()
	out := sessionWhole{
		sessionOut: outOf(s, now), Name: p.Name, Demonstration: h.Demo,
		PrescriptionID: s.PrescriptionID, Prescription: s.Rx,
		Entries: []entryOut{}, Missing: []missingOut{}, LockAtEnd: []string{},
		lookOut: lookAt(h.Member(s.Person), s, now),
	}
	for _, e := range s.Log {
		out.Entries = append(out.Entries, entryOf(e))
	}
	out.LockAtEnd = append(out.LockAtEnd, session.LockAtEnd(s, h.Member(s.Person).History(s))...)
	for _, item := range session.OpenItems(s) {
		out.Missing = append(out.Missing, missingOut{item.Kind, item.Key, item.What, item.Why})
	}
	return out
}

func entryOf(e session.Event) entryOut {
	one := entryOut{
		ID: e.ID, Kind: e.Kind, At: e.At, Zone: e.At.Location().String(), Written: e.Written, By: e.By,
		Values: e.Body, Missing: missingOf(e.Missing), Was: []wasOut{},
	}
	if late, is := e.Late(); is {
		one.late = late
	}
	if e.Struck != nil {
		one.Struck = &struckOut{e.Struck.At, e.Struck.By, e.Struck.Reason}
	}
	for _, w := range e.Was {
		one.Was = append(one.Was, wasOut{w.ID, w.At, w.Written, w.By, w.Body, missingOf(w.Missing), w.Reason})
	}
	return one
}

func printSession(w io.Writer, s sessionWhole) {
	demoLine(w, s.Demonstration)
	fmt.Fprintf(w, "Session of %s, %s, %s (%s)\n", s.Date, s.Name, strings.ReplaceAll(string(s.Phase), "_", " "), s.ID)
	if s.Prescription != nil {
		fmt.Fprintf(w, "Prescription: ordered by %s on %s, dry weight %s\n", s.Prescription.OrderedBy, s.Prescription.OrderedOn, plain(s.Prescription.DryWeight))
	}
	if s.Treated != nil {
		fmt.Fprintf(w, "Treated: %s", plain(*s.Treated))
		if s.Planned != nil {
			fmt.Fprintf(w, " of %s", plain(*s.Planned))
		}
		fmt.Fprintln(w)
	}
	if due := s.SugarDue; due != nil {
		late := ""
		if due.Late {
			late = ", and is late"
		}
		fmt.Fprintf(w, "Blood sugar due at %s (every %s)%s\n", due.At.Format("15:04"), plain(due.EveryMin), late)
	}
	if due := s.FlushDue; due != nil {
		when := "waits while the treatment stands still"
		if due.At != nil {
			when = "due at " + due.At.Format("15:04")
		}
		if due.Late {
			when += ", and is late"
		}
		fmt.Fprintf(w, "Flush %d of %d, %s, %s\n", due.Number, due.Of, plain(due.VolumeMl), when)
	}
	if s.Prescription.ByFiltration() {
		fmt.Fprintf(w, "Haemodiafiltration: %s\n", strings.ReplaceAll(s.Prescription.SubstitutionText(), "\u00a0", " "))
		if s.Began != nil {
			fmt.Fprintf(w, "Came off: %s, substitution %s\n", written(s.Removed), written(s.Given))
		}
	}
	fmt.Fprintln(w)
	day := ""
	for _, e := range s.Entries {
		if d := e.At.Format(time.DateOnly); d != day {
			day = d
			fmt.Fprintf(w, "%s, %s\n", d, e.Zone)
		}
		printEntry(w, e)
	}
	for i, words := range s.LockAtEnd {
		if i == 0 {
			fmt.Fprintln(w, "\nThe lock that was given:")
		}
		fmt.Fprintf(w, "  %s\n", words)
	}
	open := false
	for _, m := range s.Missing {
		if !open {
			fmt.Fprintln(w, "\nNot there:")
			open = true
		}
		fmt.Fprintf(w, "  %s: %s\n", m.What, missingWords(m.Why))
	}
}

// written is a value with its unit, or that it is not known.
func written[M unit.Measure](v *unit.Quantity[M]) string {
	if v == nil {
		return "not known"
	}
	return plain(*v)
}

func printEntry(w io.Writer, e entryOut) {
	kind, ok := record.Find(e.Kind)
	if !ok {
		return // the record does not open with a kind that is not known
	}
	marks := ""
	if e.late > 0 {
		marks += " [typed " + span(e.late) + " later]"
	}
	if e.Struck != nil {
		marks += " [STRUCK OUT: " + e.Struck.Reason + "]"
	}
	fmt.Fprintf(w, "  %s  %s%s\n", e.At.Format("15:04"), kind.Title, marks)
	printValues(w, kind, e.Values, e.Missing)
	for i, was := range e.Was {
		next := e.At
		if i+1 < len(e.Was) {
			next = e.Was[i+1].At
		}
		moved := ""
		if !was.At.Equal(next) {
			moved = " at " + was.At.Format("15:04 on 2006-01-02")
		}
		fmt.Fprintf(w, "         was%s, until corrected (%s):\n", moved, was.Reason)
		printValues(w, kind, was.Values, was.Missing)
	}
}

func printValues(w io.Writer, kind *record.Kind, body any, missing map[string]session.Missing) {
	for _, line := range valueLines(kind, body) {
		fmt.Fprintf(w, "           %s\n", line)
	}
	for _, f := range kind.Fields {
		if why, ok := missing[f.Key]; ok {
			fmt.Fprintf(w, "           %s: %s\n", f.Label, missingWords(why))
		}
	}
}

// span writes how long something took, no finer than it matters.
func span(d time.Duration) string {
	minutes := int(d.Round(time.Minute).Minutes())
	switch {
	case minutes < 60:
		return fmt.Sprintf("%d min", minutes)
	case minutes < 48*60:
		return fmt.Sprintf("%d h %02d min", minutes/60, minutes%60)
	}
	return fmt.Sprintf("%d days", minutes/(24*60))
}

// valueLines prints the values that were given, each with its label and unit.
func valueLines(kind *record.Kind, body any) []string {
	var lines []string
	for _, f := range kind.Fields {
		text := f.Text(body)
		if text == "" || f.Type() == record.TypeYesNo && text == "no" {
			continue
		}
		for _, c := range f.Choices {
			if c.Value == text {
				text = c.Label
			}
		}
		if unit := f.Symbol(); unit != "" {
			text += " " + unit
		}
		lines = append(lines, f.Label+": "+oneLine(text))
	}
	return lines
}

// missingOf is never null in JSON.
func missingOf(m map[string]session.Missing) map[string]session.Missing {
	if m == nil {
		return map[string]session.Missing{}
	}
	return m
}

func missingWords(why session.Missing) string {
	if why == "" {
		return "open"
	}
	return strings.ReplaceAll(string(why), "_", " ")
}
