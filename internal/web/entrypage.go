package web

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// entryBody is the page of one form, with what was written of its kind before.
type entryBody struct {
	Form     form
	Kind     *record.Kind
	Back     string
	Entries  []entryRow // of this kind, in this session
	Notes    []string   // what the page says beside the form
	Since    string     // how long it is since the last session, where nothing is to be said about it
	Before   string     // what was said last, where the form shows it ticked
	Asks     []string   // stop and look
	Allergy  string
	Scale    string    // the unit in which a weight is typed
	Entry    *entryRow // the one entry that this page is about
	Strike   form
	More     *stepLink // beside the form: to what it chooses from
	LinesOff *form     // says that the blood lines are off the machine, where they are on it
}

// entryRow is one entry as a list shows it.
type entryRow struct {
	ID, Title, Link string
	At              time.Time
	Late            time.Duration // typed so much later; 0 when at once
	By              string
	Values          []labelled
	Struck          *session.Strike
	Was             []wasRow
}

type wasRow struct {
	At, Written time.Time
	By, Reason  string
	Values      []labelled
}

type labelled struct{ Label, Value string }

// tabled are the fields that hold a name out of one of our tables without a
// closed list of choices: it is shown with spaces.
var tabled = []string{"step.step", "override.check", "water_sample.for"}

func valuesOf(k *record.Kind, body any, missing map[string]session.Missing) []labelled {
	var list []labelled
	for _, f := range k.Fields {
		value, given := f.Of(body)
		text := f.Text(body)
		switch {
		case !given && missing[f.Key] != "":
			text = missingWords[missing[f.Key]]
		case !given:
			continue
		case strings.HasSuffix(f.Key, "_id"):
			continue // the name of another entry says nothing to a reader
		case value == false:
			continue // an unticked box is no news
		case k.Name == "access_check" && f.Key == "thrill" && text == "not_applicable":
			continue // a catheter has none
		}
		for _, c := range f.Choices {
			if c.Value == text {
				text = c.Label
			}
		}
		if slices.Contains(tabled, k.Name+"."+f.Key) {
			text = strings.ReplaceAll(text, "_", " ")
		}
		if s := f.Symbol(); s != "" && given {
			if strings.HasPrefix(text, "-") {
				text = "−" + text[1:]
			}
			text += "\u00a0" + s
		}
		list = append(list, labelled{f.Label, text})
	}
	return list
}

var missingWords = map[session.Missing]string{
	session.NotDone: "not done", session.NotRecorded: "not recorded", session.DoesNotApply: "does not apply", session.AsleepByPlan: "asleep by plan",
}

func rowOf(base string, one *session.Session, e *session.Event) entryRow {
	kind, ok := record.Find(e.Kind)
	if !ok {
		return entryRow{ID: e.ID, Title: e.Kind, At: e.At}
	}
	row := entryRow{ID: e.ID, Title: kind.Title, Link: base + "/entry/" + e.ID, At: e.At, By: e.By, Struck: e.Struck, Values: valuesIn(one, kind, e.Body, e.Missing)}
	if late, is := e.Late(); is {
		row.Late = late
	}
	for _, w := range e.Was {
		row.Was = append(row.Was, wasRow{At: w.At, Written: w.Written, By: w.By, Reason: w.Reason, Values: valuesIn(one, kind, w.Body, w.Missing)})
	}
	return row
}

// valuesIn are the values of an entry of a session, in the words of its access; what the
// person wrote is left alone.
func valuesIn(one *session.Session, kind *record.Kind, body any, missing map[string]session.Missing) []labelled {
	said := *kind
	said.Fields = make([]record.Field, len(kind.Fields))
	for i, f := range kind.Fields {
		said.Fields[i] = f.By(one.Rx)
		if f.Key == "saline_on_arterial_line" && one.ByFiltration() {
			said.Fields[i].Label = fluidOnTheLine
		}
	}
	return valuesOn(one.Machine, &said, body, missing)
}

// drugKinds are the forms on which something is given to the person: their
// allergies stand beside it.
var drugKinds = []string{"medicine", "catheter_lock", "anaesthetic_drawn", "flush_drawn", "saline", "supply"}

