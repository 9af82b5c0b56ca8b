package calc

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"
)

// Problems is every reason an input was refused, one sentence each.
type Problems []string

func (p Problems) Error() string { return strings.Join(p, "\n") }

// An Object reads one JSON object key by key. Each reading method marks its
// key as known; [Object.Done] then refuses the keys nobody asked for. All
// methods go on after a problem, so that the caller may read everything first
// and ask once.
type Object struct {
	at       string // where this object stands, "sessions[2]", or empty
	fields   map[string]json.RawMessage
	known    map[string]bool
	problems *Problems
}

// parseObject reads exactly one JSON object: no duplicate keys, nothing after it.
func parseObject(raw []byte) (*Object, error) {
	o := &Object{problems: new(Problems)}
	if !utf8.Valid(raw) {
		return nil, Problems{"input: not UTF-8; accepted is one JSON object in UTF-8"}
	}
	if err := o.fill(raw); err != nil {
		return nil, Problems{"input: " + err.Error() + "; accepted is one JSON object"}
	}
	return o, nil
}

func (o *Object) fill(raw []byte) error {
	o.fields, o.known = map[string]json.RawMessage{}, map[string]bool{}
	dec := json.NewDecoder(bytes.NewReader(raw))
	start, err := dec.Token()
	if err != nil {
		return errors.New("not JSON")
	}
	if start != json.Delim('{') {
		return errors.New("not an object")
	}
	for dec.More() {
		key, err := dec.Token()
		if err != nil {
			return errors.New("not JSON")
		}
		name, ok := key.(string)
		if !ok {
			return errors.New("not JSON")
		}
		var v json.RawMessage
		if err := dec.Decode(&v); err != nil {
			return errors.New("not JSON")
		}
		if _, twice := o.fields[name]; twice {
			return fmt.Errorf("key %q stands twice", shorten(name))
		}
		o.fields[name] = v
	}
	if _, err := dec.Token(); err != nil {
		return errors.New("not JSON")
	}
	if _, err := dec.Token(); !errors.Is(err, io.EOF) {
		return errors.New("something follows the object")
	}
	return nil
}

// Refuse notes a problem that only the topic can see, such as two keys that do
// not go together.
func (o *Object) Refuse(key, format string, args ...any) {
	*o.problems = append(*o.problems, o.name(key)+": "+fmt.Sprintf(format, args...))
}

// Done returns every problem met so far, unknown keys among them, or nil.
func (o *Object) Done() error {
	o.Close()
	if len(*o.problems) == 0 {
		return nil
	}
	return *o.problems
}

// Has reports whether the key is there, whatever its value.
func (o *Object) Has(key string) bool {
	o.known[key] = true
	_, ok := o.fields[key]
	return ok
}

// Float reads a required number from lo to hi, both included.
func (o *Object) Float(key string, lo, hi float64) float64 {
	return o.number(key, "a number from "+num(lo)+" to "+num(hi), lo, hi)
}

// nothing is how far above its lower bound a number must lie to count as
// above it: no measurement is so small, and dividing by less could give an
// infinity.
const nothing = 1e-12

// FloatAbove reads a required number above lo, up to and including hi.
func (o *Object) FloatAbove(key string, lo, hi float64) float64 {
	return o.number(key, "a number above "+num(lo)+", up to "+num(hi), lo+nothing, hi)
}

// FloatOr reads an optional number; absent gives otherwise.
func (o *Object) FloatOr(key string, otherwise, lo, hi float64) float64 {
	if !o.Has(key) {
		return otherwise
	}
	return o.Float(key, lo, hi)
}

// FloatIf reads an optional number; nil when it is absent.
func (o *Object) FloatIf(key string, lo, hi float64) *float64 {
	if !o.Has(key) {
		return nil
	}
	v := o.Float(key, lo, hi)
	return &v
}

