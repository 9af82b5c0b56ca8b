package web

import (
	"net/http"
	"slices"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// A session typed in afterwards, from paper or from another place, happened at
// another time than now: what is typed wants its time, and a time belongs to
// the night of that session.

// fromPaper reports whether a session is typed in afterwards.
func fromPaper(one *session.Session) bool {
	o, _ := one.Opened()
	return o.Source == "paper"
}

// timed are the kinds, besides those that happen while the treatment runs,
// whose time the arithmetic of a session rests on: blank, it is asked for.
var timed = []string{"weigh_in", "vitals_before", "chlorine", "needling", "connected", "medicine", "glucose", "came_off", "vitals_after", "weigh_out", "trouble"}

// untimed may be written without a time of day: they say when they were typed.
var untimed = []string{"closed", "note", "override", "step"}

// usualTime is when an entry that a paper seldom times is taken to have
// happened: before the treatment with what was typed last, after it with its
// end. It stands in the form, to be put right.
func usualTime(one *session.Session, kind *record.Kind) (time.Time, bool) {
	if !fromPaper(one) || kind.Live || slices.Contains(timed, kind.Name) || slices.Contains(untimed, kind.Name) {
		return time.Time{}, false
	}
	if end, over := one.Ended(); over && slices.Contains([]string{"holding", "circuit", "disinfection"}, kind.Name) {
		return end, true
	}
	return lastTyped(one), true
}

// lastTyped is the time of what was typed in last of what came before the
// treatment.
func lastTyped(one *session.Session) time.Time {
	_, at := one.Opened()
	began, begun := one.Began()
	for i := range one.Log {
		if e := &one.Log[i]; e.Struck == nil && !slices.Contains(untimed, e.Kind) && (!begun || !e.At.After(began)) && e.At.After(at) {
			at = e.At
		}
	}
	return at
}

// onPaper opens the form's "it happened at" when the session is typed in
// afterwards.
func (f form) onPaper(one *session.Session) form {
	f.Paper = fromPaper(one) && !slices.Contains(untimed, f.Kind.Name)
	if at, ok := usualTime(one, f.Kind); ok {
		f.Clock = at.Format("15:04")
		if found, _ := clockOfNight(one, f.Clock, "", at); !found.Equal(at.Truncate(time.Minute)) {
			f.Day = at.Format(time.DateOnly)
		}
	}
	return f
}

// OfNight reports whether a time in this form lies in the night of its session.
func (f form) OfNight() bool { return f.Paper && f.Kind.Session && f.Kind.Name != "session_opened" }

// paperMoment reads "it happened at" of an entry of a session typed in
// afterwards; ok is false for any other. A time without a day lies in the
// night of the session: past midnight it is the next day's.
func (s *server) paperMoment(r *http.Request, kind *record.Kind, now time.Time) (at time.Time, problem string, ok bool) {
	if !kind.Session || kind.Name == "session_opened" || r.PathValue("s") == "" {
		return at, "", false
	}
	clock, day := r.PostFormValue("clock"), r.PostFormValue("day")
	if day != "" && clock != "" {
		return at, "", false
	}
	_ = s.look(r, func(v visit) error {
		if !fromPaper(v.session) {
			return nil
		}
		usual, known := usualTime(v.session, kind)
		switch {
		case clock == "" && known:
			at, ok = usual, true
		case clock == "" && !slices.Contains(untimed, kind.Name) && r.PostFormValue("corrects") == "":
			at, ok, problem = now, true, "is still blank: type when it happened, as it stands on the paper"
		case clock != "":
			at, problem = clockOfNight(v.session, clock, r.PostFormValue("which"), now)
			ok = true
		}
		return nil
	})
	return at, problem, ok
}

// clockOfNight finds a time of day in the night of a session: from a little
// before it was opened on.
func clockOfNight(one *session.Session, clock, which string, now time.Time) (time.Time, string) {
	_, opened := one.Opened()
	opened = opened.In(now.Location())
	at, problem := record.ReadClock(opened.Format(time.DateOnly), clock, which, now)
	if problem == "" && !at.Before(opened.Add(-beforeOpening)) {
		return at, ""
	}
	if late, wrong := record.ReadClock(opened.AddDate(0, 0, 1).Format(time.DateOnly), clock, which, now); problem == "" || wrong == "" && late.Sub(opened) < 12*time.Hour {
		return late, wrong
	}
	return at, problem
}

// beforeOpening is how long before it was opened something of a session may
// have happened: the scale stood on, the page not yet opened.
const beforeOpening = 3 * time.Hour

// A paperKind is one form of a session typed in afterwards.
type paperKind struct {
	*record.Kind
	Done bool
}

// ofNeedles are the kinds that a catheter has no use for, ofCatheter those that only a
// catheter has.
var (
	ofNeedles  = []string{"needling", "holding", "needle_adjusted"}
	ofCatheter = []string{"lock_drawn", "catheter_lock"}
)

// restOfPaper are the forms a session is typed in with afterwards, in the order
// of the sheet; none for one that is written as it happens.
func restOfPaper(one *session.Session) []paperKind {
	if !fromPaper(one) {
		return nil
	}
	not := ofCatheter
	if one.Rx.ByCatheter() {
		not = ofNeedles
	}
	var list []paperKind
	for _, k := range record.Kinds() {
		switch k.Name {
		case "session_opened", "step", "plan", "paper_plan", "override", "closed", "came_off", "connected", "asleep":
		default:
			if k.Session && (!k.Live || one.Treated()) && (!slices.Contains(not, k.Name) || one.Has(k.Name)) {
				list = append(list, paperKind{k, one.Has(k.Name)})
			}
		}
	}
	return list
}
