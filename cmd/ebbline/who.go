package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

// A whoWhen is whose record is looked at, and as of when.
type whoWhen struct{ person, on string }

func whoFlags(fs *flag.FlagSet) *whoWhen {
	w := new(whoWhen)
	fs.StringVar(&w.person, "person", "", "`ID` of the person, where there are several")
	fs.StringVar(&w.on, "on", "", "as it stood at the end of this `DATE`, YYYY-MM-DD")
	return w
}

// find gives the person and the moment.
func (w *whoWhen) find(h *record.Household, now time.Time) (*record.Member, time.Time, error) {
	if w.on != "" {
		d, err := unit.ParseDate(w.on)
		if err != nil || len(w.on) != len(time.DateOnly) {
			return nil, now, refusal{fmt.Sprintf("on: %q is no date; accepted is YYYY-MM-DD", w.on)}
		}
		if end := d.Add(1).Time(now.Location()).Add(-time.Second); end.Before(now) {
			now = end
		}
	}
	m, err := personNamed(h, w.person)
	return m, now, err
}

// personNamed gives the person with an id, or the only one when none is named.
func personNamed(h *record.Household, id string) (*record.Member, error) {
	switch {
	case id != "":
		if m := h.Member(id); m != nil {
			return m, nil
		}
		return nil, absence(fmt.Sprintf("Nobody in this record has the id %s; `ebbline show` lists who there is", id))
	case len(h.People) == 0:
		return nil, absence("Nobody is in this record yet")
	case len(h.People) > 1:
		return nil, refusal{"person: several people are in this record; name one by its id (`ebbline show` lists them)"}
	}
	return h.People[0], nil
}

// withPerson opens the record and lets f look at one person's part of it.
func withPerson(file *place, who *whoWhen, f func(h *record.Household, m *record.Member, at time.Time) error) (err error) {
	desk, err := file.openExisting()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, desk.Close()) }()
	desk.View(func(h *record.Household) {
		m, at, bad := who.find(h, desk.Now())
		if bad != nil {
			err = bad
			return
		}
		err = f(h, m, at)
	})
	return err
}

// demoLine says of a demonstration that it is one, on every print.
func demoLine(w io.Writer, demo bool) {
	if demo {
		fmt.Fprintln(w, "DEMONSTRATION – every person and value here is invented.")
	}
}
