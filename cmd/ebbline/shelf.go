package main

import (
	"flag"
	"fmt"
	"io"
	"strconv"
	"text/tabwriter"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/unit"
)

var shelfVerb = verb{
	name:  "shelf",
	args:  "[--person ID] [--on DATE] [--json]",
	short: "print the shelf: sessions left, what expires, what is set aside",
	long: `
Prints each item with the sessions it still serves, by the scarcest first, its lots
in the order in which they expire, what is set aside and why, and what is noticed:
a count that is old, pieces used that the book never had, lots that will expire
before they are used.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file, who := fileFlag(fs), whoFlags(fs)
		asJSON := fs.Bool("json", false, "print JSON")
		return func(t *terminal, args []string) error {
			if err := noWords("shelf", args); err != nil {
				return err
			}
			return withPerson(file, who, func(h *record.Household, m *record.Member, at time.Time) error {
				v := household.Shelf(h, at)
				if *asJSON {
					return printJSON(&t.out, shelfJSON(h, v, at))
				}
				return printShelf(&t.out, h, v, unit.DateOf(at))
			})
		}
	},
}

// shelfOut is the shape of `shelf --json`. Keys are only ever added to it.
type shelfOut struct {
	Demonstration bool           `json:"demonstration"`
	On            unit.Date      `json:"on"`
	Planned       int            `json:"sessions_planned"`
	Reserve       int            `json:"reserve_sessions"`
	ReserveBy     string         `json:"reserve_by"`
	Scarcest      *string        `json:"scarcest"`
	WhyNot        *string        `json:"why_not"` // why nothing can be reckoned ahead
	Items         []shelfItemOut `json:"items"`   // the scarcest first
	Waiting       []waitingOut   `json:"orders_on_their_way"`
	Recalls       []recallRowOut `json:"recalls"`
	Deliveries    []unit.Date    `json:"deliveries"` // days on which one can come
}

type shelfItemOut struct {
	Item         string       `json:"item"`
	SessionsLeft *int         `json:"sessions_left"`
	RunsOut      *unit.Date   `json:"runs_out"`
	Usable       unit.Pieces  `json:"usable_pieces"`
	PerSession   *unit.Pieces `json:"per_session_pieces"` // with weekly use, disinfections and spares
	Spare        float64      `json:"spare_factor"`
	Learned      bool         `json:"spare_learned"`
	Counted      *unit.Date   `json:"counted_on"`
	Unbooked     unit.Pieces  `json:"used_unbooked_pieces"`
	Lots         []lotOut     `json:"lots"`
	Cautions     []string     `json:"cautions"`
}

type lotOut struct {
	Lot     string      `json:"lot"`
	Maker   string      `json:"maker"`
	Pieces  unit.Pieces `json:"pieces"`
	Expires *unit.Date  `json:"expires"`
	Held    bool        `json:"set_aside"`
	Why     string      `json:"why"`
	Spoils  bool        `json:"expires_before_it_is_used"`
}

type waitingOut struct {
	ID   string    `json:"id"`
	For  unit.Date `json:"for"`
	Late bool      `json:"late"`
}

func shelfJSON(h *record.Household, v household.ShelfView, at time.Time) shelfOut {
	out := shelfOut{Demonstration: h.Demo, On: unit.DateOf(at), Planned: len(v.Sessions), Reserve: v.Reserve, ReserveBy: v.ReserveBy, Items: []shelfItemOut{}, Waiting: []waitingOut{}, Recalls: []recallRowOut{}, Deliveries: []unit.Date{}}
	if v.Scarcest != nil {
		out.Scarcest = &v.Scarcest.Item
	}
	if v.Trouble != "" {
		out.WhyNot = &v.Trouble
	}
	for _, r := range v.Rows {
		one := shelfItemOut{Item: r.Item, Usable: r.Usable, Spare: r.Spare, Learned: r.Learned, Unbooked: r.Unbooked, Lots: []lotOut{}, Cautions: []string{}}
		if !r.Counted.IsZero() {
			one.Counted = dateOrNull(unit.DateOf(r.Counted))
		}
		if r.Reckoned {
			one.SessionsLeft, one.RunsOut, one.PerSession = &r.Forecast.SessionsLeft, dateOrNull(r.Forecast.RunsOut), &r.PerSession
		}
		for _, l := range r.Lots {
			lot := lotOut{Lot: l.Code, Maker: l.Maker, Pieces: l.Count, Expires: dateOrNull(l.Expires), Held: l.Held, Why: l.Why}
			for _, e := range r.Expiring {
				lot.Spoils = lot.Spoils || e.Code == l.Code && e.Expires == l.Expires
			}
			one.Lots = append(one.Lots, lot)
		}
		for _, c := range r.Cautions {
			one.Cautions = append(one.Cautions, c.Text)
		}
		out.Items = append(out.Items, one)
	}
	for _, w := range v.Waiting {
		out.Waiting = append(out.Waiting, waitingOut{w.ID, w.Value.For, w.Late})
	}
	for _, r := range household.Recalls(h, at) {
		out.Recalls = append(out.Recalls, recallRowJSON(r))
	}
	out.Deliveries = append(out.Deliveries, v.Deliveries...)
	return out
}

func printShelf(w io.Writer, h *record.Household, v household.ShelfView, on unit.Date) error {
	demoLine(w, h.Demo)
	if len(v.Rows) == 0 {
		fmt.Fprintln(w, "Nothing is on the shelf's list yet.")
		return nil
	}
	if v.Scarcest != nil {
		fmt.Fprintf(w, "Sessions left: %d, by %s; reserve %d (%s)\n", v.Scarcest.Forecast.SessionsLeft, v.Scarcest.Item, v.Reserve, v.ReserveBy)
	}
	if v.Trouble != "" {
		fmt.Fprintln(w, v.Trouble)
	}
	fmt.Fprintln(w)
	table := tabwriter.NewWriter(w, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "  item\tsessions\tpieces\ta session\truns out\tcounted\t")
	for _, r := range v.Rows {
		left, per, out, counted := "–", "–", "–", "never"
		if r.Reckoned {
			left, per = strconv.Itoa(r.Forecast.SessionsLeft), strconv.FormatFloat(r.PerSession.Float(), 'f', 2, 64)
			if out = r.Forecast.RunsOut.String(); out == "" {
				out = "later"
			}
		}
		if !r.Counted.IsZero() {
			counted = unit.DateOf(r.Counted).String()
		}
		fmt.Fprintf(table, "  %s\t%s\t%s\t%s\t%s\t%s\t\n", oneLine(r.Item), left, strconv.FormatFloat(r.Usable.Float(), 'f', -1, 64), per, out, counted)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	for _, r := range v.Rows {
		for _, l := range r.Held {
			fmt.Fprintf(w, "SET ASIDE: %s, lot %s, %s: %s\n", oneLine(r.Item), oneLine(l.Code), l.Count, oneLine(l.Why))
		}
		for _, l := range r.Expiring {
			if l.ExpiredOn(on) {
				continue // the remark says so
			}
			fmt.Fprintf(w, "EXPIRES: %s, lot %s: about %.0f pieces will be left on %s\n", oneLine(r.Item), oneLine(l.Code), l.Count.Float(), l.Expires)
		}
		for _, c := range r.Cautions {
			fmt.Fprintf(w, "LOOK: %s\n", oneLine(c.Text))
		}
	}
	return nil
}
