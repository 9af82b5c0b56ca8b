package record

import (
	"fmt"
	"maps"
	"reflect"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// What an entry struck out, or corrected, leaves behind is compared as text:
// everything that a household holds, and what it answers when it is asked.

// aside are the fields that tell of the history itself: what stood there
// before, when each thing was written, and where; and of a closed session, which machine
// it was on.
var aside = map[string]bool{
	"entries": true, "newer": true, "undone": true, "Undone": true, "Changed": true, "Shown": true, "FluidOn": true, "house": true, "LastAt": true, "Written": true, "Was": true, "Struck": true, "Place": true, "place": true, "own": true,
	"By": true, "Corrects": true, "past": true, "counted": true, "lotsIn": true, "bySession": true, "byPerson": true,
}

// A Picture makes a text of a household. Whose lists which sessions it passes
// over, and As names entries by other ids.
type Picture struct {
	Without map[string]bool // sessions that are passed over
	As      map[string]string
}

// Of gives all that a household holds and answers; what is struck out, and
// sessions whose opening is, are not there.
func (p Picture) Of(h *Household) string {
	var b painter
	p.write(&b, reflect.ValueOf(h).Elem(), "house")
	now := h.LastAt.Add(time.Hour)
	say := func(what string, v any) { p.write(&b, reflect.ValueOf(&v).Elem(), what) }
	for _, it := range h.Shelf(now) {
		say("shelf "+it.Item, it)
		say("last counted", h.Upkeep.LastCounted(it.StockItem, now))
	}
	say("past lots", h.PastLots(now))
	say("samples", h.Upkeep.Samples())
	say("rounds", h.Upkeep.Rounds())
	say("counters", h.Upkeep.CounterReadings())
	rules, set := h.Upkeep.RulesNow()
	say("rules", []any{rules, set})
	for _, r := range h.Upkeep.Recalls {
		if r.Struck == nil {
			say("found by "+p.id(r.ID), h.FoundBy(r))
		}
	}
	for _, m := range h.People {
		p.member(m, now, say)
	}
	return string(b.text)
}

func (p Picture) member(m *Member, now time.Time, say func(string, any)) {
	secret, _ := m.house.Upkeep.Calendar(m.ID)
	say("calendar", secret)
	say("sheets", []any{m.Sheet(session.SetUp), m.Sheet(session.TakeOff)})
	say("critical", m.CriticalOpen())
	counted, old := m.Residual(now)
	say("residual", []any{counted, old})
	for _, measure := range sortedKeys(doseBounds) {
		say("target", m.TargetAt(measure, now))
	}
	say("limits", m.LimitsAt("potassium", now))
	say("stale", m.Stale(unit.DateOf(now)))
	for back := range 40 {
		if rx := m.Prescription(unit.DateOf(now).Add(-back)); rx != nil {
			say("in force", p.id(rx.ID))
		}
	}
	for _, rx := range m.Prescriptions {
		if rx.Struck == nil && len(p.Without) == 0 { // against what was dialysed by last
			say("changes", m.Changes(rx))
		}
	}
	if open := m.Open(); open != nil {
		say("open", open.ID)
	}
	say("lately", []any{session.TargetOf(m.Sessions), session.OftenLowOf(m.Sessions)})
	for _, s := range append(slices.Clone(m.Sessions), nil) {
		if s == nil || !s.Abandoned() && !p.Without[s.ID] {
			say("history", m.History(s))
			say("intervals", m.intervals(s, 0))
		}
	}
}

func (p Picture) id(id string) string {
	if other, ok := p.As[id]; ok {
		return other
	}
	return id
}

// gone reports whether a value of a list is struck out.
func (p Picture) gone(v reflect.Value) bool {
	for v.Kind() == reflect.Pointer && !v.IsNil() {
		if s, ok := v.Interface().(*session.Session); ok {
			return s.Abandoned() || p.Without[s.ID]
		}
		v = v.Elem()
	}
	if v.Kind() != reflect.Struct {
		return false
	}
	f := v.FieldByName("Struck")
	return f.IsValid() && !f.IsNil()
}

// A painter writes the lines of a picture; path leads to the value that it is at.
// A picture has some hundred thousand lines, and a test makes hundreds of pictures:
// it adds to what it has, and makes no text of its own for each line.
type painter struct{ text, path []byte }

// line writes the path and what add adds to the text.
func (b *painter) line(add func(text []byte) []byte) {
	b.text = append(append(b.text, b.path...), " = "...)
	b.text = append(add(b.text), '\n')
}

// write writes a value that stands at step from where the painter is.
func (p Picture) write(b *painter, v reflect.Value, step string) {
	long := len(b.path)
	b.path = append(b.path, step...)
	p.paint(b, v)
	b.path = b.path[:long]
}

func (p Picture) paint(b *painter, v reflect.Value) {
	switch v.Kind() {
	case reflect.Interface, reflect.Pointer:
		if !v.IsNil() {
			p.paint(b, v.Elem())
		}
	case reflect.Struct:
		if v.Type() == reflect.TypeFor[time.Time]() {
			if t, ok := v.Interface().(time.Time); ok && !t.IsZero() {
				b.line(func(text []byte) []byte { return t.UTC().AppendFormat(text, time.RFC3339) })
			}
			return
		}
		for i, step := range stepsOf(v.Type()) {
			if step != "" {
				p.write(b, exposed(v, i), step)
			}
		}
	case reflect.Slice:
		n, long := 0, len(b.path)
		for i := range v.Len() {
			if !p.gone(v.Index(i)) {
				b.path = append(strconv.AppendInt(append(b.path, '['), int64(n), 10), ']')
				p.paint(b, v.Index(i))
				b.path = b.path[:long]
				n++
			}
		}
	case reflect.Map:
		keys := v.MapKeys()
		slices.SortFunc(keys, func(x, y reflect.Value) int { return strings.Compare(x.String(), y.String()) })
		for _, k := range keys {
			if !p.Without[k.String()] {
				p.write(b, v.MapIndex(k), "["+k.String()+"]")
			}
		}
	case reflect.String:
		if s := p.id(v.String()); s != "" {
			b.line(func(text []byte) []byte { return append(text, s...) })
		}
	default:
		if !v.IsZero() {
			b.line(func(text []byte) []byte { return appendPlain(text, v) })
		}
	}
}

// appendPlain adds a value that is neither text nor made of others: the number itself,
// not how its kind writes it, which may round.
func appendPlain(text []byte, v reflect.Value) []byte {
	switch {
	case v.CanInt():
		return strconv.AppendInt(text, v.Int(), 10)
	case v.CanUint():
		return strconv.AppendUint(text, v.Uint(), 10)
	case v.CanFloat():
		return strconv.AppendFloat(text, v.Float(), 'g', -1, 64)
	default:
		return fmt.Append(text, v)
	}
}

// stepsOf gives the step to each field of a struct, or nothing for those aside.
func stepsOf(t reflect.Type) []string {
	if known, ok := fieldSteps.Load(t); ok {
		return known.([]string)
	}
	steps := make([]string, t.NumField())
	for i := range steps {
		if name := t.Field(i).Name; !aside[name] {
			steps[i] = "." + name
		}
	}
	fieldSteps.Store(t, steps)
	return steps
}

var fieldSteps sync.Map // of reflect.Type: []string

// exposed gives a field so that it can be read whole, with a small first
// letter too.
func exposed(v reflect.Value, i int) reflect.Value {
	f := v.Field(i)
	if v.CanAddr() {
		return reflect.NewAt(f.Type(), f.Addr().UnsafePointer()).Elem()
	}
	whole := reflect.New(v.Type()).Elem()
	whole.Set(v)
	f = whole.Field(i)
	return reflect.NewAt(f.Type(), f.Addr().UnsafePointer()).Elem()
}

// Difference gives the first lines in which two pictures differ.
func Difference(got, want string) string {
	if got == want {
		return ""
	}
	a, b := strings.Split(got, "\n"), strings.Split(want, "\n")
	i := 0
	for i < len(a) && i < len(b) && a[i] == b[i] {
		i++
	}
	show := func(lines []string) string {
		return strings.Join(lines[min(i, len(lines)):min(i+6, len(lines))], "\n\t")
	}
	return fmt.Sprintf("is\n\t%s\nand should be\n\t%s", show(a), show(b))
}

// fold gives the household of some entries.
func fold(t *testing.T, entries []Entry) *Household {
	t.Helper()
	h := NewHousehold()
	for _, e := range entries {
		if err := h.Apply(e); err != nil {
			t.Fatal(err)
		}
	}
	return h
}

// never gives the entries without one and whatever it took the place of; a
// session that was never opened has none of its own.
func never(life []Entry, gone Entry) []Entry {
	out := map[string]bool{}
	for id := gone.ID; id != ""; {
		out[id] = true
		i := slices.IndexFunc(life, func(e Entry) bool { return e.ID == id })
		id = life[i].Corrects
	}
	return slices.DeleteFunc(slices.Clone(life), func(e Entry) bool {
		if gone.Kind == "session_opened" && e.Session == gone.Session {
			out[e.ID] = true
		}
		b, strikes := e.Body.(*Struck)
		return out[e.ID] || strikes && out[b.Entry]
	})
}

// later gives an entry by the writer of e, as the last of a life.
func later(life []Entry, e Entry, id string) Entry {
	last := life[len(life)-1]
	return Entry{ID: id, At: last.At, Zone: last.Zone, Written: last.Written.Add(time.Minute), Person: e.Person, Session: e.Session}
}

// kept lists the sessions that keep what an entry said when it is undone at a place in
// the order of writing: a treatment that began by a prescription keeps it, and what was
// closed keeps the machine and the person as they were described.
func kept(h *Household, e Entry, place int) map[string]bool {
	list := map[string]bool{}
	for _, m := range h.People {
		for _, s := range m.Sessions {
			switch {
			case e.Kind == "prescription" && s.PrescriptionID == e.ID, (e.Kind == "machine" || e.Kind == "person") && closedAt(s) < place:
				list[s.ID] = true
			}
		}
	}
	return list
}

// CheckStrikes holds that each entry of a life that may be struck out leaves,
// once it is, what the life without it would have been: whether it is struck out
// at once, half way or in the end. It gives how many of each kind were tried.
func CheckStrikes(t *testing.T, life []Entry, try func(i int) bool) map[string]int {
	t.Helper()
	tried := map[string]int{}
	whole := fold(t, life)
	for i, e := range life {
		if !try(i) || e.Kind == "struck" || e.Kind == "person" || e.Kind == "demonstration" || whole.newer[e.ID] != "" || whole.entries[e.ID].struck {
			continue
		}
		tried[e.Kind]++
		strike := later(life, e, "the-strike-of-it")
		strike.Kind, strike.Body = "struck", &Struck{Entry: e.ID, Reason: "to see"}
		want := fold(t, never(life, e))
		var asked time.Time // what want is to be at a moment is the same for two of the three
		var without map[string]bool
		var wanted string
		for _, at := range []int{i + 1, (i + 1 + len(life)) / 2, len(life)} {
			if strike.Written = life[at-1].Written; at == len(life) {
				strike.Written = strike.Written.Add(time.Minute)
			}
			got := fold(t, slices.Insert(slices.Clone(life), at, strike))
			want.LastAt = got.LastAt
			p := Picture{Without: kept(got, e, at)}
			if wanted == "" || !want.LastAt.Equal(asked) || !maps.Equal(without, p.Without) {
				asked, without, wanted = want.LastAt, p.Without, p.Of(want)
			}
			if d := Difference(p.Of(got), wanted); d != "" {
				t.Errorf("%s (%s) struck out %d entries later:\n%s", e.ID, e.Kind, at-i-1, d)
				break
			}
		}
	}
	return tried
}

// followed are the kinds whose corrections others go on to name by the first
// version.
var followed = map[string]bool{"recall": true, "order_sent": true, "fault": true, "batch_made": true}

// CheckCorrections holds that each entry of a life, corrected in the end by
// another body of its kind at another moment, leaves what the life with the
// correction in its place would have been.
func CheckCorrections(t *testing.T, life []Entry, try func(i int) bool) map[string]int {
	t.Helper()
	tried := map[string]int{}
	whole := fold(t, life)
	bodies := map[string][]any{}
	for _, e := range life {
		bodies[e.Kind] = append(bodies[e.Kind], e.Body)
	}
	for i, e := range life {
		if !try(i) || e.Kind == "struck" || e.Kind == "demonstration" || whole.newer[e.ID] != "" || whole.entries[e.ID].struck {
			continue
		}
		tried[e.Kind]++
		f := later(life, e, "the-correction-of-it")
		f.Kind, f.Corrects, f.Reason = e.Kind, e.ID, "to see"
		f.Body = bodies[e.Kind][(i*7+1)%len(bodies[e.Kind])]
		f.At, f.Zone = e.At.Add([]time.Duration{0, -90 * time.Second, 50 * time.Hour, -50 * time.Hour}[i%4]), e.Zone
		got := fold(t, append(slices.Clone(life), f))

		in := f
		in.Corrects, in.Reason, in.Written = e.Corrects, e.Reason, e.Written
		switch {
		case followed[e.Kind]:
			in.ID = e.ID
		case e.Kind == "water_result" && slices.EqualFunc(got.Upkeep.Result(e.ID).Judgements, got.Upkeep.Result(f.ID).Judgements, sameVerdict):
			in.ID = e.ID // what was done about it was about this
		}
		p := Picture{As: map[string]string{e.ID: f.ID}, Without: kept(got, e, len(life))}
		there := slices.Clone(life)
		there[i] = in
		want := fold(t, there)
		want.LastAt = got.LastAt
		if d := Difference(p.Of(got), p.Of(want)); d != "" {
			t.Errorf("%s (%s) corrected:\n%s", e.ID, e.Kind, d)
		}
	}
	return tried
}
