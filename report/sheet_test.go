package report

import (
	"bytes"
	"fmt"
	"io"
	"strings"
	"testing"
	"time"

	"ebbline/report/internal/golden"
	"ebbline/session"
	"ebbline/unit"
)

func eveningSheet(t testing.TB) Sheet {
	return SheetOf(SheetInput{Head: ilsabet, Session: evening(t), History: history(), Now: made})
}

func pageOf(t testing.TB, s Sheet, p Printing) string {
	t.Helper()
	h, err := SheetHTML(s, p)
	if err != nil {
		t.Fatal(err)
	}
	return string(h)
}

func TestSheetLooksAsSeen(t *testing.T) {
	s := eveningSheet(t)
	golden.Check(t, "sheet.txt", sheetFile(t, s, printing).columns())
	golden.Check(t, "sheet.html", pageOf(t, s, printing))
}

func TestBlankFormLooksAsSeen(t *testing.T) {
	s := BlankSheet(ilsabet, prescription(), machine)
	f := sheetFile(t, s, printing)
	golden.Check(t, "blank.txt", f.columns())
	golden.Check(t, "blank.html", pageOf(t, s, printing))
	if n := f.pages(); n != 1 {
		t.Errorf("the form has %d sides", n)
	}
	if got := strings.Count(pageOf(t, s, printing), `class="sheet-blank"`); got < 150 {
		t.Errorf("the form offers %d blanks, want a ruled one for every value", got)
	}
	has(t, "the form", f.words(), "58.5 kg", "□ Fit to start", "□ Machine disinfected", "□ not felt", "Session sheet, to fill in")
}

func TestBlankFormWithoutAPrescription(t *testing.T) {
	f := sheetFile(t, BlankSheet(Head{}, nil, session.Machine{}), Printing{At: "today"})
	f.sound()
	if f.pages() != 1 {
		t.Error("the form of an empty record is not one side")
	}
}

// ordinary is a session with so many rows and events, with nothing left out
// before and after.
func ordinary(t testing.TB, rows, events int) *session.Session {
	s := evening(t)
	s.Log = nil
	for _, e := range evening(t).Log {
		switch e.Body.(type) {
		case *session.Opened, *session.Fitness, *session.AccessCheck, *session.WeighIn, *session.VitalsBefore, *session.Chlorine, *session.SelfTest,
			*session.FluidCheck, *session.BathLabel, *session.Supply, *session.HeparinDrawn, *session.AnaestheticDrawn, *session.FlushDrawn,
			*session.AgreedPlan, *session.ReadBack, *session.Needling, *session.Connected, *session.CameOff, *session.Holding, *session.VitalsAfter,
			*session.WeighOut, *session.Circuit, *session.Disinfection, *session.Closed:
			s.Add(e)
		}
	}
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	d.s, d.n = s, 500
	for i := range rows {
		d.add(d.at(18, 50).Add(time.Duration(i)*260*time.Minute/time.Duration(rows)), &session.Reading{
			Systolic: ptr(unit.Pressure(128 - i)), Diastolic: ptr(unit.Pressure(71)), Pulse: ptr(unit.Pulse(74)), BloodFlow: ptr(unit.Flow(300)),
			Arterial: ptr(unit.Pressure(-150)), Venous: ptr(unit.Pressure(148)), TMP: ptr(unit.Pressure(58)), Rate: ptr(unit.Rate(584)),
			Removed: ptr(unit.Volume(200 * i)), Conduct: ptr(unit.Conductivity(1400)), DialTemp: ptr(unit.Temperature(360)), Heparin: ptr(unit.Dose(1500 + 200*i)),
		})
	}
	for i := range events - 1 { // connecting is one already
		d.add(d.at(18, 55).Add(time.Duration(i)*17*time.Minute), &session.Alarm{Words: "venous pressure high, line was kinked", Looked: true, Did: "laid it straight"})
	}
	return s
}

