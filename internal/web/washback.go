package web

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
)

// washbackBody is the page between running and the end of a treatment: whether the
// blood may go back, what is looked at before the pump starts, and how it ended.
type washbackBody struct {
	Base     string
	State    string // one of the states below
	Out      []bloodOut
	Open     []session.OpenTrouble // of which the unit's steps say whether the blood goes back
	Felt     []session.BloodSign   // what was felt or measured, and nobody has said since that it is there
	Was      []session.EndedTrouble
	Hard     []session.Remark // felt, one for the ambulance, and not answered; the steps say whether the blood goes back
	ByHand   bool             // the power is cut: there is no pump to start
	Stood    *bloodStill      // longer than the unit's figure, and nobody was rung about it since
	StoodBy  []report.Phone
	Rang     form
	Signs    []sign
	Ticks    form
	Catheter bool
	Filtered bool
	Gross    bool
	Looked   time.Time // when the three were looked at; zero where they were not
	Before   time.Time // when they were, for an attempt that is over
	Fuller   form      // the bag gets fuller, or red
	Off      form      // the end of the treatment
	Posted   bool      // a form came back: nothing takes it from under the hands
	Sent     bool      // Off came back: something stands against it
	Unit     string    // where the numbers are written
	None     form      // the end of it without giving the blood back
	NoneOpen bool
}

// The states of the page, in the order in which they come.
const (
	washbackOut   = "out"   // the blood stays out
	washbackAsk   = "ask"   // is something there in which it would?
	washbackTicks = "ticks" // what is looked at before the pump starts
	washbackReady = "ready" // the pump may start
	washbackLate  = "late"  // it was looked at, too long ago to start the pump now
)

// bloodOut is an open trouble in which the blood stays out.
type bloodOut struct {
	session.OpenTrouble
	Phones []report.Phone // whom to ring first
	Others []report.Phone // of the unit, after that
	Over   form           // the unit said that it is over
}

// A sign is something seen or felt in which the blood stays out; one press says
// that it is there.
type sign struct {
	Words string
	Form  form
}

// signs are what is asked about before the blood goes back, by trouble. Of those
// in which it stays out only the house on fire is left out: nobody gives blood
// back then.
var signs = []struct{ trouble, words, catheter string }{
	{session.TroubleAir, "Air or foam", ""},
	{session.TroubleDark, "Dark or cherry blood", ""},
	{session.TroubleFluid, "Fluid too hot or wrong", ""},
	{session.TroubleReaction, "Itch, wheeze, swelling", ""},
	{session.TroubleBlood, "A line apart, a needle out", "A line apart, or off the catheter"},
	{session.TroubleFever, "Fever or shivering", ""},
	{session.TroubleLeak, "Blood leak alarm", ""},
}

// fuller is what is written when the bag gets fuller at the washback, or red.
const fuller = "At the washback the bag got fuller, or red."

// endsHere reports whether the end of a session's treatment is written on the page
// of the washback alone: it is written as it happens. One that was closed and whose
// end was struck out has the plain form again.
func endsHere(one *session.Session) bool {
	return !fromPaper(one) && !one.Abandoned() && (one.Phase() != session.Done || one.Has("came_off"))
}

func (s *server) washbackPage(v visit) (view, error) {
	base := sessionURL(v.Request)
	switch {
	case fromPaper(v.session):
		return view{goTo: base + "/came_off"}, nil
	case v.session.Phase() != session.Running:
		return view{goTo: base}, nil
	}
	return s.washbackForm(v, nil)
}

// washbackForm is the page; fill, where there is one, puts into the form that was
// sent what was typed and what stands against it.
func (s *server) washbackForm(v visit, fill func(form) form) (view, error) {
	return s.washbackSent(v, fill, false)
}

