package stock

import (
	"fmt"
	"time"

	"ebbline/unit"
)

// Ordered is one line of an order.
type Ordered struct {
	Item   string
	Pieces unit.Pieces
}

// Received is one line of what came.
type Received struct {
	Item    string
	Lot     Lot
	Damaged unit.Pieces // of Lot.Count
}

// A Line compares one item's order with what came of it.
type Line struct {
	Item     string
	Ordered  unit.Pieces
	Came     unit.Pieces // fit for use: neither damaged nor expired
	Damaged  unit.Pieces
	Cautions []unit.Caution
}

// nearExpiry is how close an expiry is remarked on at delivery. Source: common
// practice, three months.
const nearExpiry = 3

// CheckDelivery compares an order with a delivery on the day it came, item by
// item in the order's order, then what came unasked. It remarks on what is
// short, too much, not ordered, damaged, expired, within three months of its
// expiry, or lacks a lot code or expiry on its label. What is short and
// damaged adds up to the claim on the supplier.
func CheckDelivery(ordered []Ordered, received []Received, day unit.Date) []Line {
	var lines []Line
	at := map[string]int{}
	line := func(item string) *Line {
		i, ok := at[fold(item)]
		if !ok {
			i = len(lines)
			at[fold(item)] = i
			lines = append(lines, Line{Item: item})
		}
		return &lines[i]
	}
	for _, o := range ordered {
		line(o.Item).Ordered += o.Pieces
	}
	for _, r := range received {
		line(r.Item).take(r, day)
	}
	for i := range lines {
		lines[i].sum()
	}
	return lines
}

func (l *Line) take(r Received, day unit.Date) {
	damaged := min(max(r.Damaged, 0), r.Lot.Count)
	l.Damaged += damaged
	fit := r.Lot.Count - damaged
	name := r.Item
	if r.Lot.Code != "" {
		name += ", lot " + r.Lot.Code
	}
	if damaged > 0 {
		l.caution("damaged", "%s: %s damaged.", name, unit.PiecesText(damaged))
	}
	if r.Lot.Code == "" {
		l.caution("lot_missing", "%s: no lot code written down; a recall could not find it.", name)
	}
	switch {
	case r.Lot.Expires.IsZero():
		l.caution("expiry_missing", "%s: no expiry written down.", name)
	case r.Lot.ExpiredOn(day):
		l.caution("expired", "%s expired on %s: do not shelve it.", name, r.Lot.Expires.Long())
		fit = 0
	case r.Lot.Expires.Before(monthsAfter(day, nearExpiry)):
		l.caution("near_expiry", "%s expires on %s, in less than three months: will it be used by then?", name, r.Lot.Expires.Long())
	}
	l.Came += fit
}

func (l *Line) sum() {
	switch {
	case l.Ordered == 0:
		l.caution("not_ordered", "%s was not ordered: a substitute needs your unit's yes before it is used.", l.Item)
	case l.Came < l.Ordered:
		l.caution("short", "%s: %s of %s came fit for use.", l.Item, l.Came, unit.PiecesText(l.Ordered))
	case l.Came > l.Ordered:
		l.caution("too_many", "%s: %s came, %s were ordered.", l.Item, l.Came, unit.PiecesText(l.Ordered))
	}
}

func (l *Line) caution(code, format string, args ...any) {
	l.Cautions = append(l.Cautions, unit.Caution{Code: code, Text: fmt.Sprintf(format, args...)})
}

// monthsAfter goes n months on, to the end of a shorter month.
func monthsAfter(d unit.Date, n int) unit.Date {
	y, m, day := d.Time(time.UTC).Date()
	end := time.Date(y, m+time.Month(n)+1, 0, 0, 0, 0, 0, time.UTC)
	return unit.NewDate(end.Year(), end.Month(), min(day, end.Day()))
}
