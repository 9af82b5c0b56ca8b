package web

import (
	"net/http"
	"strings"

	"ebbline/record"
	"ebbline/unit"
)

// plantBody is the form of a round through the water plant.
type plantBody struct {
	Form     form
	Gauges   []input
	Others   []input
	GaugeIn  string
	HardIn   string
	GaugeUs  []string
	HardUs   []string
	Hardness input
}

// gaugeKeys are the pressures, in the order of the water.
var gaugeKeys = []string{"feed_kpa", "after_sediment_kpa", "after_softener_kpa", "after_carbon_kpa", "after_second_carbon_kpa", "after_prefilter_kpa"}

const hardnessKey = "hardness_mg_l_caco3"

func (s *server) plantForm(v visit, fill func(form) form) (view, error) {
	kind, _ := record.Find("water_reading")
	f := newForm(kind, v.URL.Path, nil)
	f.Next = "/p/" + v.member.ID + "/round/water"
	f.Back, f.Submit = f.Next, "Keep the readings"
	f = fill(f)
	b := plantBody{Form: f, GaugeUs: unit.GaugeUnits(), HardUs: unit.HardnessUnits(), GaugeIn: v.PostFormValue("gauge_unit"), HardIn: v.PostFormValue("hardness_unit")}
	for _, in := range f.Inputs {
		switch {
		case strings.HasSuffix(in.Key, "_kpa"):
			b.Gauges = append(b.Gauges, in)
		case in.Key == hardnessKey:
			b.Hardness = in
		default:
			b.Others = append(b.Others, in)
		}
	}
	return view{page: "plant", title: "Water plant", here: "round", body: b}, nil
}

// recordPlant converts what the gauges and the hardness test show into what is
// kept. A unit is asked as soon as there is a value: 2.4 means one thing in bar
// and nothing in psi.
func (s *server) recordPlant(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("water_reading")
	oneLineEnd(r)
	var found record.Findings
	convert := func(key, in string, units string, parse func(typed, in string) (string, error)) {
		typed := strings.TrimSpace(r.PostFormValue(key))
		if typed == "" {
			return
		}
		if in == "" {
			found = append(found, record.Finding{Field: key, Step: record.Refuse, Words: "has no unit: say whether it is " + units})
			return
		}
		kept, err := parse(typed, in)
		if err != nil {
			found = append(found, record.Finding{Field: key, Step: record.Refuse, Words: "“" + typed + "” is not accepted in " + in})
			return
		}
		r.PostForm.Set(key, kept)
	}
	gaugeIn, hardIn := r.PostFormValue("gauge_unit"), r.PostFormValue("hardness_unit")
	for _, key := range gaugeKeys {
		convert(key, gaugeIn, "bar, psi or kPa", func(typed, in string) (string, error) {
			g, err := unit.ParseGauge(typed, in)
			return g.String(), err
		})
	}
	convert(hardnessKey, hardIn, strings.Join(unit.HardnessUnits(), ", "), func(typed, in string) (string, error) {
		h, err := unit.ParseHardness(typed, in)
		return h.String(), err
	})
	if len(found) > 0 {
		e, _ := s.read(r, kind)
		return s.settle(w, r, e, found, s.plantForm)
	}
	e, more := s.read(r, kind)
	e.Person = ""
	// From here on the form holds what is kept.
	if gaugeIn != "" {
		r.PostForm.Set("gauge_unit", "kPa")
	}
	if hardIn != "" {
		r.PostForm.Set("hardness_unit", unit.HardnessUnits()[0])
	}
	return s.settle(w, r, e, more, s.plantForm)
}
