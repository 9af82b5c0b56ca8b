package household

import (
	"slices"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

// Planned lists when the person's sessions are to begin by the prescription,
// from the next one to an instant. A session that is open counts as the first,
// at the moment it was opened. When the next one is overdue the list goes on
// from now: what was missed is not held again.
//
// A prescription of days, or of a whole number of days between sessions, keeps
// to the clock face through a change of the clocks: every other evening at 18:00
// is 49 or 47 hours once a year. One by hours that make no whole days keeps to
// the hours.
func Planned(m *record.Member, now, until time.Time) []time.Time {
	var list []time.Time
	from := now
	if open := m.Open(); open != nil {
		if o, at := open.Opened(); o.Source == "live" {
			list = append(list, at.In(now.Location()))
			from = at.Add(slack)
			if from.Before(now) {
				from = now
			}
		}
	}
	for _, at := range series(m, now, until) {
		if !at.Before(from.Add(-slack)) && (len(list) == 0 || at.Sub(list[0]) > slack) && at.Before(until) {
			list = append(list, at)
		}
	}
	return list
}

// series walks through the days, each by the version in force on it.
func series(m *record.Member, now, until time.Time) []time.Time {
	zone := now.Location()
	face, known := usualStart(m, now)
	if !known {
		face = defaultStart
	}
	var last time.Time // beginning of the last treatment, or of the last planned session
	if s := m.DialysedBefore(now); s != nil {
		last, _ = s.Began()
		last = last.In(zone)
	}
	treated := unit.Date{}
	if !last.IsZero() {
		treated = unit.DateOf(last)
	}
	var list []time.Time
	for day := unit.DateOf(now.AddDate(0, 0, -1)); !unit.DateOf(until).Before(day); day = day.Add(1) {
		rx := m.Prescription(day)
		switch {
		case rx == nil || !treated.IsZero() && !treated.Before(day):
		case rx.Value.EveryHours > 0:
			at, ok := byHours(rx.Value.EveryHours, last, day, face, zone, now)
			if ok {
				list, last = append(list, at), at
			}
		case rx.Value.OnDay(day):
			at := faceOn(day, face, zone)
			list, last = append(list, at), at
		}
	}
	return list
}

// defaultStart is the clock face that is taken before any session was held.
const defaultStart minuteOfDay = 18 * 60

// byHours gives the start on a day when the prescription counts hours from
// start to start.
func byHours(every int, last time.Time, day unit.Date, face minuteOfDay, zone *time.Location, now time.Time) (time.Time, bool) {
	if last.IsZero() {
		at := faceOn(day, face, zone)
		return at, !at.Before(now.Add(-slack))
	}
	at := last.Add(time.Duration(every) * time.Hour)
	if every%24 == 0 {
		local := last.In(zone)
		at = faceOn(unit.DateOf(local).Add(every/24), minuteOfDay(local.Hour()*60+local.Minute()), zone)
	}
	if on := unit.DateOf(at); on == day {
		return at, true
	} else if on.Before(day) && !day.Before(unit.DateOf(now)) {
		// It is overdue: the next can be held today, at the usual time.
		return faceOn(day, face, zone), true
	}
	return time.Time{}, false
}

// faceOn gives the moment at which the clocks of a zone show a face on a day:
// the first of two, and just after the change when the clocks skip it, as
// calendars read such times (RFC 5545, section 3.3.5).
func faceOn(day unit.Date, face minuteOfDay, zone *time.Location) time.Time {
	day, face = day.Add(int(face)/(24*60)), face%(24*60)
	y, m, d := day.Time(time.UTC).Date()
	if found := record.Moments(y, m, d, int(face)/60, int(face)%60, zone); len(found) > 0 {
		return found[0]
	}
	return time.Date(y, m, d, 0, int(face), 0, 0, zone)
}

// plannedDays are the days of the sessions that all people of the household
// hold, from today on; two on one day count twice.
func plannedDays(h *record.Household, now time.Time, weeks int) []unit.Date {
	today := unit.DateOf(now)
	var days []unit.Date
	for _, m := range h.People {
		for _, at := range Planned(m, now, now.AddDate(0, 0, 7*weeks)) {
			if day := unit.DateOf(at); !day.Before(today) {
				days = append(days, day)
			} else if m.Open() != nil {
				days = append(days, today) // begun yesterday evening and not closed yet
			}
		}
	}
	slices.SortFunc(days, unit.Date.Sub)
	return days
}

// sessionsPerWeek adds up what is prescribed for all people of the household.
func sessionsPerWeek(h *record.Household, day unit.Date) float64 {
	var sum float64
	for _, m := range h.People {
		if rx := m.Prescription(day); rx != nil {
			sum += rx.Value.PerWeek()
		}
	}
	return sum
}
