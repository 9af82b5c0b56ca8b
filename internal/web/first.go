package web

import (
	"net/http"

	"ebbline/record"
	"ebbline/unit"
)

// firstBody is the page of the first steps: four of them, of which one is open.
type firstBody struct {
	Steps  []firstStep
	Now    firstStep
	Form   form
	Skip   string // where "later" leads; empty where the step cannot be left out
	Person *who
}

type firstStep struct {
	ID, Title, Why string
	State          string // done, now or later
	Link           string
}

var firstSteps = []firstStep{
	{ID: "who", Title: "Who dialyses", Why: "Every page and every print carries the name, the birth year and a colour, so that two people on one machine are not mixed up."},
	{ID: "unit", Title: "Your kidney unit", Why: "Its numbers stand on the emergency card and beside every “ring your unit”. Ebbline itself rings nobody."},
	{ID: "machine", Title: "Your machine", Why: "So that the number to dial in has the unit and the digits of your machine’s own field, and the washback is not counted twice."},
	{ID: "prescription", Title: "Your prescription", Why: "Everything is computed from it. Have your unit’s paper in your hand; nothing is guessed from memory."},
}

var firstKinds = map[string]string{"who": "person", "unit": "kidney_unit", "machine": "machine"}

// firstForm is the first steps with one of them open: the one asked for, or
// the first that is not done.
func (s *server) firstForm(v visit, fill func(form) form) (view, error) {
	var b firstBody
	wanted := v.PathValue("step")
	if wanted == "" {
		wanted = v.URL.Query().Get("step")
	}
	done := firstDone(v)
	for _, st := range firstSteps {
		st.Link = "/first?step=" + st.ID
		st.State = "later"
		if done[st.ID] {
			st.State = "done"
		}
		b.Steps = append(b.Steps, st)
	}
	open := -1
	for i, st := range b.Steps {
		if st.ID == wanted && (st.State != "done" || v.Method == http.MethodPost) || wanted == "" && open < 0 && st.State != "done" {
			open = i
		}
	}
	if len(v.house.People) == 0 {
		open = 0 // there is nobody yet whose record the rest could be in
	}
	if open < 0 {
		return view{goTo: "/"}, nil
	}
	b.Steps[open].State = "now"
	b.Now = b.Steps[open]
	after := "/"
	if open+1 < len(b.Steps) {
		after = b.Steps[open+1].Link
	}
	if b.Now.ID != "who" {
		b.Skip = after
	}
	if len(v.house.People) > 0 {
		b.Person = person(v.house.People[0])
	}
	if kindName := firstKinds[b.Now.ID]; kindName != "" {
		kind, _ := record.Find(kindName)
		f := newForm(kind, "/first/"+b.Now.ID, nil)
		f.Next, f.Submit = after, "Keep this and go on"
		switch b.Now.ID {
		case "who":
			f.Hidden["person"] = v.posted("person", newID())
			f = f.hint(personHints)
		case "unit":
			f = f.hint(unitHints)
		case "machine":
			f = f.hint(machineHints).offersFluid()
		}
		next := f.Next
		b.Form = fill(f)
		b.Form.Next = next
	}
	return view{page: "first", title: "First steps", here: "first", body: b}, nil
}

// firstDone tells which of the steps are behind.
func firstDone(v visit) map[string]bool {
	done := map[string]bool{"who": len(v.house.People) > 0}
	_, done["unit"] = v.house.Unit.Now()
	_, done["machine"] = v.house.Machine.Now()
	for _, m := range v.house.People {
		done["prescription"] = done["prescription"] || m.Prescription(unit.DateOf(v.now)) != nil || len(m.Prescriptions) > 0
	}
	return done
}

// recordFirst takes one of the first steps.
func (s *server) recordFirst(w http.ResponseWriter, r *http.Request) error {
	kind, ok := record.Find(firstKinds[r.PathValue("step")])
	if !ok {
		return notFound{"no such step"}
	}
	oneLineEnd(r)
	e, found := s.read(r, kind)
	if kind.Name == "person" {
		e.Person = personOfForm(r)
	}
	return s.settle(w, r, e, found, s.firstForm)
}
