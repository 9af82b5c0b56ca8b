package household

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base32"
	"encoding/hex"
	"fmt"
	"strings"
	"time"

	"ebbline/exchange"
	"ebbline/record"
	"ebbline/unit"
	"ebbline/water"
)

// calendarWeeks is how far ahead a calendar is written.
const calendarWeeks = 8

// NewCalendarSecret makes the secret part of a calendar's address: 160 random
// bits. Whoever knows the address reads the calendar, so it is long enough not
// to be guessed and can be renewed.
func NewCalendarSecret() string {
	var b [20]byte
	_, _ = rand.Read(b[:]) // never fails since Go 1.24
	return strings.ToLower(base32.StdEncoding.WithPadding(base32.NoPadding).EncodeToString(b[:]))
}

// CalendarOwner gives the person whose calendar has this secret now, or nil. It
// looks at every secret for the same length of time.
func CalendarOwner(h *record.Household, secret string) *record.Member {
	var found *record.Member
	for _, m := range h.People {
		if c, ok := h.Upkeep.Calendar(m.ID); ok && subtle.ConstantTimeCompare([]byte(c.Secret), []byte(secret)) == 1 {
			found = m
		}
	}
	return found
}

// Titles of calendar events: nothing of anybody's health, or what it is.
const (
	TitlesBusy = "busy"
	TitlesFull = "full"
)

// CalendarOf writes a person's sessions, what falls due, deliveries and samples
// of the coming eight weeks as a calendar. With titles "busy" it tells times and
// nothing else.
func CalendarOf(h *record.Household, m *record.Member, now time.Time, titles string) exchange.Calendar {
	p, _ := m.Person.Now()
	c := calendar{
		Calendar: exchange.Calendar{Name: "Ebbline", Made: now}, full: titles == TitlesFull,
		today: unit.DateOf(now), until: now.AddDate(0, 0, 7*calendarWeeks), seed: m.ID, sequence: h.Entries() + unit.DateOf(now).Sub(sequenceFrom), demo: h.Demo,
	}
	if own, ok := h.Upkeep.Calendar(m.ID); ok {
		c.seed = own.Secret // so that nothing in the file can be led back to a name
	}
	if c.full {
		c.Name = "Ebbline, " + p.Name
	}
	c.Name = demoTitle(c.demo, c.Name)
	c.sessions(m, now)
	c.rounds(Round(h, m, now))
	c.shelf(Shelf(h, now))
	for _, s := range h.Upkeep.Samples() {
		if s.State == water.SamplePlanned {
			c.day("sample-"+s.ID, s.PlannedOn, "Water sample, "+s.Point, "Before disinfection, the worst moment. Cooled, and to the laboratory the same day.", true)
		}
	}
	return c.Calendar
}

// sequenceFrom is the day from which the numbers of events count: with every
// entry and every day, since what is overdue moves to today.
var sequenceFrom = unit.NewDate(2026, 1, 1)

// calendar is one in the making.
type calendar struct {
	exchange.Calendar
	full     bool
	demo     bool
	today    unit.Date
	until    time.Time
	seed     string
	sequence int
}

// uid names a happening the same in every file and tells nothing.
func (c *calendar) uid(key string) string {
	sum := sha256.Sum256([]byte(c.seed + "\x00" + key))
	return hex.EncodeToString(sum[:12]) + "@ebbline.invalid"
}

func (c *calendar) title(full, plain string) string {
	if c.full {
		return demoTitle(c.demo, full)
	}
	return demoTitle(c.demo, plain)
}

// sessionAlarm is when a session is reminded of, and dayAlarm at what time of
// the day a thing of the house. A calendar's alarm is a courtesy: readers fetch
// a feed hours apart, and some leave its alarms out.
const (
	sessionAlarm = -time.Hour
	dayAlarm     = 9 * time.Hour
)

func (c *calendar) sessions(m *record.Member, now time.Time) {
	for _, at := range Planned(m, now, c.until) {
		rx := m.Prescription(unit.DateOf(at))
		if rx == nil || at.Before(now.Add(-slack)) {
			continue
		}
		length, _, err := rx.Value.SessionLength()
		if err != nil {
			continue
		}
		e := exchange.Event{UID: c.uid("session-" + unit.DateOf(at).String()), Sequence: c.sequence, Start: at.Truncate(time.Minute),
			Length: time.Duration(length)*time.Minute + aroundSession, Summary: c.title(fmt.Sprintf("Dialysis, %d h %02d", length/60, length%60), "Busy"), Alarms: []time.Duration{sessionAlarm}}
		if c.full {
			e.Description = "Planned from your prescription of " + rx.Value.OrderedOn.Long() + ", with the time for setting up and coming off."
		}
		c.Events = append(c.Events, e)
	}
}

// aroundSession is what setting up and coming off take beside the treatment
// (common practice, half an hour to an hour each).
const aroundSession = 90 * time.Minute

// day adds an event of a whole day; one that is overdue stands on today.
func (c *calendar) day(key string, on unit.Date, full, description string, house bool) {
	if on.IsZero() || !on.Before(unit.DateOf(c.until)) {
		return
	}
	if on.Before(c.today) {
		on = c.today
	}
	plain := "To do in the house"
	if !house {
		plain = "Busy"
	}
	e := exchange.Event{UID: c.uid(key), Sequence: c.sequence, Day: on, Summary: c.title(full, plain), Free: true, Alarms: []time.Duration{dayAlarm}}
	if c.full {
		e.Description = description
	}
	c.Events = append(c.Events, e)
}

func (c *calendar) rounds(rows []RoundRow) {
	for _, r := range rows {
		if r.Never || r.Round.Every.Sessions == 1 {
			continue // what is done after each session needs no entry of its own
		}
		c.day("round-"+r.Round.ID, r.On, r.Round.Name, "Every "+EveryWords(r.Round.Every)+". Last done on "+r.LastDone.Long()+".", true)
	}
}

func (c *calendar) shelf(v ShelfView) {
	for _, d := range v.Deliveries {
		c.day("delivery-"+d.String(), d, "Delivery of supplies", "Count against the order; note what is short, damaged or near its expiry.", true)
	}
	if d := v.DraftOrder(c.today); !d.By.IsZero() {
		c.day("order-"+d.For.String(), d.By, "Last day to send the order", "For the delivery of "+d.For.Long()+".", true)
	}
}
