package web

import (
	"fmt"
	"net/http"

	"ebbline/record"
	"ebbline/unit"
)

// sendWeight records a weight. Pounds and stone have fields of their own; what
// they make in kilograms is shown before it is kept, since only kilograms are.
func (s *server) sendWeight(w http.ResponseWriter, r *http.Request, kind *record.Kind) error {
	read := r.PostFormValue("read_in")
	if read != "lb" && read != "st" {
		return s.send(w, r, kind, s.kindForm)
	}
	mass, err := foreign(r, read)
	if err != nil {
		found := record.Findings{{Field: "read_in", Step: record.Refuse, Words: err.Error()}}
		e, _ := s.read(r, kind)
		return s.settle(w, r, e, found, s.kindForm)
	}
	if r.PostFormValue("shown_kg") == mass.String() {
		r.PostForm.Set("weight_kg", mass.String())
		return s.send(w, r, kind, s.kindForm)
	}
	found := record.Findings{{Field: "read_in", Step: record.Ask, Words: fmt.Sprintf("that is %s kg. Press save again if that is your weight", mass)}}
	e, _ := s.read(r, kind)
	return s.settle(w, r, e, found, func(v visit, fill func(form) form) (view, error) {
		made, err := s.kindForm(v, fill)
		if b, ok := made.body.(entryBody); ok {
			b.Form.Hidden = map[string]string{"shown_kg": mass.String(), "weight_lb": r.PostFormValue("weight_lb"), "weight_st": r.PostFormValue("weight_st")}
			b.Form.Problem = ""
			b.Notes = append(b.Notes, fmt.Sprintf("The scale showed %s. That is %s kg.", foreignText(r, read), mass))
			b.Foreign = true
			made.body = b
		}
		return made, err
	})
}

// foreign reads a weight in pounds, or in stone and pounds.
func foreign(r *http.Request, read string) (unit.Mass, error) {
	var lb unit.Pounds
	if text := r.PostFormValue("weight_lb"); text != "" || read == "lb" {
		if err := lb.UnmarshalText([]byte(text)); err != nil {
			return 0, fmt.Errorf("the pounds: %w", err)
		}
	}
	if read == "lb" {
		return unit.MassOfPounds(lb), nil
	}
	var st unit.Stone
	if err := st.UnmarshalText([]byte(r.PostFormValue("weight_st"))); err != nil {
		return 0, fmt.Errorf("the stone: %w", err)
	}
	return unit.MassOfStone(st, lb), nil
}

func foreignText(r *http.Request, read string) string {
	if read == "lb" {
		return r.PostFormValue("weight_lb") + " lb"
	}
	return r.PostFormValue("weight_st") + " st " + r.PostFormValue("weight_lb") + " lb"
}
