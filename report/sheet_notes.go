package report

import (
	"fmt"
	"strings"

	"ebbline/record"
	"ebbline/session"
)

// The notes say what was corrected, struck out, superseded or typed in late.
// A letter in brackets stands beside the value, since a raised figure would
// be read as part of it.

// marks gives the letters that belong to the entries of a kind which stands
// once on the sheet, the first time it is asked: corrections and lateness of the one that counts, and
// every other one there was, struck out or superseded.
func (m *maker) marks(kind string) []string {
	if m.marked[kind] {
		return nil // they stand at the first value of the kind
	}
	m.marked[kind] = true
	counts := m.last(kind)
	var out []string
	for i := range m.s.Log {
		e := &m.s.Log[i]
		switch {
		case e.Kind != kind:
		case e == counts:
			out = append(out, m.marksOf(e)...)
		case e.Struck != nil:
			out = append(out, m.note(fmt.Sprintf("struck out: %s%s", m.whole(e), m.strike(e))))
		default:
			out = append(out, m.note(fmt.Sprintf("earlier, at %s: %s", m.moment(e.At), m.whole(e))))
		}
	}
	return out
}

// marksOf gives the letters that belong to one entry.
func (m *maker) marksOf(e *session.Event) []string {
	if e == nil {
		return nil
	}
	var out []string
	for i, was := range e.Was {
		next := session.Version{At: e.At, Written: e.Written, By: e.By, Body: e.Body, Missing: e.Missing}
		if i+1 < len(e.Was) {
			next = e.Was[i+1]
		}
		out = append(out, m.note(m.corrected(e.Kind, was, next)))
	}
	if d, late := e.Late(); late && !m.paper {
		out = append(out, m.note("typed in "+later(d)))
	}
	return out
}

func (m *maker) note(words string) string {
	n := Note{Letter: letter(len(m.notes)), Words: words}
	m.notes = append(m.notes, n)
	return n.Letter
}

// corrected says what an entry said before, and who changed it when and why.
func (m *maker) corrected(kind string, was, is session.Version) string {
	var changed []string
	if !was.At.Equal(is.At) {
		changed = append(changed, "time was "+m.moment(was.At))
	}
	if k, ok := record.Find(kind); ok {
		for _, f := range k.Fields {
			f = f.By(m.s.Rx)
			a, b := said(f, was.Body, was.Missing), said(f, is.Body, is.Missing)
			if a == b {
				continue
			}
			if a == "" {
				a = "blank"
			}
			changed = append(changed, lower(f.Label)+" was "+a)
		}
	}
	if len(changed) == 0 {
		changed = []string{"written again without a change"}
	}
	return fmt.Sprintf("corrected %s%s: %s. Reason: %s", m.moment(is.Written.In(is.At.Location())), by(is.By), strings.Join(changed, ", "), reason(was.Reason))
}

// said is what stands for a value: itself with its unit, or in words why there
// is none.
func said(f record.Field, body any, missing map[string]session.Missing) string {
	if s := text(f, body); s != "" {
		return joined("\u00a0", s, f.Symbol())
	}
	return gaps[missing[f.Key]]
}

func by(who string) string {
	if who == "" {
		return ""
	}
	return " by " + who
}

func reason(s string) string {
	if s == "" {
		return "none given"
	}
	return s
}

func (m *maker) strike(e *session.Event) string {
	return fmt.Sprintf(" – struck out %s%s. Reason: %s", m.moment(e.Struck.At.In(e.At.Location())), by(e.Struck.By), reason(e.Struck.Reason))
}

// whole is everything an entry holds, in one line.
func (m *maker) whole(e *session.Event) string {
	k, ok := record.Find(e.Kind)
	if !ok {
		return e.Kind
	}
	parts := []string{}
	for _, f := range k.Fields {
		f = f.By(m.s.Rx)
		s := said(f, e.Body, e.Missing)
		switch yesNo := f.Type() == record.TypeYesNo; {
		case s == "", yesNo && s == "no", strings.HasSuffix(f.Key, "_id"): // an id tells a reader nothing
		case yesNo:
			parts = append(parts, lower(f.Label))
		default:
			parts = append(parts, lower(f.Label)+" "+s)
		}
	}
	if len(parts) == 0 {
		return k.Title
	}
	return k.Title + ": " + strings.Join(parts, ", ")
}

// lower starts a label small, unless it begins with a name or a sign in
// capitals.
func lower(s string) string {
	if len(s) > 1 && s[0] >= 'A' && s[0] <= 'Z' && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}