// Int reads a required whole number from lo to hi.
func (o *Object) Int(key string, lo, hi int64) int64 {
	accepted := fmt.Sprintf("a whole number from %d to %d", lo, hi)
	v := o.number(key, accepted, float64(lo), float64(hi))
	if v != math.Trunc(v) { // NaN compares unequal too, but was refused already
		if !math.IsNaN(v) {
			o.Refuse(key, "%s is not whole; accepted is %s", num(v), accepted)
		}
		return 0
	}
	return int64(v)
}

// IntOr reads an optional whole number; absent gives otherwise.
func (o *Object) IntOr(key string, otherwise, lo, hi int64) int64 {
	if !o.Has(key) {
		return otherwise
	}
	return o.Int(key, lo, hi)
}

// Bool reads an optional true or false; absent gives otherwise.
func (o *Object) Bool(key string, otherwise bool) bool {
	if !o.Has(key) {
		return otherwise
	}
	switch string(o.fields[key]) {
	case "true":
		return true
	case "false":
		return false
	}
	o.Refuse(key, "%s is of the wrong type; accepted is true or false", o.show(key))
	return otherwise
}

// Word reads a required word from those accepted.
func (o *Object) Word(key string, accepted ...string) string {
	s, ok := o.text(key, strings.Join(accepted, ", "))
	if ok && !slices.Contains(accepted, s) {
		o.Refuse(key, "%q is not accepted; accepted are %s", shorten(s), strings.Join(accepted, ", "))
	}
	return s
}

// WordOr reads an optional word; absent gives otherwise.
func (o *Object) WordOr(key, otherwise string, accepted ...string) string {
	if !o.Has(key) {
		return otherwise
	}
	return o.Word(key, accepted...)
}

// Text reads a required text that is not empty.
func (o *Object) Text(key string) string {
	s, ok := o.text(key, "a text")
	if ok && strings.TrimSpace(s) == "" {
		o.Refuse(key, "is empty; accepted is a text")
	}
	return s
}

// Date reads a required calendar date, YYYY-MM-DD.
func (o *Object) Date(key string) time.Time {
	s, ok := o.text(key, "a date, YYYY-MM-DD")
	if !ok {
		return time.Time{}
	}
	return o.date(key, s)
}

// DateIf reads an optional calendar date; the zero time when it is absent.
func (o *Object) DateIf(key string) time.Time {
	if !o.Has(key) {
		return time.Time{}
	}
	return o.Date(key)
}

// Dates reads a required list of calendar dates, YYYY-MM-DD.
func (o *Object) Dates(key string) []time.Time {
	v, ok := o.take(key, "a list of dates, YYYY-MM-DD")
	if !ok {
		return nil
	}
	var list []string
	if err := json.Unmarshal(v, &list); err != nil || list == nil {
		o.Refuse(key, "is of the wrong type; accepted is a list of dates, YYYY-MM-DD")
		return nil
	}
	dates := make([]time.Time, len(list))
	for i, s := range list {
		dates[i] = o.date(fmt.Sprintf("%s[%d]", key, i), s)
	}
	return dates
}

// Object reads a required object. When there is none, that is the one problem:
// what is then read from the empty object that it returns adds no others.
func (o *Object) Object(key string) *Object {
	inner := &Object{at: o.name(key), problems: o.problems, fields: map[string]json.RawMessage{}, known: map[string]bool{}}
	v, ok := o.take(key, "an object")
	if ok {
		err := inner.fill(v)
		if err == nil {
			return inner
		}
		o.Refuse(key, "%s; accepted is an object", err)
	}
	return &Object{at: inner.at, problems: new(Problems), known: map[string]bool{}}
}

// Objects reads a required list of lo to hi objects and calls read for each.
// Unknown keys of each are refused here, so read need not call Done.
func (o *Object) Objects(key string, lo, hi int, read func(i int, item *Object)) {
	v, ok := o.take(key, "a list of objects")
	if !ok {
		return
	}
	var list []json.RawMessage
	if err := json.Unmarshal(v, &list); err != nil || list == nil {
		o.Refuse(key, "is of the wrong type; accepted is a list of objects")
		return
	}
	if len(list) < lo || len(list) > hi {
		o.Refuse(key, "has %d items; accepted are %d to %d", len(list), lo, hi)
		return
	}
	for i, raw := range list {
		at := fmt.Sprintf("%s[%d]", key, i)
		item := &Object{at: o.name(at), problems: o.problems}
		if err := item.fill(raw); err != nil {
			o.Refuse(at, "%s; accepted is an object", err)
			continue
		}
		before := len(*o.problems)
		read(i, item)
		if len(*o.problems) == before {
			_ = item.Done() // its problems are ours
		}
	}
}