func TestOrdinarySessionKeepsToOneSide(t *testing.T) {
	for _, tt := range []struct{ rows, events int }{{0, 1}, {5, 4}, {9, 10}, {12, 14}} {
		s := SheetOf(SheetInput{Head: ilsabet, Session: ordinary(t, tt.rows, tt.events), History: history(), Now: made})
		if len(s.Grid.Rows) != tt.rows || len(s.Events) != tt.events {
			t.Fatalf("%d rows and %d events made, want %d and %d", len(s.Grid.Rows), len(s.Events), tt.rows, tt.events)
		}
		f := sheetFile(t, s, printing)
		f.sound()
		if n := f.pages(); n != 1 {
			t.Errorf("%d rows and %d events take %d sides", tt.rows, tt.events, n)
		}
		if size := f.smallest(); size < 6.5 {
			t.Errorf("%d rows and %d events are set in letters of %.2f points", tt.rows, tt.events, size)
		}
	}
	f := sheetFile(t, eveningSheet(t), printing)
	if f.pages() != 1 || f.smallest() < 6.5 {
		t.Errorf("a poor evening takes %d sides in letters of %.2f points", f.pages(), f.smallest())
	}
}

func TestLongSessionGoesOverThePage(t *testing.T) {
	s := SheetOf(SheetInput{Head: ilsabet, Session: ordinary(t, 50, 40), History: history(), Now: made})
	f := sheetFile(t, s, printing)
	f.sound()
	sides := f.sides()
	if len(sides) < 2 || len(sides) != f.pages() {
		t.Fatalf("50 rows and 40 events: %d sides of words on %d pages", len(sides), f.pages())
	}
	for i, side := range sides {
		has(t, fmt.Sprintf("side %d", i+1), side, ilsabet.Name, "born 1971", "fern", s.ID, "Tuesday 3 March 2026", "Europe/Oslo",
			fmt.Sprintf("page %d of %d", i+1, len(sides)), "printed 4 March 2026 at 07:12", printing.Hash)
		if strings.Contains(side, "DEMONSTRATION") {
			t.Errorf("side %d of a real record is marked as invented", i+1)
		}
	}
	if got := strings.Count(strings.Join(sides, "\n"), "venous pressure high, line was kinked"); got != 39 {
		t.Errorf("%d of 39 alarms are on the paper", got)
	}
	if f.smallest() < 6.5 {
		t.Errorf("letters of %.2f points", f.smallest())
	}
}

func TestDemonstrationIsMarkedOnEverySide(t *testing.T) {
	demo := printing
	demo.Demo = true
	s := SheetOf(SheetInput{Head: ilsabet, Session: ordinary(t, 50, 40), Now: made})
	for i, side := range sheetFile(t, s, demo).sides() {
		has(t, fmt.Sprintf("side %d", i+1), side, "DEMONSTRATION, invented data")
		if strings.Count(side, "DEMONSTRATION") < 1 {
			t.Errorf("side %d carries no watermark", i+1)
		}
	}
	has(t, "the page", pageOf(t, s, demo), "DEMONSTRATION – everything on this sheet is invented")
}

func TestSameRecordGivesTheSameBytes(t *testing.T) {
	var a, b bytes.Buffer
	for _, w := range []*bytes.Buffer{&a, &b} {
		if err := eveningSheet(t).PDF(w, printing, made); err != nil {
			t.Fatal(err)
		}
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("two PDFs of one record differ")
	}
}

// What cannot be left off: the correction with both values and the reason,
// the struck reading, the late entry, the reason for going on, the first test.
func TestSheetShowsWhatWasChanged(t *testing.T) {
	s := eveningSheet(t)
	for where, text := range map[string]string{"the PDF": sheetFile(t, s, printing).words(), "the page": pageOf(t, s, printing)} {
		has(t, where, text, "weight was 64.1", "digits swapped", "61.4", "8800", "one nought too many", "typed in 2", "20", "min later",
			"heparin vial opened yesterday", "earlier, at 17:58", "0.15")
	}
	page := pageOf(t, s, printing)
	has(t, "the page", page, `<tr class="sheet-struck"><th scope="row">20:31`)
	for _, r := range s.Grid.Rows {
		if r.Struck != (r.At == "20:31") {
			t.Errorf("row %s: struck is %v", r.At, r.Struck)
		}
	}
}

