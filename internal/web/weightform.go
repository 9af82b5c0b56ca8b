package web

import (
	"math"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// isWeighing reports whether this kind is a weight off the scale.
func isWeighing(k *record.Kind) bool { return k.Name == "weigh_in" || k.Name == "weigh_out" }

// kilogramsShown is a weight in the unit of the scale beside its kilograms, before
// these are kept.
type kilogramsShown struct {
	Typed, Kg string
	Asked     bool // something is to be typed again before it can be kept
}

// showing puts the kilograms of what was typed above the form.
func (f form) showing(got scaleReading) form {
	kg := got.mass.String()
	f.Hidden["shown_kg"] = kg
	f.Shown = &kilogramsShown{Typed: got.words, Kg: kg, Asked: f.Problem != ""}
	for _, in := range f.Inputs {
		f.Shown.Asked = f.Shown.Asked || in.Asked != "" || in.Problem != ""
	}
	f.Submit = "Keep " + kg + " kg"
	return f
}

// ofScale gives the form of a weight the fields of the unit that the scale shows.
// Fields of another unit stay in sight as long as something is typed in them.
func (f form) ofScale(v visit) form {
	if !isWeighing(f.Kind) {
		return f
	}
	in := scaleShows(v.Request)
	f = f.carried(v.Request).hide("read_in", in)
	if in != inKilograms {
		f.Submit = "Show the kilograms"
	}
	var list []input
	for _, own := range f.Inputs {
		if own.Key != fieldKilograms {
			list = append(list, own)
			continue
		}
		for _, key := range []string{fieldKilograms, fieldStone, fieldPounds} {
			if slices.Contains(weightFields(in), key) || strings.TrimSpace(v.PostForm.Get(key)) != "" {
				list = append(list, own.inScaleUnit(v.PostForm, key, in))
			}
		}
	}
	f.Inputs = list
	return f
}

// inScaleUnit is the field of a weight with the name, the unit and the digits of
// one of the fields of a scale. The first of them says what is found about the
// kilograms. 20 to 300 kg are 44.1 to 661.4 lb, and 3 to 47 stone.
func (own input) inScaleUnit(sent url.Values, key, in string) input {
	made := own
	made.Key = key
	first := key == weightFields(in)[0]
	switch {
	case key == fieldKilograms:
		return own
	case key == fieldStone:
		made.Label, made.Unit, made.Places, made.Refuse = "Stone", "st", 0, &record.Range{Lo: 3, Hi: 47}
	case in == inStone:
		made.Label, made.Unit, made.Places, made.Refuse = "Pounds", "lb", 1, &record.Range{Lo: 0, Hi: 13.9}
	default:
		made.Unit, made.Places, made.Refuse = "lb", 1, &record.Range{Lo: 44.1, Hi: 661.4}
	}
	if first {
		made.For = fieldKilograms
		made.Say = func(one record.Finding) string { return inScaleWords(sent, in, one) }
	}
	return made
}

// inScaleWords puts what was found about the kilograms of a weight into the words
// of the scale it was read off.
func inScaleWords(sent url.Values, in string, one record.Finding) string {
	got := readScale(sent, in, "")
	if len(got.found) > 0 {
		return one.Words
	}
	if one.Twice {
		return record.TypedTwice(got.words, readScale(sent, in, "again.").words)
	}
	words := one.Words
	if one.Weight != nil {
		words = doubtInUnit(*one.Weight, in).Words()
	}
	return got.words + " is " + got.mass.String() + " kg. " + words
}

// doubtInUnit words a doubt about kilograms that were typed in another unit. Where
// something else is said too, it leaves out slips of single digits, and what they
// would make: nobody typed these digits.
func doubtInUnit(d record.WeightDoubt, in string) record.WeightDoubt {
	all := d.Why
	d.Why = nil
	for i, r := range all {
		switch {
		case r.Digit() && i > 0:
			d.Likely = ""
			continue
		case r.InPounds():
			r.Words = "looks like kilograms typed as " + unitWords(in)
		}
		d.Why = append(d.Why, r)
	}
	return d
}

// bothAgain lets a weight of two fields be typed again in both.
func (f form) bothAgain() form {
	for i := 1; i < len(f.Inputs); i++ {
		if stone := f.Inputs[i-1]; stone.Key == fieldStone && stone.Asked != "" && f.Inputs[i].Key == fieldPounds && f.Inputs[i].Asked == "" {
			f.Inputs[i].Asked = "And the pounds"
		}
	}
	return f
}

// carriedOn are the values that go along to the form for another unit.
var carriedOn = []string{"clothing_kg", "scale", "clock", "day", "which", "next"}

// carried takes over what was typed beside the weight on the form for another unit.
func (f form) carried(r *http.Request) form {
	sent := r.URL.Query()
	if r.Method == http.MethodPost || !sent.Has("in") {
		return f
	}
	for i := range f.Inputs {
		if key := f.Inputs[i].Key; slices.Contains(carriedOn, key) && sent.Has(key) {
			f.Inputs[i].Value = sent.Get(key)
		}
	}
	for key, to := range map[string]*string{"clock": &f.Clock, "day": &f.Day, "which": &f.Which} {
		if sent.Has(key) {
			*to = sent.Get(key)
		}
	}
	return f
}

// toUnit leads to the form of the same weight in another unit. The weight itself
// is typed there; what else was typed goes along.
func toUnit(r *http.Request, base string, k *record.Kind, in string) string {
	q := url.Values{"in": {in}}
	sent := r.URL.Query()
	if r.Method == http.MethodPost {
		sent = r.PostForm
	}
	for _, key := range carriedOn {
		if given := sent.Get(key); given != "" && len(given) <= 100 && given != base {
			q.Set(key, given)
		}
	}
	return base + "/" + k.Name + "?" + q.Encode()
}

// otherUnits are the ways to the forms of a weight for the units that this form is
// not for.
type otherUnits struct {
	Lead string
	Ways []stepLink
}

// meant is how far, as a share, a weight may lie from one that is known and still
// have been meant in the unit that brings it there. Ours: people gain a few per
// cent from session to session, and a pound is 45 % of a kilogram.
const meant = 0.15

// offerUnits puts the ways to the other units under the weight. Where it was asked
// about or refused, and seems to have been read in one of them, that one alone, as
// a question.
func (f form) offerUnits(v visit, base string) form {
	if !isWeighing(f.Kind) {
		return f
	}
	shows := scaleShows(v.Request)
	own := weightFields(shows)
	var said, typed string
	var doubts []record.WeightReason
	last := -1
	for i, in := range f.Inputs {
		if slices.Contains(own, in.Key) {
			last, said, doubts = i, said+in.Asked+in.Problem, append(doubts, in.Doubts...)
		}
		if in.Key == fieldKilograms {
			typed = in.Value
		}
	}
	if last < 0 || f.Shown != nil && said == "" {
		return f
	}
	other := &otherUnits{Lead: "The scale shows"}
	for _, u := range scaleUnits {
		way := stepLink{u.Words, toUnit(v.Request, base, f.Kind, u.Name)}
		switch {
		case u.Name == shows:
			continue
		case said != "" && shows == inKilograms && (slices.ContainsFunc(doubts, looksLike[u.Name]) || near(v.session, typed, u.Name)),
			said != "" && shows != inKilograms && slices.ContainsFunc(doubts, record.WeightReason.InPounds):
			way.Words = "Does it show " + u.Words + "?"
			f.Inputs[last].Elsewhere = &otherUnits{Lead: "Look at the scale again.", Ways: []stepLink{way}}
			return f
		}
		other.Ways = append(other.Ways, way)
	}
	f.Inputs[last].Elsewhere = other
	return f
}

// looksLike are the doubts of a weight that was meant in another unit.
var looksLike = map[string]func(record.WeightReason) bool{inPounds: record.WeightReason.InPounds, inStone: record.WeightReason.InStone}

// near reports whether a number lies near a weight of this person that is known,
// if it is read in this unit: the one before the session, else the dry weight.
func near(one *session.Session, typed, in string) bool {
	var lb unit.Pounds
	if lb.UnmarshalText([]byte(typed)) != nil {
		return false
	}
	var known unit.Mass
	if before, _ := session.Last[session.WeighIn](one); before != nil {
		known = before.Weight
	} else if one.Rx != nil {
		known = one.Rx.DryWeight
	}
	if in == inStone {
		lb *= unit.PoundsPerStone
	}
	return known > 0 && math.Abs(unit.MassOfPounds(lb).Float()/known.Float()-1) <= meant
}
