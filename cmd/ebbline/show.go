package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"strings"
	"text/tabwriter"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

var showVerb = verb{
	name:  "show",
	args:  "[session DATE|ID [--at TIME]] [--json]",
	short: "print the record as it stands, or one session of it",
	long: `
Prints the household: its unit and machine, each person's prescription, and
their sessions. With "session" and a date (YYYY-MM-DD; a night session belongs
to the evening it began) or an id, it prints that session with everything in it,
what was corrected and struck out included.

--at TIME (such as 2026-03-02T17:40:00+02:00) prints a session as it stood at
that moment: what had happened by then, whenever it was written down.

--json prints the same for a program; docs/commands.md explains its keys.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file := fileFlag(fs)
		asJSON := fs.Bool("json", false, "print JSON")
		at := fs.String("at", "now", "a session as it stood at this `TIME`")
		return func(t *terminal, args []string) error { return runShow(t, args, file, *at, *asJSON) }
	},
}

func runShow(t *terminal, args []string, file *place, at string, asJSON bool) (err error) {
	if len(args) != 0 && (len(args) != 2 || args[0] != "session") {
		return &usageError{verb: "show", words: "Say `show`, or `show session` with a date or an id."}
	}
	var moment time.Time
	switch {
	case at == "now":
	case len(args) == 0:
		return &usageError{verb: "show", words: "--at goes with `show session`."}
	default:
		if moment, err = time.Parse(time.RFC3339, at); err != nil {
			return refusal{fmt.Sprintf("--at: %q is not a moment; accepted is one such as 2026-03-02T17:40:00+02:00", at)}
		}
	}
	desk, err := file.openExisting()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, desk.Close()) }()
	if !moment.IsZero() {
		then, err := desk.AsOf(context.Background(), moment)
		if err != nil {
			return err
		}
		return showSession(t, then, args[1], moment.In(desk.Zone()), asJSON)
	}
	desk.View(func(h *record.Household) {
		if len(args) == 0 {
			err = showHousehold(t, h, desk.Now(), asJSON)
		} else {
			err = showSession(t, h, args[1], desk.Now(), asJSON)
		}
	})
	return err
}

// householdOut is the shape of `show --json`. Keys are only ever added to it.
type householdOut struct {
	Demonstration bool               `json:"demonstration"`
	Entries       int                `json:"entries"`
	KidneyUnit    *record.KidneyUnit `json:"kidney_unit"`
	Machine       *session.Machine   `json:"machine"`
	People        []personOut        `json:"people"`
}

type personOut struct {
	ID string `json:"id"`
	record.Person
	Prescription *prescriptionOut `json:"prescription"` // in force today
	Versions     int              `json:"prescription_versions"`
	Questions    []string         `json:"questions"`
	OpenSession  *string          `json:"open_session"` // id of the one not closed yet
	Sessions     []sessionOut     `json:"sessions"`
}

type prescriptionOut struct {
	ID          string                `json:"id"`
	Unconfirmed bool                  `json:"phoned_unconfirmed"` // by telephone, and the paper has not come
	Stale       []string              `json:"stale"`
	Values      *session.Prescription `json:"values"`
}

// sessionOut is one session in a list.
type sessionOut struct {
	ID      string        `json:"id"`
	Person  string        `json:"person"`
	Date    unit.Date     `json:"date"` // of the evening it began
	Phase   session.Phase `json:"phase"`
	Place   string        `json:"place"`
	Source  string        `json:"source"`
	Opened  time.Time     `json:"opened_at"`
	Began   *time.Time    `json:"began_at"`
	Ended   *time.Time    `json:"ended_at"`
	Pre     *unit.Mass    `json:"pre_weight_kg"`
	Post    *unit.Mass    `json:"post_weight_kg"`
	Dry     *unit.Mass    `json:"dry_weight_kg"`
	Goal    *unit.Volume  `json:"set_goal_ml"`
	Removed *unit.Volume  `json:"removed_ml"`     // net: what came off
	Given   *unit.Litres  `json:"substitution_l"` // in haemodiafiltration; null otherwise
	Planned *unit.Minutes `json:"planned_min"`
	Treated *unit.Minutes `json:"treated_min"`
	Open    int           `json:"open_items"` // what nobody has said anything about yet
}

func outOf(s *session.Session, now time.Time) sessionOut {
	opened, at := s.Opened()
	out := sessionOut{
		ID: s.ID, Person: s.Person, Date: session.Night(s), Phase: s.Phase(),
		Place: opened.Place, Source: opened.Source, Opened: at,
	}
	if began, ok := s.Began(); ok {
		out.Began = &began
		treated := session.TreatedMinutes(s, now)
		out.Treated = &treated
	}
	if ended, ok := s.Ended(); ok {
		out.Ended = &ended
	}
	if in, _ := session.Last[session.WeighIn](s); in != nil {
		net := in.Weight - in.Clothing
		out.Pre = &net
	}
	if o, _ := session.Last[session.WeighOut](s); o != nil {
		net := o.Weight - o.Clothing
		out.Post = &net
	}
	if s.Rx != nil {
		out.Dry = &s.Rx.DryWeight
	}
	if goal, ok := session.Goal(s, now); ok {
		out.Goal = &goal
	}
	if run, ok := session.Follow(s, now); ok {
		out.Removed = run.Removed
	}
	if removed := session.RemovedInAll(s); removed != nil {
		out.Removed = removed
	}
	if c := session.Counted(s, now); !c.GivenAt.IsZero() {
		given := unit.Litres(c.Given)
		out.Given = &given
	}
	if length, ok := session.Length(s, now); ok {
		out.Planned = &length
	}
	for _, item := range session.OpenItems(s) {
		if item.IsOpen() {
			out.Open++
		}
	}
	return out
}

func householdOf(h *record.Household, now time.Time) householdOut {
	out := householdOut{Demonstration: h.Demo, Entries: h.Entries(), People: []personOut{}}
	if u, ok := h.Unit.Now(); ok {
		out.KidneyUnit = &u
	}
	if m, ok := h.Machine.Now(); ok {
		out.Machine = &m
	}
	for _, m := range h.People {
		out.People = append(out.People, personOf(m, now))
	}
	return out
}

func personOf(m *record.Member, now time.Time) personOut {
	out := personOut{ID: m.ID, Versions: len(m.Prescriptions), Questions: []string{}, Sessions: []sessionOut{}}
	out.Person, _ = m.Person.Now()
	today := unit.DateOf(now)
	if rx := m.Prescription(today); rx != nil {
		out.Prescription = &prescriptionOut{ID: rx.ID, Unconfirmed: rx.Unconfirmed(), Stale: []string{}, Values: &rx.Value}
		out.Prescription.Stale = append(out.Prescription.Stale, m.Stale(today)...)
	}
	for _, q := range m.Questions {
		if q.Struck == nil {
			out.Questions = append(out.Questions, q.Value.Words)
		}
	}
	if open := m.Open(); open != nil {
		out.OpenSession = &open.ID
	}
	for _, s := range m.Sessions {
		if !s.Abandoned() {
			out.Sessions = append(out.Sessions, outOf(s, now))
		}
	}
	return out
}

func showHousehold(t *terminal, h *record.Household, now time.Time, asJSON bool) error {
	out := householdOf(h, now)
	if asJSON {
		return printJSON(&t.out, out)
	}
	w := &t.out
	demoLine(w, out.Demonstration)
	fmt.Fprintf(w, "Entries: %d\n", out.Entries)
	if u := out.KidneyUnit; u != nil {
		fmt.Fprintf(w, "Unit: %s, by day %s, at night %s\n", u.Name, u.Day, u.Night)
	}
	if m := out.Machine; m != nil {
		fmt.Fprintf(w, "Machine: %s\n", m.Name)
	}
	for _, p := range out.People {
		fmt.Fprintf(w, "\n%s, born %d, %s (%s)\n", p.Name, p.BirthYear, p.Colour, p.ID)
		showPrescription(w, p.Prescription)
		for _, q := range p.Questions {
			fmt.Fprintf(w, "  Asks the unit: %s\n", oneLine(q))
		}
		if err := showSessions(w, p.Sessions); err != nil {
			return err
		}
	}
	return nil
}

func showPrescription(w io.Writer, p *prescriptionOut) {
	if p == nil {
		fmt.Fprintln(w, "  No prescription is in force.")
		return
	}
	rx := p.Values
	fmt.Fprintf(w, "  Prescription: ordered by %s on %s", rx.OrderedBy, rx.OrderedOn)
	if p.Unconfirmed {
		fmt.Fprint(w, ", by telephone: the paper has not come yet")
	}
	fmt.Fprintf(w, "\n  Dry weight: %s, set by %s on %s\n", plain(rx.DryWeight), rx.DrySetBy, rx.DrySetOn)
	if length, _, err := rx.SessionLength(); err == nil {
		often := strings.Join(rx.Days, " ")
		if rx.EveryHours > 0 {
			often = fmt.Sprintf("every %d hours", rx.EveryHours)
		}
		fmt.Fprintf(w, "  Sessions: %s, %s\n", plain(length), often)
	}
	for _, s := range p.Stale {
		fmt.Fprintf(w, "  LOOK: %s\n", s)
	}
}

func showSessions(w io.Writer, list []sessionOut) error {
	if len(list) == 0 {
		fmt.Fprintln(w, "  No session yet.")
		return nil
	}
	fmt.Fprintln(w)
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "  date\tphase\tpre kg\tpost kg\tgoal mL\tremoved mL\ttreated min\topen\t")
	for _, s := range list {
		fmt.Fprintf(table, "  %s\t%s\t%s\t%s\t%s\t%s\t%s\t%d\t\n", s.Date, strings.ReplaceAll(string(s.Phase), "_", " "),
			cell(s.Pre), cell(s.Post), cell(s.Goal), cell(s.Removed), cell(s.Treated), s.Open)
	}
	return table.Flush()
}

// cell writes a value of a table without its unit, and a blank as a dash.
func cell[M unit.Measure](v *unit.Quantity[M]) string {
	if v == nil {
		return "–"
	}
	return v.String()
}

// plain writes a value with its unit after an ordinary space, for a terminal.
func plain[M unit.Measure](v unit.Quantity[M]) string { return v.String() + " " + v.Symbol() }
