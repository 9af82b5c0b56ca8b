package household

import (
	"slices"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A Due is when the next session is to begin by the prescription.
type Due struct {
	Day     unit.Date
	At      time.Time     // on that day; by days, at the person's own usual time of setting up
	Timed   bool          // At holds a time of day; false until there is a session to learn it from
	Every   int           // hours from start to start, where that is what was ordered
	Last    time.Time     // end of the last treatment, or its beginning where no end is written; zero when there is none
	Gap     time.Duration // from Last to At; 0 without a last one
	Long    bool          // the gap is longer than two days
	Overdue time.Duration // how long past; 0 when it is not overdue
	Missed  int           // prescribed sessions that went by without one
}

// LongGap is the time without treatment that is worth saying: the day after a
// gap of two days is the one on which most harm comes. Source: Foley RN et al.,
// N Engl J Med 2011;365:1099–107.
const LongGap = 48 * time.Hour

// slack is how long after its usual time a session is called overdue: long
// enough for a late evening. Ours.
const slack = 6 * time.Hour

// ahead is how many days are looked through for a prescribed one.
const ahead = 15

// NextDue gives when the person's next session is to begin: on the first
// prescribed day after the last treatment, or so many hours after it began,
// each by the version in force on that day. Before the first session nothing
// is overdue, and the first prescribed day from today counts. A day that is past and
// whose session was held on the day before it instead is due no more. ok is false
// when no version holds.
func NextDue(m *record.Member, now time.Time) (d Due, ok bool) {
	last := m.DialysedBefore(now)
	from, began := unit.DateOf(now), time.Time{}
	if last != nil {
		began, _ = last.Began()
		began = began.In(now.Location())
		from = night(last, now.Location())
		d.Last = began
		if ended, over := last.Ended(); over && ended.After(began) {
			d.Last = ended.In(now.Location())
		}
	}
	for range ahead {
		at, day, every, ok := firstDue(m, from, began, now)
		if !ok {
			return Due{}, false
		}
		d.Day, d.At, d.Every, d.Timed = day, at, every, every > 0
		if every == 0 {
			if clock, known := usualStart(m, now); known {
				d.At, d.Timed = clock.on(day, now.Location()), true
			}
		}
		if last == nil {
			return d, true
		}
		d.late(m, now)
		if d.Overdue == 0 || every > 0 || m.Order().MissedUntil(m.HeldBefore(nil), day.Add(1)) > 0 {
			break
		}
		d.Overdue, from = 0, day // held the day before: it was moved, and is past
	}
	d.Gap = d.At.Sub(d.Last)
	d.Long = d.Gap > LongGap
	return d, true
}

// late works out what has gone by, by the one rule of what is missed
// ([session.Order.MissedUntil], [session.Turns]). Unlike the start line, which
// leaves out the session in hand, a turn is missed here once it is so long past
// that nobody still means to keep it.
func (d *Due) late(m *record.Member, now time.Time) {
	if !now.After(d.At.Add(slack)) {
		return
	}
	d.Overdue = now.Sub(d.At)
	if every := time.Duration(d.Every) * time.Hour; every > 0 {
		d.Missed = max(session.Turns(d.Overdue+every, -slack, every), 1)
		return
	}
	clock, _ := usualStart(m, now)
	until := unit.DateOf(now).Add(1)
	for d.Day.Before(until) && !now.After(clock.on(until.Add(-1), now.Location()).Add(slack)) {
		until = until.Add(-1)
	}
	d.Missed = m.Order().MissedUntil(m.HeldBefore(nil), until)
}

// firstDue walks the days from one on. The day of the last treatment counts
// only for a prescription by hours.
func firstDue(m *record.Member, from unit.Date, began, now time.Time) (at time.Time, day unit.Date, every int, ok bool) {
	for i := range ahead {
		day = from.Add(i)
		rx := m.Prescription(day)
		switch {
		case rx == nil:
		case rx.Value.EveryHours > 0 && began.IsZero():
			return day.Time(now.Location()), day, 0, true // from the first one on the hours count
		case rx.Value.EveryHours > 0:
			at = began.Add(time.Duration(rx.Value.EveryHours) * time.Hour)
			if on := unit.DateOf(at); !day.Before(on) {
				return at, on, rx.Value.EveryHours, true
			}
		case rx.Value.OnDay(day) && (i > 0 || began.IsZero()):
			return day.Time(now.Location()), day, 0, true
		}
	}
	return time.Time{}, unit.Date{}, 0, false
}

var dayNames = session.DayCodes()

// night is the day that a session counts for, as this zone shows it.
func night(s *session.Session, zone *time.Location) unit.Date {
	_, at := s.Opened()
	return unit.DateOf(at.In(zone))
}

// minuteOfDay is a clock face; it may run past midnight when the usual start
// does.
type minuteOfDay int

// on gives the moment on a day. A face that the clocks skipped that night is
// the moment just after the change.
func (m minuteOfDay) on(day unit.Date, zone *time.Location) time.Time {
	y, mo, dd := day.Time(zone).Date()
	return time.Date(y, mo, dd, 0, int(m), 0, 0, zone)
}

// learnStart is how many of the last sessions the usual start is learned from.
const learnStart = 12

// usualStart is the middle one of the clock faces at which setting up began.
// Faces are compared around the latest one, so that 23:50 and 00:10 are near.
func usualStart(m *record.Member, now time.Time) (minuteOfDay, bool) {
	var faces []int
	for i := len(m.Sessions) - 1; i >= 0 && len(faces) < learnStart; i-- {
		s := m.Sessions[i]
		if _, at := s.Opened(); !s.Abandoned() && s.Treated() && at.Before(now) {
			local := at.In(now.Location())
			face := local.Hour()*60 + local.Minute()
			if len(faces) > 0 {
				const whole = 24 * 60
				off := ((face-faces[0])%whole + whole + whole/2) % whole
				face = faces[0] + off - whole/2
			}
			faces = append(faces, face)
		}
	}
	if len(faces) == 0 {
		return 0, false
	}
	slices.Sort(faces)
	const whole = 24 * 60
	return minuteOfDay((faces[len(faces)/2] + whole) % whole), true
}
