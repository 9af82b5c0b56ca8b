package web

import (
	"errors"
	"fmt"
	"net/http"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"ebbline/record"
	"ebbline/water"
)

// A chore is a form for something of the household: water, round, shelf. Unlike
// other forms outside a session it asks when it happened, and its entry belongs
// to nobody unless it says whose it is.
type chore struct {
	slip
	back string // part of the person's pages that it leads back to
}

// page makes the form; see [formPage].
func (c chore) page(v visit, fill func(form) form) (view, error) {
	kind, ok := record.Find(c.kind)
	if !ok {
		return view{}, errors.New("there is no kind " + c.kind)
	}
	var b slipBody
	f := newForm(kind, v.URL.Path, nil)
	f.Next = "/p/" + v.member.ID + "/" + c.back
	f.Back = f.Next
	if next := local(v.FormValue("next")); next != "" { // where it was come from
		f.Back = next
	}
	if c.make != nil {
		var err error
		if f, err = c.make(v, f, &b); err != nil {
			return view{}, err
		}
	}
	b.Form = fill(f)
	return view{page: "chore", title: c.title, here: part(c.back), body: b}, nil
}

// part is the word of the navigation that an address belongs to.
func part(address string) string {
	first, _, _ := strings.Cut(address, "/")
	return first
}

func (s *server) recordChore(c chore) postFunc {
	return func(w http.ResponseWriter, r *http.Request) error {
		kind, ok := record.Find(c.kind)
		if !ok {
			return errors.New("there is no kind " + c.kind)
		}
		oneLineEnd(r)
		if c.sets != nil {
			c.sets(r)
		}
		e, found := s.read(r, kind)
		e.Person = ""
		if c.whose != nil {
			e.Person = c.whose(r)
		}
		return s.settle(w, r, e, found, c.page)
	}
}

// hide keeps a value in the form without showing it.
func (f form) hide(key, value string) form {
	var shown []input
	for _, in := range f.Inputs {
		if in.Key != key {
			shown = append(shown, in)
		}
	}
	f.Inputs = shown
	hidden := map[string]string{key: value}
	for k, v := range f.Hidden {
		hidden[k] = v
	}
	f.Hidden = hidden
	return f
}

// without leaves fields out of the form.
func (f form) without(keys ...string) form {
	for _, key := range keys {
		var shown []input
		for _, in := range f.Inputs {
			if in.Key != key {
				shown = append(shown, in)
			}
		}
		f.Inputs = shown
	}
	return f
}

// keptBody shows one entry of the household and strikes it out.
type keptBody struct {
	Kept   record.Kept
	Title  string
	Values []labelled
	Strike form
	Back   string
	Link   string // to the form that writes it anew
}

// keptPage shows one entry of water, round or shelf.
func (s *server) keptPage(v visit) (view, error) {
	return s.strikeKept(v, func(f form) form { return f })
}

func (s *server) strikeKept(v visit, fill func(form) form) (view, error) {
	k, ok := v.house.Upkeep.FindKept(v.PathValue("e"))
	if !ok {
		return view{}, notFound{"no such entry"}
	}
	kind, ok := record.Find(k.Kind)
	if !ok {
		return view{}, notFound{"no such entry"}
	}
	back := "/p/" + v.member.ID + "/" + partOf(k.Kind)
	b := keptBody{Kept: k, Title: kind.Title, Values: keptValues(kind, k.Body), Back: back}
	strike, _ := record.Find("struck")
	b.Strike = newForm(strike, v.URL.Path, nil).only("reason")
	b.Strike.Next, b.Strike.Back, b.Strike.Submit = back, back, "Strike it out"
	b.Strike = fill(b.Strike)
	return view{page: "kept", title: kind.Title, here: part(partOf(k.Kind)), body: b}, nil
}

// partOf is the page on which an entry of this kind stands.
func partOf(kind string) string {
	switch kind {
	case "water_reading", "water_sample", "water_result", "task_closed", "water_rules", "water_limit", "utility_notice", "residual_test", "batch_made", "batch_tested":
		return "round/water"
	case "round_item", "round_done", "fault", "sharps_bin", "needlestick_card":
		return "round"
	}
	return "shelf"
}

func (s *server) recordStrike(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("struck")
	r.PostForm.Set("entry_id", r.PathValue("e"))
	e, found := s.read(r, kind)
	e.Person = ""
	if err := s.look(r, func(v visit) error {
		if k, ok := v.house.Upkeep.FindKept(r.PathValue("e")); ok {
			e.Person = k.Person
		}
		return nil
	}); err != nil {
		return err
	}
	return s.settle(w, r, e, found, s.strikeKept)
}

// keptValues lists what an entry holds, what is made of several parts a line
// each.
func keptValues(kind *record.Kind, body any) []labelled {
	if b, ok := body.(*record.WaterResult); ok {
		list := valuesOf(kind, &record.WaterResult{Sample: b.Sample, Laboratory: b.Laboratory, Edition: b.Edition, Use: b.Use, Medium: b.Medium, Celsius: b.Celsius, Days: b.Days, Plated: b.Plated, Dilution: b.Dilution, Owner: b.Owner, Note: b.Note}, nil)
		list = slices.DeleteFunc(list, func(l labelled) bool { return l.Value == "[]" })
		for _, r := range b.Results {
			list = append(list, labelled{r.What.Label(), figureText(r)})
		}
		return list
	}
	var list []labelled
	for _, l := range valuesOf(kind, body, nil) {
		f, _ := fieldLabelled(kind, l.Label)
		if f.Type() != record.TypeNested {
			list = append(list, l)
			continue
		}
		v, _ := f.Of(body)
		parts := reflect.ValueOf(v)
		for i := range parts.Len() {
			list = append(list, labelled{f.Label, fmt.Sprint(parts.Index(i).Interface())})
		}
	}
	return list
}

func fieldLabelled(kind *record.Kind, label string) (record.Field, bool) {
	for _, f := range kind.Fields {
		if f.Label == label {
			return f, true
		}
	}
	return record.Field{}, false
}

// figureText writes a laboratory's figure as it was reported.
func figureText(r water.Result) string {
	text := strconv.FormatFloat(r.Value, 'f', -1, 64) + "\u00a0" + string(r.Unit)
	if r.Op != water.Equal {
		text = string(r.Op) + "\u00a0" + text
	}
	if r.Basis != "" {
		text += " as " + string(r.Basis)
	}
	return text
}
