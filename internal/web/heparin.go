package web

import (
	"net/http"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// heparinBody draws up heparin: first the strength from the vial in the hand,
// then the volumes that follow from it.
type heparinBody struct {
	Session *session.Session
	Base    string
	Rx      *session.Prescription
	Typed   string // strength as typed
	Problem string
	Changed *session.Heparin // of another strength, which is to be typed again first
	Stop    string           // why
	Again   string           // as typed the second time
	Differs string           // what is wrong with that
	Drawn   *session.Heparin
	None    bool // none is ordered: the form is for what was drawn up all the same
	Form    form
	Allergy string
	Hold    string // why it waits for a word from the unit
	Entries []entryRow
}

func (s *server) heparinPage(v visit) (view, error) { return asked(s.heparinForm)(v) }

func (s *server) heparinForm(v visit, fill func(form) form) (view, error) {
	base := sessionURL(v.Request)
	b := heparinBody{Session: v.session, Base: base, Rx: v.session.Rx, Typed: v.FormValue("strength_iu_ml"), Hold: session.HoldHeparin(v.session, v.now)}
	if p, ok := v.member.Person.Now(); ok {
		b.Allergy = p.Allergies
	}
	for i := range v.session.Log {
		if v.session.Log[i].Kind == "heparin_drawn" {
			b.Entries = append(b.Entries, rowOf(base, v.session, &v.session.Log[i]))
		}
	}
	made := view{page: "heparin", title: "Heparin", here: "session"}
	if v.session.Rx.NoHeparin() {
		b.None, b.Form = true, fill(heparinUnasked(v, base)).offerLots(v)
		made.body = b
		return made, nil
	}
	var strength unit.Strength
	switch err := strength.UnmarshalText([]byte(b.Typed)); {
	case b.Typed == "":
	case err != nil:
		b.Problem = err.Error()
	default:
		h := v.member.History(v.session)
		length, known := session.Length(v.session, v.now)
		if !known && v.session.Rx != nil {
			length, _, _ = v.session.Rx.SessionLength()
		}
		again, wrong := typedAgain(v)
		drawn, err := session.DrawHeparin(v.session.Rx, strength, again, h.Strength, length)
		switch {
		case err != nil:
			b.Problem = err.Error()
		case drawn.ReadAgain != "":
			b.Changed, b.Again, b.Differs = &drawn, v.FormValue(labelAgain), wrong
			b.Stop = session.LabelAgain(v.session.Rx, session.HeparinDrawn{Strength: strength}, h.Strength)
			if again != nil {
				b.Differs = drawn.ReadAgain
			}
			kind, _ := record.Find("heparin_drawn")
			b.Problem = fill(newForm(kind, "", nil).only("strength_iu_ml")).Inputs[0].Problem
			if outside := fill(newForm(kind, "", nil).only(labelAgain)).Inputs[0].Problem; outside != "" {
				b.Differs = outside
			}
		default:
			b.Drawn, b.Form = &drawn, fill(heparinDrawn(v, base, drawn)).offerLots(v)
		}
	}
	made.body = b
	return made, nil
}

// labelAgain is the strength read off the label a second time.
const labelAgain = "label_read_again_iu_ml"

// typedAgain reads the strength that was typed a second time; nil when it was
// not, with what is wrong with what was.
func typedAgain(v visit) (*unit.Strength, string) {
	typed := v.FormValue(labelAgain)
	if typed == "" {
		return nil, ""
	}
	var again unit.Strength
	if err := again.UnmarshalText([]byte(typed)); err != nil {
		return nil, err.Error()
	}
	return &again, ""
}

// heparinDrawn is the form for what was drawn up: the volumes go with it, the lot
// and its expiry are read off the vial.
func heparinDrawn(v visit, base string, drawn session.Heparin) form {
	kind, _ := record.Find("heparin_drawn")
	f := newForm(kind, base+"/heparin_drawn", nil).onPaper(v.session).only("lot", "expiry")
	f.Hidden = map[string]string{
		"strength_iu_ml": drawn.Strength.String(), "bolus_iu": drawn.Bolus.String(), "line_iu": drawn.Line.String(),
		"bolus_ml": drawn.BolusVol.String(), "line_ml": drawn.LineVol.String(),
	}
	if drawn.Why != "" {
		f.Hidden[labelAgain] = drawn.Strength.String()
	}
	f.Submit, f.Next, f.Back = "Drawn up and labelled", base, base
	return f
}

// heparinUnasked is the form for heparin that was drawn up though none is ordered: nothing
// is worked out, what is in the syringe is typed.
func heparinUnasked(v visit, base string) form {
	kind, _ := record.Find("heparin_drawn")
	f := newForm(kind, base+"/heparin_drawn", nil).onPaper(v.session)
	f = f.only("strength_iu_ml", "bolus_iu", "bolus_ml", "line_iu", "line_ml", "lot", "expiry")
	f.Submit, f.Next, f.Back = "It was drawn up: write it down", base, base
	return f
}

func (s *server) drawHeparin(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("heparin_drawn")
	pressedLot(r)
	return s.send(w, r, kind, s.heparinForm)
}
