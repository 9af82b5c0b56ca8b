package main

import (
	"flag"
	"fmt"
	"io"
	"text/tabwriter"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/unit"
	"ebbline/water"
)

var dueVerb = verb{
	name:  "due",
	args:  "[--all] [--person ID] [--on DATE] [--json]",
	short: "print what is due: water, machine, filters, service, bloods",
	long: `
Prints what stands in the way of the next session, then what must not be forgotten
(results, late samples, limits that are coming, orders, faults), then what recurs and
is due or coming: by date, by sessions, by hours or by litres, whichever comes first.
--all prints the rest too, and what nothing was ever written down of.

A program may ask for --json; it ends with exit status 0 whether anything is due
or not.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file, who := fileFlag(fs), whoFlags(fs)
		all := fs.Bool("all", false, "print what is not due as well")
		asJSON := fs.Bool("json", false, "print JSON")
		return func(t *terminal, args []string) error {
			if err := noWords("due", args); err != nil {
				return err
			}
			return withPerson(file, who, func(h *record.Household, m *record.Member, at time.Time) error {
				out := dueOf(h, m, at)
				if *asJSON {
					return printJSON(&t.out, out)
				}
				return printDue(&t.out, h, out, *all)
			})
		}
	},
}

// dueOut is the shape of `due --json`. Keys are only ever added to it.
type dueOut struct {
	Demonstration bool          `json:"demonstration"`
	Person        string        `json:"person"`
	On            unit.Date     `json:"on"`
	InTheWay      []obstacleOut `json:"in_the_way"`
	Errands       []string      `json:"not_to_be_forgotten"`
	Faults        []faultOut    `json:"faults_not_mended"`
	Rounds        []roundOut    `json:"rounds"` // due first, then coming, then the rest
}

// faultOut is a fault that nobody has written down as mended.
type faultOut struct {
	Since unit.Date `json:"since"`
	Words string    `json:"words"` // of its first entry
}

type obstacleOut struct {
	Words string `json:"words"`
	Stop  bool   `json:"stops"` // the session cannot be held, or the start line will stop
}

type roundOut struct {
	Item      string         `json:"item"`
	Name      string         `json:"name"`
	Group     string         `json:"group"`
	State     water.DueState `json:"state"`
	By        water.By       `json:"by"` // the count that is furthest along
	On        *unit.Date     `json:"on"`
	Left      string         `json:"left"`
	Overdue   bool           `json:"overdue"`
	LastDone  *unit.Date     `json:"last_done"` // null: never written down
	Shown     string         `json:"showed"`    // what it showed then
	Failed    bool           `json:"failed"`
	StartLine bool           `json:"on_the_start_line"`
	Personal  bool           `json:"personal"`
	Every     string         `json:"every"`
	Source    string         `json:"source"`
}

func dateOrNull(d unit.Date) *unit.Date {
	if d.IsZero() {
		return nil
	}
	return &d
}

func dueOf(h *record.Household, m *record.Member, at time.Time) dueOut {
	out := dueOut{Demonstration: h.Demo, Person: m.ID, On: unit.DateOf(at), InTheWay: []obstacleOut{}, Errands: []string{}, Faults: []faultOut{}, Rounds: []roundOut{}}
	for _, words := range m.Stale(unit.DateOf(at)) {
		out.InTheWay = append(out.InTheWay, obstacleOut{Words: words})
	}
	for _, o := range household.StandsInTheWay(h, m, at) {
		out.InTheWay = append(out.InTheWay, obstacleOut{o.Words, o.Stop})
	}
	out.Errands = append(out.Errands, m.AllAsked(unit.DateOf(at))...)
	for _, o := range household.Errands(h, m, at) {
		out.Errands = append(out.Errands, o.Words)
	}
	for _, f := range household.Troubles(h, at) {
		if !f.Mended {
			out.Faults = append(out.Faults, faultOut{unit.DateOf(f.Entries[0].At), f.Entries[0].Value.Words})
		}
	}
	for _, r := range household.Round(h, m, at) {
		out.Rounds = append(out.Rounds, roundOut{
			Item: r.Round.ID, Name: r.Round.Name, Group: r.Group, State: r.State, By: r.By, On: dateOrNull(r.On), Left: r.Left, Overdue: r.Overdue, LastDone: dateOrNull(r.LastDone),
			Shown: r.Shown, Failed: r.Failed, StartLine: r.Round.StartLine, Personal: r.Personal, Every: household.EveryWords(r.Round.Every), Source: r.Round.Source,
		})
	}
	return out
}

func printDue(w io.Writer, h *record.Household, out dueOut, all bool) error {
	demoLine(w, h.Demo)
	for _, o := range out.InTheWay {
		word := "LOOK"
		if o.Stop {
			word = "STOP"
		}
		fmt.Fprintf(w, "%s: %s\n", word, oneLine(o.Words))
	}
	for _, words := range out.Errands {
		fmt.Fprintf(w, "SEE TO IT: %s\n", oneLine(words))
	}
	for _, f := range out.Faults {
		fmt.Fprintf(w, "FAULT since %s: %s\n", f.Since, oneLine(f.Words))
	}
	var never int
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', 0)
	head := water.DueState("")
	for _, r := range out.Rounds {
		state := r.State
		if r.By == water.ByNever {
			never++
			state = "never written down"
		}
		if !all && (state == water.NotYet || r.By == water.ByNever) {
			continue
		}
		if state != head {
			fmt.Fprintf(table, "%s\n", sentenceCase(string(state)))
			head = state
		}
		last := "–"
		if r.LastDone != nil {
			last = r.LastDone.String()
		}
		if r.Shown != "" {
			last += "\t" + r.Shown
		}
		fmt.Fprintf(table, "  %s\t%s\tlast %s\n", oneLine(r.Name), r.Left, last)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	switch {
	case head == "" && len(out.InTheWay) == 0:
		fmt.Fprintln(w, "Nothing is due.")
	case head == "":
		fmt.Fprintln(w, "Nothing that recurs is due.")
	}
	if never > 0 && !all {
		fmt.Fprintf(w, "Of %d more nothing was ever written down; --all lists them.\n", never)
	}
	return nil
}

func sentenceCase(s string) string {
	if s == "" {
		return s
	}
	return string(s[0]-'a'+'A') + s[1:]
}
