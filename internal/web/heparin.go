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
	Drawn   *session.Heparin
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
			b.Entries = append(b.Entries, rowOf(base, v.session.Machine, &v.session.Log[i]))
		}
	}
	made := view{page: "heparin", title: "Heparin", here: "session"}
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
		drawn, err := session.DrawHeparin(v.session.Rx, strength, h.Strength, length)
		if err != nil {
			b.Problem = err.Error()
			break
		}
		b.Drawn = &drawn
		kind, _ := record.Find("heparin_drawn")
		f := newForm(kind, base+"/heparin_drawn", nil).onPaper(v.session)
		keys := []string{"lot", "expiry"}
		if drawn.ReadAgain {
			keys = []string{"label_read_again_iu_ml", "lot", "expiry"}
		}
		f = f.only(keys...)
		f.Hidden = map[string]string{
			"strength_iu_ml": drawn.Strength.String(), "bolus_iu": drawn.Bolus.String(), "line_iu": drawn.Line.String(),
			"bolus_ml": drawn.BolusVol.String(), "line_ml": drawn.LineVol.String(),
		}
		f.Submit, f.Next, f.Back = "Drawn up and labelled", base, base
		b.Form = fill(f)
	}
	made.body = b
	return made, nil
}

func (s *server) drawHeparin(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("heparin_drawn")
	return s.send(w, r, kind, s.heparinForm)
}