// A body temperature taken while running has a column of its own, on paper and
// page; a sheet without one has no such column.
func TestBodyTemperatureOnTheSheet(t *testing.T) {
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true})
	d.add(d.at(18, 0), &session.Connected{})
	d.add(d.at(19, 0), &session.Reading{Pulse: ptr(unit.Pulse(70))})
	make := func() Sheet { return SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: d.at(20, 0)}) }
	if n := len(make().Grid.Columns); n != len(gridColumns) {
		t.Errorf("%d columns without a temperature", n)
	}
	d.add(d.at(19, 30), &session.Reading{BodyTemp: ptr(unit.Temperature(384))})
	s := make()
	if c := s.Grid.Columns[2]; c.Label != "Body" || c.Unit != "°C" || s.Grid.Rows[1].Cells[2].Text != "38.4" || s.Grid.Rows[0].Cells[1].Text != "70" {
		t.Errorf("%+v", s.Grid)
	}
	for where, text := range map[string]string{"the PDF": sheetFile(t, s, printing).words(), "the page": pageOf(t, s, printing)} {
		has(t, where, text, "38.4", "Body")
	}
}

// The night on which 01:30 comes twice: both readings are there, in order,
// each with its offset.
func TestNightWithAnHourTwice(t *testing.T) {
	d := newDiary(t, "Europe/London", "2026-10-24")
	d.add(d.at(21, 30), &session.Opened{Place: "home", Source: "live", Confirmed: true})
	on := d.at(22, 30)
	d.add(on, &session.Connected{})
	for i, pulse := range []int{61, 62, 63, 64} {
		d.add(on.Add(time.Duration(120+i*60)*time.Minute), &session.Reading{Pulse: ptr(unit.Pulse(pulse))})
	}
	d.add(on.Add(9*time.Hour), &session.CameOff{Returned: "all"})
	s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: on.Add(10 * time.Hour)})
	var times []string
	for _, r := range s.Grid.Rows {
		times = append(times, r.At+" "+r.Cells[1].Text)
	}
	want := "00:30 +01:00 61, 01:30 +01:00 62, 01:30 +00:00 63, 02:30 +00:00 64"
	if got := strings.Join(times, ", "); got != want {
		t.Errorf("rows %s\nwant %s", got, want)
	}
	if s.Date != "Saturday 24 October 2026" {
		t.Errorf("the night belongs to %s", s.Date)
	}
	for _, f := range s.After.Fields {
		if f.Label == "Treated" && !strings.HasPrefix(f.Value.Text, "9\u00a0h") {
			t.Errorf("treated %q, want 9 h by the instants", f.Value.Text)
		}
	}
	has(t, "the paper", sheetFile(t, s, printing).words(), "01:30 +01:00", "01:30 +00:00", "clocks 02:00 → 01:00")
}

func TestPaperSessionSaysWhenItWasTyped(t *testing.T) {
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	for i, body := range []any{&session.Opened{Place: "home", Source: "paper", Confirmed: true}, &session.Connected{}, &session.Drink{Volume: 100}, &session.CameOff{Returned: "all"}} {
		d.add(d.at(17+i, 0), body).Written = d.at(17+24+9, 0)
	}
	s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: made})
	has(t, "the page", pageOf(t, s, printing), "on paper, typed in 1\u00a0day 6\u00a0h to 1\u00a0day 9\u00a0h later")
	if len(s.Notes) != 0 {
		t.Errorf("each line is marked late though the head says all were: %v", s.Notes)
	}
}

