package report

import (
	"fmt"
	"reflect"
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// Every letter stands beside exactly one value, and every letter beside a
// value has its note.
func TestEveryNoteIsPointedAtOnce(t *testing.T) {
	s := eveningSheet(t)
	count := map[string]int{}
	var walk func(v reflect.Value)
	walk = func(v reflect.Value) {
		switch v.Kind() {
		case reflect.Struct:
			if v.Type().PkgPath() != reflect.TypeFor[Sheet]().PkgPath() {
				return
			}
			for i := range v.NumField() {
				if v.Type().Field(i).Name == "Marks" {
					for _, m := range v.Field(i).Interface().([]string) {
						count[m]++
					}
					continue
				}
				walk(v.Field(i))
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(v.Index(i))
			}
		}
	}
	walk(reflect.ValueOf(s))
	if len(s.Notes) < 4 {
		t.Fatalf("only %d notes", len(s.Notes))
	}
	for _, n := range s.Notes {
		if count[n.Letter] != 1 {
			t.Errorf("note [%s] %q stands beside %d values", n.Letter, n.Words, count[n.Letter])
		}
		delete(count, n.Letter)
	}
	for l := range count {
		t.Errorf("[%s] has no note", l)
	}
}

// notOnSheet are values that the sheet leaves to the record: ids, and figures
// that only say how another was read.
var notOnSheet = map[string]string{
	"plan.prescription_id": "an id", "plan.weigh_in_id": "an id",
	"batch_used.batch_id": "an id",
	"override.check":      "shown by the title of the check",
	"weigh_out.scale":     "the balance says when the scales differ",
}

// Each kind of entry of a session, with a text of its own in every value that
// takes one, struck out and not: whatever is in the record is on the sheet.
func TestNothingInTheRecordIsLeftOff(t *testing.T) {
	kinds := 0
	for _, k := range record.Kinds() {
		if !k.Session {
			continue
		}
		kinds++
		for _, struck := range []bool{false, true} {
			d := newDiary(t, "Europe/Oslo", "2026-03-03")
			if k.Name != "session_opened" {
				d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true})
			}
			d.add(d.at(18, 0), &session.Connected{})
			var marks []string
			body, bad := k.FromForm(func(key string) []string {
				f, _ := k.Field(key)
				switch {
				case len(f.Choices) > 0:
					return []string{f.Choices[len(f.Choices)-1].Value}
				case f.Type() == record.TypeText:
					mark := fmt.Sprintf("%s~%s", strings.ReplaceAll(k.Name, "_", ""), strings.ReplaceAll(key, "_", ""))
					if notOnSheet[k.Name+"."+key] == "" {
						marks = append(marks, mark)
					}
					return []string{mark}
				case f.Type() == record.TypeDate:
					return []string{"2027-01-31"}
				case f.Refuse != nil:
					return []string{fmt.Sprint(int((f.Refuse.Lo + f.Refuse.Hi) / 2))}
				}
				return []string{"1"}
			})
			if len(bad) > 0 {
				t.Fatalf("%s: %v", k.Name, bad)
			}
			e := d.add(d.at(19, 0), body)
			if struck {
				e.Struck = &session.Strike{At: d.at(19, 5), By: "Torleiv", Reason: "strike~reason"}
				marks = append(marks, "strike~reason")
			}
			page := pageOf(t, SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: d.at(20, 0)}), printing)
			for _, m := range marks {
				if !strings.Contains(page, m) {
					t.Errorf("%s (struck %v): %q is in the record and not on the sheet", k.Name, struck, m)
				}
			}
		}
	}
	if kinds < 25 {
		t.Fatalf("only %d kinds of entry tried", kinds)
	}
}

func TestGapsHaveTheirWord(t *testing.T) {
	d := newDiary(t, "Europe/Oslo", "2026-03-03")
	d.add(d.at(17, 0), &session.Opened{Place: "home", Source: "live", Confirmed: true})
	d.add(d.at(17, 30), &session.VitalsBefore{}).Missing = map[string]session.Missing{"pulse_per_min": session.NotDone, "temperature_c": session.NotRecorded}
	d.add(d.at(18, 0), &session.Connected{})
	d.add(d.at(19, 0), &session.Reading{Pulse: ptr(unit.Pulse(70))}).Missing = map[string]session.Missing{"systolic_mmhg": session.AsleepByPlan, "diastolic_mmhg": session.AsleepByPlan, "tmp_mmhg": session.DoesNotApply}
	d.add(d.at(19, 5), &session.Asleep{For: 90})
	s := SheetOf(SheetInput{Head: ilsabet, Session: d.s, Now: d.at(20, 0)})
	for where, text := range map[string]string{"the PDF": sheetFile(t, s, printing).words(), "the page": pageOf(t, s, printing)} {
		has(t, where, text, "not done", "not recorded", "asleep", "n. a. = does not apply", "asleep by plan for 1\u00a0h\u00a030\u00a0min")
	}
	if g := s.Grid.Rows[0].Cells[0].Text; g != "asleep" {
		t.Errorf("a pressure slept through is %q in the grid", g)
	}
	if s.Before.Fields[0].Value.Blank() != true || s.Before.Fields[0].Label != "Thrill, bruit" {
		t.Errorf("an access that nobody looked at is %+v, want a blank", s.Before.Fields[0])
	}
}
