package exchange

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os/exec"
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"pgregory.net/rapid"

	"ebbline/unit"
)

// parsed is what an independent reader makes of a file.
type parsed struct {
	UID, Summary, Description, Start, End, Class, Transp string
	Sequence                                             int
	Alarms                                               []float64 // seconds from the start
}

const reader = `
import sys, json, icalendar
out = []
for e in icalendar.Calendar.from_ical(sys.stdin.buffer.read()).walk('VEVENT'):
    def when(v):
        v = v.dt
        return v.isoformat()
    out.append({'UID': str(e['UID']), 'Summary': str(e['SUMMARY']), 'Description': str(e.get('DESCRIPTION', '')), 'Start': when(e['DTSTART']), 'End': when(e['DTEND']),
      'Class': str(e.get('CLASS', '')), 'Transp': str(e.get('TRANSP', '')), 'Sequence': int(e['SEQUENCE']),
      'Alarms': [a['TRIGGER'].dt.total_seconds() for a in e.walk('VALARM')]})
json.dump(out, sys.stdout)
`

// readAnew reads a file with Debian's python3-icalendar, which shares no code
// with the writer. The test fails where it is not there.
func readAnew(t failing, file []byte) []parsed {
	python := ""
	for _, p := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(p, "-c", "import icalendar").Run() == nil {
			python = p
			break
		}
	}
	if python == "" {
		t.Fatalf("no python3 with icalendar is there: apt-get install python3-icalendar")
	}
	cmd := exec.Command(python, "-c", reader)
	cmd.Stdin = bytes.NewReader(file)
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s\n%s", err, complaint.String(), file)
	}
	var events []parsed
	if err := json.Unmarshal(out, &events); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	return events
}

type failing interface {
	Fatalf(format string, args ...any)
}

func TestCalendarReadByAnother(t *testing.T) {
	zone, err := time.LoadLocation("Australia/Sydney")
	if err != nil {
		t.Fatal(err)
	}
	made := time.Date(2026, 3, 30, 9, 0, 0, 0, zone)
	c := Calendar{Name: "House; week, by week", Made: made, Events: []Event{
		{UID: "a@ebbline.invalid", Sequence: 12, Start: time.Date(2026, 4, 4, 18, 0, 0, 0, zone), Length: 5 * time.Hour, Summary: "Dialysis, 4 h; with a comma",
			Description: "first line\nsecond \\ line, " + strings.Repeat("ščž ", 60), Alarms: []time.Duration{-time.Hour, -90 * time.Second}},
		{UID: "b@ebbline.invalid", Start: time.Date(2026, 4, 6, 18, 0, 0, 0, zone), Length: 5 * time.Hour, Summary: "Busy"},
		{UID: "c@ebbline.invalid", Day: unit.NewDate(2026, 12, 31), Summary: "Delivery", Free: true, Alarms: []time.Duration{9 * time.Hour}},
	}}
	file, err := c.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	events := readAnew(t, file)
	want := []parsed{
		{UID: "a@ebbline.invalid", Sequence: 12, Summary: c.Events[0].Summary, Description: c.Events[0].Description, Start: "2026-04-04T07:00:00+00:00", End: "2026-04-04T12:00:00+00:00", Class: "PRIVATE", Alarms: []float64{-3600, -60}},
		{UID: "b@ebbline.invalid", Summary: "Busy", Start: "2026-04-06T08:00:00+00:00", End: "2026-04-06T13:00:00+00:00", Class: "PRIVATE", Alarms: []float64{}},
		{UID: "c@ebbline.invalid", Summary: "Delivery", Start: "2026-12-31", End: "2027-01-01", Class: "PRIVATE", Transp: "TRANSPARENT", Alarms: []float64{32400}},
	}
	if got := fmt.Sprintf("%+v", events); got != fmt.Sprintf("%+v", want) {
		t.Errorf("read back as\n%s\nwant\n%+v", got, want)
	}
	again, _ := c.Bytes()
	if !bytes.Equal(file, again) {
		t.Error("the same calendar gives other bytes")
	}
}

