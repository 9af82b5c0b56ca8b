package main

import (
	"flag"
	"fmt"
	"time"

	"ebbline/exchange"
	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/unit"
	"ebbline/water"
)

var orderVerb = verb{
	name:  "order",
	args:  "[--away FROM..TO [--spare N]] [--csv|--json] [--person ID] [--on DATE]",
	short: "print the order to send, as the text of an e-mail or as a table",
	long: `
Prints what to order for which delivery and by when, so that every planned session
is served and the reserve is whole up to the delivery after it. Nothing is kept:
when it is sent, write it down (an order_sent entry, or the page of the order).

With --away it prints instead what to send ahead for a person's sessions at another
place, two weeks before the first of them.

  ebbline order --csv > order.csv
  ebbline order --away 2026-07-01..2026-07-14 --spare 2`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file, who := fileFlag(fs), whoFlags(fs)
		asCSV := fs.Bool("csv", false, "print a table for a spreadsheet")
		asJSON := fs.Bool("json", false, "print JSON")
		away := fs.String("away", "", "what to send ahead for sessions elsewhere, from the first day to the last, `FROM..TO`")
		spare := fs.Int("spare", 1, "with --away, sessions beyond those planned, `N`")
		return func(t *terminal, args []string) error {
			if err := noWords("order", args); err != nil {
				return err
			}
			if *asCSV && *asJSON {
				return &usageError{verb: "order", words: "Ask for --csv or for --json, not for both."}
			}
			if *away == "" && *spare != 1 {
				return &usageError{verb: "order", words: "--spare goes with --away: sessions beyond those planned elsewhere."}
			}
			return withPerson(file, who, func(h *record.Household, m *record.Member, at time.Time) error {
				if *away != "" {
					a, err := readAway(h, m, at, *away, *spare)
					if err != nil {
						return err
					}
					switch {
					case *asJSON:
						return printJSON(&t.out, awayJSON(h, a))
					case *asCSV:
						return printTable(t, a.Sheet())
					}
					printAway(t, h, m, a)
					return nil
				}
				v := household.Shelf(h, at)
				d := v.DraftOrder(unit.DateOf(at))
				switch {
				case *asJSON:
					return printJSON(&t.out, orderJSON(h, d))
				case *asCSV:
					return printTable(t, d.Sheet())
				}
				printOrder(t, h, m, v, d)
				return nil
			})
		}
	},
}

// orderOut is the shape of `order --json`. Keys are only ever added to it.
type orderOut struct {
	Demonstration bool           `json:"demonstration"`
	State         water.DueState `json:"state"`
	For           *unit.Date     `json:"for"`
	By            *unit.Date     `json:"by"`
	Until         *unit.Date     `json:"until"` // the delivery after it, up to which it lasts
	Lines         []orderLineOut `json:"lines"`
}

type orderLineOut struct {
	Item   string      `json:"item"`
	Code   string      `json:"order_code"`
	Packs  int         `json:"packs"`
	Pack   unit.Pieces `json:"pack_pieces"`
	Pieces unit.Pieces `json:"pieces"`
	Why    string      `json:"why"`
}

func orderJSON(h *record.Household, d household.Draft) orderOut {
	out := orderOut{Demonstration: h.Demo, State: d.State, For: dateOrNull(d.For), By: dateOrNull(d.By), Until: dateOrNull(d.Until), Lines: []orderLineOut{}}
	for _, l := range d.Lines {
		out.Lines = append(out.Lines, orderLineOut{l.Item, l.Code, l.Packs, l.Pack, l.Pieces, l.Why})
	}
	return out
}

func printTable(t *terminal, sheet exchange.Sheet) error {
	file, err := sheet.CSV()
	t.out.Write(file)
	return err
}

// addressed begins the print of an e-mail to a supplier, nil where none is
// written down.
func addressed(t *terminal, to *record.Supplier, subject string, sendBy unit.Date) {
	if to != nil && to.Email != "" {
		fmt.Fprintf(&t.out, "To: %s\n", oneLine(to.Email))
	}
	fmt.Fprintf(&t.out, "Subject: %s\nSend by: %s\n", subject, sendBy)
}

func printOrder(t *terminal, h *record.Household, m *record.Member, v household.ShelfView, d household.Draft) {
	demoLine(&t.out, h.Demo)
	switch {
	case len(v.Rows) == 0:
		fmt.Fprintln(&t.out, "Nothing is on the shelf's list yet, so there is no order.")
		return
	case v.Supplier == nil:
		fmt.Fprintln(&t.out, "No supplier is written down yet, so there is no delivery to order for.")
		return
	case len(d.Lines) == 0:
		fmt.Fprintln(&t.out, "Nothing is to be ordered as far as the plan reaches.")
		for _, r := range v.Rows {
			for _, c := range r.Order.Cautions {
				fmt.Fprintf(&t.out, "LOOK: %s\n", oneLine(c.Text))
			}
		}
		return
	}
	addressed(t, v.Supplier, d.Subject(v.Supplier), d.By)
	p, _ := m.Person.Now()
	fmt.Fprintf(&t.out, "\n%s", d.Text(p.Name))
}
