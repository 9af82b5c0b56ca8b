package record

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"

	"ebbline/unit"
)

// A Kind is one sort of entry: what it holds, the bounds of each value, and
// what must be true of the record for it to be taken.
type Kind struct {
	Name    string
	Title   string // as a heading on a page
	Doc     string // one sentence for the description of entries
	New     func() any
	Fields  []Field
	Session bool // belongs to a session
	Once    bool // a second one in the same session must correct the first
	Live    bool // needs a session that is running
	House   bool // belongs to the household; a person may be named or not
	Check   func(c *Checker)

	// Inner finds a value inside a nested one by the key that findings and
	// second typings name it with, "results.potassium".
	Inner func(body any, key string) (text string, ok bool)
}

// Typed gives a value of a body as it is typed, by its key: a field's, or one
// inside a nested field. It gives false for a key that names neither.
func (k *Kind) Typed(body any, key string) (string, bool) {
	if f, ok := k.Field(key); ok {
		return f.Typed(body), true
	}
	if k.Inner == nil {
		return "", false
	}
	return k.Inner(body, key)
}

// A Field is one value of a kind.
type Field struct {
	Key      string
	Label    string
	Doc      string
	Refuse   *Range   // outside: cannot be a reading
	Ask      *Range   // outside: asked, then typed again
	Choices  []Choice // a closed list
	Measured bool     // read off something: never filled in beforehand
	Optional bool     // may be left blank, or be missing for a reason
	MaxText  int      // longest text in characters; 0 means 500
	Lines    bool     // a list of sentences: in a form one stands on each line, not one word after the other

	ofCatheter string // the label with a catheter; empty where it is the same

	index []int // where it stands in the struct
	typ   reflect.Type
}

// A Range is a pair of bounds, both included, in the written unit.
type Range struct{ Lo, Hi float64 }

// A Choice is one word of a closed list and how it is shown.
type Choice struct{ Value, Label string }

// Value types as a page, a schema and a description need to tell them apart.
const (
	TypeNumber = "number"
	TypeWhole  = "integer"
	TypeText   = "text"
	TypeYesNo  = "boolean"
	TypeDate   = "date"
	TypeList   = "list"
	TypeNested = "nested"
)

// quantity is what every [unit.Quantity] has in common.
type quantity interface {
	Float() float64
	Symbol() string
	Decimals() int
	String() string
}

// Type tells what sort of value the field holds.
func (f Field) Type() string {
	t := f.base()
	v := reflect.New(t).Interface()
	switch {
	case isQuantity(v):
		if reflect.Zero(t).Interface().(quantity).Decimals() == 0 {
			return TypeWhole
		}
		return TypeNumber
	case t == reflect.TypeFor[unit.Date]():
		return TypeDate
	case t.Kind() == reflect.Bool:
		return TypeYesNo
	case t.Kind() == reflect.Int:
		return TypeWhole
	case t.Kind() == reflect.String:
		return TypeText
	case t.Kind() == reflect.Slice && t.Elem().Kind() == reflect.String:
		return TypeList
	}
	return TypeNested
}

func isQuantity(v any) bool {
	_, ok := reflect.ValueOf(v).Elem().Interface().(quantity)
	return ok
}

func (f Field) base() reflect.Type {
	if f.typ.Kind() == reflect.Pointer {
		return f.typ.Elem()
	}
	return f.typ
}

// Symbol returns the unit of a quantity, or nothing.
func (f Field) Symbol() string {
	if q, ok := reflect.Zero(f.base()).Interface().(quantity); ok {
		return q.Symbol()
	}
	return ""
}

// Decimals returns how many decimals of the written unit are recorded.
func (f Field) Decimals() int {
	if q, ok := reflect.Zero(f.base()).Interface().(quantity); ok {
		return q.Decimals()
	}
	return 0
}

// Of returns the field's value in a body, and false when it was not given.
func (f Field) Of(body any) (any, bool) {
	v := reflect.ValueOf(body).Elem().FieldByIndex(f.index)
	if v.Kind() == reflect.Pointer {
		if v.IsNil() {
			return nil, false
		}
		v = v.Elem()
	}
	if d, ok := v.Interface().(unit.Date); ok && d.IsZero() {
		return nil, false
	}
	if v.Kind() == reflect.String && v.Len() == 0 {
		return nil, false
	}
	if v.Kind() == reflect.Slice && v.IsNil() {
		return nil, false // written as null it would not be read back
	}
	if v.CanInt() && v.Int() == 0 && f.Optional && f.typ.Kind() != reflect.Pointer {
		return nil, false // a gauge, an interval or a weight of zero is none
	}
	return v.Interface(), true
}

// Text returns the field's value as it is read.
func (f Field) Text(body any) string {
	v, ok := f.Of(body)
	if !ok {
		return ""
	}
	switch v := v.(type) {
	case fmt.Stringer:
		return v.String()
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case []string:
		return strings.Join(v, " ")
	}
	return fmt.Sprint(v)
}

