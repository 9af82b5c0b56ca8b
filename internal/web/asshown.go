package web

import (
	"errors"
	"fmt"
	"net/http"
	"regexp"
	"strconv"
	"strings"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// The record holds volumes in millilitres. A machine shows its fluid goal in
// litres or in millilitres, and what is read off it is typed as it stands
// there: the page turns it into millilitres, and words what it says of it in
// the machine's unit.

// goalFields are the values that stand in the machine's goal field.
var goalFields = map[string]string{"goal_changed": "goal_ml"}

// shownPrefix tells a field typed as the machine shows it from the one of the
// record, so that neither is ever taken for the other.
const shownPrefix = "shown."

func showsLitres(m session.Machine) bool { return m.GoalUnit == "L" }

// onMachine puts the machine's goal field, where the form has one, into the
// machine's own unit and digits.
func (f form) onMachine(m session.Machine) form {
	for i := range f.Inputs {
		in := &f.Inputs[i]
		if in.Key != goalFields[f.Kind.Name] {
			continue
		}
		in.Label += ", as the machine shows it"
		if !showsLitres(m) {
			continue
		}
		in.Unit, in.Places, in.Shown = "L", m.GoalDecimals, true
		in.Say = func(one record.Finding) string { return inLitres(m, one.Words) }
		if in.Value != "" {
			in.Value = goalText(m, in.Value)
		}
		if r := in.Refuse; r != nil {
			in.Refuse = &record.Range{Lo: r.Lo / 1000, Hi: r.Hi / 1000}
		}
	}
	return f
}

// Name is what the field is sent as.
func (in input) Name() string {
	if in.Shown {
		return shownPrefix + in.Key
	}
	return in.Key
}

// Symbol is the unit the field is typed in.
func (in input) Symbol() string {
	if in.Unit != "" {
		return in.Unit
	}
	return in.Field.Symbol()
}

// Decimals is how many decimals the field is typed with.
func (in input) Decimals() int {
	if in.Unit != "" {
		return in.Places
	}
	return in.Field.Decimals()
}

// Type is number for whatever is typed in a unit.
func (in input) Type() string {
	if in.Unit != "" {
		return record.TypeNumber
	}
	return in.Field.Type()
}

// inLitres words what was found about a value of the goal field in litres.
func inLitres(m session.Machine, words string) string {
	words = strings.Replace(words, " Is it in litres?", "", 1)
	return millilitres.ReplaceAllStringFunc(words, func(part string) string {
		part = strings.TrimRight(strings.TrimSuffix(part, "mL"), " \u00a0")
		return numerals.ReplaceAllStringFunc(part, func(n string) string { return goalText(m, n) }) + " L"
	})
}

var (
	millilitres = regexp.MustCompile(`\d+ to \d+(?: mL)?|typed as \d+ and then as \d+|\d+[ \x{a0}]mL`)
	numerals    = regexp.MustCompile(`\d+`)
)

// goalText writes millilitres with the digits of the machine's goal field, or
// with three decimals when it takes more to be true.
func goalText(m session.Machine, ml string) string {
	n, err := strconv.ParseInt(ml, 10, 64)
	if err != nil {
		return ml
	}
	if shown, err := m.ShowGoal(unit.Volume(n)); err == nil {
		return strings.TrimSuffix(shown, "\u00a0L")
	}
	return unit.Litres(n).Digits(3)
}

// readShown turns what was typed off the machine's goal field into the
// millilitres of the record, the second typing too.
func (s *server) readShown(r *http.Request, kind *record.Kind) (found record.Findings) {
	key := goalFields[kind.Name]
	if key == "" || !r.PostForm.Has(shownPrefix+key) || r.PathValue("s") == "" {
		return nil
	}
	_ = s.look(r, func(v visit) error {
		m := v.session.Machine
		for _, prefix := range []string{"", "again."} {
			typed := strings.TrimSpace(r.PostFormValue(prefix + shownPrefix + key))
			if typed == "" {
				continue
			}
			goal, err := m.ReadGoal(typed)
			f, _ := kind.Field(key)
			var bad *unit.InputError
			switch {
			case prefix == "" && errors.As(err, &bad):
				found = record.Findings{{Field: key, Step: record.Refuse, Words: refusal(bad)}}
			case prefix == "" && showsLitres(m) && f.Refuse != nil && goal.Float() > f.Refuse.Hi:
				found = record.Findings{{Field: key, Step: record.Refuse, Words: beyondLitres(m, typed, goal)}}
			case err == nil:
				r.PostForm.Set(prefix+key, goal.String())
			}
		}
		return nil
	})
	return found
}

// beyondLitres words a goal in litres that no machine shows: most likely it
// was typed in millilitres.
func beyondLitres(m session.Machine, typed string, goal unit.Volume) string {
	words := fmt.Sprintf("“%s” litres is not accepted: needs what the machine shows, in litres", typed)
	if goal%1000 == 0 && goal/1000 <= 10_000 {
		words += fmt.Sprintf(". If that was millilitres, it is %s L", goalText(m, (goal/1000).String()))
	}
	return words
}

// litresTyped adds to what was said about a whole number of millilitres, typed
// with a point, how many millilitres that would be if litres were meant.
func litresTyped(kind *record.Kind, r *http.Request, found record.Findings) record.Findings {
	for i, one := range found {
		f, ok := kind.Field(one.Field)
		if !ok || one.Step != record.Refuse || f.Symbol() != "mL" && f.Symbol() != "mL/h" || f.Decimals() != 0 {
			continue
		}
		typed := strings.TrimSpace(r.PostFormValue(f.Key))
		var litres unit.Litres
		if !strings.ContainsAny(typed, ".,") || litres.UnmarshalText([]byte(typed)) != nil {
			continue
		}
		large := strings.Replace(f.Symbol(), "mL", "L", 1)
		found[i].Words = fmt.Sprintf("“%s” is not accepted: type it in %s, a whole number. %s %s is %s %s",
			typed, f.Symbol(), typed, large, unit.Volume(litres).String(), f.Symbol())
	}
	return found
}

// valuesOn lists the values of an entry of a session, the goal as the machine
// shows it.
func valuesOn(m session.Machine, k *record.Kind, body any, missing map[string]session.Missing) []labelled {
	list := valuesOf(k, body, missing)
	f, ok := k.Field(goalFields[k.Name])
	if !ok || !showsLitres(m) {
		return list
	}
	for i := range list {
		if list[i].Label == f.Label {
			list[i].Value = goalText(m, f.Text(body)) + "\u00a0L"
		}
	}
	return list
}
