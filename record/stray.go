package record

import (
	"encoding"
	"encoding/json"
	"fmt"
	"reflect"
	"strings"
)

// strayKeys finds the keys inside nested values – the lines of a delivery, the lots
// of a count – that nothing reads: a misspelt strength would be lost without a word.
// Only what somebody sends is held to it; an entry that is in the record stays
// readable.
func (k *Kind) strayKeys(raw json.RawMessage) (found Findings) {
	var keys map[string]json.RawMessage
	if json.Unmarshal(raw, &keys) != nil {
		return nil
	}
	for _, f := range k.Fields {
		if f.Type() != TypeNested {
			continue
		}
		stray(f.typ, keys[f.Key], "", func(where, key string, has []string) {
			words := fmt.Sprintf("holds %s%s, which is not a value of %s; there are %s", quote(key), where, k.Name, strings.Join(has, ", "))
			found = append(found, Finding{Field: f.Key, Step: Refuse, Words: words})
		})
	}
	return found
}

// stray calls tell for each key of a JSON value that its type does not hold, with
// the place of the line it stands in and the keys that the type has.
func stray(t reflect.Type, raw json.RawMessage, where string, tell func(where, key string, has []string)) {
	for t.Kind() == reflect.Pointer {
		t = t.Elem()
	}
	switch {
	case len(raw) == 0 || reflect.PointerTo(t).Implements(reflect.TypeFor[encoding.TextUnmarshaler]()):
	case t.Kind() == reflect.Slice:
		var list []json.RawMessage
		if json.Unmarshal(raw, &list) != nil {
			return
		}
		for i, one := range list {
			stray(t.Elem(), one, fmt.Sprintf(" (line %d)", i+1), tell)
		}
	case t.Kind() == reflect.Struct:
		var object map[string]json.RawMessage
		if json.Unmarshal(raw, &object) != nil {
			return
		}
		has := map[string]reflect.Type{}
		keysOf(t, has)
		for _, key := range sortedKeys(object) {
			if inner, known := has[key]; known {
				stray(inner, object[key], where, tell)
			} else {
				tell(where, key, sortedKeys(has))
			}
		}
	}
}

// keysOf gathers the keys under which a struct is written, those of embedded ones
// too.
func keysOf(t reflect.Type, has map[string]reflect.Type) {
	for i := range t.NumField() {
		f := t.Field(i)
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		switch {
		case name == "-" || !f.IsExported() && !f.Anonymous:
		case name == "" && f.Anonymous && f.Type.Kind() == reflect.Struct:
			keysOf(f.Type, has)
		case name == "":
			has[f.Name] = f.Type
		default:
			has[name] = f.Type
		}
	}
}
