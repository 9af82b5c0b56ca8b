package web

import (
	"crypto/sha256"
	"encoding/base32"
	"errors"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/session"
)

// One yes keeps what it agrees to at once, and of the rest of the form what is in no
// doubt: help does not wait for the question about another value. What is still in doubt
// goes to a form of its own, with its questions. It stands in the address, so that it
// stays when the page is loaded again, and has an id of its own, so that it is saved
// once.

// yesKinds are the kinds whose forms have such a button.
var yesKinds = []string{"reading", "low_pressure"}

// sendYes records what a form holds of which one tap agreed to something.
func (s *server) sendYes(w http.ResponseWriter, r *http.Request, kind *record.Kind) error {
	agreed, err := url.ParseQuery(r.PostFormValue(yesField))
	r.PostForm.Del(yesField)
	if err != nil || len(agreed) == 0 {
		return s.send(w, r, kind, s.kindForm)
	}
	for key := range agreed {
		r.PostForm.Set("again."+key, agreed.Get(key))
	}
	whole := maps.Clone(r.PostForm)
	left := url.Values{}
	e, found := s.checked(r, kind)
	said := found
	for len(found) > 0 {
		moved := false
		for _, one := range found {
			moved = setAside(kind, r.PostForm, left, one.Field, agreed) || moved
		}
		if !moved { // it stands against what was agreed to, or the entry as a whole
			r.PostForm = whole
			return s.send(w, r, kind, s.kindForm)
		}
		e, found = s.checked(r, kind)
	}
	if len(left) == 0 {
		return s.settle(w, r, e, nil, s.kindForm)
	}
	var failed *household.NotSavedError
	out, err := s.desk.Record(r.Context(), e)
	switch {
	case errors.As(err, &failed):
		r.PostForm = whole
		return s.settle(w, r, e, nil, s.kindForm) // which says that it is not saved
	case err != nil:
		return err
	case len(out.Findings[0]) > 0:
		r.PostForm = whole
		return s.settle(w, r, e, out.Findings[0], s.kindForm)
	}
	for _, key := range []string{"clock", "day", "which"} {
		if text := whole.Get(key); text != "" {
			left.Set(key, text)
		}
	}
	if sent := whole.Get("sent"); sent != "" && !wantsJSON(r) { // a screen counts on by itself
		f := form{}.waited(r, s.desk.Now())
		for key, text := range map[string]string{"clock": f.Clock, "day": f.Day, "which": f.Which} {
			if text != "" && left.Get(key) == "" {
				left.Set(key, text)
			}
		}
	}
	left.Set("id", restID(e.ID))
	left.Set("rest", e.ID)
	next := sessionURL(r) + "/" + kind.Name + "?" + left.Encode()
	if _, place, there := strings.Cut(s.leadsTo(r, e, ""), "#"); there {
		next += "#" + place
	}
	if wantsJSON(r) {
		return writeJSON(w, http.StatusOK, map[string]any{"saved": true, "id": e.ID, "next": next, "rest": left, "findings": said})
	}
	http.Redirect(w, r, next, http.StatusSeeOther)
	return nil
}

// checked reads a form and holds it against the record, and writes nothing.
func (s *server) checked(r *http.Request, kind *record.Kind) (record.Entry, record.Findings) {
	e, found := s.read(r, kind)
	if len(found) == 0 {
		e.Written = s.desk.Now().UTC().Truncate(time.Second)
		s.desk.View(func(h *record.Household) { found = record.Check(h, e) })
		e.Written = time.Time{}
	}
	return e, found
}

// setAside moves a value that something stands against out of a form; false where it
// is none, or was agreed to.
func setAside(kind *record.Kind, form, left url.Values, key string, agreed url.Values) bool {
	if _, is := kind.Field(key); !is || agreed.Has(key) || left.Has(key) || !form.Has(key) {
		return false
	}
	move := []string{key}
	switch key {
	case "removed_ml":
		move = append(move, "counter_began_again", "substitution_l") // what came off is known from both of one look
	case "substitution_l":
		move = append(move, "counter_began_again", "removed_ml")
	case "pulse_per_min":
		if tick := "pulse_irregular"; form.Has(tick) { // it is said at once, and stays with the pulse
			left[tick] = form[tick]
		}
	}
	for _, one := range move {
		if form.Has(one) {
			left[one] = form[one]
			form.Del(one)
		}
		form.Del("again." + one)
	}
	return true
}

// restID is the id of what was left of an entry: the same however often that is sent.
func restID(id string) string {
	sum := sha256.Sum256([]byte("left of " + id))
	return strings.ToLower(base32.StdEncoding.EncodeToString(sum[:10]))
}

// kindOrRest answers with the form of a kind of entry; what one yes left in doubt stands
// in it with its questions.
func (s *server) kindOrRest(w http.ResponseWriter, r *http.Request) {
	q := r.URL.Query()
	kind, known := record.Find(r.PathValue("kind"))
	if !known || !slices.Contains(yesKinds, kind.Name) || !q.Has("rest") {
		s.show(s.kindPage)(w, r)
		return
	}
	// Only what this session has the other part of: a link from elsewhere types nothing.
	kept, saved := false, false
	_ = s.look(r, func(v visit) error {
		e := v.session.Find(q.Get("rest"))
		kept = e != nil && e.Kind == kind.Name && q.Get("id") == restID(e.ID)
		saved = v.session.Find(q.Get("id")) != nil
		return nil
	})
	switch {
	case saved:
		http.Redirect(w, r, sessionURL(r), http.StatusSeeOther)
	case !kept:
		s.show(s.kindPage)(w, r)
	default:
		r.PostForm = q
		_, found := s.checked(r, kind)
		s.show(func(v visit) (view, error) {
			made, err := s.kindForm(v, func(f form) form { return f.typed(r, found) })
			if b, is := made.body.(entryBody); is {
				b.Notes = append([]string{savedWords(v.session.Find(q.Get("rest")), v.session.Machine)}, b.Notes...)
				made.body = b
			}
			return made, err
		})(w, r)
	}
}

// savedWords say what was saved of a form, above what is left of it.
func savedWords(e *session.Event, m session.Machine) string {
	var list []string
	for _, one := range rowOf("", &session.Session{Machine: m}, e).Values {
		list = append(list, one.Label+" "+one.Value)
	}
	return "Saved at " + clockFace(e.At) + ": " + strings.Join(list, ", ") + "."
}
