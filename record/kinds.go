package record

import (
	"fmt"
	"reflect"
	"slices"
	"strings"
)

// kinds is the one table, in the order of a person's day.
var kinds = slices.Concat(peopleKinds(), setUpKinds(), runKinds(), afterKinds(), batchKinds(), bloodKinds(), waterKinds(), roundKinds(), shelfKinds())

var byName = func() map[string]*Kind {
	m := map[string]*Kind{}
	for _, k := range kinds {
		if m[k.Name] != nil {
			panic("record: two kinds are named " + k.Name)
		}
		m[k.Name] = k
	}
	return m
}()

// Kinds lists every kind of entry.
func Kinds() []*Kind { return kinds }

// Find returns a kind by its name.
func Find(name string) (*Kind, bool) {
	k, ok := byName[name]
	return k, ok
}

// of builds a kind from the struct T and the words and bounds of its fields.
// The struct's own order is the order of the form. It panics when the two
// disagree, which any test of this package would show at once.
func of[T any](k Kind, fields ...Field) *Kind {
	k.New = func() any { return new(T) }
	given := map[string]Field{}
	for _, f := range fields {
		given[f.Key] = f
	}
	walk(reflect.TypeFor[T](), nil, func(key string, optional bool, index []int, t reflect.Type) {
		f, ok := given[key]
		if !ok {
			panic(fmt.Sprintf("record: %s has no words for %s", k.Name, key))
		}
		delete(given, key)
		f.index, f.typ = index, t
		f.Optional = f.Optional || optional || t.Kind() == reflect.Pointer || t.Kind() == reflect.Bool
		k.Fields = append(k.Fields, f)
	})
	for key := range given {
		panic(fmt.Sprintf("record: %s has words for %s, which it does not hold", k.Name, key))
	}
	return &k
}

func walk(t reflect.Type, at []int, found func(key string, optional bool, index []int, t reflect.Type)) {
	for i := range t.NumField() {
		f := t.Field(i)
		index := append(append([]int{}, at...), i)
		if f.Anonymous {
			walk(f.Type, index, found)
			continue
		}
		key, rest, _ := strings.Cut(f.Tag.Get("json"), ",")
		if key == "" || key == "-" {
			continue
		}
		found(key, strings.Contains(rest, "omitempty"), index, f.Type)
	}
}

// Short makers for the table, so that one value stays one line.

func field(key, label string) Field { return Field{Key: key, Label: label} }

func (f Field) refuse(lo, hi float64) Field { f.Refuse = &Range{lo, hi}; return f }
func (f Field) ask(lo, hi float64) Field    { f.Ask = &Range{lo, hi}; return f }
func (f Field) read() Field                 { f.Measured = true; return f }
func (f Field) opt() Field                  { f.Optional = true; return f }
func (f Field) doc(words string) Field      { f.Doc = words; return f }
func (f Field) catheter(l string) Field     { f.ofCatheter = l; return f }
func (f Field) long(n int) Field            { f.MaxText = n; return f }
func (f Field) lines() Field                { f.Lines = true; return f }
func (f Field) from(pairs ...string) Field {
	for i := 0; i+1 < len(pairs); i += 2 {
		f.Choices = append(f.Choices, Choice{pairs[i], pairs[i+1]})
	}
	return f
}
