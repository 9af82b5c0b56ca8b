package household

import (
	"slices"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A NextSession is what one of the coming sessions looks like when what is left
// over is taken with it, for looking at and asking; it is no plan.
type NextSession struct {
	Day      unit.Date
	Carried  float64 // litres above the dry weight after the session before
	Gain     float64 // usual gain until then
	Goal     float64 // both together, with drinks in the session, flushes, and washback as the plan counts it
	LengthH  float64
	RatePerK float64 // mL/h per kg of dry weight
	Over     string  // which limit it passes, and whose
	LeftOver float64 // what stays when the limits are kept
}

// CarriedText writes what is carried over, with a true minus below the dry
// weight.
func (n NextSession) CarriedText() string {
	return strings.Replace(figure(n.Carried, 1), "-", "−", 1)
}

// nextCount is how many sessions are looked ahead.
const nextCount = 3

// nextSessions carries the weight after the last session forward at the usual
// gain. It is empty when a weight or the prescription is missing.
func nextSessions(m *record.Member, now time.Time) []NextSession {
	rx := m.Prescription(unit.DateOf(now))
	done := DoneSessions(m, now.Add(-warmUp), now)
	if rx == nil || len(done) < 3 || done[len(done)-1].PostKg == 0 {
		return nil
	}
	length, _, err := rx.Value.SessionLength()
	if err != nil {
		return nil
	}
	last := done[len(done)-1]
	dry, rate := rx.Value.DryWeight.Float(), GainRate(done)
	carried, from := last.PostKg-dry, last.Ended
	var list []NextSession
	for _, day := range coming(rx.Value, done, now) {
		at := usualBegin(done).on(day, now.Location())
		n := NextSession{Day: day, Carried: carried, Gain: rate * max(at.Sub(from).Hours(), 0), LengthH: length.Float() / 60}
		wanted := n.Carried + n.Gain + (rx.Value.Intake+m.Machine().WashbackIn(&rx.Value)+rx.Value.FlushesPlanned(length)).Float()/1000 // below 0: short of dry weight
		n.Goal = max(wanted, 0)
		n.RatePerK = n.Goal * 1000 / n.LengthH / dry
		n.limit(&rx.Value, dry)
		list = append(list, n)
		carried, from = n.LeftOver+min(wanted, 0), at.Add(time.Duration(length)*time.Minute)
	}
	return list
}

// limit holds the goal against the unit's own limits.
func (n *NextSession) limit(rx *session.Prescription, dry float64) {
	most := n.Goal
	if rx.Rate != nil {
		if l := rx.Rate.Float() * dry * n.LengthH / 1000; l < most {
			most, n.Over = l, "the removal rate your unit set on "+rx.SetOn.Long()
		}
	}
	if rx.MaxRemoval != nil {
		if l := rx.MaxRemoval.Float() / 1000; l < most {
			most, n.Over = l, "the largest removal your unit set on "+rx.SetOn.Long()
		}
	}
	n.LeftOver = n.Goal - most
}

// usualBegin is the middle one of the clock faces at which treatments began,
// compared around the last one, so that 23:50 and 00:10 are near.
func usualBegin(done []DoneSession) minuteOfDay {
	const whole = 24 * 60
	var faces []int
	for i := len(done) - 1; i >= 0; i-- {
		h, mn, _ := done[i].Began.Clock()
		face := h*60 + mn
		if len(faces) > 0 {
			face = faces[0] + ((face-faces[0])%whole+whole+whole/2)%whole - whole/2
		}
		faces = append(faces, face)
	}
	if len(faces) == 0 {
		return 18 * 60
	}
	slices.Sort(faces)
	return minuteOfDay((faces[len(faces)/2] + whole) % whole)
}

// coming lists the next ordered days.
func coming(rx session.Prescription, done []DoneSession, now time.Time) []unit.Date {
	var list []unit.Date
	today := unit.DateOf(now)
	last := done[len(done)-1]
	if rx.EveryHours > 0 {
		at := last.Began
		for len(list) < nextCount {
			if at = at.Add(time.Duration(rx.EveryHours) * time.Hour); !at.Before(now) {
				list = append(list, unit.DateOf(at))
			}
		}
		return list
	}
	for day := today; len(list) < nextCount && day.Sub(today) < 15; day = day.Add(1) {
		if day != last.Night || last.Night != today {
			if rx.OnDay(day) {
				list = append(list, day)
			}
		}
	}
	return list
}
