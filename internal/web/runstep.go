package web

import (
	"net/http"
	"strconv"
	"strings"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// stepBody is the form of one step.
type stepBody struct {
	Base, Action, From string
	New                bool
	ID                 string // of the step
	Title              string
	Form               form // carries what was said to it

	Words, Lane, Usual, Tick, Entry, Timer, Caution, Stop string
	After                                                 []afterChoice
	Kinds                                                 []*record.Kind
	Places                                                []placeChoice
}

type afterChoice struct {
	ID, Words string
	On        bool
}

type placeChoice struct {
	Place, Words string
	On           bool
}

func (s *server) stepForm(v visit, fill func(form) form) (view, error) {
	phase, id := v.PathValue("phase"), v.PathValue("step")
	title, ok := phaseTitles[phase]
	if !ok {
		return view{}, notFound{"no such run sheet"}
	}
	sheet := v.member.Sheet(phase)
	b := stepBody{
		Base: "/p/" + v.member.ID + "/run-sheet/" + phase, From: sheetInForce(v.member, phase), New: id == "new", ID: id, Title: title,
		Lane: session.LaneHands, Usual: "1", Tick: session.TickDone, Kinds: stepKinds(),
	}
	b.Action = b.Base + "/" + id
	after := []string{}
	if b.New {
		b.ID = v.posted("step", "own_"+newID()[:10])
		if n := len(sheet.Steps); n > 0 {
			after = []string{sheet.Steps[n-1].ID}
		}
	} else {
		st, ok := sheet.Step(id)
		if !ok && v.Method != http.MethodPost {
			return view{}, notFound{"no such step; perhaps it was taken out"}
		}
		b.Words, b.Lane, b.Usual, b.Tick, b.Entry = st.Words, st.Lane, st.Usual.String(), st.Tick, st.Entry
		b.Caution, b.Stop, after = st.Caution, st.Stop, st.After
		if st.Timer > 0 {
			b.Timer = st.Timer.String()
		}
	}
	place := strconv.Itoa(len(sheet.Steps))
	if v.Method == http.MethodPost {
		b.Words, b.Lane, b.Usual, b.Tick = v.PostFormValue("words"), v.PostFormValue("lane"), v.PostFormValue("usual_min"), v.PostFormValue("tick")
		b.Entry, b.Timer, b.Caution, b.Stop = v.PostFormValue("entry"), v.PostFormValue("timer_min"), v.PostFormValue("caution"), v.PostFormValue("stop")
		after, place = v.PostForm["after"], v.PostFormValue("place")
	}
	on := map[string]bool{}
	for _, a := range after {
		on[a] = true
	}
	for i, st := range sheet.Steps {
		if st.ID != b.ID {
			b.After = append(b.After, afterChoice{st.ID, st.Words, on[st.ID]})
		}
		at := strconv.Itoa(i + 1)
		b.Places = append(b.Places, placeChoice{at, "after “" + st.Words + "”", place == at})
	}
	kind, _ := record.Find("run_sheet")
	f := newForm(kind, b.Action, nil).only()
	f.Back = b.Base
	b.Form = fill(f)
	heading := "Change a step"
	if b.New {
		heading = "A step of your own"
	}
	return view{page: "runstep", title: heading, here: "unit", body: b}, nil
}

// stepKinds are the forms that can tick a step.
func stepKinds() []*record.Kind {
	var list []*record.Kind
	for _, k := range record.Kinds() {
		if k.Session && k.Name != "session_opened" && k.Name != "step" && k.Name != "override" {
			list = append(list, k)
		}
	}
	return list
}

// editStep keeps one step, new or changed.
func (s *server) editStep(w http.ResponseWriter, r *http.Request) error {
	return s.editSheet(w, r, s.stepForm, func(was session.RunSheet, _ *record.Member) (session.RunSheet, error) {
		st, err := readStep(r)
		if err != nil {
			return was, err
		}
		if r.PathValue("step") != "new" {
			return was.Replace(st)
		}
		place, err := strconv.Atoi(r.PostFormValue("place"))
		if err != nil {
			place = len(was.Steps)
		}
		return was.Add(st, place)
	})
}

// readStep reads a step as it was typed. What does not go with its kind of
// tick is left out.
func readStep(r *http.Request) (session.Step, error) {
	id := r.PathValue("step")
	if id == "new" {
		id = r.PostFormValue("step")
	}
	text := func(key string) string { return strings.TrimSpace(r.PostFormValue(key)) }
	st := session.Step{
		ID: id, Words: text("words"), Lane: text("lane"), Tick: text("tick"), Caution: text("caution"), Stop: text("stop"), After: r.PostForm["after"],
	}
	minutes := func(key, label string, into *unit.Minutes) error {
		if text(key) == "" {
			return &session.SheetError{Step: id, Words: "has no " + label + "; 0 is a number too"}
		}
		if err := into.UnmarshalText([]byte(text(key))); err != nil {
			return &session.SheetError{Step: id, Words: label + ": “" + text(key) + "” is not a whole number of minutes"}
		}
		return nil
	}
	if err := minutes("usual_min", "usual minutes", &st.Usual); err != nil {
		return st, err
	}
	switch st.Tick {
	case session.TickValue:
		st.Entry = text("entry")
	case session.TickTimer:
		if err := minutes("timer_min", "minutes of the timer", &st.Timer); err != nil {
			return st, err
		}
	}
	return st, nil
}
