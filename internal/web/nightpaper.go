package web

import (
	"time"

	"ebbline/record"
	"ebbline/session"
)

// nightOnPaper lists the steps of a night for a session that is typed in from
// paper: they are ticked as of the time of what was typed in last.
func (b *setUpBody) nightOnPaper(v visit) {
	if !b.Paper {
		return
	}
	at := lastTyped(b.Session)
	for _, st := range b.State.Steps {
		if !session.IsNightStep(st.ID) {
			continue
		}
		one := stepOf(st, b.Base, b.Sheet.Phase)
		for key, value := range typedTime(at, v.now) {
			one.Tick.Hidden[key] = value
		}
		b.Night = append(b.Night, one)
	}
}

// typedTime are the fields of a form that stand for a moment.
func typedTime(at, now time.Time) map[string]string {
	at = at.In(now.Location())
	fields := map[string]string{"clock": at.Format("15:04"), "day": at.Format(time.DateOnly)}
	for _, which := range []string{"first", "second"} {
		if _, problem := record.ReadClock(fields["day"], fields["clock"], "", now); problem == "" {
			break
		}
		if found, problem := record.ReadClock(fields["day"], fields["clock"], which, now); problem == "" && found.Equal(at.Truncate(time.Minute)) {
			fields["which"] = which
		}
	}
	return fields
}
