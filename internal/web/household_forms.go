package web

import (
	"net/http"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

var unitHints = map[string]string{
	"day_phone":        "The number that a nurse of the home team answers. With the country code, if you travel.",
	"night_phone":      "Who answers at three in the morning. Ask; it is often another number.",
	"technician_phone": "For the machine and the water.",
	"ambulance_phone":  "The emergency number where you live.",
}

func kidneyUnitForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "They stand on the emergency card and beside every “ring your unit”. Ebbline itself rings nobody."
	if now, ok := v.house.Unit.Now(); ok {
		kind, _ := record.Find("kidney_unit")
		f = f.begin(filled(kind, &now))
		b.Notes = append(b.Notes, "Ring each number once when you have typed it.")
	}
	f.Submit = "Keep these numbers"
	return f.hint(unitHints), nil
}

var personHints = map[string]string{
	"name":            "As it stands on the prescription.",
	"birth_year":      "Beside the name on every page and print, since two people can have one name.",
	"colour":          "Yours on every page and print; only this person of the household has it.",
	"adult":           "Some figures of this program’s own are those of adults. Without the tick it makes no plan: you go by your unit’s paper, and everything you measure is kept. Under 35 kg it plans only with limits of your unit.",
	"pregnant":        "A plan is then made only with your unit’s own limits and a dry weight set in the last 7 days. After the birth, untick it here.",
	"hospital_number": "Printed on sheets and reports, so that your unit files them with the right person.",
	"allergies":       "Shown where medicines are drawn up. Leave it blank if your unit knows of none.",
	"carer":           "Who is usually there while you dialyse, if anybody.",
}

func personForm(v visit, f form, b *slipBody) (form, error) {
	if now, ok := v.member.Person.Now(); ok {
		kind, _ := record.Find("person")
		now.Pregnant = v.member.Pregnant(v.now) // told before a session too
		f = f.begin(filled(kind, &now))
	}
	for i := range f.Inputs {
		if f.Inputs[i].Key == "pregnant" {
			f.Inputs[i].Redo = "No, it is over"
		}
	}
	b.Notes = append(b.Notes, "What was written before stays in the record; pages and prints show the newest.")
	f.Submit = "Keep this"
	return f.hint(personHints), nil
}

func newPersonForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "Two people can share a machine. Each has a record, a prescription and a colour of their own, and says whose session it is when one begins."
	f.Hidden = map[string]string{"person": v.posted("person", newID())}
	f.Next, f.Back = "", "/"
	f.Submit = "Add this person"
	return f.hint(personHints), nil
}

// personOfForm is the id that came with the form, so that a second press adds
// nobody.
func personOfForm(r *http.Request) string { return r.PostFormValue("person") }

func toPrescription(r *http.Request) {
	if r.PostFormValue("next") == "" {
		r.PostForm.Set("next", "/p/"+personOfForm(r)+"/prescription/new")
	}
}

func questionForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "Written down now, asked at the next visit or call."
	f.Next, f.Back = back(v)+"#questions", back(v)+"#questions"
	return f, nil
}

func stayForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "After a stay in hospital a dry weight from before it may no longer be true. The pages say so until your unit sets it again."
	f.Next, f.Back = back(v)+"#stays", back(v)+"#stays"
	return f.hint(map[string]string{"to": "The day you came home."}), nil
}

// strikeForm takes an entry of the unit page out of the count.
func strikeForm(v visit, f form, b *slipBody) (form, error) {
	rows, ok := strikable(v.member, v.PathValue("e"))
	if !ok {
		return f, notFound{"no such entry; perhaps it was struck out since"}
	}
	b.Rows = rows
	b.Notes = append(b.Notes, "It stays in sight, struck through, with your reason.")
	f = f.only("reason")
	f.Submit = "Strike it out"
	return f, nil
}

func strikes(r *http.Request) { r.PostForm.Set("entry_id", r.PathValue("e")) }

// strikable finds what the unit page lets be struck out, with its values.
func strikable(m *record.Member, id string) ([]labelled, bool) {
	values := func(kind string, body any) ([]labelled, bool) {
		k, _ := record.Find(kind)
		return valuesOf(k, body, nil), true
	}
	for i := range m.Questions {
		if q := &m.Questions[i]; q.ID == id && q.Struck == nil {
			return values("question", &q.Value)
		}
	}
	for i := range m.Stays {
		if st := &m.Stays[i]; st.ID == id && st.Struck == nil {
			return values("hospital_stay", &st.Value)
		}
	}
	for i := range m.Cards {
		if c := &m.Cards[i]; c.ID == id && c.Struck == nil {
			return values("card", &c.Value)
		}
	}
	for i := range m.TroubleSteps {
		if t := &m.TroubleSteps[i]; t.ID == id && t.Struck == nil {
			return values("trouble_steps", &t.Value)
		}
	}
	return nil, false
}

// today is the household's day.
func (v visit) today() unit.Date { return unit.DateOf(v.now) }

// prescribed is the version in force today, or nil.
func (v visit) prescribed() *session.Prescription {
	if rx := v.member.Prescription(v.today()); rx != nil {
		return &rx.Value
	}
	return nil
}
