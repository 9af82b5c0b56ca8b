package web

import (
	"slices"

	"ebbline/record"
	"ebbline/session"
)

// A formGroup is some fields of a form under one heading; without a heading
// they stand by themselves.
type formGroup struct {
	Title  string
	Inputs []input
}

// headings are the groups of the forms that have them, by kind: small ticks that
// are read together, two in a row.
var headings = map[string][]struct {
	title string
	keys  []string
}{
	"fitness":      {{"New: ambulance first", []string{"weakness", "heavy_legs", "tingling", "faint", "palpitations", "odd_pulse"}}},
	"access_check": {{"At the access", []string{"red", "warm", "tender", "swollen"}}},
}

// Groups are the fields in their order, those of a heading together.
func (f form) Groups() []formGroup {
	var list []formGroup
	for _, in := range f.Inputs {
		title := ""
		for _, h := range headings[f.Kind.Name] {
			if slices.Contains(h.keys, in.Key) {
				title = h.title
			}
		}
		if title != "" && f.Exit {
			title = "At the exit site"
		}
		if n := len(list); n == 0 || list[n-1].Title != title {
			list = append(list, formGroup{Title: title})
		}
		last := &list[len(list)-1]
		last.Inputs = append(last.Inputs, in)
	}
	return list
}

// older are choices that a field no longer offers, since ticks of their own have
// taken their place. One that was written stays to be seen.
var older = map[string][]string{"access_check.skin": {"red", "swollen"}}

// notOnCatheter are the fields of a look at the access that belong to a vein under
// the skin: flow, a bulge, a hand that gets too little blood.
var notOnCatheter = []string{"thrill", "bruit", "bulge", "hand"}

// onCatheter are those that belong to a catheter alone.
var onCatheter = []string{"cuff", "outer_length"}

// leftOut leaves out of a look at the access what its kind does not have. A field that
// holds something stays to be seen.
func (f form) leftOut(keys []string) form {
	if f.Kind.Name != "access_check" {
		return f
	}
	for _, in := range slices.Clone(f.Inputs) {
		if slices.Contains(keys, in.Key) && in.Value == "" && in.Problem == "" {
			f = f.without(in.Key)
		}
	}
	return f
}

// ofAccess leaves out what the access that was prescribed does not have. On a
// catheter the answer about the thrill is written by itself. A field that holds
// something stays to be seen.
func (f form) ofAccess(rx *session.Prescription) form {
	if !rx.ByCatheter() {
		return f.leftOut(onCatheter)
	}
	for i := range f.Inputs {
		in := &f.Inputs[i]
		in.Field = in.Field.By(rx)
	}
	if f.Kind.Name != "access_check" {
		return f
	}
	f.Exit = true
	for _, in := range slices.Clone(f.Inputs) {
		held := !slices.Contains([]string{"", "no", "not_applicable"}, in.Value) || in.Problem != ""
		switch {
		case held || !slices.Contains(notOnCatheter, in.Key):
		case in.Key == "thrill":
			f = f.hide("thrill", "not_applicable")
		default:
			f = f.without(in.Key)
		}
	}
	return f
}

// offered leaves out the choices that are no longer offered, and those that are
// not for the access that was prescribed: a catheter has no thrill, and nothing
// else is one.
func (f form) offered(rx *session.Prescription) form {
	for i := range f.Inputs {
		in := &f.Inputs[i]
		key := f.Kind.Name + "." + in.Key
		in.Choices = slices.DeleteFunc(slices.Clone(in.Choices), func(c record.Choice) bool {
			other := key == "access_check.thrill" && rx != nil && rx.ByCatheter() != (c.Value == "not_applicable")
			return c.Value != in.Value && (other || slices.Contains(older[key], c.Value))
		})
	}
	return f
}