// washbackSent is the page once more; unlooked says that the end of the treatment
// was sent though nothing had been looked at.
//
// Before the pump starts three things are ticked, none of them beforehand: a
// trained person at home bled to death through the washback with the saline on the
// wrong line (PMC3462675, abstract). The unit's own instructions come first.
func (s *server) washbackSent(v visit, fill func(form) form, unlooked bool) (view, error) {
	one, base := v.session, sessionURL(v.Request)
	b := washbackBody{Base: base, Catheter: one.Rx.ByCatheter(), Filtered: one.ByFiltration(), Unit: "/p/" + v.member.ID + "/unit"}
	for _, t := range v.troubles(one) {
		if t.StaysOut() {
			over := troubleForm(base, t.Code, session.TroubleOver).only("said")
			over.Submit, over.Next = "My unit says it is over", base+"/washback"
			first, others := ringFor(v, t.TroubleType)
			b.Out = append(b.Out, bloodOut{t, first, others, over})
		} else {
			b.Open = append(b.Open, t)
			b.ByHand = b.ByHand || t.Code == session.TroublePower
		}
	}
	for _, r := range session.Unanswered(one, v.now) {
		if t, _ := session.TroubleOf(r.Trouble()); !t.StaysOut() {
			b.Hard = append(b.Hard, r)
		}
	}
	b.Felt, b.Was = session.BloodSigns(one, v.now), session.TroublesOver(one, v.now)
	b.Was = slices.DeleteFunc(b.Was, func(t session.EndedTrouble) bool { return !t.StaysOut() })
	looked, ok := session.WashbackLooked(one, v.now)
	again := v.URL.Query().Get("ticks") != "" || v.PathValue("kind") == "washback_checked"
	if st := v.tooLong(one); st != nil {
		b.Stood, b.StoodBy, b.Rang = st, phonesFor(v, session.RingUnit), rangForm(v, base).only("whom").tagged("stood")
		b.Rang.Hidden = map[string]string{"said": mayGoBack}
		b.Rang.Next, b.Rang.Submit = base+"/washback", "They said: "+mayGoBack
	}
	switch {
	case len(b.Out) > 0 || b.Stood != nil:
		b.State = washbackOut
	case ok && session.WashbackReady(one, v.now):
		b.State, b.Looked = washbackReady, looked
	case again:
		b.State = washbackTicks
	case ok:
		b.State, b.Looked = washbackLate, looked
	default:
		b.State = washbackAsk
	}
	if last, e := session.Last[session.WashbackChecked](one); last != nil && !ok {
		b.Before = e.At
	}
	b.Gross = one.RemovedShows() == session.RemovedGross
	b.forms(base, one)
	if b.Posted = fill != nil; b.Posted {
		b.fill(v, fill, unlooked)
	}
	title := map[string]string{
		washbackOut: "The blood stays out", washbackAsk: "May the blood go back?", washbackTicks: "Before the pump starts",
		washbackReady: "Give the blood back", washbackLate: "Treatment ended",
	}[b.State]
	if b.Sent && b.State != washbackOut {
		title = "Not saved yet"
	}
	return view{page: "washback", title: title, here: "session", body: b, phase: "washback"}, nil
}

// forms makes the forms of the page.
func (b *washbackBody) forms(base string, one *session.Session) {
	here := base + "/washback"
	for _, x := range signs {
		f := troubleForm(base, x.trouble, session.TroubleOpen).only()
		f.Next, f.Submit = here, x.words
		if b.Catheter && x.catheter != "" {
			f.Submit = x.catheter
		}
		b.Signs = append(b.Signs, sign{f.Submit, f})
	}
	b.Fuller = troubleForm(base, session.TroubleBlood, session.TroubleOpen).only()
	b.Fuller.Submit = "It gets fuller, or red: pump off"
	b.Fuller.Hidden["words"], b.Fuller.Next = fuller, base+"#wrong-"+session.TroubleBlood

	ticks, _ := record.Find("washback_checked")
	b.Ticks = newForm(ticks, base+"/washback_checked", nil)
	b.Ticks.Next, b.Ticks.Submit = here+"#pump", "All three are so"
	for i := range b.Ticks.Inputs {
		switch in := &b.Ticks.Inputs[i]; {
		case in.Key == "saline_on_arterial_line" && b.Filtered:
			in.Label = fluidOnTheLine
		default:
			in.Field = in.Field.By(one.Rx)
		}
	}

	off, _ := record.Find("came_off")
	b.Off = newForm(off, base+"/came_off", nil).ofFiltration(one)
	b.Off.Next, b.Off.Submit = base, "Treatment ended"
	b.None = newForm(off, base+"/came_off", nil).ofFiltration(one).only("removed_ml", "substitution_l", "why").tagged("none")
	b.None.Hidden["returned"] = "none"
	b.None.Next, b.None.Submit = base, "Come off without giving the blood back"
}

// fill puts what was sent into its form; what was typed into the others was not
// sent.
func (b *washbackBody) fill(v visit, fill func(form) form, unlooked bool) {
	switch {
	case v.PathValue("kind") == "washback_checked":
		b.Ticks = fill(b.Ticks)
		return
	case v.PostFormValue("returned") == "none" && v.PostFormValue("washback_ml") == "":
		hidden := b.None.Hidden
		b.None, b.NoneOpen = fill(b.None), true
		b.None.Hidden = hidden
		return
	}
	if already := v.PostFormValue("washed"); already != "" {
		b.Off.Hidden["washed"] = already
	}
	if unlooked {
		for _, in := range b.Ticks.Inputs {
			in.Tag = b.Off.Tag
			b.Off.Inputs = append(b.Off.Inputs, in)
		}
		b.Off.Hidden["look_id"] = v.posted("look_id", newID())
		b.Off.None = &input{Field: record.Field{Key: "washed", Label: "It is back already"}}
	}
	b.Off, b.Sent = fill(b.Off), true
	if b.State == washbackOut {
		b.alreadyBack()
	}
}

// alreadyBack words what was typed, while the blood stays out, as what is so already:
// the form offers nothing to do, and of the choices only the one that was made.
func (b *washbackBody) alreadyBack() {
	const already, again = "It is back already", "It is back already: say it again"
	b.Off.Submit = again
	for i := range b.Off.Inputs {
		in := &b.Off.Inputs[i]
		if in.Key != "returned" {
			continue
		}
		in.Label, in.Redo = already, again
		made := slices.DeleteFunc(slices.Clone(in.Choices), func(c record.Choice) bool { return c.Value != in.Value })
		if len(made) > 0 {
			in.Choices = made
		}
	}
}

