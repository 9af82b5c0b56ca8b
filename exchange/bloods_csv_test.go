package exchange

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
)

func read(t *testing.T, text string, o BloodsOptions) []BloodsRow {
	t.Helper()
	rows, err := ReadBloods(strings.NewReader(text), o)
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

func zoneOf(t *testing.T, name string) *time.Location {
	t.Helper()
	z, err := record.LoadZone(name)
	if err != nil {
		t.Fatal(err)
	}
	return z
}

func TestReadBloods(t *testing.T) {
	o := BloodsOptions{Zone: zoneOf(t, "Europe/Oslo")}
	rows := read(t, "\ufeffdrawn;analyte;value;unit;timing;laboratory;upper_limit;haemolysed;colour of the sky\r\n"+
		"2026-03-02 07:15;Potassium;5,4;mmol/l;pre;L1;;no;grey\r\n"+
		"2026-03-02 07:15;CRP;<5;mg/L;pre;L1;;no;grey\r\n"+
		"2026-03-02 07:15;PTH;40.2;pmol/L;pre;L1;6.9;no;grey\r\n"+
		"2026-03-02T10:45:00Z;BUN;21;mg/dL;post;L1;;yes;grey\r\n", o)
	if len(rows) != 4 {
		t.Fatalf("%d rows, want 4", len(rows))
	}
	for _, r := range rows {
		if r.Problem != "" {
			t.Errorf("line %d: %s", r.Line, r.Problem)
		}
	}
	k, crp, pth, bun := rows[0], rows[1], rows[2], rows[3]
	if k.Result.Value != "5.4" || k.Result.Unit != "mmol/L" || k.Raw[2] != "5,4" || k.Line != 2 || k.Drawn.UTC().Hour() != 6 {
		t.Errorf("potassium: %+v", k)
	}
	if crp.Result.Op != "<" || crp.Result.Value != "5" || pth.Result.Upper != "6.9" {
		t.Errorf("CRP %+v, PTH %+v", crp.Result, pth.Result)
	}
	if bun.Result.Analyte != "urea" || bun.Result.Unit != "mg/dL" || !bun.Haemo || bun.Drawn.UTC().Minute() != 45 {
		t.Errorf("BUN: %+v", bun)
	}
	samples := Samples(rows)
	if len(samples) != 2 || len(samples[0].Rows) != 3 || samples[0].Timing != record.Pre || samples[1].Timing != record.Post {
		t.Fatalf("samples: %+v", samples)
	}
	again := Samples(read(t, "analyte,value,unit,drawn,timing,laboratory,upper_limit\nPotassium,5.4,mmol/L,2026-03-02 07:15,pre,L1,\nCRP,<5,mg/L,2026-03-02 07:15,pre,L1,\nPTH,40.2,pmol/L,2026-03-02 07:15,pre,L1,6.9\n", o))
	if again[0].ID != samples[0].ID || samples[0].ID == samples[1].ID {
		t.Errorf("the same rows in another file have the ids %s and %s", samples[0].ID, again[0].ID)
	}
}

// Nothing is guessed that could change a value: each of these rows is kept with
// what is wrong with it (H-91, H-92, H-96, H-97).
func TestRowsThatCannotBeTaken(t *testing.T) {
	for _, tt := range []struct{ row, words string }{
		{"Urea,150,mg/dL,2026-03-02 07:15", "two things"},
		{"BUN,70,mg/dL urea,2026-03-02 07:15", "which of the two"},
		{"Potassium,5.4,,2026-03-02 07:15", "no unit"},
		{"Potassium,5.4,mg/dL,2026-03-02 07:15", "no unit of Potassium"},
		{"Potassium,5.4 H,mmol/L,2026-03-02 07:15", "more than a number"},
		{"Potassium,5.4 mEq/L,mmol/L,2026-03-02 07:15", "more than a number"},
		{"Potassium,haemolysed,mmol/L,2026-03-02 07:15", "no number"},
		{"Potassium,,mmol/L,2026-03-02 07:15", "no value"},
		{"Potassium,-5.4,mmol/L,2026-03-02 07:15", "no number"},
		{"Potassium,5.4e1,mmol/L,2026-03-02 07:15", "more than a number"},
		{"Potassium,٥,mmol/L,2026-03-02 07:15", "no number"},
		{"Potassium,\"5,400\",mmol/L,2026-03-02 07:15", "one way only"},
		{"Potassium,=5.4,mmol/L,2026-03-02 07:15", "no number"},
		{"Potassium,≤5.4,mmol/L,2026-03-02 07:15", "no number"},
		{"Unobtainium,5.4,mmol/L,2026-03-02 07:15", "no analyte"},
		{",5.4,mmol/L,2026-03-02 07:15", "names no analyte"},
		{"Potassium,5.4,mmol/L,", "blank"},
		{"Potassium,5.4,mmol/L,2026-03-02", "no time of day"},
		{"Potassium,5.4,mmol/L,03/04/2026 07:15", "two days"},
		{"Potassium,5.4,mmol/L,2026-02-30 07:15", "no date"},
		{"Potassium,5.4,mmol/L,2026-03-02 25:15", "no time of day"},
		{"Potassium,5.4,mmol/L,1026-03-02 07:15", "no date"},
		{"Potassium,5.4,mmol/L,2026-03-29 02:30", "never came"},
		{"Potassium,5.4,mmol/L,2026-10-25 02:30", "came twice"},
		{"Potassium,5.4,mmol/L,2026-03-02 07:15,extra", "cells"},
	} {
		rows := read(t, "analyte,value,unit,drawn\n"+tt.row+"\n", BloodsOptions{Zone: zoneOf(t, "Europe/Oslo")})
		if len(rows) != 1 || !strings.Contains(rows[0].Problem, tt.words) {
			t.Errorf("%s: %q, want a problem with %q", tt.row, rows[0].Problem, tt.words)
		}
		if len(Samples(rows)) != 0 {
			t.Errorf("%s: became part of a sample", tt.row)
		}
	}
}

func TestFilesThatAreNoTable(t *testing.T) {
	for name, text := range map[string]string{
		"empty":             "",
		"blank":             " \n\n ",
		"names only":        "analyte,value,unit,drawn\n",
		"no drawn":          "analyte,value,unit\nPotassium,5.4,mmol/L\n",
		"twice":             "analyte,test,value,unit,drawn\nA,B,5.4,mmol/L,2026-03-02 07:15\n",
		"not text":          "analyte,value,unit,drawn\nPotassium\x00,5.4,mmol/L,2026-03-02 07:15\n",
		"not UTF-8":         "analyte,value,unit,drawn\nPotassium,5.4,\xb5mol/L,2026-03-02 07:15\n",
		"open quotation":    "analyte,value,unit,drawn\n\"Potassium,5.4,mmol/L,2026-03-02 07:15\n",
		"a long cell":       "analyte,value,unit,drawn\n" + strings.Repeat("x", mostCell+1) + ",5.4,mmol/L,2026-03-02 07:15\n",
		"too many rows":     "analyte,value,unit,drawn\n" + strings.Repeat("K,5,mmol/L,2026-03-02 07:15\n", mostRows+1),
		"too many columns":  "analyte,value,unit,drawn" + strings.Repeat(",x", mostColumns) + "\nK,5,mmol/L,2026-03-02 07:15\n",
		"too large":         "analyte,value,unit,drawn\n" + strings.Repeat("K,5,mmol/L,2026-03-02 07:15\n", MostBytes/20),
		"a page of the web": "<html><body>Please log in</body></html>",
	} {
		if rows, err := ReadBloods(strings.NewReader(text), BloodsOptions{}); err == nil {
			t.Errorf("%s: read as %d rows", name, len(rows))
		}
	}
}

func TestDatesInANamedOrder(t *testing.T) {
	for _, tt := range []struct {
		order DateOrder
		text  string
		month time.Month
		day   int
	}{
		{DayFirst, "03/04/2026 07:15", time.April, 3}, {MonthFirst, "03/04/2026 07:15", time.March, 4}, {DayFirst, "3.4.2026 07:15", time.April, 3},
		{YearFirst, "2026-04-03 07:15", time.April, 3}, {DayFirst, "2026-04-03 07:15:30", time.April, 3},
	} {
		at, err := momentOf(tt.text, BloodsOptions{Zone: time.UTC, Dates: tt.order})
		if err != nil || at.Month() != tt.month || at.Day() != tt.day {
			t.Errorf("%s, %s first: %v, %v", tt.text, tt.order, at, err)
		}
	}
	if at, err := momentOf("13/14/2026 07:15", BloodsOptions{Zone: time.UTC, Dates: DayFirst}); err == nil {
		t.Errorf("the 14th month is %v", at)
	}
}

// A row that names somebody else says so in words (H-102).
func TestSomebodyElsesResults(t *testing.T) {
	me := record.Person{Name: "Orla Finch", BirthYear: 1958, Number: "A 17"}
	for _, tt := range []struct {
		columns, cells string
		same           bool
	}{
		{"name,birth_year,hospital_number", "Orla Finch,1958,a 17", true},
		{"name,birth_date", `"FINCH, Orla",1958-05-01`, true},
		{"name,birth_year", "Olga Finch,1958", false},
		{"name,birth_year", "Orla Finch,1959", false},
		{"name,birth_date", "Orla Finch,1959-05-01", false},
		{"name,hospital_number", "Orla Finch,A 18", false},
	} {
		rows := read(t, "analyte,value,unit,drawn,"+tt.columns+"\nK,5.4,mmol/L,2026-03-02 07:15,"+tt.cells+"\n", BloodsOptions{})
		if rows[0].Problem != "" || !rows[0].Owner.Named() {
			t.Fatalf("%s: %+v", tt.cells, rows[0])
		}
		if differs := rows[0].Owner.Differs(me); (differs == "") != tt.same {
			t.Errorf("%s against %+v: %q", tt.cells, me, differs)
		}
	}
	if (Owner{Number: "A 17"}).Differs(record.Person{Name: "Orla Finch"}) == "" {
		t.Error("a hospital number was taken where none is written down to compare")
	}
	if (Owner{}).Named() {
		t.Error("nobody is somebody")
	}
}

// Whatever is in the file, the reader neither fails nor gives a row without
// either a problem or a whole result.
//
//fuzz:runs 100000
func FuzzReadBloods(f *testing.F) {
	f.Add("analyte,value,unit,drawn\nPotassium,5.4,mmol/L,2026-03-02 07:15\n", "year")
	f.Add("analyte;value;unit;drawn;timing\nBUN;\"<21\";mg/dL;03/04/2026 07:15;pre\n", "day")
	f.Add("\ufeffdrawn\tanalyte\tvalue\tunit\tbirth_date\n2026-03-02T07:15:00+01:00\tHb\t11,2 g/dL\t\t1958-05-01\n", "month")
	f.Fuzz(func(t *testing.T, text, order string) {
		rows, err := ReadBloods(strings.NewReader(text), BloodsOptions{Dates: DateOrder(order)})
		if err != nil {
			if len(rows) != 0 {
				t.Error("an error with rows")
			}
			return
		}
		for _, r := range rows {
			if r.Problem == "" && (r.Result.Analyte == "" || r.Result.Value == "" || r.Result.Unit == "" || r.Drawn.IsZero()) {
				t.Errorf("taken as %+v", r)
			}
		}
		n := 0
		for _, s := range Samples(rows) {
			n += len(s.Rows)
			if b := s.Bloods(); len(b.Results) != len(s.Rows) {
				t.Errorf("%d results of %d rows", len(b.Results), len(s.Rows))
			}
		}
		if n > len(rows) {
			t.Errorf("%d rows in samples of %d", n, len(rows))
		}
	})
}
