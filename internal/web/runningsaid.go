package web

import (
	"slices"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/report"
	"ebbline/session"
	"ebbline/unit"
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

// Quiet reports whether nothing is to be said now.
func (s saidNow) Quiet() bool { return len(s.Looks) == 0 && len(s.Notes) == 0 && s.Needles == "" }

// saidOf sorts the remarks of a session as they stand now; none is left out.
func saidOf(v visit, one *session.Session) saidNow {
	s := saidNow{Looks: session.Standing(one, v.now)}
	var read time.Time
	var last *session.Reading
	session.Each(one, func(b *session.Reading, e *session.Event) {
		if !e.At.After(v.now) {
			read, last = e.At, b
		}
	})
	s.Read = last != nil
	for _, r := range session.Remarks(one, v.now) {
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
	if run, _ := session.Follow(one, v.now); last != nil && last.Venous == nil && !run.Asleep() && !one.Rx.ByCatheter() {
		s.Needles = "No venous pressure in the reading of " + clockFace(read) + ": look at both needles."
	}
	if bar := v.barOf(); len(s.Looks)+len(s.Notes)+len(s.Earlier) > 0 && (bar == nil || len(bar.Phones) == 0) {
		s.Numbers = phonesFor(v, session.RingUnit)
	}
	return s
}

// pressureRead is the blood pressure that was written last.
type pressureRead struct {
	Text   string // upper and lower
	Pulse  string
	At     time.Time
	Before bool // before the treatment
	Low    bool
}

// pressureNow finds the blood pressure that was written last up to a moment.
func pressureNow(one *session.Session, now time.Time) (p pressureRead) {
	for i := range one.Log {
		e := &one.Log[i]
		if e.Struck != nil || e.At.After(now) {
			continue
		}
		switch b := e.Body.(type) {
		case *session.VitalsBefore:
			p.take(b.SitSystolic, b.SitDiastolic, b.Pulse, e.At)
			p.Before = true
		case *session.Reading:
			if p.take(b.Systolic, b.Diastolic, b.Pulse, e.At) {
				p.Before = false
				p.Low, _ = session.FallTold(one, b.Systolic, nil, now)
			}
		case *session.LowPressure:
			if p.take(b.Systolic, b.Diastolic, nil, e.At) {
				p.Before, p.Low = false, true
			}
		}
	}
	return p
}

// take puts in a pressure that was read.
func (p *pressureRead) take(upper, lower *unit.Pressure, pulse *unit.Pulse, at time.Time) bool {
	if upper == nil {
		return false
	}
	p.Text, p.Pulse, p.At = upper.String(), "", at
	if lower != nil {
		p.Text += "/" + lower.String()
	}
	if pulse != nil {
		p.Pulse = pulse.String()
	}
	return true
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
	if strings.HasPrefix(run.CheckFrom, "set by ") {
		c.Whose = "unit’s interval"
	}
	if left := sleepLeft(run, one, now); left > 0 && !fromPaper(one) {
		t := sleepOn("/p/"+one.Person+"/session/"+one.ID, left)
		c.Sleep = &t
	}
	return c
}
