package web

import (
	"errors"
	"net/http"
	"strings"

	"ebbline/record"
	"ebbline/unit"
	"ebbline/water"
)

// resultBody is the form of a laboratory's result, one row for each substance.
type resultBody struct {
	Form   form
	Sample water.Sample
	Rows   []figureRow
	Counts bool // microbes are among them, so the method is asked
	Notes  []string
}

// figureRow is one substance on the laboratory's paper.
type figureRow struct {
	What    water.Substance
	Label   string
	Figure  string
	Unit    string
	Basis   string
	Units   []water.Unit
	Problem string
}

func unitsOf(s water.Substance) []water.Unit {
	switch s {
	case water.ViableCount:
		return []water.Unit{water.CFUPerML}
	case water.Endotoxin:
		return []water.Unit{water.EUPerML, water.IUPerML}
	}
	return []water.Unit{water.MgPerL, water.UgPerL, water.PPM, water.PPB}
}

func (s *server) resultForm(v visit, fill func(form) form) (view, error) {
	one, ok := v.house.Upkeep.Sample(v.PathValue("sample"))
	if !ok {
		return view{}, notFound{"no such sample"}
	}
	kind, _ := record.Find("water_result")
	rules, _ := v.house.Upkeep.RulesNow()
	use, filtered := v.house.HeldTo(v.today())
	wants := "As your unit wants the water."
	if filtered {
		wants = "Ultrapure, because of haemodiafiltration."
	}
	edition := rules.Edition
	if one.Point == water.PointFluid {
		edition = water.Fluid2019
	}
	f := newForm(kind, v.URL.Path, map[string]string{"edition": edition, "use": string(use)})
	keys := []string{"laboratory", "edition", "use"}
	b := resultBody{Sample: one}
	for _, what := range one.For {
		row := figureRow{What: what, Label: what.Label(), Units: unitsOf(what)}
		row.Figure, row.Unit, row.Basis = v.PostFormValue("figure."+string(what)), v.PostFormValue("unit."+string(what)), v.PostFormValue("basis."+string(what))
		if v.Method == http.MethodPost {
			row.Problem = figureProblem(v.Request, what)
		}
		if len(row.Units) == 1 {
			row.Unit = string(row.Units[0])
		}
		b.Counts = b.Counts || what == water.ViableCount
		b.Rows = append(b.Rows, row)
	}
	if b.Counts {
		keys = append(keys, "medium", "culture_temperature_c", "culture_days", "plated_ml", "dilution")
	}
	f = f.only(append(keys, "owner", "note")...)
	f.Hidden = map[string]string{"sample": one.ID}
	f.Next = "/p/" + v.member.ID + "/round/water"
	f.Back, f.Submit = f.Next, "Judge and keep it"
	b.Form = fill(f.hint(map[string]string{
		"owner": "Needed only when a figure does not lie within its limit: who rings the unit and sees to it.",
		"use":   wants,
	}))
	b.Notes = append(b.Notes, "Type each figure as it is printed: a number, or one after < or >. “nil” and “not detected” are no figures; ask for the least that the method sees.")
	return view{page: "result", title: "Water result", here: "round", body: b}, nil
}

// readFigure reads one row; ok is false for one that was left blank.
func readFigure(r *http.Request, what water.Substance) (res water.Result, ok bool, bad error) {
	typed := strings.TrimSpace(r.PostFormValue("figure." + string(what)))
	if typed == "" {
		return water.Result{}, false, nil
	}
	op, value, err := water.ParseFigure(typed)
	if err != nil {
		return water.Result{}, true, err
	}
	u := r.PostFormValue("unit." + string(what))
	if u == "" {
		if list := unitsOf(what); len(list) == 1 {
			u = string(list[0])
		} else {
			return water.Result{}, true, unit.Refuse("unit", "", "its unit, as printed")
		}
	}
	return water.Result{What: what, Op: op, Value: value, Unit: water.Unit(u), Basis: water.Basis(r.PostFormValue("basis." + string(what)))}, true, nil
}

func figureProblem(r *http.Request, what water.Substance) string {
	_, _, err := readFigure(r, what)
	var bad *unit.InputError
	if errors.As(err, &bad) {
		return refusal(bad)
	}
	return ""
}

// recordResult reads the rows and keeps the result with its judgements, made
// anew by the record from the limits in force.
func (s *server) recordResult(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("water_result")
	oneLineEnd(r)
	e, found := s.read(r, kind)
	e.Person = ""
	b := e.Body.(*record.WaterResult)
	var rest record.Findings
	for _, f := range found {
		if f.Field != "results" && f.Field != "judged" {
			rest = append(rest, f)
		}
	}
	for _, what := range water.Substances() {
		one, given, err := readFigure(r, what)
		var bad *unit.InputError
		switch {
		case errors.As(err, &bad):
			rest = append(rest, record.Finding{Field: "results", Step: record.Refuse, Words: "cannot be read as typed: " + what.Label() + ", see below"})
		case given:
			b.Results = append(b.Results, one)
		}
	}
	if len(rest) == 0 {
		err := s.look(r, func(v visit) error {
			if judged, err := v.house.Upkeep.Judge(b); err == nil {
				b.Judged = judged
			}
			return nil
		})
		if err != nil {
			return err
		}
	}
	return s.settle(w, r, e, rest, s.resultForm)
}
