package record

import (
	"encoding/json"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"unicode/utf8"

	"ebbline/session"
	"ebbline/unit"
)

// spoilt are texts that no entry may hold, with what is said of them.
var spoilt = map[string]string{strings.Repeat("ä", 5000): "longer than", "A\x1dB": "control character", "A\u202eB": "control character", "A\u2067B": "control character", "A\xffB": "no text"}

// leaves gives every text of a value, however deep it lies.
func leaves(v reflect.Value) []reflect.Value {
	switch v.Kind() {
	case reflect.String:
		return []reflect.Value{v}
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return leaves(v.Elem())
		}
	case reflect.Struct:
		var all []reflect.Value
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				all = append(all, leaves(v.Field(i))...)
			}
		}
		return all
	case reflect.Slice:
		var all []reflect.Value
		for i := range v.Len() {
			all = append(all, leaves(v.Index(i))...)
		}
		return all
	}
	return nil
}

// No text of any kind, however deep it lies in lists, goes unbounded, is full of
// what no page can show, or is no text at all.
func TestEveryTextIsBounded(t *testing.T) {
	b := everyKind(t)
	tried := 0
	for _, e := range b.life {
		kind, _ := Find(e.Kind)
		for i := range leaves(reflect.ValueOf(e.Body)) {
			for text, words := range spoilt {
				body := kind.New()
				raw, err := json.Marshal(e.Body)
				if err != nil || json.Unmarshal(raw, body) != nil {
					t.Fatal(e.Kind, err)
				}
				all := leaves(reflect.ValueOf(body))
				if i >= len(all) {
					continue
				}
				all[i].SetString(text)
				c := &Checker{House: b.h, Kind: kind, Entry: Entry{Kind: e.Kind, Body: body}}
				c.values()
				if tried++; !strings.Contains(c.found.Error(), words) {
					t.Errorf("%s with %.12q as its text %d: %v", e.Kind, text, i, c.found)
				}
			}
		}
	}
	if tried < 500 {
		t.Errorf("only %d texts were tried", tried)
	}
}

// The entry's own facts are bounded too, by the same rule for the page, the
// command and a file that is brought in.
func TestEveryFactIsBounded(t *testing.T) {
	b := newBook(t)
	for text, words := range spoilt {
		for key, spoil := range map[string]func(*Entry){
			"id": func(e *Entry) { e.ID = text }, "zone": func(e *Entry) { e.Zone = text }, "by": func(e *Entry) { e.By = text },
			"device": func(e *Entry) { e.Device = text }, "person": func(e *Entry) { e.Person = text }, "session": func(e *Entry) { e.Session = text },
			"corrects": func(e *Entry) { e.Corrects = text }, "reason": func(e *Entry) { e.Reason = text },
			"words": func(e *Entry) { e.Again = map[string]string{"words": text} },
		} {
			e := b.entry("question", "", &Question{Words: "may I swim"})
			spoil(&e)
			if said := Check(b.h, e).On(key); !strings.Contains(said, words) {
				t.Errorf("%s of %.12q: %q", key, text, said)
			}
		}
		e := b.entry("question", "", &Question{Words: "may I swim"})
		e.Again = map[string]string{text: "x"}
		for _, one := range Check(b.h, e) {
			if len(one.Field) > 300 || !utf8.ValidString(one.Field) {
				t.Errorf("%.12q stands whole in an answer: %.80q", text, one.Field)
			}
		}
	}
	stranger := b.house("utility_notice", &UtilityNotice{From: unit.DateOf(b.now), Words: "works in the street"})
	stranger.Person = "nobody-known"
	b.refuses(Refuse, "person", "nobody in this record", stranger)
	b.refuses(Refuse, "days", "more than 300", func() Entry {
		rx := aPrescription()
		rx.Days = nil
		for i := range 301 {
			rx.Days = append(rx.Days, strconv.Itoa(i))
		}
		return b.entry("prescription", "", &rx)
	}())
}

