package web

import (
	"errors"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/session"
)

// A formPage makes a form and the page it stands on. fill puts what was typed,
// and what was found about it, into the form before the page is made.
type formPage func(v visit, fill func(form) form) (view, error)

// asked is the page as it is first shown.
func asked(p formPage) pageFunc {
	return func(v visit) (view, error) {
		return p(v, func(f form) form {
			if next := local(v.URL.Query().Get("next")); next != "" {
				f.Next = next
			}
			return f
		})
	}
}

// send records what a form of this kind holds and answers: on to the next page
// when it was saved, back to the same form as typed when something stands
// against it or it could not be written.
func (s *server) send(w http.ResponseWriter, r *http.Request, kind *record.Kind, page formPage) error {
	e, found := s.read(r, kind)
	return s.settle(w, r, e, found, page)
}

// settle records a finished entry; see send.
func (s *server) settle(w http.ResponseWriter, r *http.Request, e record.Entry, found record.Findings, page formPage) error {
	var failed *household.NotSavedError
	if len(found) == 0 {
		out, err := s.desk.Record(r.Context(), e)
		switch {
		case errors.As(err, &failed):
		case err != nil:
			return err
		default:
			found = out.Findings[0]
		}
	}
	if len(found) == 0 && failed == nil {
		next := local(r.PostFormValue("next"))
		if next == "" {
			next = r.URL.Path
		}
		next = s.leadsTo(r, e, next)
		if wantsJSON(r) {
			return writeJSON(w, http.StatusOK, map[string]any{"saved": true, "id": e.ID, "next": next})
		}
		http.Redirect(w, r, next, http.StatusSeeOther)
		return nil
	}
	status := http.StatusUnprocessableEntity
	if failed != nil {
		status = http.StatusServiceUnavailable
	}
	if wantsJSON(r) {
		answer := map[string]any{"saved": false, "findings": found}
		if failed != nil {
			answer["unsaved"] = failed.Err.Error()
		}
		return writeJSON(w, status, answer)
	}
	return s.render(w, r, func(v visit) (view, error) {
		made, err := page(v, func(f form) form {
			f = f.typed(r, found).waited(r, v.now)
			f.Unsaved = failed != nil
			return f
		})
		made.status = status
		return made, err
	})
}

// read makes an entry from a sent form.
func (s *server) read(r *http.Request, kind *record.Kind) (record.Entry, record.Findings) {
	first := append(s.readLabel(r, kind), s.readShown(r, kind)...)
	body, found := kind.FromForm(func(key string) []string { return r.PostForm[key] })
	found = litresTyped(kind, r, found)
	found = slices.DeleteFunc(found, func(one record.Finding) bool { return first.On(one.Field) != "" }) // said already
	found = append(found, first...)
	e := record.Entry{
		ID: r.PostFormValue("id"), Kind: kind.Name, Body: body, Device: device(r), By: s.by(r),
		Corrects: r.PostFormValue("corrects"),
		Zone:     s.desk.Zone().String(), Person: r.PathValue("p"),
	}
	if e.Corrects != "" {
		e.Reason = r.PostFormValue("reason") // a strike has a reason too, as one of its values
	}
	if kind.Session {
		e.Session = r.PathValue("s")
	}
	if why := session.Missing(r.PostFormValue("blank")); why != "" {
		e.Missing = map[string]session.Missing{}
		for _, f := range kind.Fields {
			if _, given := f.Of(body); f.Measured && f.Optional && !given {
				e.Missing[f.Key] = why
			}
		}
		if e.Missing[heparinSoFar] != "" && s.noHeparin(r) {
			delete(e.Missing, heparinSoFar)
		}
		if vitals, is := body.(*session.VitalsBefore); is {
			for _, key := range vitals.NotAsked() {
				delete(e.Missing, key)
			}
		}
	}
	for _, f := range kind.Fields {
		if again := r.PostFormValue("again." + f.Key); again != "" {
			if e.Again == nil {
				e.Again = map[string]string{}
			}
			e.Again[f.Key] = again
		}
	}
	if at, unmoved := s.unmoved(r, e.Corrects); unmoved {
		e.At, e.Zone = at, at.Location().String()
		return e, found
	}
	at, problem, afterwards := s.paperMoment(r, kind, s.desk.Now().Truncate(time.Second))
	if !afterwards {
		at, problem = s.moment(r)
	}
	if problem != "" {
		found = append(found, record.Finding{Field: "at", Step: record.Refuse, Words: problem})
	}
	e.At = at
	return e, found
}