// Close refuses the unknown keys of an object read by [Object.Object].
func (o *Object) Close() {
	for _, k := range slices.Sorted(maps.Keys(o.fields)) {
		if !o.known[k] {
			o.Refuse(k, "is not a key here; accepted are %s", strings.Join(o.keys(), ", "))
		}
	}
}

func (o *Object) take(key, accepted string) (json.RawMessage, bool) {
	o.known[key] = true
	v, ok := o.fields[key]
	if !ok {
		o.Refuse(key, "is missing; accepted is %s", accepted)
	}
	return v, ok
}

// number reads a required number from lo to hi, worded as accepted; NaN when it
// was refused.
func (o *Object) number(key, accepted string, lo, hi float64) float64 {
	raw, ok := o.take(key, accepted)
	if !ok {
		return math.NaN()
	}
	v, err := strconv.ParseFloat(string(raw), 64)
	switch {
	case len(raw) == 0 || !strings.ContainsRune("-0123456789", rune(raw[0])):
		o.Refuse(key, "%s is of the wrong type; accepted is %s", o.show(key), accepted)
		return math.NaN()
	case err != nil || !(v >= lo && v <= hi):
		o.Refuse(key, "%s is out of range; accepted is %s", o.show(key), accepted)
		return math.NaN()
	}
	return v
}

func (o *Object) text(key, accepted string) (string, bool) {
	v, ok := o.take(key, accepted)
	if !ok {
		return "", false
	}
	var s *string
	if err := json.Unmarshal(v, &s); err != nil || s == nil {
		o.Refuse(key, "%s is of the wrong type; accepted is %s", o.show(key), accepted)
		return "", false
	}
	return *s, true
}

func (o *Object) date(key, s string) time.Time {
	t, err := time.Parse(time.DateOnly, s)
	if err != nil || t.Year() < 1900 || t.Year() > 2200 {
		o.Refuse(key, "%q is not a date; accepted is YYYY-MM-DD from 1900 to 2200", shorten(s))
		return time.Time{}
	}
	return t
}

// name says where a key stands. A key that nobody asked for can hold anything,
// a line break too; such a one is quoted.
func (o *Object) name(key string) string {
	if strings.ContainsFunc(key, notPlain) || key == "" || len(key) > 100 {
		key = strconv.Quote(shorten(key))
	}
	if o.at == "" {
		return key
	}
	return o.at + "." + key
}

func notPlain(r rune) bool {
	return r != '_' && r != '[' && r != ']' && r != '.' && !unicode.IsLetter(r) && !unicode.IsDigit(r)
}

func (o *Object) keys() []string { return slices.Sorted(maps.Keys(o.known)) }

// show prints a value as given, shortened so that one sentence stays one line.
func (o *Object) show(key string) string {
	var b bytes.Buffer
	if json.Compact(&b, o.fields[key]) != nil {
		return "the value"
	}
	return shorten(b.String())
}

// shorten cuts a long text between two of its characters, and marks bytes that
// are none.
func shorten(s string) string {
	const most = 60
	if len(s) > most {
		s = strings.ToValidUTF8(s[:most-3], "") + "..."
	}
	return strings.ToValidUTF8(s, "\uFFFD")
}

// num writes a number as people do, with an exponent only where the digits
// would not be read.
func num(v float64) string {
	format := byte('f')
	if a := math.Abs(v); a >= 1e15 || a < 1e-9 && a > 0 {
		format = 'g'
	}
	return strconv.FormatFloat(v, format, -1, 64)
}
