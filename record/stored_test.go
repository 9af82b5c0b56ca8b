package record

import (
	"encoding/json"
	"reflect"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// written are entries of many kinds as the journal keeps them.
func written(t testing.TB) []string {
	at := time.Date(2026, 10, 25, 1, 30, 0, 0, time.UTC)
	rx := aPrescription()
	conduct := unit.Conductivity(1390)
	var list []string
	for kind, body := range map[string]any{
		"person":       &Person{Name: "Orla “Finch” O’Neill", BirthYear: 1958, Colour: "reed", Adult: true},
		"machine":      &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"},
		"prescription": &rx,
		"weigh_in":     &session.WeighIn{Weight: 74100, Scale: "bathroom \\ \"upstairs\"", ReadIn: "kg"},
		"reading":      &session.Reading{Systolic: ptr(unit.Pressure(120)), Arterial: ptr(unit.Pressure(-145)), Conduct: &conduct, Note: "line one\nline two"},
		"fitness":      &session.Fitness{Fall: true, Rang: "the unit, <at once> & again"},
		"closed":       &session.Closed{Feel: "müde, 疲れた, 😴"},
		"run_sheet":    &SheetEdited{session.DefaultSetUp()},
		"supply":       &session.Supply{Item: "dialyser", Lot: "L1", Expiry: unit.NewDate(2027, 1, 31)},
	} {
		e := Entry{ID: "entry-00001", Kind: kind, At: at, Zone: "Europe/London", Written: at, By: "Orla", Person: "person-one", Session: "session-1", Body: body}
		if kind == "reading" {
			e.Corrects, e.Reason = "entry-00000", "read off wrong"
			e.Missing = map[string]session.Missing{"pulse_per_min": session.NotDone}
			e.Again = map[string]string{"systolic_mmhg": "120"}
		}
		raw, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, string(raw))
	}
	return list
}

// An entry that was written comes back as a stranger's entry would be read,
// whichever way it is read.
func TestStoredComesBack(t *testing.T) {
	short := 0
	for _, raw := range written(t) {
		strict, err := ReadEntry([]byte(raw))
		if err != nil {
			t.Fatalf("%v\n%s", err, raw)
		}
		stored, err := ReadStored([]byte(raw))
		if err != nil || !reflect.DeepEqual(stored, strict) {
			t.Errorf("stored\n%s\nis read as %+v (%v)\nand a stranger's as %+v", raw, stored, err, strict)
		}
		if _, ok := ownWire([]byte(raw)); ok {
			short++
		}
	}
	if short < 4 {
		t.Errorf("only %d of the entries went the short way", short)
	}
}

// What is not as the program writes it is refused by the short way and read,
// or refused with its reason, by the long one.
func TestStoredOtherwise(t *testing.T) {
	const good = `{"id":"entry-00001","kind":"drink","at":"2026-03-01T05:30:00Z","zone":"Europe/Oslo","offset_min":60,"written":"2026-03-01T05:30:10Z","person":"person-one","session":"session-1","values":{"volume_ml":150}}`
	if e, err := ReadStored([]byte(good)); err != nil || e.Body.(*session.Drink).Volume != 150 {
		t.Fatalf("%+v, %v", e, err)
	}
	for was, now := range map[string]string{
		`150`:                     `"150"`,
		`150}`:                    `1.5e2}`,
		`{"volume_ml":150}`:       `{}`,
		`"volume_ml":150`:         `"volume_ml":150,"more":1`,
		`"volume_ml"`:             `"Volume_ml"`,
		`"drink"`:                 `"drunk"`,
		`"2026-03-01T05:30:00Z"`:  `"yesterday"`,
		`"Europe/Oslo"`:           `"Local"`,
		`"values":{"volume_ml":1`: `"values":["volume_ml",1`,
		`}}`:                      `}`,
	} {
		if e, err := ReadStored([]byte(strings.Replace(good, was, now, 1))); err == nil {
			t.Errorf("with %s for %s it is read as %+v", now, was, e)
		}
	}
	for was, now := range map[string]string{
		`"id":`:            ` "id" : `,
		`"drink"`:          `"dri\u006ek"`,
		`"volume_ml":150`:  `"volume_ml":100,"volume_ml":150`,
		`,"offset_min":60`: ``,
	} {
		e, err := ReadStored([]byte(strings.Replace(good, was, now, 1)))
		if err != nil || e.Kind != "drink" || e.Body.(*session.Drink).Volume != 150 {
			t.Errorf("with %s for %s: %+v, %v", now, was, e, err)
		}
	}
}

// FuzzStored holds the short way of reading against the long one: what it
// takes, the long way takes too, with the same result.
//
//fuzz:runs 4000
func FuzzStored(f *testing.F) {
	for _, raw := range written(f) {
		f.Add([]byte(raw))
	}
	f.Add([]byte(`{"id":"a","id":"b","offset_min":01,"values":{"a":[{"b":"}"}]}}`))
	f.Fuzz(func(t *testing.T, raw []byte) {
		if !json.Valid(raw) {
			return // the chain vouches that what is stored was written so
		}
		own, ok := ownWire(raw)
		if !ok {
			return
		}
		var w wire
		if err := json.Unmarshal(raw, &w); err != nil || !reflect.DeepEqual(w, own) {
			t.Fatalf("%s\nis taken apart as %+v, and by encoding/json as %+v, %v", raw, own, w, err)
		}
		kind, ok := Find(w.Kind)
		if !ok {
			return
		}
		if body, ok := kind.fromOwn(w.Values); ok {
			long, problems := kind.FromJSON(w.Values)
			if len(problems) > 0 || !reflect.DeepEqual(body, long) {
				t.Fatalf("%s\nis read as %+v, and the long way as %+v, %v", w.Values, body, long, problems)
			}
		}
	})
}
