package web

import (
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
	"ebbline/unit"
)

// unitBody is the page of what lies between the person and their kidney unit.
type unitBody struct {
	Base      string
	Unit      record.KidneyUnit
	HasUnit   bool
	UnitSince time.Time // when the numbers were written
	UnitOld   bool      // so long ago that each should be rung once
	Phones    []report.Phone

	Rx       *rxRow
	Order    []valueLine // the order in short
	Limits   []valueLine
	SetBy    string // who set the limits, and when
	Own      int
	Stale    []string
	Asked    []askedLine // what the prescription does not say
	Phoned   []rxRow     // the paper has not come
	Versions int
	Sheets   []sheetLink

	Card     *record.Card
	CardPast bool
	Steps    int // troubles that the unit gave steps for, of so many
	StepsOf  int

	Questions []askedRow
	Answered  []askedRow
	Ask       form
	Lately    []latelyRow
	Stays     []stayRow

	Machine    session.Machine
	HasMachine bool
	Fluid      string // where its fluid comes from
	Which      []form // asks which of two it is, while that is not said
	Removed    string // what its figure for the fluid removed means; empty where it was not said
	People     []who
}

type sheetLink struct{ Phase, Title, Marked string }

type askedRow struct {
	record.Dated[record.Question]
	Strike string
}

// latelyRow is something the last sessions show together, ready to be asked.
type latelyRow struct {
	Words string
	Ask   form
}

type stayRow struct {
	record.Dated[record.HospitalStay]
	Strike string
}

// inShort are the lines of the prescription that the unit page shows.
var inShort = []string{"days", "every_hours", "length_min", "dialysate_l", "dry_weight_kg", "blood_flow_ml_min", "dialysate_flow_ml_min", "substitution_l", "substitution_place", "bath_k_mmol_l", "bath_ca_mmol_l", "heparin"}

// numbersAge is how old telephone numbers may be before the page asks to try
// them. Ours.
const numbersAge = 183 * 24 * time.Hour

func (s *server) unitPage(v visit) (view, error) {
	b := unitBody{Base: "/p/" + v.member.ID}
	for _, words := range v.member.Stale(v.today()) {
		if !strings.HasSuffix(words, "the paper has not come yet.") { // that is said below, with where to go
			b.Stale = append(b.Stale, words)
		}
	}
	if u, ok := v.house.Unit.Now(); ok {
		b.Unit, b.HasUnit, b.Phones = u, true, household.Phones(u)
		b.UnitSince = v.house.Unit[len(v.house.Unit)-1].At
		b.UnitOld = v.now.Sub(b.UnitSince) > numbersAge
	}
	b.Asked = askedLines(v)
	b.prescription(v)
	if c, ok := v.member.Cards.Now(); ok {
		b.Card, b.CardPast = &c, !c.ReviewBy.IsZero() && c.ReviewBy.Before(v.today())
	}
	b.Steps, b.StepsOf = len(household.Card(v.house, v.member, v.today()).Troubles), len(session.Troubles())
	for i := len(v.member.Questions) - 1; i >= 0; i-- {
		row := askedRow{v.member.Questions[i], b.Base + "/unit/strike/" + v.member.Questions[i].ID}
		if row.Struck == nil {
			b.Questions = append(b.Questions, row)
		} else {
			b.Answered = append(b.Answered, row)
		}
	}
	for i := len(v.member.Stays) - 1; i >= 0; i-- {
		b.Stays = append(b.Stays, stayRow{v.member.Stays[i], b.Base + "/unit/strike/" + v.member.Stays[i].ID})
	}
	kind, _ := record.Find("question")
	b.Ask = newForm(kind, b.Base+"/question", nil)
	b.Ask.Submit, b.Ask.Next = "Keep the question", b.Base+"/unit#questions"
	for i, words := range session.Lately(v.member.Sessions) {
		row := latelyRow{words, newForm(kind, b.Base+"/question", map[string]string{"words": words}).tagged("lately-" + whole(i))}
		row.Ask.Submit, row.Ask.Next = "Keep it as a question", b.Base+"/unit#questions"
		b.Lately = append(b.Lately, row)
	}
	b.Machine, b.HasMachine = v.house.Machine.Now()
	b.Fluid, b.Which = fluidWords(b.Machine), fluidForms(v, b.Base)
	b.Removed = removedWords(b.Machine)
	for _, m := range v.house.People {
		b.People = append(b.People, *person(m))
	}
	b.Sheets = []sheetLink{
		{session.SetUp, "Setting up", v.member.Sheet(session.SetUp).Marked},
		{session.TakeOff, "Coming off", v.member.Sheet(session.TakeOff).Marked},
	}
	return view{page: "unit", title: "Your kidney unit", here: "unit", body: b}, nil
}

// prescription fills what the page shows of the order and its limits.
func (b *unitBody) prescription(v visit) {
	rows := versions(v)
	b.Versions = len(rows)
	for i, row := range rows {
		if row.Unconfirmed {
			b.Phoned = append(b.Phoned, row)
		}
		if row.State == "in force" {
			b.Rx = &rows[i]
		}
	}
	if b.Rx == nil {
		return
	}
	rx := &b.Rx.Value
	kind, _ := record.Find("prescription")
	for _, key := range inShort {
		if f, _ := kind.Field(key); textOf(f, rx) != "" {
			b.Order = append(b.Order, valueLine{Key: key, Label: f.Label, Value: textOf(f, rx)})
		}
	}
	for _, p := range readParts(rx, ownFor(v)) {
		if p.ID != "limits" {
			continue
		}
		for _, line := range p.Values {
			if line.Key == "limits_set_by" || line.Key == "limits_set_on" {
				continue
			}
			b.Limits = append(b.Limits, line)
			if line.Own {
				b.Own++
			}
		}
	}
	if rx.SetBy != "" || rx.SetOn != (unit.Date{}) {
		b.SetBy = rx.SetByUnit()
	}
}
