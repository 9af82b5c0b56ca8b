package web

import (
	"errors"
	"net/http"
	"strings"

	"ebbline/record"
)

// A slip is a form outside a session: one kind of entry, what it may begin
// with, and what stands beside it.
type slip struct {
	kind  string
	title string
	here  string
	make  func(v visit, f form, b *slipBody) (form, error)
	sets  func(r *http.Request)        // what the address says better than the form
	whose func(r *http.Request) string // the person it belongs to; nil is the one of the address
}

// slipBody is the page of a slip.
type slipBody struct {
	Title string // of the page, where the address says more than the kind
	Form  form
	Lead  string
	Notes []string
	Asks  []string
	Rows  []labelled // what the form is about
	Taps  []stepLink // that fill in the form
}

// slips are the forms outside a session by their address.
func (s *server) slips() map[string]slip {
	nobody := func(*http.Request) string { return "" } // it belongs to the household
	machine := slip{kind: "machine", title: "The machine", here: "unit", make: machineForm, whose: nobody}
	unit := slip{kind: "kidney_unit", title: "Your kidney unit", here: "unit", make: kidneyUnitForm, whose: nobody}
	return map[string]slip{
		"/machine":                        machine,
		"/p/{p}/machine":                  machine,
		"/kidney-unit":                    unit,
		"/p/{p}/kidney-unit":              unit,
		"/people/new":                     {kind: "person", title: "Somebody else on this machine", here: "unit", make: newPersonForm, sets: toPrescription, whose: personOfForm},
		"/p/{p}/person":                   {kind: "person", title: "Who", here: "unit", make: personForm},
		"/p/{p}/question":                 {kind: "question", title: "A question for the unit", here: "unit", make: questionForm},
		"/p/{p}/stay":                     {kind: "hospital_stay", title: "A stay in hospital", here: "unit", make: stayForm},
		"/p/{p}/card/edit":                {kind: "card", title: "Emergency card", here: "unit", make: cardForm},
		"/p/{p}/card/steps/{trouble}":     {kind: "trouble_steps", title: "Steps for one trouble", here: "unit", make: troubleStepsForm, sets: ofTrouble},
		"/p/{p}/prescription/{rx}/paper":  {kind: "paper_confirms", title: "The paper has come", here: "unit", make: paperForm, sets: ofRx},
		"/p/{p}/prescription/{rx}/strike": {kind: "struck", title: "Strike out this version", here: "unit", make: strikeRxForm, sets: strikesRx},
		"/p/{p}/unit/strike/{e}":          {kind: "struck", title: "Strike out", here: "unit", make: strikeForm, sets: strikes},
	}
}

// page makes the form; see [formPage].
func (p slip) page(v visit, fill func(form) form) (view, error) {
	kind, ok := record.Find(p.kind)
	if !ok {
		return view{}, errors.New("there is no kind " + p.kind)
	}
	var b slipBody
	f := newForm(kind, v.URL.Path, nil)
	f.Back = back(v)
	f.Next = f.Back
	f, err := p.make(v, f, &b)
	if err != nil {
		return view{}, err
	}
	b.Form = fill(f)
	if b.Form.Next != "" {
		b.Form.Back = b.Form.Next
	}
	if b.Title == "" {
		b.Title = p.title
	}
	return view{page: "slip", title: b.Title, here: p.here, body: b}, nil
}

// back is where a form of the household leads when nobody says otherwise.
func back(v visit) string {
	if v.member != nil {
		return "/p/" + v.member.ID + "/unit"
	}
	return "/"
}

// recordSlip takes such a form.
func (s *server) recordSlip(p slip) postFunc {
	return func(w http.ResponseWriter, r *http.Request) error {
		kind, ok := record.Find(p.kind)
		if !ok {
			return errors.New("there is no kind " + p.kind)
		}
		oneLineEnd(r)
		if p.sets != nil {
			p.sets(r)
		}
		e, found := s.read(r, kind)
		if p.whose != nil {
			e.Person = p.whose(r)
		}
		return s.settle(w, r, e, found, p.page)
	}
}

// oneLineEnd writes the line ends of typed texts as the record keeps them: a
// browser sends two characters for each.
func oneLineEnd(r *http.Request) {
	for _, values := range r.PostForm {
		for i, v := range values {
			values[i] = strings.ReplaceAll(v, "\r\n", "\n")
		}
	}
}

// filled are the values of an entry as a form begins with them.
func filled(kind *record.Kind, body any) map[string]string {
	given := map[string]string{}
	for _, f := range kind.Fields {
		given[f.Key] = f.Typed(body)
	}
	return given
}

// begin fills the fields that nobody measured.
func (f form) begin(given map[string]string) form {
	for i := range f.Inputs {
		if in := &f.Inputs[i]; !in.Measured {
			in.Value = given[in.Key]
		}
	}
	return f
}

// hint puts words under fields, by key.
func (f form) hint(words map[string]string) form {
	for i := range f.Inputs {
		if w := words[f.Inputs[i].Key]; w != "" {
			f.Inputs[i].Doc = w
		}
	}
	return f
}

// posted is a hidden value as it was sent, or a new one on an empty form.
func (v visit) posted(key, fresh string) string {
	if sent := v.PostFormValue(key); sent != "" {
		return sent
	}
	return fresh
}
