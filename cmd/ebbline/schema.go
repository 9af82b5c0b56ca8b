package main

import (
	"bytes"
	"encoding/json"
	"flag"
	"reflect"
	"strings"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

var schemaVerb = verb{
	name:  "schema",
	short: "print the JSON Schema of all kinds of entries",
	long: `
Prints one JSON Schema (2020-12) for a line that ` + "`ebbline record`" + ` takes. Units
stand under x-unit; bounds outside which a value is asked about, and taken when
it is typed again, under x-ask. With -page it prints the same as a page for
people: docs/entries.md.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		page := fs.Bool("page", false, "print a page for people instead")
		return func(t *terminal, args []string) error { return runSchema(t, args, *page) }
	},
}

func runSchema(t *terminal, args []string, page bool) error {
	if err := noWords("schema", args); err != nil {
		return err
	}
	if page {
		entriesPage(&t.out)
		return nil
	}
	out, err := json.MarshalIndent(entrySchema(), "", "  ")
	if err != nil {
		return err
	}
	t.out.Write(append(out, '\n'))
	return nil
}

// A member is one key of a JSON object whose keys keep their order.
type member struct {
	key   string
	value any
}

type object []member

func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		key, err := json.Marshal(m.key)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(m.value)
		if err != nil {
			return nil, err
		}
		b.Write(key)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// An envelopeKey is a key that every entry has or may have.
type envelopeKey struct {
	key, doc string
	required bool
	schema   object
}

// envelope describes what stands around the values of an entry.
func envelope() []envelopeKey {
	id := object{{"type", "string"}, {"pattern", "^[A-Za-z0-9._-]{8,64}$"}}
	text := object{{"type", "string"}}
	var kinds []string
	for _, k := range record.Kinds() {
		kinds = append(kinds, k.Name)
	}
	return []envelopeKey{
		{"id", "made by the sender, so that sending twice is harmless; 8 to 64 letters, digits, points, dashes", true, id},
		{"kind", "what sort of entry it is", true, object{{"enum", kinds}}},
		{"at", "when it happened, as a moment: 2026-03-01T05:30:00Z", true, object{{"type", "string"}, {"format", "date-time"}}},
		{"zone", "the time zone it happened in, by name: Europe/Oslo", false, text},
		{"offset_min", "minutes that zone was ahead of UTC then; worked out when left out", false, object{{"type", "integer"}}},
		{"written", "when it was written down; noted by the program, whatever the sender says", false, object{{"type", "string"}, {"format", "date-time"}}},
		{"by", "who wrote it", false, text},
		{"device", "on which screen", false, text},
		{"person", "whose record it belongs to, by the id that the sender gave in the first `person` entry", false, id},
		{"session", "which session, for what belongs to one, by the id given in its `session_opened`", false, id},
		{"corrects", "the id of the entry that this one replaces", false, id},
		{"reason", "why it was corrected", false, text},
		{"missing", "measured values that are not there, each with why", false, object{
			{"type", "object"}, {"additionalProperties", object{{"enum", waysOfMissing}}}}},
		{"again", "values that were asked about, as typed the second time", false, object{
			{"type", "object"}, {"additionalProperties", text}}},
		{"values", "what the kind holds", true, object{{"type", "object"}}},
	}
}

var waysOfMissing = []session.Missing{session.NotDone, session.NotRecorded, session.DoesNotApply, session.AsleepByPlan}

// entrySchema is the schema of one entry: the envelope, and for each kind its
// values.
func entrySchema() object {
	var properties object
	var required []string
	for _, e := range envelope() {
		properties = append(properties, member{e.key, append(object{{"description", e.doc}}, e.schema...)})
		if e.required {
			required = append(required, e.key)
		}
	}
	var each []object
	var defs object
	for _, k := range record.Kinds() {
		then := object{{"properties", object{{"values", object{{"$ref", "#/$defs/" + k.Name}}}}}}
		if k.Session {
			then = append(then, member{"required", []string{"person", "session"}})
		}
		each = append(each, object{
			{"if", object{{"properties", object{{"kind", object{{"const", k.Name}}}}}}},
			{"then", then},
		})
		defs = append(defs, member{k.Name, valuesSchema(k)})
	}
	return object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"title", "Entry"},
		{"description", "One thing that happened, as somebody wrote it down. Entries are only ever added."},
		{"type", "object"},
		{"properties", properties},
		{"required", required},
		{"additionalProperties", false},
		{"allOf", each},
		{"$defs", defs},
	}
}

func valuesSchema(k *record.Kind) object {
	properties := object{}
	required := []string{}
	for _, f := range k.Fields {
		properties = append(properties, member{f.Key, fieldSchema(k, f)})
		if !f.Optional {
			required = append(required, f.Key)
		}
	}
	return object{
		{"title", k.Title},
		{"description", k.Doc},
		{"type", "object"},
		{"properties", properties},
		{"required", required},
		{"additionalProperties", false},
	}
}

func fieldSchema(k *record.Kind, f record.Field) object {
	s := object{{"title", f.Label}}
	if f.Doc != "" {
		s = append(s, member{"description", f.Doc})
	}
	switch f.Type() {
	case record.TypeDate:
		s = append(s, member{"type", "string"}, member{"format", "date"})
	case record.TypeList:
		s = append(s, member{"type", "array"}, member{"items", object{{"type", "string"}}})
	case record.TypeNested:
		s = append(s, typeSchema(fieldType(k, f.Key))...)
	case record.TypeText:
		s = append(s, member{"type", "string"}, member{"maxLength", f.Longest()})
	default:
		s = append(s, member{"type", f.Type()})
	}
	if unit := f.Symbol(); unit != "" {
		s = append(s, member{"x-unit", unit}, member{"x-decimals", f.Decimals()})
	}
	if f.Refuse != nil {
		s = append(s, member{"minimum", f.Refuse.Lo}, member{"maximum", f.Refuse.Hi})
	}
	if f.Ask != nil {
		s = append(s, member{"x-ask", object{{"minimum", f.Ask.Lo}, {"maximum", f.Ask.Hi}}})
	}
	if f.Choices != nil {
		var words []string
		for _, c := range f.Choices {
			words = append(words, c.Value)
		}
		s = append(s, member{"enum", words})
	}
	if f.Measured {
		s = append(s, member{"x-measured", true})
	}
	return s
}

// fieldType finds the type of a kind's value by its key.
func fieldType(k *record.Kind, key string) reflect.Type {
	t := reflect.TypeOf(k.New()).Elem()
	for _, f := range reflect.VisibleFields(t) {
		if name, _, _ := strings.Cut(f.Tag.Get("json"), ","); name == key {
			return f.Type
		}
	}
	panic("schema: " + k.Name + " holds no " + key) // the table of kinds was built from this very type
}

// typeSchema describes a Go type by its JSON form, for values that are made of
// others.
func typeSchema(t reflect.Type) object {
	if t.Kind() == reflect.Pointer { // may be left out
		t = t.Elem()
	}
	if q, ok := reflect.Zero(t).Interface().(interface{ Symbol() string }); ok {
		return object{{"type", "number"}, {"x-unit", q.Symbol()}}
	}
	if t == reflect.TypeFor[unit.Date]() {
		return object{{"type", "string"}, {"format", "date"}}
	}
	switch t.Kind() {
	case reflect.Slice:
		return object{{"type", "array"}, {"items", typeSchema(t.Elem())}}
	case reflect.Struct:
		properties := object{}
		required := []string{}
		for _, f := range reflect.VisibleFields(t) {
			if f.Anonymous {
				continue // what it holds is listed by itself
			}
			name, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
			properties = append(properties, member{name, typeSchema(f.Type)})
			if !strings.Contains(rest, "omitempty") {
				required = append(required, name)
			}
		}
		return object{{"type", "object"}, {"properties", properties}, {"required", required}, {"additionalProperties", false}}
	case reflect.Bool:
		return object{{"type", "boolean"}}
	case reflect.Int:
		return object{{"type", "integer"}}
	case reflect.Float64:
		return object{{"type", "number"}}
	}
	return object{{"type", "string"}}
}
