package web

import (
	"errors"
	"net/http"
	"regexp"
	"slices"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// stepsBody is a run sheet to be changed.
type stepsBody struct {
	Base     string // of this sheet
	Title    string
	Other    sheetLink
	Sheet    session.RunSheet
	From     string // id of the version on the page
	Rows     []stepLine
	General  bool // the program's own steps, as they came
	Under    bool // a session is in this part now
	Versions []stepsVersion
	Fresh    string // id for going back to the general steps
	Form     form   // carries what was said to the last change
}

type stepLine struct {
	session.Step
	No          int
	First, Last bool
	Waits       []string // words of the steps it waits for
	Writes      string   // title of what ticks it
	IDs         [3]string
}

type stepsVersion struct {
	ID, By, Marked string
	At             time.Time
	Steps          int
	Now, Struck    bool
	Fresh          string // id for taking it up again
}

// phaseTitles name the two sheets.
var phaseTitles = map[string]string{session.SetUp: "Setting up", session.TakeOff: "Coming off"}

func sheetVersions(m *record.Member, phase string) record.Versions[session.RunSheet] {
	if phase == session.TakeOff {
		return m.TakeOffSheet
	}
	return m.SetUpSheet
}

// fromGeneral stands for the sheet that came with the program.
const fromGeneral = "general"

// sheetOf finds a version of a run sheet by its id.
func sheetOf(m *record.Member, phase, id string) (session.RunSheet, bool) {
	if id == fromGeneral {
		return m.GeneralFor(m.Open(), phase), true
	}
	for _, one := range sheetVersions(m, phase) {
		if one.ID == id {
			return one.Value, true
		}
	}
	return session.RunSheet{}, false
}

// sheetInForce is the id of the version that counts now.
func sheetInForce(m *record.Member, phase string) string {
	list := sheetVersions(m, phase)
	for i := len(list) - 1; i >= 0; i-- {
		if list[i].Struck == nil {
			return list[i].ID
		}
	}
	return fromGeneral
}

func (s *server) stepsPage(v visit) (view, error) { return asked(s.stepsForm)(v) }

func (s *server) stepsForm(v visit, fill func(form) form) (view, error) {
	phase := v.PathValue("phase")
	title, ok := phaseTitles[phase]
	if !ok {
		return view{}, notFound{"no such run sheet"}
	}
	root := "/p/" + v.member.ID + "/run-sheet/"
	b := stepsBody{Base: root + phase, Title: title, Sheet: v.member.Sheet(phase), From: sheetInForce(v.member, phase), Fresh: newID()}
	b.General = b.Sheet.Marked == session.ReplaceMark
	for other, name := range phaseTitles {
		if other != phase {
			b.Other = sheetLink{other, name, root + other}
		}
	}
	for i, st := range b.Sheet.Steps {
		line := stepLine{Step: st, No: i + 1, First: i == 0, Last: i == len(b.Sheet.Steps)-1, IDs: [3]string{newID(), newID(), newID()}}
		for _, id := range st.After {
			if before, ok := b.Sheet.Step(id); ok {
				line.Waits = append(line.Waits, before.Words)
			}
		}
		if kind, ok := record.Find(st.Entry); ok {
			line.Writes = kind.Title
		}
		b.Rows = append(b.Rows, line)
	}
	if open := v.member.Open(); open != nil {
		b.Under = open.Phase() == session.SettingUp && phase == session.SetUp || open.Phase() == session.ComingOff && phase == session.TakeOff
	}
	list := sheetVersions(v.member, phase)
	for i := len(list) - 1; i >= 0; i-- {
		one := list[i]
		b.Versions = append(b.Versions, stepsVersion{
			ID: one.ID, By: one.By, Marked: one.Value.Marked, At: one.At, Steps: len(one.Value.Steps),
			Now: one.ID == b.From, Struck: one.Struck != nil, Fresh: newID(),
		})
	}
	kind, _ := record.Find("run_sheet")
	f := newForm(kind, b.Base, nil).only()
	f.Submit = "Keep"
	b.Form = fill(f)
	return view{page: "runsheet", title: "Steps: " + title, here: "unit", body: b}, nil
}

// editSteps takes one change of the order, one step out, whose steps they are,
// or an earlier version up again.
func (s *server) editSteps(w http.ResponseWriter, r *http.Request) error {
	return s.editSheet(w, r, s.stepsForm, func(was session.RunSheet, m *record.Member) (session.RunSheet, error) {
		step := r.PostFormValue("step")
		at := slices.IndexFunc(was.Steps, func(one session.Step) bool { return one.ID == step })
		switch r.PostFormValue("do") {
		case "up":
			return was.Move(step, at-1)
		case "down":
			return was.Move(step, at+1)
		case "remove":
			return was.Remove(step)
		case "mark":
			out := was
			out.Marked = r.PostFormValue("marked")
			if out.Marked == "" {
				return was, &session.SheetError{Words: "does not say whose steps these are"}
			}
			return out, out.Validate()
		case "again":
			if old, ok := sheetOf(m, r.PathValue("phase"), r.PostFormValue("version")); ok {
				return old, nil
			}
		}
		return was, &session.SheetError{Words: "was not told what to change"}
	})
}

// editSheet changes the version that the page showed and keeps the outcome as
// a new one. A change sent twice starts from the same version both times, so
// that it is one change; a change of a version that somebody has changed
// meanwhile is refused.
func (s *server) editSheet(w http.ResponseWriter, r *http.Request, page formPage, change func(session.RunSheet, *record.Member) (session.RunSheet, error)) error {
	phase, from := r.PathValue("phase"), r.PostFormValue("from")
	if phaseTitles[phase] == "" {
		return notFound{"no such run sheet"}
	}
	oneLineEnd(r)
	at, _ := s.moment(r)
	e := record.Entry{
		ID: r.PostFormValue("id"), Kind: "run_sheet", At: at, Zone: s.desk.Zone().String(), Person: r.PathValue("p"), By: writer(r), Device: device(r),
	}
	var found record.Findings
	if err := s.look(r, func(v visit) error {
		was, ok := sheetOf(v.member, phase, from)
		if !ok || from != sheetInForce(v.member, phase) && !v.house.Has(e.ID) {
			found = record.Findings{{Field: "kind", Step: record.Refuse, Words: "The steps were changed meanwhile, perhaps on another screen. Look at them and do it once more"}}
			return nil
		}
		now, err := change(was, v.member)
		if err != nil {
			found = record.Findings{{Field: "kind", Step: record.Refuse, Words: sheetWords(was, err)}}
			return nil
		}
		if now.Marked == session.ReplaceMark && !now.Same(v.member.GeneralFor(v.member.Open(), phase)) {
			now.Marked = "general steps, changed at home on " + v.today().Long()
		}
		e.Body = &record.SheetEdited{RunSheet: now}
		return nil
	}); err != nil {
		return err
	}
	if r.PostFormValue("next") == "" {
		r.PostForm.Set("next", "/p/"+r.PathValue("p")+"/run-sheet/"+phase+"#step-"+r.PostFormValue("step"))
	}
	return s.settle(w, r, e, found, page)
}

// sheetWords puts a sheet's error into words that name steps as the page does.
func sheetWords(sheet session.RunSheet, err error) string {
	var wrong *session.SheetError
	if !errors.As(err, &wrong) {
		return err.Error()
	}
	words := wrong.Words
	named := func(id string) string {
		if st, ok := sheet.Step(id); ok {
			return "“" + st.Words + "”"
		}
		return id
	}
	for _, st := range sheet.Steps {
		words = regexp.MustCompile(`“?\b`+regexp.QuoteMeta(st.ID)+`\b”?`).ReplaceAllLiteralString(words, named(st.ID))
	}
	if wrong.Step == "" {
		return "The run sheet " + words
	}
	if _, ok := sheet.Step(wrong.Step); !ok {
		return "This step " + words
	}
	return "The step " + named(wrong.Step) + " " + words
}
