package web

import (
	"slices"
	"time"

	"ebbline/internal/household"
	"ebbline/report"
	"ebbline/session"
)

// saidNow is what there is to say about a run, sorted by what it asks of the reader.
type saidNow struct {
	Looks   []session.Remark // that stand, the last first
	Notes   []session.Remark // from the last reading on
	Earlier []session.Remark // in order of time
	Needles string           // both needles are to be looked at, since no venous pressure was read
	Numbers []report.Phone   // of the unit, where the bar shows none
	Read    bool             // a reading was written
}

// saidOf sorts the remarks of a session as they stand now; none is left out.
func saidOf(v visit, one *session.Session) saidNow {
	s := saidNow{Looks: slices.Clone(v.standing(one))}
	var read time.Time
	var last *session.Reading
	session.Each(one, func(b *session.Reading, e *session.Event) {
		if !e.At.After(v.now) {
			read, last = e.At, b
		}
	})
	s.Read = last != nil
	for _, r := range v.remarks(one) {
		switch {
		case slices.Contains(s.Looks, r):
		case r.Level == session.LevelNote && !r.At.Before(read):
			s.Notes = append(s.Notes, r)
		default:
			s.Earlier = append(s.Earlier, r)
		}
	}
	if again, due := household.ChlorineRule(v.house).Remark(one, v.now); due {
		if again.Level == session.LevelLook {
			s.Looks = append(s.Looks, again)
		} else {
			s.Notes = append(s.Notes, again)
		}
	}
	if run := v.follow(one); last != nil && last.Venous == nil && !run.Asleep() && !one.Rx.ByCatheter() {
		s.Needles = "No venous pressure in the reading of " + clockFace(read) + ": look at both needles."
	}
	if bar := v.barOf(); len(s.Looks)+len(s.Notes)+len(s.Earlier) > 0 && (bar == nil || len(bar.Phones) == 0) {
		s.Numbers = phonesFor(v, session.RingUnit)
	}
	return s
}

// nextCheck says why the next reading is due when it is, and whose interval that is.
type nextCheck struct {
	Why   string
	Whose string
	Sleep *tap // takes the rest of a sleep by plan up again
}

var checkWhy = map[string]string{
	session.DueLow: "after the low pressure", session.DueLook: "after what was said",
}

func nextCheckOf(run session.Run, one *session.Session, now time.Time) nextCheck {
	c := nextCheck{Why: checkWhy[run.CheckWhy], Whose: "ours"}
	if run.CheckUnit {
		c.Whose = "unit’s interval"
	}
	if left := sleepLeft(run, one, now); left > 0 && !fromPaper(one) {
		t := sleepOn("/p/"+one.Person+"/session/"+one.ID, left)
		c.Sleep = &t
	}
	return c
}