func TestRunningSheetSaysSo(t *testing.T) {
	full := evening(t)
	s := &session.Session{ID: full.ID, Rx: full.Rx, Machine: full.Machine}
	for _, e := range full.Log {
		if e.At.Before(time.Date(2026, 3, 3, 20, 0, 0, 0, e.At.Location())) {
			s.Add(e)
		}
	}
	now := s.Log[len(s.Log)-1].At.Add(time.Minute)
	sheet := SheetOf(SheetInput{Head: ilsabet, Session: s, Now: now})
	if sheet.State != "still running" || sheet.Ebb == nil || !sheet.Ebb.Now.Equal(now) {
		t.Errorf("state %q, ebb %+v", sheet.State, sheet.Ebb)
	}
	has(t, "the paper", sheetFile(t, sheet, printing).words(), "still running", "now ")
}

// A step that was left out is told in the words of the run sheet.
func TestStepLeftOutHasItsWords(t *testing.T) {
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true})
	first := session.DefaultSetUp().Steps[0]
	d.add(d.at(17, 5), &session.StepDone{Phase: "set_up", Step: first.ID, State: "not_done", Note: "done by Torleiv before"})
	d.add(d.at(17, 6), &session.StepDone{Phase: "set_up", Step: session.DefaultSetUp().Steps[1].ID, State: "done"})
	page := pageOf(t, SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: d.at(18, 0)}), printing)
	has(t, "the page", page, first.Words[:12], "done by Torleiv before", "1 step ticked")
}

func BenchmarkSheetPDF(b *testing.B) {
	in := SheetInput{Head: ilsabet, Session: evening(b), History: history(), Now: made}
	for b.Loop() {
		if err := SheetOf(in).PDF(io.Discard, printing, made); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkSheetHTML(b *testing.B) {
	in := SheetInput{Head: ilsabet, Session: evening(b), History: history(), Now: made}
	for b.Loop() {
		if _, err := SheetHTML(SheetOf(in), printing); err != nil {
			b.Fatal(err)
		}
	}
}

// The four kinds of missing stand in the notes of what was corrected and of what
// was struck out: "blank" would say that nobody had looked.
func TestNotesSayWhyAValueWasMissing(t *testing.T) {
	s := evening(t)
	at := s.Log[len(s.Log)-1].At
	pulse := unit.Pulse(77)
	after := &session.VitalsAfter{Pulse: &pulse}
	s.Add(session.Event{ID: "after-2", Kind: "vitals_after", At: at, Written: at, Body: after, Missing: map[string]session.Missing{"standing_systolic_mmhg": session.NotDone},
		Was: []session.Version{{ID: "after-1", At: at, Written: at, Body: after, Missing: map[string]session.Missing{"standing_systolic_mmhg": session.NotRecorded}, Reason: "asked again"}}})
	s.Add(session.Event{ID: "holding-1", Kind: "holding", At: at, Written: at, Body: &session.Holding{}, Missing: map[string]session.Missing{"arterial_min": session.DoesNotApply},
		Struck: &session.Strike{At: at, Reason: "of another day"}})
	m := &maker{s: s, marked: map[string]bool{}}
	m.marksOf(s.Find("after-2"))
	if words := m.notes[0].Words; !strings.Contains(words, "standing, upper was not recorded") {
		t.Errorf("the correction says %q", words)
	}
	if words := m.whole(s.Find("holding-1")); !strings.Contains(words, "arterial site does not apply") {
		t.Errorf("what was struck out is %q", words)
	}
}

// What was never ordered, and what there was nothing before, is no blank.
func TestNoBlankForWhatWasNotOrdered(t *testing.T) {
	one := evening(t)
	rx := *one.Rx
	rx.Heparin = "none"
	one.Rx = &rx
	kept := one.Log[:0:0]
	for _, e := range one.Log {
		if e.Kind != "heparin_drawn" {
			kept = append(kept, e)
		}
	}
	one.Log = kept
	page := pageOf(t, SheetOf(SheetInput{Head: ilsabet, Session: one, Now: made}), printing)
	for _, words := range []string{"none ordered", "no session before this one"} {
		if !strings.Contains(page, words) {
			t.Errorf("the sheet does not say %q", words)
		}
	}
}
