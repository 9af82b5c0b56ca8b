package report

import (
	"ebbline/report/chart"
	"ebbline/session"
)

// Head is whose document it is, as it stands on every page.
type Head struct {
	Name         string
	BirthYear    int
	Colour       string // the word of the profile's colour
	Number       string // hospital number
	Allergies    string
	Unit         string // name of the kidney unit
	Telephone    string // of the unit
	Prescription string // which version: who ordered it and when
}

// Printing is what the making of a document adds to it.
type Printing struct {
	At   string // "4 March 2026 at 07:12", as the caller's clock and zone say
	Hash string // of the record this was made from
	Demo bool   // invented data: every page says so
}

// A Sheet is one session as a document. A value that is not in the record is
// blank, and a blank is ruled, so that it can be seen and filled in.
type Sheet struct {
	Head
	Date      string // the evening or morning the session belongs to
	Zone      string // whose clock the times are by
	ID        string
	State     string // empty for a closed session; else how far it has come
	Facts     []Field
	SetUp     string // from the first entry to connecting
	Fit       Part
	Before    Part
	Water     Part
	Opened    Part
	Plan      Plan
	StartLine []CheckLine
	Needles   Part
	Grid      Grid
	Ebb       *chart.Ebb
	Pressures *chart.Lines
	Events    []Line
	EventsAt  string // from connecting to the end
	After     Part
	Calls     []Line // about this session
	Undone    []Line // what stopped the start and was taken back
	Overrides []Line
	Notes     []Note // what the letters beside values say
	Open      []string
	Blank     bool // a form for a day on paper
}

// A Part is a group of fields with the times it was written at.
type Part struct {
	Heading string // in the place of the part's own; empty for that
	Times   string // "17:50 – 18:35"
	Fields  []Field
}

// A Field is one line of the sheet.
type Field struct {
	Label string
	At    string // when, where it matters
	Value Value
}

// A Value is a figure or a few words.
type Value struct {
	Text  string // empty is blank
	Unit  string
	Gap   string   // why there is no value, in words
	Marks []string // letters of the notes that belong to it
}

// Blank reports whether there is nothing to show but a rule.
func (v Value) Blank() bool { return v.Text == "" && v.Gap == "" }

// Plan is the sum of the fluid to remove and what was dialled in.
type Plan struct {
	At       string
	Sum      []Term
	Set      []Field // what goes into the machine
	Ordered  []Field // what the prescription says
	Cautions []string
}

// A Term is one line of the sum.
type Term struct {
	Sign  string // "", "−", "+" or "="
	Label string
	Value Value
	Total bool
}

// A CheckLine is one line of the start line.
type CheckLine struct {
	State  string // ready, to be looked at, not done, stop, gone on with a reason, or to tick
	Title  string
	Words  string
	Reason string
	Marks  []string
}

// Sign is the shape that stands for the state.
func (c CheckLine) Sign() string {
	switch c.State {
	case checkReady:
		return "✓"
	case checkLook:
		return "▲"
	case checkStop:
		return "✗"
	case checkReason:
		return "◆"
	case checkTick:
		return "□"
	}
	return "○"
}

// Passed reports whether there is nothing to say about it.
func (c CheckLine) Passed() bool {
	return c.State == checkReady || c.State == checkTick
}

const (
	checkReady  = "ready"
	checkLook   = "to be looked at"
	checkStop   = "stop"
	checkReason = "gone on with a reason"
	checkOpen   = "not done"
	checkTick   = "to tick"
)

// Grid is the table of readings.
type Grid struct {
	Columns []Column
	Rows    []Row
	Legend  []string // the short words used in its cells
}

// A Column is one quantity of the grid.
type Column struct{ Label, Unit string }

// A Row is one line of the grid. Whole stands across all columns instead of
// cells.
type Row struct {
	At     string
	Cells  []Value
	Note   string
	Whole  string
	Struck bool
	Marks  []string
}

// A Line is something that happened, in words.
type Line struct {
	At     string
	Title  string
	Words  string
	Struck bool
	Marks  []string
}

// A Note says what a letter stands for.
type Note struct{ Letter, Words string }

// SheetOf makes the sheet of a session.
func SheetOf(in SheetInput) Sheet {
	m := newMaker(in)
	s := Sheet{Head: in.Head, ID: in.Session.ID, Date: m.date(), Zone: m.zone(), State: m.state()}
	s.Facts = m.facts()
	s.Fit = m.fit()
	s.Before = m.before()
	s.Water = m.water()
	s.Opened = m.opened()
	s.Plan = m.plan()
	s.StartLine = m.startLine()
	s.Needles = m.needles()
	s.Grid = m.grid()
	s.Calls, s.Undone = m.calls(), m.undone()
	s.Ebb, s.Pressures = m.charts()
	s.Events, s.EventsAt, s.SetUp = m.events(), m.span(m.began, m.ended), m.setUp()
	s.After = m.after()
	s.Overrides = m.overrides()
	s.Open = m.open()
	s.Notes = m.notes
	return s
}

// BlankSheet makes the form for a day on paper: the same sheet with nothing
// on it but the head and what the prescription says.
func BlankSheet(head Head, rx *session.Prescription, machine session.Machine) Sheet {
	m := newMaker(SheetInput{Head: head, Session: &session.Session{Rx: rx, Machine: machine}})
	m.blank = true
	s := Sheet{Head: head, Blank: true}
	s.Facts = m.facts()
	s.Fit = m.fit()
	s.Before = m.before()
	s.Water = m.water()
	s.Opened = m.opened()
	s.Plan = m.plan()
	s.StartLine = m.startLine()
	s.Needles = m.needles()
	s.Grid = m.grid()
	for range blankRows {
		s.Grid.Rows = append(s.Grid.Rows, Row{Cells: make([]Value, len(s.Grid.Columns))})
	}
	s.Events = make([]Line, blankEvents)
	s.After = m.after()
	return s
}

// How many lines a blank form offers: a night of hourly readings, and the
// events of a poor evening.
const (
	blankRows   = 12
	blankEvents = 12
)
