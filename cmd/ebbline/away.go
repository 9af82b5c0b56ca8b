package main

import (
	"errors"
	"fmt"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/unit"
)

// readAway reads the days of `order --away` and reckons what they need.
func readAway(h *record.Household, m *record.Member, at time.Time, days string, spare int) (household.Away, error) {
	first, last, ok := strings.Cut(days, "..")
	from, err1 := unit.ParseDate(first)
	to, err2 := unit.ParseDate(last)
	if !ok || err1 != nil || err2 != nil || len(first) != len(time.DateOnly) || len(last) != len(time.DateOnly) {
		return household.Away{}, refusal{fmt.Sprintf("away: %q is not two days; accepted is YYYY-MM-DD..YYYY-MM-DD", days)}
	}
	a, err := household.SendAhead(h, m, at, from, to, spare)
	if errors.As(err, new(*unit.InputError)) {
		return a, refusal{err.Error()}
	}
	return a, err
}

// awayOut is the shape of `order --away --json`. Keys are only ever added to it.
type awayOut struct {
	Demonstration bool          `json:"demonstration"`
	From          unit.Date     `json:"from"`
	To            unit.Date     `json:"to"`
	Sessions      []unit.Date   `json:"sessions"`
	Spare         int           `json:"spare_sessions"`
	SendBy        unit.Date     `json:"send_by"`
	Lines         []awayLineOut `json:"lines"`
	Cautions      []string      `json:"cautions"`
}

type awayLineOut struct {
	Item   string      `json:"item"`
	Code   string      `json:"order_code"`
	Packs  int         `json:"packs"`
	Pack   unit.Pieces `json:"pack_pieces"`
	Pieces unit.Pieces `json:"pieces"`
	Home   unit.Pieces `json:"in_date_at_home_pieces"` // on the day of the last session away
}

func awayJSON(h *record.Household, a household.Away) awayOut {
	out := awayOut{Demonstration: h.Demo, From: a.From, To: a.To, Sessions: a.Sessions, Spare: a.Spare, SendBy: a.SendBy, Lines: []awayLineOut{}, Cautions: []string{}}
	for _, l := range a.Lines {
		out.Lines = append(out.Lines, awayLineOut{l.Item, l.Code, l.Packs, l.Pack, l.Pieces, l.Home})
	}
	for _, c := range a.Cautions {
		out.Cautions = append(out.Cautions, c.Text)
	}
	return out
}

func printAway(t *terminal, h *record.Household, m *record.Member, a household.Away) {
	demoLine(&t.out, h.Demo)
	for _, c := range a.Cautions {
		fmt.Fprintf(&t.out, "LOOK: %s\n", oneLine(c.Text))
	}
	addressed(t, a.Supplier, a.Subject(), a.SendBy)
	fmt.Fprintf(&t.out, "Sessions: %d, and %d to spare\n\n", len(a.Sessions), a.Spare)
	p, _ := m.Person.Now()
	fmt.Fprint(&t.out, a.Text(p.Name))
}
