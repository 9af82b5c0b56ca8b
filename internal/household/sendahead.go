package household

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"ebbline/exchange"
	"ebbline/record"
	"ebbline/stock"
	"ebbline/unit"
)

// An Away is what to send ahead for a person's sessions at another place.
type Away struct {
	From, To unit.Date
	Spare    int         // sessions beyond those planned, for a late journey home
	Sessions []unit.Date // of this person, as planned from the first day to the last
	SendBy   unit.Date
	Lines    []AwayLine
	Supplier *record.Supplier // nil: none is written down
	Cautions []unit.Caution
	Demo     bool
}

// An AwayLine is one item of it.
type AwayLine struct {
	Goods
	Home unit.Pieces // in date at home on the day of the last session away
}

// mostAway is how far ahead, and how long, sessions elsewhere are reckoned.
const mostAway = 366

// SendAhead reckons what a person's sessions from one day to another, both
// included, need at another place: every item of the shelf, with its spares, in
// whole packs, two weeks ahead (see [stock.ShipAhead]). Days that lie before
// today or out of order, a journey of more than a year, and days without a
// planned session are an [*unit.InputError].
func SendAhead(h *record.Household, m *record.Member, now time.Time, from, to unit.Date, spare int) (Away, error) {
	today := unit.DateOf(now)
	a := Away{From: from, To: to, Spare: spare, Supplier: supplierOf(h), Demo: h.Demo}
	switch {
	case from.Before(today):
		return a, unit.Refuse("from", from, "a day from today on")
	case to.Before(from):
		return a, unit.Refuse("to", to, "the last day away, on or after the first")
	case to.Sub(today) > mostAway:
		return a, unit.Refuse("to", to, "a day within a year")
	}
	for _, at := range Planned(m, now, to.Add(1).Time(now.Location())) {
		if day := unit.DateOf(at); !day.Before(from) && !to.Before(day) {
			a.Sessions = append(a.Sessions, day)
		}
	}
	if len(a.Sessions) == 0 {
		return a, unit.Refuse("from", from.Long()+" to "+to.Long(), "days on which a session is planned by the prescription")
	}
	sessions, cycles := sessionsPerWeek(h, today), cyclesPerWeek(h, now)
	var items []stock.Item
	for _, it := range h.Shelf(now) {
		per, err := it.Use().Effective(max(sessions, float64(1)/2), cycles)
		if err != nil {
			continue // nothing is known of its use
		}
		items = append(items, stock.Item{Name: it.Item, Lots: it.Stock(), PerSession: per, Pack: it.Pack})
		a.Lines = append(a.Lines, AwayLine{Goods{Item: it.Item, Code: it.OrderCode, Pack: it.Pack}, stock.Usable(it.Stock(), a.Sessions[len(a.Sessions)-1])})
	}
	parcels, err := stock.ShipAhead(items, today, a.Sessions, spare)
	if err != nil {
		return a, err
	}
	for i, p := range parcels {
		a.SendBy = p.SendBy // one day for all: it follows from the first session
		a.Lines[i].Packs, a.Lines[i].Pieces = p.Packs, unit.Pieces(p.Packs)*a.Lines[i].Pack
		if i == 0 && len(p.Cautions) > 0 {
			a.Cautions = []unit.Caution{{Code: "send_now", Text: fmt.Sprintf("It should have been on its way by %s for the session of %s. Send it today, and ask when it will be there.", a.Sessions[0].Add(-stock.ShipDays).Long(), a.Sessions[0].Long())}}
		}
	}
	return a, nil
}

// Subject and Text word it as an e-mail to the supplier.
func (a Away) Subject() string {
	return demoTitle(a.Demo, asCustomer("Supplies for another place, "+a.From.Long()+" to "+a.To.Long(), a.Supplier))
}

// Text is the body of the e-mail. Like that of the order it says nothing of
// anybody's health beyond the goods; the address is left to be filled in.
func (a Away) Text(from string) string {
	var b strings.Builder
	demoLetter(a.Demo, &b)
	fmt.Fprintf(&b, "Please send these to the address below, to leave by %s:\n\n", a.SendBy.Long())
	for _, l := range a.Lines {
		l.write(&b)
	}
	fmt.Fprintf(&b, "\nAddress there, and who takes it in:\n\n\nIt must be there before %s. Please confirm the day, and tell us before you send anything else in the place of an item.\n", a.Sessions[0].Long())
	sign(&b, from)
	return b.String()
}

// Sheet is the same as a table.
func (a Away) Sheet() exchange.Sheet {
	sheet := exchange.Sheet{Head: slices.Concat(goodsHead, []string{"send_by", "first_session"})}
	for _, l := range a.Lines {
		sheet.Rows = append(sheet.Rows, l.cells(a.SendBy, a.Sessions[0]))
	}
	return demoTable(a.Demo, sheet)
}