// What is answered to a line that cannot be read is short, plain and in words.
func TestUnreadableLinesAreNamedInWords(t *testing.T) {
	long := strings.Repeat("x", 10_000)
	for raw, words := range map[string]string{
		`{"` + long + `":1}`:             "is no part of an entry",
		`{"id":7}`:                       "holds a number",
		`{"kind":"note","zone":"` + long: "not whole JSON",
		`{"id":"entry-00001","kind":"` + long + `","at":"2026-03-01T05:30:00Z","zone":"Europe/Oslo","values":{}}`:             "is not a kind",
		`{"id":"entry-00001","kind":"question","at":"2026-03-01T05:30:00Z","zone":"Europe/Oslo","values":{"` + long + `":1}}`: "is not a value",
	} {
		_, err := ReadEntry([]byte(raw))
		if err == nil || !strings.Contains(err.Error(), words) || len(err.Error()) > 400 {
			t.Errorf("%.60s: %.300v, want %q in few words", raw, err, words)
		}
	}
	if got := quote("a\x1b[2J\xffb" + strings.Repeat("é", 100)); !utf8.ValidString(got) || strings.ContainsRune(got, 0x1b) || utf8.RuneCountInString(got) > 62 {
		t.Errorf("quoted: %q", got)
	}
}

// A text that is needed holds a letter or a digit that can be seen, of whatever kind
// it is: a blank name of a lock or lot would stand on the start line as nothing.
func TestNeededTextsCanBeRead(t *testing.T) {
	b := everyKind(t)
	blanks := []string{" ", "\u200b", "\u00ad", "\u2800", "\u3164", "\u3000", ".", "--"}
	tried := map[string]bool{}
	for _, e := range b.life {
		kind, _ := Find(e.Kind)
		for _, f := range kind.Fields {
			if f.Type() != TypeText || f.Optional || f.Choices != nil || tried[e.Kind+f.Key] {
				continue
			}
			tried[e.Kind+f.Key] = true
			for _, text := range blanks {
				body := reflect.New(reflect.TypeOf(e.Body).Elem())
				body.Elem().Set(reflect.ValueOf(e.Body).Elem())
				body.Elem().FieldByIndex(f.index).SetString(text)
				c := &Checker{House: b.h, Entry: Entry{Kind: e.Kind, Body: body.Interface()}, Kind: kind}
				if c.values(); !strings.Contains(c.found.On(f.Key), "can be seen") {
					t.Errorf("%s: %s is %q: %v", e.Kind, f.Key, text, c.found)
				}
			}
		}
	}
	if len(tried) < 30 {
		t.Errorf("only %d texts were tried", len(tried))
	}
	day := unit.DateOf(b.now).Add(90)
	for _, blank := range blanks {
		lock := &session.CatheterLock{Name: blank, Strength: ptr(unit.Strength(1000)), Arterial: 160, Venous: 170, Lot: "K-1", Expiry: day}
		b.refuses(Refuse, "name", "is still blank", b.entry("catheter_lock", "session-05", lock))
		b.refuses(Refuse, "lot", "is still blank", b.house("residual_test", &ResidualTest{For: "chlorine", Value: 20, Below: true, Lot: blank, Expiry: day}))
		if strings.Trim(blank, ".-") != "" {
			b.refuses(Refuse, "lines", "can be seen", b.house("delivery", &Delivery{Lines: []DeliveryLine{{Item: "dialyser", Lot: blank, Pieces: one}}}))
		}
	}
	// What may be left out may be a sign, but not nothing.
	note := func(text string) Entry {
		return b.entry("step", "session-05", &session.StepDone{Phase: session.SetUp, Step: "lines", State: "done", Note: text})
	}
	b.refuses(Refuse, "note", "nothing that can be seen", note("\u200b"))
	if found := Check(b.h, note("✓")); found.On("note") != "" {
		t.Error(found)
	}
}
