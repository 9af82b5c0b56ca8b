package web

import (
	"errors"
	"net/http"
	"net/url"
	"slices"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// The record holds weights in kilograms. A scale that shows pounds, or stone and
// pounds, has a form of its own with fields of their own: it is chosen on the form
// of each weight, no setting makes it the usual one, and the kilograms are shown
// before they are kept (hazard H-01).

// The units in which a scale may show a weight, as the record names them.
const (
	inKilograms = "kg"
	inPounds    = "lb"
	inStone     = "st" // stone and pounds
)

var scaleUnits = []struct{ Name, Words string }{{inKilograms, "kilograms"}, {inPounds, "pounds"}, {inStone, "stone and pounds"}}

// The fields that hold a weight as the scale shows it.
const (
	fieldKilograms = "weight_kg"
	fieldPounds    = "weight_lb"
	fieldStone     = "weight_st"
)

// weightFields are the fields of a weight in one unit, in their order.
func weightFields(in string) []string {
	switch in {
	case inPounds:
		return []string{fieldPounds}
	case inStone:
		return []string{fieldStone, fieldPounds}
	}
	return []string{fieldKilograms}
}

// scaleShows is the unit that was chosen for this one weight: by the form that was
// sent or, before that, by the address of the page.
func scaleShows(r *http.Request) string {
	in := r.URL.Query().Get("in")
	if r.Method == http.MethodPost {
		in = r.PostFormValue("read_in")
	}
	if in != inPounds && in != inStone {
		return inKilograms
	}
	return in
}

// wholePound and tenthPound are the steps of what is typed: scales show pounds to
// 0.1 or 0.2 (common practice), and stone without a fraction.
const (
	wholePound = 100
	tenthPound = wholePound / 10
)

// A scaleReading is a weight as it was typed off a scale that shows no kilograms.
type scaleReading struct {
	mass  unit.Mass
	words string // as it was typed, "160.9 lb"
	found record.Findings
	blank bool // nothing was typed
}

// readScale reads pounds, or stone and pounds. before is what stands before the
// names of the fields: nothing, or “again.” for the second typing.
func readScale(sent url.Values, in, before string) (got scaleReading) {
	var lb unit.Pounds
	var st unit.Stone
	got.blank = true
	for _, key := range weightFields(in) {
		typed := strings.TrimSpace(sent.Get(before + key))
		if typed != "" {
			got.blank = false
		}
		var why string
		if key == fieldStone {
			why = readStone(&st, typed)
		} else {
			why = readPounds(&lb, typed, in)
		}
		if got.words += typed + " " + strings.TrimPrefix(key, "weight_") + " "; why != "" {
			got.found = append(got.found, record.Finding{Field: key, Step: record.Refuse, Words: why})
		}
	}
	got.words = strings.TrimSpace(got.words)
	if len(got.found) > 0 {
		return got
	}
	if in == inPounds {
		got.mass, got.words = unit.MassOfPounds(lb), lb.String()+" lb"
		return got
	}
	got.mass, got.words = unit.MassOfStone(st, lb), st.String()+" st "+lb.String()+" lb"
	return got
}

// readPounds reads pounds, and says what stands against them.
func readPounds(lb *unit.Pounds, typed, in string) (why string) {
	var bad *unit.InputError
	switch err := lb.UnmarshalText([]byte(typed)); {
	case typed == "" && in == inStone:
		return "is still blank: type 0 where the scale shows none"
	case typed == "":
		return "is still blank"
	case errors.As(err, &bad):
		return refusal(bad)
	case *lb%tenthPound != 0:
		return "“" + typed + "” is not accepted: needs at most one decimal, as a scale shows pounds"
	case in == inStone && *lb >= unit.PoundsPerStone*wholePound:
		return "“" + typed + "” is not accepted: needs less than 14 lb, which are a stone"
	}
	return ""
}

// readStone reads stone, and says what stands against it.
func readStone(st *unit.Stone, typed string) (why string) {
	var bad *unit.InputError
	switch err := st.UnmarshalText([]byte(typed)); {
	case typed == "":
		return "is still blank"
	case errors.As(err, &bad):
		return refusal(bad)
	case *st%wholePound != 0:
		return "“" + typed + "” is not accepted: needs whole stone; type what is over in pounds"
	}
	return ""
}

// otherUnit says what stands against a weight that was typed in two units.
func otherUnit(sent url.Values, in string) (found record.Findings) {
	for _, key := range []string{fieldKilograms, fieldStone, fieldPounds} {
		if strings.TrimSpace(sent.Get(key)) == "" || slices.Contains(weightFields(in), key) {
			continue
		}
		found = append(found, record.Finding{Field: key, Step: record.Refuse,
			Words: "holds a weight too, but the scale is said to show " + unitWords(in) + ". Type it in one unit, and leave the other blank"})
	}
	return found
}

func unitWords(in string) string {
	for _, u := range scaleUnits {
		if u.Name == in {
			return u.Words
		}
	}
	return ""
}

// sendWeight records a weight. Of pounds and stone only the kilograms are kept, and
// not before they were shown; what the record asks about them is asked at once.
func (s *server) sendWeight(w http.ResponseWriter, r *http.Request, kind *record.Kind) error {
	in := scaleShows(r)
	e, found := s.read(r, kind)
	if weightOf(e.Body) == 0 {
		noUnit(e.Body)
	}
	if both := otherUnit(r.PostForm, in); len(both) > 0 {
		return s.settle(w, r, e, append(both, found...), s.kindForm)
	}
	got := readScale(r.PostForm, in, "")
	if _, mayMiss := e.Missing[fieldKilograms]; in == inKilograms || got.blank && mayMiss {
		return s.settle(w, r, e, found, s.kindForm)
	}
	found = slices.DeleteFunc(found, func(one record.Finding) bool { return one.Field == fieldKilograms }) // blank, as it must be
	if found = append(got.found, found...); len(found) > 0 {
		return s.settle(w, r, e, found, s.kindForm)
	}
	e = withWeight(e, got.mass, in, readScale(r.PostForm, in, "again."))
	if r.PostFormValue("shown_kg") == got.mass.String() {
		return s.settle(w, r, e, nil, s.inKilograms(got))
	}
	asked := s.wouldSay(e)
	if asked.Refused() {
		return s.settle(w, r, e, asked, s.kindForm)
	}
	return s.showKilograms(w, r, got, asked)
}

// withWeight puts a weight read in another unit into the entry, and its second
// typing, both in kilograms. A second typing that cannot be read stays as typed,
// and answers nothing.
func withWeight(e record.Entry, mass unit.Mass, in string, again scaleReading) record.Entry {
	switch b := e.Body.(type) {
	case *session.WeighIn:
		b.Weight, b.ReadIn = mass, in
	case *session.WeighOut:
		b.Weight, b.ReadIn = mass, in
	}
	delete(e.Missing, fieldKilograms)
	delete(e.Again, fieldKilograms)
	if again.blank {
		return e
	}
	if e.Again == nil {
		e.Again = map[string]string{}
	}
	e.Again[fieldKilograms] = again.words
	if len(again.found) == 0 {
		e.Again[fieldKilograms] = again.mass.String()
	}
	return e
}

func weightOf(body any) unit.Mass {
	switch b := body.(type) {
	case *session.WeighIn:
		return b.Weight
	case *session.WeighOut:
		return b.Weight
	}
	return 0
}

// noUnit takes the unit of the scale out of a weight after that is missing.
func noUnit(body any) {
	if b, ok := body.(*session.WeighOut); ok {
		b.ReadIn = ""
	}
}

// wouldSay is what the record would say of an entry now.
func (s *server) wouldSay(e record.Entry) (found record.Findings) {
	e.Written = s.desk.Now().UTC().Truncate(time.Second)
	s.desk.View(func(h *record.Household) { found = record.Check(h, e) })
	return found
}

// showKilograms answers with the kilograms, to be kept or not. Nothing is written.
func (s *server) showKilograms(w http.ResponseWriter, r *http.Request, got scaleReading, asked record.Findings) error {
	if wantsJSON(r) {
		words := got.words + " is " + got.mass.String() + " kg. Keep it?"
		shown := record.Finding{Field: "shown_kg", Step: record.Ask, Words: words}
		return writeJSON(w, http.StatusUnprocessableEntity, map[string]any{"saved": false, "findings": append(record.Findings{shown}, asked...)})
	}
	return s.render(w, r, func(v visit) (view, error) {
		made, err := s.inKilograms(got)(v, func(f form) form { return f.typed(r, asked) })
		made.status = http.StatusUnprocessableEntity
		return made, err
	})
}

// inKilograms is the form of a weight that shows what was typed in kilograms.
func (s *server) inKilograms(got scaleReading) formPage {
	return func(v visit, fill func(form) form) (view, error) {
		return s.kindForm(v, func(f form) form { return fill(f).showing(got) })
	}
}
