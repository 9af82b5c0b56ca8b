package water

import (
	"fmt"
	"math"
	"strings"
	"time"

	"ebbline/unit"
)

// Every says when something recurs: after so many days, months, sessions,
// hours of running or litres of water. Several may be given: the first that is
// reached counts. Zero means "not by this".
type Every struct {
	Days     int     `json:"days,omitempty"`
	Months   int     `json:"months,omitempty"`
	Sessions int     `json:"sessions,omitempty"`
	Hours    float64 `json:"hours,omitempty"`
	Litres   float64 `json:"litres,omitempty"`
}

// A Round is something that recurs.
type Round struct {
	ID        string `json:"id"`
	Name      string `json:"name"`
	Every     Every  `json:"every"`
	Coming    Every  `json:"coming,omitzero"`      // how long before it is due it is said to be coming; zero: a tenth of Every
	StartLine bool   `json:"start_line,omitempty"` // when due it stands in the way of the next session
	Source    string `json:"source,omitempty"`
	Status    Status `json:"status,omitempty"`
}

// Counts are the running counts on a day: how many sessions have been held and
// how many hours and litres the machine or plant has run, since whenever they
// began. Only differences are used.
type Counts struct {
	On       unit.Date `json:"on"`
	Sessions int       `json:"sessions"`
	Hours    float64   `json:"hours"`
	Litres   float64   `json:"litres"`
}

// A DueState is how pressing a round is, in two scales beside "not yet".
type DueState string

const (
	NotYet DueState = "not yet"
	Coming DueState = "coming"
	Due    DueState = "due"
)

// By names the count that a round is due by.
type By string

const (
	ByDate     By = "date"
	BySessions By = "sessions"
	ByHours    By = "hours"
	ByLitres   By = "litres"
	ByNever    By = "never recorded"
)

// A DueItem is where a round stands.
type DueItem struct {
	Round    Round
	State    DueState
	By       By        // the count that is furthest along
	On       unit.Date // when it is (or was) due: by its dates, or at the present pace of its counts, whichever is first; zero: cannot be told
	Left     string    // what is left of that count, or by how much it is over, in words
	Overdue  bool      // due for longer than the day or the session itself
	LastDone unit.Date // zero: never recorded
}

// check refuses a round that is never due or whose figures cannot be.
func (r Round) check() error {
	e := r.Every
	switch {
	case r.ID == "" || r.Name == "":
		return unit.Refuse("name", r.Name, "a name")
	case e.Days < 0 || e.Months < 0 || e.Sessions < 0 || e.Days > 4000 || e.Months > 120 || e.Sessions > 100_000,
		!(e.Hours >= 0 && e.Hours <= 1e6), !(e.Litres >= 0 && e.Litres <= 1e8):
		return unit.Refuse("every", fmt.Sprintf("%+v", e), "counts of 0 or more")
	case e == Every{}:
		return unit.Refuse("every", "nothing", "at least one of days, months, sessions, hours or litres")
	}
	return nil
}

// DueAt says where a round stands, from the counts when it was last done (nil:
// never recorded, which is due) and now. It is due when any of its counts is
// reached, the day itself included; coming when any is within Coming of it.
// Months are calendar months, held to the end of a shorter one: a month after
// 31 January is the last of February. pace is what a week commonly brings, for
// the date of what is counted; zero where it is not known.
//
// Counts that run backwards (a replaced meter) and a day before the last one
// are an [*unit.InputError].
func (r Round) DueAt(last *Counts, now Counts, pace Pace) (DueItem, error) {
	if err := r.check(); err != nil {
		return DueItem{}, err
	}
	if last == nil {
		return DueItem{Round: r, State: Due, By: ByNever, On: now.On, Left: "never recorded"}, nil
	}
	if now.On.Before(last.On) || now.Sessions < last.Sessions || now.Hours < last.Hours || now.Litres < last.Litres {
		return DueItem{}, unit.Refuse("last_done", last.On, "counts that do not run backwards; if a meter was replaced, add its last reading")
	}
	item := DueItem{Round: r, State: NotYet, LastDone: last.On}
	best, bestOn := math.Inf(-1), unit.Date{}
	for _, c := range r.scales(*last, now, pace) {
		if item.On.IsZero() || !c.on.IsZero() && c.on.Before(item.On) {
			item.On = c.on
		}
		// Of two counts as far used up, as just after it was done, the one that
		// ends first is named, so that what is left goes with the day.
		if c.used > best || c.used == best && !c.on.IsZero() && c.on.Before(bestOn) {
			best, bestOn, item.By, item.Left = c.used, c.on, c.by, c.words
		}
		switch {
		case c.left <= 0:
			item.State = Due
			item.Overdue = item.Overdue || c.left < 0
		case c.left <= c.coming && item.State == NotYet:
			item.State = Coming
		}
	}
	return item, nil
}