// kindPage is the form of any kind of entry of a session.
func (s *server) kindPage(v visit) (view, error) {
	if kind := v.PathValue("kind"); endsHere(v.session) && (kind == "came_off" || kind == "washback_checked") {
		return view{goTo: sessionURL(v.Request) + "/washback"}, nil
	}
	return asked(s.kindForm)(v)
}

func (s *server) kindForm(v visit, fill func(form) form) (view, error) {
	kind, ok := record.Find(v.PathValue("kind"))
	if !ok || !kind.Session || kind.Name == "session_opened" {
		return view{}, notFound{"no such form"}
	}
	if kind.Name == "washback_checked" && endsHere(v.session) && v.session.Phase() == session.Running {
		return s.washbackForm(v, fill)
	}
	if len(staysOut(v)) > 0 && endsHere(v.session) && (kind.Name == "washback_checked" || kind.Name == "came_off") {
		return noEnd(kind, fill), nil
	}
	base := sessionURL(v.Request)
	f := newForm(kind, base+"/"+kind.Name, s.given(v, kind))
	f.Next, f.Back, f.Late = base, base, v.session.Phase() == session.Done
	f = f.onMachine(v.session.Machine).onPaper(v.session).onVitals(v).ofScale(v)
	switch kind.Name {
	case "rang":
		f = f.ofCall(v, base)
	case "fitness":
		f = f.ofFitness()
	case "disinfection":
		f.Clock, f.Day, f.Which = v.FormValue("clock"), v.FormValue("day"), v.FormValue("which")
	}
	f = fill(f).ofFiltration(v.session).ofHeparin(v.session).ofAccess(v.session.Rx).offered(v.session.Rx).offerLots(v).ofReading(v).bothAgain().offerUnits(v, base)
	b := entryBody{Kind: kind, Back: base}
	b.Form = f.ofFluid(v).ofBatch(v, &b, base)
	if isWeighing(kind) {
		b.Scale = unitWords(scaleShows(v.Request))
	}
	if kind.Name == "disinfection" {
		b.LinesOff = linesOffForm(v, base)
	}
	for i := range v.session.Log {
		if v.session.Log[i].Kind == kind.Name {
			b.Entries = append(b.Entries, rowOf(base, v.session, &v.session.Log[i]))
		}
	}
	b.Notes, b.Asks = besideForm(v, kind)
	if words := catheterOpen(v.session); kind.Name == "closed" && words != "" {
		b.Asks = append(b.Asks, words)
	}
	if said := session.SinceLast(v.session, v.member.History(v.session), v.now).Said(); kind.Name == "fitness" && said.State == session.Ready {
		b.Since = said.Words
	}
	if kind.Name == "fitness" {
		b.Before = fitBefore(v)
	}
	if slices.Contains(drugKinds, kind.Name) {
		if p, ok := v.member.Person.Now(); ok {
			b.Allergy = p.Allergies
		}
	}
	return view{page: "entry", title: kind.Title, here: "session", body: b}, nil
}

// given are the values a form may begin with: never a measured one.
func (s *server) given(v visit, kind *record.Kind) map[string]string {
	given := map[string]string{}
	h := v.member.History(v.session)
	switch kind.Name {
	case "weigh_in":
		given["scale"], given["read_in"] = h.Scale, "kg"
	case "weigh_out":
		given["scale"] = h.Scale
		if in, _ := session.Last[session.WeighIn](v.session); in != nil {
			given["scale"] = in.Scale
		}
	case "fitness":
		return fitGiven(v)
	case "disinfection": // typed before the lines came off
		given["programme"], given["result"] = v.URL.Query().Get("programme"), v.URL.Query().Get("result")
	case "vitals_before":
		if !unableAt(v).Stand.IsZero() {
			given["cannot_stand"] = "yes"
		}
	case "chlorine":
		for _, one := range v.member.Earlier(v.session) {
			if c, _ := session.Last[session.Chlorine](one); c != nil && !one.Abandoned() {
				given["method"], given["sample_point"] = c.Method, c.Point
			}
		}
	case "needling":
		if rx := v.session.Rx; rx != nil {
			given["arterial_gauge"], given["venous_gauge"] = whole(rx.GaugeA), whole(rx.GaugeV)
		}
	}
	return given
}

