package main

import (
	"cmp"
	"flag"
	"fmt"
	"io"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/stock"
	"ebbline/unit"
)

var recallVerb = verb{
	name:  "recall",
	args:  "[--item NAME --maker NAME --lot CODE... --range FROM-TO... | --all-lots] [--json]",
	short: "search the shelf and past sessions for recalled lots",
	long: `
Without flags it lists the recalls that are written down and what each of them
holds. With an item, its maker and lots it searches the shelf and every past session
for them and keeps nothing: capitals, spaces, O and 0, I and 1 make no difference.

  ebbline recall --item dialyser --maker "Maker A" --lot A0-101 --lot A0-102
  ebbline recall --item needle --maker "Maker B" --range N100-N180

To set the lots aside, write the recall down (a recall entry, or the page of the
shelf). Exit status 0 whether anything matches or not.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file, who := fileFlag(fs), whoFlags(fs)
		var r record.Recall
		fs.StringVar(&r.Item, "item", "", "the item as the shelf calls it, `NAME`")
		fs.StringVar(&r.Maker, "maker", "", "its maker as the notice names it, `NAME`")
		fs.BoolVar(&r.All, "all-lots", false, "every lot of the item is meant")
		fs.Func("lot", "a lot, `CODE`; may stand several times", func(s string) error {
			r.Lots = append(r.Lots, strings.TrimSpace(s))
			return nil
		})
		fs.Func("range", "a range of lots, `FROM-TO`; may stand several times", func(s string) error {
			from, to, ok := strings.Cut(s, "-")
			if !ok || strings.Contains(to, "-") {
				return fmt.Errorf("write two codes with one hyphen between them")
			}
			r.Ranges = append(r.Ranges, stock.LotRange{From: strings.TrimSpace(from), To: strings.TrimSpace(to)})
			return nil
		})
		asJSON := fs.Bool("json", false, "print JSON")
		return func(t *terminal, args []string) error {
			if err := noWords("recall", args); err != nil {
				return err
			}
			searching := r.Item != "" || r.Maker != "" || r.All || len(r.Lots)+len(r.Ranges) > 0
			if searching {
				if err := r.Notice().Check(); err != nil {
					return refusal{err.Error()}
				}
			}
			return withPerson(file, who, func(h *record.Household, m *record.Member, at time.Time) error {
				if !searching {
					return listRecalls(t, h, at, *asJSON)
				}
				out := foundJSON(h, h.Search(&r, at), at)
				out.Known = h.Had(r.Item)
				if *asJSON {
					return printJSON(&t.out, out)
				}
				printFound(&t.out, h, out)
				return nil
			})
		}
	},
}

// foundOut is the shape of a search's `recall --json`. Keys are only ever added
// to it.
type foundOut struct {
	Demonstration bool           `json:"demonstration"`
	SearchedOn    unit.Date      `json:"searched_on"`
	Known         bool           `json:"item_known"` // false: nothing is called so here, and nothing can match
	Shelf         []foundLotOut  `json:"shelf"`
	Sessions      []foundPastOut `json:"sessions"`
}

type foundLotOut struct {
	Item   string      `json:"item"`
	Lot    string      `json:"lot"`
	Maker  string      `json:"maker"`
	Pieces unit.Pieces `json:"pieces"`
	Match  stock.Match `json:"match"`
}

type foundPastOut struct {
	Session string      `json:"session"`
	Person  string      `json:"person"`
	On      unit.Date   `json:"on"`
	Lot     string      `json:"lot"`
	Match   stock.Match `json:"match"`
}

func foundJSON(h *record.Household, f stock.Found, at time.Time) foundOut {
	out := foundOut{Demonstration: h.Demo, SearchedOn: unit.DateOf(at), Shelf: []foundLotOut{}, Sessions: []foundPastOut{}}
	for _, l := range f.Shelf {
		out.Shelf = append(out.Shelf, foundLotOut{l.Item, l.Lot.Code, l.Lot.Maker, l.Lot.Count, l.Match})
	}
	for _, p := range f.Past {
		one := foundPastOut{Session: p.Past.Session, On: p.Past.On, Lot: p.Past.Lot, Match: p.Match}
		if s := h.Session(p.Past.Session); s != nil {
			one.Person = s.Person
		}
		out.Sessions = append(out.Sessions, one)
	}
	return out
}

func printFound(w io.Writer, h *record.Household, out foundOut) {
	demoLine(w, h.Demo)
	if !out.Known {
		var names []string
		for _, it := range h.Upkeep.ItemsNow() {
			names = append(names, it.Item)
		}
		fmt.Fprintf(w, "NOT COMPARED: nothing on the shelf or in a session is called so. On the shelf are: %s.\n", cmp.Or(oneLine(strings.Join(names, "; ")), "no items yet"))
		return
	}
	if len(out.Shelf)+len(out.Sessions) == 0 {
		fmt.Fprintln(w, "No match, on the shelf or in any session.")
		return
	}
	for _, l := range out.Shelf {
		fmt.Fprintf(w, "On the shelf: %s, lot %s, %s pieces: %s\n", oneLine(l.Item), oneLine(l.Lot), l.Pieces, l.Match)
	}
	for _, s := range out.Sessions {
		fmt.Fprintf(w, "Session of %s (%s): lot %s: %s\n", s.On, s.Session, oneLine(s.Lot), s.Match)
	}
	if len(out.Shelf) > 0 {
		fmt.Fprintln(w, "Nothing was kept. To set the lots aside, write the recall down.")
	}
}

// recallRowOut is a recall that is written down.
type recallRowOut struct {
	ID        string      `json:"id"`
	Number    string      `json:"number"`
	Item      string      `json:"item"`
	Maker     string      `json:"maker"`
	WrittenOn unit.Date   `json:"written_on"`
	Settled   bool        `json:"settled"`
	Aside     unit.Pieces `json:"set_aside_pieces"`
	Sessions  int         `json:"sessions"`
	ClosedOn  *unit.Date  `json:"closed_on"`
}

func recallRowJSON(r household.RecallRow) recallRowOut {
	out := recallRowOut{ID: r.ID, Number: r.Value.Number, Item: r.Value.Item, Maker: r.Value.Maker, WrittenOn: unit.DateOf(r.At), Settled: r.Settled(), Aside: r.Left, Sessions: len(r.Past)}
	if r.Closed != nil {
		out.ClosedOn = dateOrNull(unit.DateOf(r.Closed.At))
	}
	return out
}

func listRecalls(t *terminal, h *record.Household, at time.Time, asJSON bool) error {
	rows := []recallRowOut{}
	for _, r := range household.Recalls(h, at) {
		rows = append(rows, recallRowJSON(r))
	}
	if asJSON {
		return printJSON(&t.out, rows)
	}
	demoLine(&t.out, h.Demo)
	if len(rows) == 0 {
		fmt.Fprintln(&t.out, "No recall is written down.")
	}
	for _, r := range rows {
		state := "OPEN"
		if r.Settled {
			state = "settled"
		}
		fmt.Fprintf(&t.out, "%s: %s %s by %s, %s: %s pieces set aside; opened in sessions: %d\n", state, r.Number, oneLine(r.Item), oneLine(r.Maker), r.WrittenOn, r.Aside, r.Sessions)
	}
	return nil
}