// Pace is what a usual week brings.
type Pace struct {
	Sessions, Hours, Litres float64
}

// scale is one of a round's counts.
type scale struct {
	by           By
	left, coming float64 // in the count's own unit
	used         float64 // share of the interval gone
	on           unit.Date
	words        string
}

func (r Round) scales(last, now Counts, pace Pace) []scale {
	var list []scale
	if r.Every.Days > 0 || r.Every.Months > 0 {
		list = append(list, r.byDate(last, now))
	}
	count := func(by By, every, coming, done, weekly float64) {
		if every <= 0 {
			return
		}
		if coming <= 0 {
			coming = every / 10
		}
		s := scale{by: by, left: every - done, coming: coming, used: done / every}
		s.words = left(math.Ceil(s.left), strings.TrimSuffix(string(by), "s"))
		switch {
		case s.left <= 0:
			s.on = now.On
		case weekly > 0 && s.left/weekly < 1000:
			s.on = now.On.Add(int(math.Floor(s.left / weekly * 7)))
		}
		list = append(list, s)
	}
	count(BySessions, float64(r.Every.Sessions), float64(r.Coming.Sessions), float64(now.Sessions-last.Sessions), pace.Sessions)
	count(ByHours, r.Every.Hours, r.Coming.Hours, now.Hours-last.Hours, pace.Hours)
	count(ByLitres, r.Every.Litres, r.Coming.Litres, now.Litres-last.Litres, pace.Litres)
	return list
}

func (r Round) byDate(last, now Counts) scale {
	due := last.On
	if r.Every.Months > 0 {
		due = addMonths(last.On, r.Every.Months)
	}
	if d := last.On.Add(r.Every.Days); r.Every.Days > 0 && (r.Every.Months == 0 || d.Before(due)) {
		due = d
	}
	whole := float64(due.Sub(last.On))
	s := scale{by: ByDate, on: due, left: float64(due.Sub(now.On)), coming: float64(r.Coming.Days), used: float64(now.On.Sub(last.On)) / whole}
	if r.Coming.Months > 0 {
		s.coming = float64(due.Sub(addMonths(due, -r.Coming.Months)))
	}
	if s.coming <= 0 {
		s.coming = whole / 10
	}
	s.words = left(s.left, "day")
	return s
}

// left words what remains of a count: "3 days left", "due now", "1 day over".
func left(n float64, one string) string {
	if n == 0 {
		return "due now"
	}
	many, side := "s", " left"
	if n < 0 {
		n, side = -n, " over"
	}
	if n == 1 {
		many = ""
	}
	return number(n) + " " + one + many + side
}

// addMonths goes n calendar months on, to the same day or the last of a
// shorter month.
func addMonths(d unit.Date, n int) unit.Date {
	y, m, day := d.Time(time.UTC).Date()
	lastOf := time.Date(y, m+time.Month(n)+1, 0, 0, 0, 0, 0, time.UTC)
	return unit.NewDate(lastOf.Year(), lastOf.Month(), min(day, lastOf.Day()))
}

// InTheWay lists the rounds that are due and stand on the start line.
func InTheWay(items []DueItem) []DueItem {
	var list []DueItem
	for _, it := range items {
		if it.State == Due && it.Round.StartLine {
			list = append(list, it)
		}
	}
	return list
}
