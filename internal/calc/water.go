package calc

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"ebbline/unit"
	"ebbline/water"
)

func init() {
	register(Topic{
		Name:    "water",
		Summary: "laboratory results of water against the limits of an edition",
		Example: `{
  "use": "standard",
  "results": [
    {"what": "total_chlorine", "op": "<", "value": 0.05, "unit": "mg/L"},
    {"what": "aluminium", "value": 12, "unit": "ug/L"},
    {"what": "nitrate", "value": 6.2, "unit": "mg/L", "basis": "NO3"},
    {"what": "viable_count", "value": 64, "unit": "CFU/mL"},
    {"what": "endotoxin", "op": "<", "value": 0.5, "unit": "EU/mL"}
  ]
}`,
		Run: runWater,
	})
}

type waterAnswer struct {
	Judged []waterJudged `json:"judged"`
}

type waterJudged struct {
	What    water.Substance `json:"what"`
	Verdict water.Verdict   `json:"verdict"`
	Limit   float64         `json:"limit"`
	Unit    water.Unit      `json:"unit"`
	Edition string          `json:"edition"`
}

func runWater(in *Object) (Answer, error) {
	use := water.Use(in.Word("use", string(water.Standard), string(water.Ultrapure)))
	edition := readEdition(in)
	var judgements []water.Judgement
	in.Objects("results", 0, 1000, func(_ int, o *Object) {
		r := water.Result{
			What:  water.Substance(o.Word("what", words(water.Substances())...)),
			Op:    water.Op(o.WordOr("op", string(water.Equal), string(water.Equal), string(water.Less), string(water.Greater))),
			Value: o.Float("value", 0, 1e12),
			Unit:  water.Unit(o.Word("unit", words(water.Units())...)),
			Basis: water.Basis(o.WordOr("basis", "", string(water.AsN), string(water.AsNO3))),
		}
		if *o.problems != nil { // of this result or an earlier one: nothing is answered
			return
		}
		j, err := edition.Judge(use, r)
		if ie := (*unit.InputError)(nil); errors.As(err, &ie) {
			o.Refuse(ie.Field, "%s does not go with %s; accepted is %s", ie.Got, r.What, ie.Want)
			return
		}
		judgements = append(judgements, j)
	})
	if err := in.Done(); err != nil {
		return Answer{}, err
	}

	out := waterAnswer{Judged: make([]waterJudged, 0, len(judgements))}
	var a Answer
	for _, j := range judgements {
		l := j.Limit
		out.Judged = append(out.Judged, waterJudged{What: l.What, Verdict: j.Verdict, Limit: l.Max, Unit: l.Unit, Edition: l.Edition})
		a.Cautions = append(a.Cautions, j.Cautions...)
		a.Steps = append(a.Steps, waterStep(j))
		if src := sourceOf(l); !slices.Contains(a.Sources, src) {
			a.Sources = append(a.Sources, src)
		}
	}
	a.Out = out
	return a, nil
}

func readEdition(in *Object) water.Edition {
	name := water.DefaultEdition
	if in.Has("edition") {
		name = in.Text("edition")
	}
	e, err := water.FindEdition(name)
	if ie := (*unit.InputError)(nil); errors.As(err, &ie) {
		in.Refuse("edition", "%s is not known; accepted is %s", ie.Got, ie.Want)
	}
	return e
}

func waterStep(j water.Judgement) Step {
	r, l := j.Result, j.Limit
	value := fmt.Sprintf("%s %s %s", r.Op, num(r.Value), r.Unit)
	if r.Basis != "" {
		value += " as " + string(r.Basis)
	}
	if r.Unit != l.Unit || r.Basis != l.Basis {
		value += fmt.Sprintf(" = %.4g %s", j.InUnit, l.Unit)
	}
	limit := "up to " + num(l.Max)
	if l.Exclusive {
		limit = "less than " + num(l.Max)
	}
	limit += " " + string(l.Unit)
	if l.Basis != "" {
		limit += " as " + string(l.Basis)
	}
	if l.Action > 0 {
		limit += ", action from " + num(l.Action)
	}
	return Step{Term: l.What.Label(), Value: value + ": " + strings.ReplaceAll(string(j.Verdict), "_", " "), Formula: limit, Source: sourceOf(l)}
}

func sourceOf(l water.Limit) string {
	if l.Status == water.FromMemory {
		return l.Source + " (from memory)"
	}
	return l.Source
}

func words[W ~string](list []W) []string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = string(w)
	}
	return out
}