// Typed returns the field's value as a form holds it, for [Kind.FromForm].
func (f Field) Typed(body any) string {
	if list, ok := f.Of(body); ok && f.Lines {
		return strings.Join(list.([]string), "\n")
	}
	return f.Text(body)
}

// items takes the text of a list in a form apart.
func (f Field) items(text string) []string {
	if !f.Lines {
		return strings.Fields(text)
	}
	var list []string
	for line := range strings.Lines(text) {
		if line = strings.TrimSpace(line); line != "" {
			list = append(list, line)
		}
	}
	return list
}

// number returns a numeric value in its written unit.
func (f Field) number(body any) (float64, bool) {
	v, ok := f.Of(body)
	if !ok {
		return 0, false
	}
	switch v := v.(type) {
	case quantity:
		return v.Float(), true
	case int:
		return float64(v), true
	}
	return 0, false
}

// Strange reports whether the field's value in a body lies where it is asked
// about.
func (f Field) Strange(body any) bool {
	n, ok := f.number(body)
	return ok && f.Ask != nil && (n < f.Ask.Lo || n > f.Ask.Hi)
}

// Field returns the field with this key.
func (k *Kind) Field(key string) (Field, bool) {
	for _, f := range k.Fields {
		if f.Key == key {
			return f, true
		}
	}
	return Field{}, false
}

// FromJSON reads the values of an entry key by key, so that each problem names
// its own.
func (k *Kind) FromJSON(raw json.RawMessage) (any, Findings) {
	body := k.New()
	var keys map[string]json.RawMessage
	if err := json.Unmarshal(raw, &keys); err != nil || keys == nil {
		return body, Findings{{Field: "values", Step: Refuse, Words: "is not an object"}}
	}
	var bad Findings
	target := reflect.ValueOf(body).Elem()
	for _, f := range k.Fields {
		v, there := keys[f.Key]
		delete(keys, f.Key)
		if !there || string(v) == "null" {
			if !f.Optional {
				bad = append(bad, Finding{Field: f.Key, Step: Refuse, Words: "is missing"})
			}
			continue
		}
		if err := json.Unmarshal(v, target.FieldByIndex(f.index).Addr().Interface()); err != nil {
			bad = append(bad, Finding{Field: f.Key, Step: Refuse, Words: f.wrong(string(v), err)})
		}
	}
	for _, key := range sortedKeys(keys) {
		bad = append(bad, Finding{Field: clip(key), Step: Refuse, Words: "is not a value of " + k.Name})
	}
	return body, bad
}

// FromForm reads the values as a person typed them. Blank fields are "not
// given"; a blank that is needed is refused.
func (k *Kind) FromForm(get func(key string) []string) (any, Findings) {
	body := k.New()
	var bad Findings
	target := reflect.ValueOf(body).Elem()
	for _, f := range k.Fields {
		typed := get(f.Key)
		// A browser ends the lines of a text with two characters.
		text := strings.ReplaceAll(strings.TrimSpace(strings.Join(typed, " ")), "\r\n", "\n")
		switch f.Type() {
		case TypeYesNo:
			target.FieldByIndex(f.index).SetBool(text == "yes" || text == "on" || text == "true")
			continue
		case TypeList:
			target.FieldByIndex(f.index).Set(reflect.ValueOf(f.items(text)))
			continue
		case TypeNested:
			continue // lists of steps have a page of their own
		}
		if text == "" {
			if !f.Optional {
				bad = append(bad, Finding{Field: f.Key, Step: Refuse, Words: "is still blank"})
			}
			continue
		}
		if err := f.setText(target, text); err != nil {
			bad = append(bad, Finding{Field: f.Key, Step: Refuse, Words: f.wrong(text, err)})
		}
	}
	return body, bad
}

func (f Field) setText(target reflect.Value, text string) error {
	v := target.FieldByIndex(f.index)
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	if u, ok := v.Addr().Interface().(interface{ UnmarshalText([]byte) error }); ok {
		return u.UnmarshalText([]byte(text))
	}
	switch v.Kind() {
	case reflect.Int:
		n, err := strconv.Atoi(text)
		if err != nil {
			return unit.Refuse(f.Key, text, "a whole number")
		}
		v.SetInt(int64(n))
	case reflect.String:
		v.SetString(text)
	}
	return nil
}

// wrong words a value that could not be read.
func (f Field) wrong(text string, err error) string {
	var input *unit.InputError
	if errors.As(err, &input) {
		return quote(text) + " is not accepted: needs " + input.Want
	}
	return quote(text) + " is not accepted: needs " + map[string]string{
		TypeNumber: "a number", TypeWhole: "a whole number", TypeText: "a text", TypeYesNo: "true or false",
		TypeDate: "a date as year-month-day", TypeList: "a list of words", TypeNested: "what `ebbline schema` describes",
	}[f.Type()]
}

func sortedKeys[V any](m map[string]V) []string {
	return slices.Sorted(maps.Keys(m))
}

// defaultText is how many characters a text may have when its field says
// nothing.
const defaultText = 500

// Longest returns how many characters a text of this field may have.
func (f Field) Longest() int {
	if f.MaxText == 0 {
		return defaultText
	}
	return f.MaxText
}