// recordKind takes the form of any kind of entry of a session.
func (s *server) recordKind(w http.ResponseWriter, r *http.Request) error {
	kind, ok := record.Find(r.PathValue("kind"))
	if !ok || !kind.Session || kind.Name == "session_opened" {
		return notFound{"no such form"}
	}
	if r.PostFormValue("next") == "" {
		r.PostForm.Set("next", sessionURL(r))
	}
	pressedLot(r)
	if isWeighing(kind) {
		return s.sendWeight(w, r, kind)
	}
	if slices.Contains(yesKinds, kind.Name) && r.PostForm.Has(yesField) {
		return s.sendYes(w, r, kind)
	}
	switch kind.Name {
	case "fitness":
		return s.sendFitness(w, r, kind)
	case "access_check":
		return s.sendAccess(w, r, kind)
	case "came_off":
		return s.endTreatment(w, r, kind)
	}
	return s.send(w, r, kind, s.kindForm)
}

// entryPage shows one entry with its history, and the forms to correct it or
// to strike it out.
func (s *server) entryPage(v visit) (view, error) {
	return s.correction(v, func(f form) form { return f })
}

func (s *server) correction(v visit, fill func(form) form) (view, error) {
	e := v.session.Find(v.PathValue("e"))
	if e == nil {
		return view{}, notFound{"no such entry; perhaps it was corrected since"}
	}
	kind, ok := record.Find(e.Kind)
	if !ok {
		return view{}, notFound{"no such entry"}
	}
	base := sessionURL(v.Request)
	row := rowOf(base, v.session, e)
	given := map[string]string{}
	for _, f := range kind.Fields {
		given[f.Key] = f.Typed(e.Body)
	}
	f := newForm(kind, base+"/entry/"+e.ID, nil)
	for i := range f.Inputs {
		// What is corrected was measured once; its own digits are the start.
		f.Inputs[i].Value = given[f.Inputs[i].Key]
	}
	f = f.onMachine(v.session.Machine)
	f.Corrects, f.Submit, f.Back = e.ID, "Correct it", base
	f.Clock, f.Day = e.At.Format("15:04"), e.At.Format(time.DateOnly)
	strike, _ := record.Find("struck")
	out := newForm(strike, base+"/entry/"+e.ID+"/strike", nil).only("reason")
	out.Submit = "Strike it out"
	b := entryBody{Form: fill(f).ofFiltration(v.session).ofHeparin(v.session).ofAccess(v.session.Rx).offered(v.session.Rx), Kind: kind, Back: base, Entry: &row, Strike: out}
	if kind.Name == "came_off" {
		b.Asks = staysOut(v)
	}
	return view{page: "correct", title: "Correct: " + kind.Title, here: "session", body: b}, nil
}

func (s *server) correctEntry(w http.ResponseWriter, r *http.Request) error {
	var kind *record.Kind
	if err := s.look(r, func(v visit) error {
		e := v.session.Find(v.PathValue("e"))
		if e == nil {
			return notFound{"no such entry; perhaps it was corrected since"}
		}
		kind, _ = record.Find(e.Kind)
		return nil
	}); err != nil {
		return err
	}
	r.PostForm.Set("next", sessionURL(r))
	r.PostForm.Set("corrects", r.PathValue("e"))
	return s.send(w, r, kind, s.correction)
}

func (s *server) strikeEntry(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("struck")
	r.PostForm.Set("next", sessionURL(r))
	r.PostForm.Set("entry_id", r.PathValue("e"))
	e, found := s.read(r, kind)
	e.Session = r.PathValue("s")
	return s.settle(w, r, e, found, func(v visit, fill func(form) form) (view, error) {
		made, err := s.correction(v, func(f form) form { return f })
		if b, ok := made.body.(entryBody); ok {
			b.Strike = fill(b.Strike)
			made.body = b
		}
		return made, err
	})
}