// unmoved gives the moment of what a correction takes the place of, when the time
// on the form was left as it was, or blank. A clock on a form has no seconds, and
// belongs to one zone; what nobody changed keeps both.
func (s *server) unmoved(r *http.Request, corrects string) (at time.Time, ok bool) {
	if corrects == "" || r.PostFormValue("which") != "" {
		return at, false
	}
	s.desk.View(func(h *record.Household) { at = writtenAt(h, r, corrects) })
	clock, day := r.PostFormValue("clock"), r.PostFormValue("day")
	if at.IsZero() || clock == "" {
		return at, !at.IsZero()
	}
	typed, err := time.Parse("15:04", strings.Replace(strings.TrimSpace(clock), ".", ":", 1))
	if err != nil {
		return at, false
	}
	for _, zone := range []*time.Location{at.Location(), s.desk.Zone()} {
		shown := at.In(zone)
		if typed.Hour() == shown.Hour() && typed.Minute() == shown.Minute() && (day == "" || day == shown.Format(time.DateOnly)) {
			return at, true
		}
	}
	return at, false
}

// writtenAt gives when an entry of a session, or a blood sample, happened; the
// zero time for any other.
func writtenAt(h *record.Household, r *http.Request, id string) time.Time {
	if one := h.Session(r.PathValue("s")); one != nil {
		if e := one.Find(id); e != nil {
			return e.At
		}
	}
	if m := h.Member(r.PathValue("p")); m != nil {
		if b := m.Blood(id); b != nil {
			return b.At
		}
	}
	return time.Time{}
}

// longestWait is how long an entry may have waited on a screen and still be
// placed by the waiting alone.
const longestWait = 31 * 24 * time.Hour

// waited puts the time of an entry that waited on a screen into its form, so that it is
// not taken for now when the form is sent.
func (f form) waited(r *http.Request, now time.Time) form {
	seconds, err := strconv.Atoi(r.PostFormValue("sent"))
	if err != nil || seconds < 60 || seconds > int(longestWait/time.Second) || f.Clock != "" {
		return f
	}
	at := now.Add(-time.Duration(seconds) * time.Second)
	f.Clock = at.Format("15:04")
	if at.Format(time.DateOnly) != now.Format(time.DateOnly) {
		f.Day = at.Format(time.DateOnly)
	}
	if both := record.Moments(at.Year(), at.Month(), at.Day(), at.Hour(), at.Minute(), at.Location()); len(both) == 2 {
		f.Which = "second"
		if at.Before(both[1]) {
			f.Which = "first"
		}
	}
	return f
}

// moment reads "it happened at". Blank is now: the server's clock, never the
// screen's.
func (s *server) moment(r *http.Request) (time.Time, string) {
	clock, day := r.PostFormValue("clock"), r.PostFormValue("day")
	now := s.desk.Now().Truncate(time.Second)
	if sent := r.PostFormValue("sent"); sent != "" && clock == "" {
		// From the outbox: how many seconds it waited on the screen.
		seconds, err := strconv.Atoi(sent)
		if err != nil || seconds < 0 || seconds > int(longestWait/time.Second) {
			return now, "is not known: it waited too long on the screen. Type when it happened"
		}
		return now.Add(-time.Duration(seconds) * time.Second), ""
	}
	if clock == "" {
		return now, ""
	}
	at, problem := record.ReadClock(day, clock, r.PostFormValue("which"), now)
	if problem == "" {
		at = s.inMinute(r, at, now)
	}
	return at, problem
}

// aheadBy is how far a clock in the house may run ahead of the server's: what is typed
// off it has come, and is now. As much as the record takes.
const aheadBy = 2 * time.Minute

// inMinute places a typed clock, which has no seconds: what is written later in one
// minute comes later, and what a clock in the house shows a little early is now.
func (s *server) inMinute(r *http.Request, at, now time.Time) time.Time {
	if ahead := at.Sub(now); ahead > 0 && ahead <= aheadBy {
		return now
	}
	if r.PathValue("s") == "" {
		return at
	}
	own := []string{r.PostFormValue("id"), r.PostFormValue("corrects")} // sent twice, it stays where it is
	end := at.Add(time.Minute)
	s.desk.View(func(h *record.Household) {
		one := h.Session(r.PathValue("s"))
		if one == nil {
			return
		}
		for i := range one.Log {
			e := &one.Log[i]
			if e.Struck == nil && !slices.Contains(own, e.ID) && e.At.After(at) && e.At.Before(end) {
				at = e.At
			}
		}
	})
	return at
}