// Whatever a person may have typed comes back from the independent reader as it
// was: long, of many octets a character, full of what must be escaped. Backslashes
// are left to [TestCalendarLines]: this reader undoes an escape twice, so that a
// backslash before an n becomes a new line.
func TestAnyTextReadByAnother(t *testing.T) {
	const signs = "aé漢\U0001f9ea;,:\"\n \tnN-"
	texts := rapid.StringOfN(rapid.RuneFrom([]rune(signs)), 1, 400, -1)
	c := Calendar{Made: time.Unix(0, 0)}
	for i := range 150 {
		c.Events = append(c.Events, Event{UID: fmt.Sprintf("%d@ebbline.invalid", i), Start: time.Unix(1e9, 0), Length: time.Hour, Summary: "s" + texts.Example(i), Description: "d" + texts.Example(1000+i)})
	}
	file, err := c.Bytes()
	if err != nil {
		t.Fatal(err)
	}
	events := readAnew(t, file)
	if len(events) != len(c.Events) {
		t.Fatalf("%d of %d events were read", len(events), len(c.Events))
	}
	for i, e := range events {
		if e.UID != c.Events[i].UID || e.Summary != c.Events[i].Summary || e.Description != c.Events[i].Description {
			t.Errorf("%s: %q and %q were read as %q and %q", e.UID, c.Events[i].Summary, c.Events[i].Description, e.Summary, e.Description)
		}
	}
}

// Lines end in CRLF, hold at most 75 octets and are never cut inside a
// character; any text comes back as it was, without its control characters.
func TestCalendarLines(t *testing.T) {
	rapid.Check(t, func(rt *rapid.T) {
		summary, description := rapid.StringN(1, 120, -1).Draw(rt, "summary"), rapid.String().Draw(rt, "description")
		c := Calendar{Name: summary, Made: time.Unix(0, 0), Events: []Event{{UID: "x@y", Start: time.Unix(1e9, 0), Length: time.Hour, Summary: summary, Description: description}}}
		file, err := c.Bytes()
		if strings.TrimSpace(summary) == "" {
			if err == nil {
				rt.Fatalf("a summary of nothing but spaces was taken")
			}
			return
		}
		if err != nil {
			rt.Fatal(err)
		}
		if !bytes.HasSuffix(file, []byte("END:VCALENDAR\r\n")) {
			rt.Fatalf("it does not end as it must: %q", file)
		}
		for _, line := range strings.Split(strings.TrimSuffix(string(file), "\r\n"), "\r\n") {
			if len(line) > 75 || !utf8.ValidString(line) || strings.ContainsAny(line, "\r\n") {
				rt.Fatalf("line of %d octets: %q", len(line), line)
			}
		}
		plain := strings.ReplaceAll(string(file), "\r\n ", "")
		_, rest, _ := strings.Cut(plain, "\r\nSUMMARY:")
		value, _, _ := strings.Cut(rest, "\r\n")
		want := strings.Map(func(r rune) rune {
			if unicode.IsControl(r) && r != '\t' && r != '\n' {
				return -1
			}
			return r
		}, strings.ReplaceAll(strings.ReplaceAll(summary, "\r\n", "\n"), "\r", "\n"))
		if got := unescaped(value); got != want {
			rt.Fatalf("%q was written as %q, which reads as %q", summary, value, got)
		}
	})
}

// unescaped reads a text value sign by sign (RFC 5545, section 3.3.11).
func unescaped(s string) string {
	var out strings.Builder
	for i := 0; i < len(s); i++ {
		switch {
		case s[i] != '\\' || i+1 == len(s):
			out.WriteByte(s[i])
		case s[i+1] == 'n' || s[i+1] == 'N':
			out.WriteByte('\n')
			i++
		default:
			i++
			out.WriteByte(s[i])
		}
	}
	return out.String()
}

func TestCalendarRefuses(t *testing.T) {
	good := Event{UID: "a@b", Day: unit.NewDate(2026, 1, 1), Summary: "x"}
	for name, change := range map[string]func(*Event){
		"no uid":     func(e *Event) { e.UID = "" },
		"uid spaced": func(e *Event) { e.UID = "a b\r\nX:1" },
		"no summary": func(e *Event) { e.Summary = "  " },
		"no time":    func(e *Event) { e.Day = unit.Date{} },
		"two times":  func(e *Event) { e.Start = time.Unix(1e9, 0) },
		"no length":  func(e *Event) { e.Day, e.Start = unit.Date{}, time.Unix(1e9, 0) },
	} {
		e := good
		change(&e)
		if _, err := (Calendar{Events: []Event{e}}).Bytes(); err == nil {
			t.Errorf("%s: taken", name)
		}
	}
	if _, err := (Calendar{Events: []Event{good, good}}).Bytes(); err == nil {
		t.Error("two events with one UID: taken")
	}
}
