package record

import (
	"bytes"
	"encoding"
	"encoding/json"
	"reflect"
	"strconv"
	"unicode/utf8"
)

// ReadStored reads an entry that this program wrote before: it skips the
// checks that only a stranger's entry needs. What is written in the program's
// own plain way – no space between keys and values, no escape in a text – is
// taken apart here in one go, since a start goes through the whole record; all
// else goes the long way, to the same result.
func ReadStored(raw []byte) (Entry, error) {
	w, ok := ownWire(raw)
	if !ok {
		w = wire{}
		if err := json.Unmarshal(raw, &w); err != nil {
			return Entry{}, Findings{{Field: "entry", Step: Refuse, Words: "cannot be read: " + plainJSONError(err)}}
		}
	}
	return w.entry()
}

// ownWire takes apart an entry of the program's own writing; ok is false when
// it is not written so.
func ownWire(raw []byte) (w wire, ok bool) {
	var seen uint64
	whole := members(raw, func(key, value []byte) bool {
		var text *string
		bit := uint64(0)
		switch string(key) {
		case "id":
			text, bit = &w.ID, 1
		case "kind":
			text, bit = &w.Kind, 2
		case "at":
			text, bit = &w.At, 4
		case "zone":
			text, bit = &w.Zone, 8
		case "written":
			text, bit = &w.Written, 16
		case "by":
			text, bit = &w.By, 32
		case "device":
			text, bit = &w.Device, 64
		case "person":
			text, bit = &w.Person, 128
		case "session":
			text, bit = &w.Session, 256
		case "offset_min":
			n, err := strconv.Atoi(string(value))
			w.Offset, bit = &n, 512
			if err != nil || !plainNumber(value) {
				return false
			}
		case "values":
			w.Values, bit = value, 1024
		}
		if bit == 0 || seen&bit != 0 {
			return false // a correction, something missing, or nothing of ours
		}
		seen |= bit
		if text == nil {
			return true
		}
		s, plain := plainText(value)
		*text = string(s)
		return plain
	})
	return w, whole
}

// fromOwn reads values of the program's own writing into a fresh body; ok is
// false when they are not written so, or when anything is wrong with them.
func (k *Kind) fromOwn(raw []byte) (body any, ok bool) {
	body = k.New()
	target := reflect.ValueOf(body).Elem()
	next, needed := 0, 0
	whole := members(raw, func(key, value []byte) bool {
		// Written in the order of the table, so one pass finds each key.
		for ; next < len(k.Fields); next++ {
			f := &k.Fields[next]
			if f.Key != string(key) {
				continue
			}
			next++
			if !f.Optional {
				needed++
			}
			return f.setOwn(target.FieldByIndex(f.index), value)
		}
		return false
	})
	for i := range k.Fields {
		if !k.Fields[i].Optional {
			needed--
		}
	}
	return body, whole && needed == 0
}

// setOwn puts one JSON value into its place; false when it is not a plain one
// of the place's type.
func (f *Field) setOwn(v reflect.Value, raw []byte) bool {
	if v.Kind() == reflect.Pointer {
		v.Set(reflect.New(v.Type().Elem()))
		v = v.Elem()
	}
	switch c := raw[0]; {
	case c == '"':
		s, plain := plainText(raw)
		if !plain {
			return false
		}
		switch v.Kind() {
		case reflect.String:
			v.SetString(string(s))
			return true
		case reflect.Struct: // a date
			u, ok := v.Addr().Interface().(encoding.TextUnmarshaler)
			return ok && u.UnmarshalText(s) == nil
		}
		return false
	case c == '-' || c >= '0' && c <= '9':
		if !plainNumber(raw) {
			return false
		}
		if v.Kind() == reflect.Int {
			n, err := strconv.Atoi(string(raw))
			v.SetInt(int64(n))
			return err == nil
		}
		u, ok := v.Addr().Interface().(encoding.TextUnmarshaler)
		return ok && v.Kind() == reflect.Int64 && u.UnmarshalText(raw) == nil
	case c == 't' || c == 'f':
		yes := string(raw) == "true"
		if v.Kind() != reflect.Bool || !yes && string(raw) != "false" {
			return false
		}
		v.SetBool(yes)
		return true
	case c == '[':
		return json.Unmarshal(raw, v.Addr().Interface()) == nil
	}
	return false // null is nothing given; the long way says so
}

// members calls f for each key and value of an object that is written without
// spaces; false when it is not, or when f is.
func members(raw []byte, f func(key, value []byte) bool) bool {
	if len(raw) < 2 || raw[0] != '{' || raw[len(raw)-1] != '}' {
		return false
	}
	raw = raw[1 : len(raw)-1]
	for first := true; len(raw) > 0; first = false {
		if !first {
			if raw[0] != ',' {
				return false
			}
			raw = raw[1:]
		}
		end := valueEnd(raw)
		if end < 2 || raw[0] != '"' || end >= len(raw) || raw[end] != ':' {
			return false
		}
		key, plain := plainText(raw[:end])
		raw = raw[end+1:]
		end = valueEnd(raw)
		if !plain || end == 0 || !f(key, raw[:end]) {
			return false
		}
		raw = raw[end:]
	}
	return true
}

// valueEnd finds where the JSON value ends with which raw begins; 0 for none.
func valueEnd(raw []byte) int {
	depth := 0
	for i := 0; i < len(raw); i++ {
		switch raw[i] {
		case '"':
			end := textEnd(raw[i:])
			if end == 0 {
				return 0
			}
			i += end - 1
			if depth == 0 {
				return i + 1
			}
		case '{', '[':
			depth++
		case '}', ']':
			if depth--; depth < 0 {
				return i
			}
			if depth == 0 {
				return i + 1
			}
		case ',', ':':
			if depth == 0 {
				return i
			}
		}
	}
	if depth != 0 {
		return 0
	}
	return len(raw)
}

// textEnd finds where a quoted text ends; 0 when it does not.
func textEnd(raw []byte) int {
	for i := 1; i < len(raw); i++ {
		switch raw[i] {
		case '\\':
			i++
		case '"':
			return i + 1
		}
	}
	return 0
}

// plainText gives what a quoted text says, when that takes no unescaping.
func plainText(raw []byte) ([]byte, bool) {
	if len(raw) < 2 || raw[0] != '"' || raw[len(raw)-1] != '"' {
		return nil, false
	}
	s := raw[1 : len(raw)-1]
	for _, c := range s {
		if c < ' ' || c == '"' || c == '\\' {
			return nil, false
		}
	}
	return s, utf8.Valid(s)
}

// plainNumber reports whether a number is written as JSON has it, without an
// exponent.
func plainNumber(raw []byte) bool {
	raw = bytes.TrimPrefix(raw, []byte("-"))
	whole, frac, marked := bytes.Cut(raw, []byte("."))
	if len(whole) == 0 || len(whole) > 1 && whole[0] == '0' || marked && len(frac) == 0 {
		return false
	}
	for _, c := range raw {
		if c != '.' && (c < '0' || c > '9') {
			return false
		}
	}
	return true
}
