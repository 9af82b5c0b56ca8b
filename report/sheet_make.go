package report

import (
	"slices"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// SheetInput is what a session sheet is made from.
type SheetInput struct {
	Head    Head
	Session *session.Session
	History session.History    // what earlier sessions say
	Steps   []session.RunSheet // the run sheets in force, for the words of their steps; nil for the default ones
	Now     time.Time          // the present, for a session that still runs
}

// maker gathers the sheet of one session. It keeps the notes that its values
// ask for, and which kinds of entry found their place, so that what has no
// place of its own still comes among the events.
type maker struct {
	SheetInput
	s            *session.Session
	blank        bool
	paper        bool
	offsets      bool // the clocks change during the session
	began, ended time.Time
	notes        []Note
	marked       map[string]bool // kinds whose letters were given out
	placed       map[string]bool // kinds with a place of their own
}

func newMaker(in SheetInput) *maker {
	m := &maker{SheetInput: in, s: in.Session, marked: map[string]bool{}, placed: map[string]bool{}}
	if m.Steps == nil {
		m.Steps = []session.RunSheet{
			session.SheetFor(session.SetUp, session.RunSheet{}, m.s, m.Now), session.SheetFor(session.TakeOff, session.RunSheet{}, m.s, m.Now),
		}
	}
	m.began, _ = m.s.Began()
	m.ended, _ = m.s.Ended()
	opened, _ := m.s.Opened()
	m.paper = opened.Source == "paper"
	for i := range m.s.Log {
		_, a := m.s.Log[0].At.Zone()
		_, b := m.s.Log[i].At.Zone()
		m.offsets = m.offsets || a != b
	}
	return m
}

// clock is the time of day in the zone it was lived in, with its offset on a
// night that has an hour twice.
func (m *maker) clock(t time.Time) string {
	switch {
	case t.IsZero():
		return ""
	case m.offsets:
		return t.Format("15:04 -07:00")
	}
	return t.Format("15:04")
}

// moment is a time of day, with its date when that is another than the
// session's.
func (m *maker) moment(t time.Time) string {
	if len(m.s.Log) > 0 && unit.DateOf(t) != session.Night(m.s) {
		return t.Format("2 Jan ") + m.clock(t)
	}
	return m.clock(t)
}

func (m *maker) span(from, to time.Time) string {
	a, b := m.clock(from), m.clock(to)
	if a == b {
		return a
	}
	return joined(" – ", a, b)
}

func (m *maker) date() string {
	if len(m.s.Log) == 0 {
		return ""
	}
	d := session.Night(m.s)
	return d.Weekday().String() + " " + d.Long()
}

// zone names the clock that the times are read from, with its offset.
func (m *maker) zone() string {
	if len(m.s.Log) == 0 {
		return ""
	}
	first := m.s.Log[0].At
	offset := first.Format("-07:00")
	if m.offsets {
		offset = "clocks changed"
	}
	name := first.Location().String()
	if name == "Local" || name == "" {
		return "UTC" + offset
	}
	return name + " " + offset
}

// setUp is from the first entry to connecting, or to the last entry so far.
func (m *maker) setUp() string {
	if len(m.s.Log) == 0 {
		return ""
	}
	to := m.began
	if to.IsZero() {
		to = m.s.Log[len(m.s.Log)-1].At
	}
	return m.span(m.s.Log[0].At, to)
}

// tick offers words to tick on a form; on a sheet of a session it is blank.
func (m *maker) tick(words ...string) string {
	if !m.blank {
		return ""
	}
	var out []string
	for _, w := range words {
		out = append(out, "□\u00a0"+w)
	}
	return strings.Join(out, "  ")
}

func (m *maker) state() string {
	switch m.s.Phase() {
	case session.Done:
		return ""
	case session.ComingOff:
		return "coming off, not closed"
	case session.Running:
		return "still running"
	}
	return "setting up, not begun"
}

// last is the latest entry of a kind that counts, or nil. Asking for it gives
// the kind a place on the sheet.
func (m *maker) last(kind string) *session.Event {
	m.placed[kind] = true
	for i := len(m.s.Log) - 1; i >= 0; i-- {
		if e := &m.s.Log[i]; e.Kind == kind && e.Struck == nil {
			return e
		}
	}
	return nil
}

// fieldOf finds the description of a value. A name that is not in the table of
// kinds is a mistake in this package.
func fieldOf(kind, key string) record.Field {
	k, ok := record.Find(kind)
	if !ok {
		panic("report: no kind of entry " + kind)
	}
	f, ok := k.Field(key)
	if !ok {
		panic("report: " + kind + " has no value " + key)
	}
	return f
}

// text writes one value of an entry's body: the word of a choice, a figure
// with a true minus, a date as people say it.
func text(f record.Field, body any) string {
	v, ok := f.Of(body)
	if !ok {
		return ""
	}
	if d, ok := v.(unit.Date); ok {
		return d.Long()
	}
	s := f.Text(body)
	for _, c := range f.Choices {
		if c.Value == s {
			return c.Label
		}
	}
	if q, ok := v.(interface{ Digits(int) string }); ok {
		s = q.Digits(printed[f.Symbol()])
	}
	return minus(s)
}

// printed is how many decimals a quantity has at least, so that columns line
// up and 14 mS/cm is not taken for a guess.
var printed = map[string]int{"kg": 1, "°C": 1, "mS/cm": 1}

// lastWith is the latest entry of a kind that holds a value, or where none does
// the latest.
func (m *maker) lastWith(kind, key string) *session.Event {
	m.placed[kind] = true
	f := fieldOf(kind, key)
	for i := len(m.s.Log) - 1; i >= 0; i-- {
		if e := &m.s.Log[i]; e.Kind == kind && e.Struck == nil && f.Text(e.Body) != "" {
			return e
		}
	}
	return m.last(kind)
}

// value takes one value from the latest entry of a kind.
func (m *maker) value(kind, key string) Value { return m.valueIn(m.last(kind), kind, key) }

// valueIn takes one value from an entry of a kind; from none where it is nil.
func (m *maker) valueIn(e *session.Event, kind, key string) Value {
	f := fieldOf(kind, key)
	if e == nil {
		return Value{Unit: f.Symbol(), Marks: m.marks(kind)}
	}
	v := Value{Text: text(f, e.Body), Unit: f.Symbol(), Gap: gaps[e.Missing[key]], Marks: m.marks(kind)}
	if v.Text == "" && v.Gap == "" && f.Optional && f.Type() == record.TypeText {
		v.Gap = "–"
	}
	return v
}

// pair takes two values that are written together, 128/74.
func (m *maker) pair(kind, upper, lower string) Value {
	return m.pairIn(m.last(kind), kind, upper, lower)
}

func (m *maker) pairIn(e *session.Event, kind, upper, lower string) Value {
	a, b := m.valueIn(e, kind, upper), m.valueIn(e, kind, lower)
	switch {
	case a.Text == "" && b.Text == "":
		return a
	case b.Text == "":
		b.Text = "–"
	case a.Text == "":
		a.Text = "–"
	}
	a.Text += "/" + b.Text
	a.Gap = ""
	return a
}

func (m *maker) at(kind string) string {
	if e := m.last(kind); e != nil {
		return m.clock(e.At)
	}
	return ""
}

// part adds up the fields of a part and when it was written.
func (m *maker) part(kinds []string, fields ...Field) Part {
	var first, last time.Time
	for _, kind := range kinds {
		if e := m.last(kind); e != nil {
			if first.IsZero() || e.At.Before(first) {
				first = e.At
			}
			if e.At.After(last) {
				last = e.At
			}
		}
	}
	return Part{Times: m.span(first, last), Fields: slices.DeleteFunc(fields, func(f Field) bool { return f.Label == "" })}
}
