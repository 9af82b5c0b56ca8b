package main

import (
	"flag"
	"fmt"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
)

var calendarVerb = verb{
	name:  "calendar",
	args:  "[-o FILE] [--full] [--json] [--person ID] [--on DATE]",
	short: "write sessions, rounds and deliveries of eight weeks as a calendar",
	long: `
Writes an iCalendar file (RFC 5545) of the coming eight weeks: sessions as instants
in UTC, so that a change of the clocks moves none, and what falls due, samples and
deliveries as whole days. Titles say "Busy" or "To do in the house" and nothing more;
--full says what it is.

The same calendar stands at a secret address of the pages, for a telephone to fetch.
An alarm in a calendar is a courtesy: nothing on which a session hangs may wait for
one.

  ebbline calendar -o ebbline.ics`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file, who := fileFlag(fs), whoFlags(fs)
		to := fs.String("o", "", "write to `FILE`; else to standard output")
		full := fs.Bool("full", false, "titles that say what it is")
		asJSON := fs.Bool("json", false, "print the events as JSON instead")
		return func(t *terminal, args []string) error {
			if err := noWords("calendar", args); err != nil {
				return err
			}
			if *asJSON && *to != "" {
				return &usageError{verb: "calendar", words: "JSON goes to standard output: leave out -o, or --json."}
			}
			return withPerson(file, who, func(h *record.Household, m *record.Member, at time.Time) error {
				titles := household.TitlesBusy
				if *full {
					titles = household.TitlesFull
				}
				c := household.CalendarOf(h, m, at, titles)
				if *asJSON {
					out := []eventOut{}
					for _, e := range c.Events {
						one := eventOut{UID: e.UID, Title: e.Summary}
						if e.Day.IsZero() {
							end := e.Start.Add(e.Length)
							one.Start, one.End = &e.Start, &end
						} else {
							day := e.Day.String()
							one.Day = &day
						}
						out = append(out, one)
					}
					return printJSON(&t.out, out)
				}
				ics, err := c.Bytes()
				if err != nil {
					return err
				}
				if *to == "" || *to == "-" {
					t.out.Write(ics)
					return nil
				}
				if err := replaceFile(*to, ics); err != nil {
					return err
				}
				fmt.Fprintf(&t.out, "Written: %s, %d events\n", *to, len(c.Events))
				return nil
			})
		}
	},
}

// eventOut is one event of `calendar --json`.
type eventOut struct {
	UID   string     `json:"uid"`
	Title string     `json:"title"`
	Start *time.Time `json:"start"`
	End   *time.Time `json:"end"`
	Day   *string    `json:"day"` // of what takes a whole day
}