// mayGoBack is what a call says by which blood that stood too long is given back all the
// same; the button for it writes these words.
const mayGoBack = "the blood may go back"

// mayGoBackSince reports whether that was said in a call after a moment.
func mayGoBackSince(one *session.Session, from, now time.Time) (may bool) {
	session.Each(one, func(b *session.Rang, e *session.Event) {
		may = may || e.At.After(from) && !e.At.After(now) && b.Said == mayGoBack
	})
	return may
}

// noEnd is the answer to an end of treatment, or a look before it, while the blood
// stays out and no form of it is on any page: before the treatment began, or after
// it ended.
func noEnd(kind *record.Kind, fill func(form) form) view {
	f, why := fill(newForm(kind, "", nil)), ""
	for _, in := range f.Inputs {
		for _, one := range []string{in.Problem, in.Asked} {
			if one != "" {
				why += " " + in.Label + " " + one + "."
			}
		}
	}
	return view{page: "problem", title: "Not saved", here: "session", body: problem{strings.TrimSpace("Not saved. " + f.Problem + why), "Go back to the session."}}
}

// staysOut says of each trouble that is open now, and in which the blood stays out,
// since when, and that it does.
func staysOut(v visit) (list []string) {
	for _, t := range v.troubles(v.session) {
		if t.StaysOut() {
			list = append(list, "“"+t.Title+"” is open since "+t.Since.In(v.now.Location()).Format("15:04")+". "+t.Blood.Words())
		}
	}
	return list
}

// troubleForm says of a trouble that it is there, or over, by one press.
func troubleForm(base, code, state string) form {
	kind, _ := record.Find("trouble")
	f := newForm(kind, base+"/trouble", nil).tagged(state + "-" + code)
	f.Hidden = map[string]string{"trouble": code, "state": state}
	return f
}

// ringFor gives the numbers to ring about a trouble: first the one that the unit
// set for it, or the trouble's own, and then the unit's.
func ringFor(v visit, t session.TroubleType) (list, rest []report.Phone) {
	list, rest = phonesInTwo(v, household.Rings(v.house, v.member, t))
	if len(list) == 0 {
		return rest, nil
	}
	return list, rest
}

// endTreatment takes the end of a treatment. Blood that was given back without a
// look at the three things is asked about once: what was typed stays, and it is
// saved when they are ticked, or when it is back already.
func (s *server) endTreatment(w http.ResponseWriter, r *http.Request, kind *record.Kind) error {
	e, found := s.read(r, kind)
	page, asks := s.kindForm, false
	if err := s.look(r, func(v visit) error {
		if !endsHere(v.session) || v.session.Phase() != session.Running {
			return nil
		}
		page = func(v visit, fill func(form) form) (view, error) { return s.washbackSent(v, fill, asks) }
		_, out := session.BloodStaysOut(v.session, e.At) // the record asks about it
		if !out {
			_, out = session.BloodStaysOut(v.session, v.now)
		}
		_, looked := session.WashbackLooked(v.session, e.At)
		asks = e.Body.(*session.CameOff).GivesBack() && !out && !looked && r.PostFormValue("washed") == ""
		return nil
	}); err != nil {
		return err
	}
	if asks {
		words, err := s.lookedToo(r, e)
		if err != nil {
			return err
		}
		if words != "" {
			found = append(s.against(r, e, found), record.Finding{Field: "kind", Step: record.Refuse, Words: words})
		}
		asks = words != ""
	}
	return s.settle(w, r, e, found, page)
}

// against adds what the record has against an entry, so that all of it is said at
// once; of one that could not be read that is said alone.
func (s *server) against(r *http.Request, e record.Entry, found record.Findings) record.Findings {
	if len(found) > 0 {
		return found
	}
	_ = s.look(r, func(v visit) error {
		e.Written = v.now
		found = record.Check(v.house, e)
		return nil
	})
	return found
}

// lookedToo writes down the three ticks that came with the end of a treatment, and
// says what is wanted where they did not.
func (s *server) lookedToo(r *http.Request, off record.Entry) (words string, err error) {
	const wanted = "Tick the three things below as you looked at them before the pump started, or say that the blood is back already"
	kind, _ := record.Find("washback_checked")
	body, found := kind.FromForm(func(key string) []string { return r.PostForm[key] })
	b := body.(*session.WashbackChecked)
	if len(found) > 0 || !b.Saline || !b.Clamp || !b.Venous {
		return wanted, nil
	}
	e := off
	e.ID, e.Kind, e.Body = r.PostFormValue("look_id"), kind.Name, b
	e.Missing, e.Again = nil, nil
	out, err := s.desk.Record(r.Context(), e)
	if err == nil && !out.Clear() {
		return out.Findings[0].Error(), nil
	}
	return "", err
}
