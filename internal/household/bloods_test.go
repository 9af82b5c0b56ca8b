package household

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

// A series ends where the laboratory, the assay or its upper limit changes, and
// no mean reaches across (H-101).
func TestSeriesAreSplit(t *testing.T) {
	h, m, _ := invented(t, 7, 2, func(e *record.Entry) bool { return e.Kind != "bloods" })
	day := time.Date(2026, 1, 5, 8, 0, 0, 0, present.Location())
	for i, s := range []struct {
		lab, assay string
		upper      unit.Printed
		value      unit.Printed
	}{
		{"L1", "second generation", "6.9", "20"}, {"L1", "second generation", "6.9", "22"}, {"L1", "third generation", "5.5", "14"},
		{"L1", "third generation", "5.6", "15"}, {"L2", "third generation", "5.6", "30"},
	} {
		add(t, h, m, "bloods-pth-"+string(rune('a'+i)), "bloods", day.AddDate(0, 0, 21*i), &record.Bloods{Timing: record.Other, Laboratory: s.lab,
			Results: []record.BloodResult{{Analyte: "pth", Value: s.value, Unit: "pmol/L", Upper: s.upper, Assay: s.assay}}})
	}
	list := BloodSeriesOf(m)
	if len(list) != 4 {
		t.Fatalf("%d series, want 4: %+v", len(list), list)
	}
	if list[0].Points[1].Mean.Value != 21 || list[0].Points[1].Mean.N != 2 {
		t.Errorf("the mean of 20 and 22 is %+v", list[0].Points[1].Mean)
	}
	for _, s := range list[1:] {
		if s.Points[0].Mean.N != 1 || s.MeanText(s.Points[0]) != "one value" {
			t.Errorf("a mean reaches across a change: %+v", s)
		}
	}
	v := DoseOf(m, present)
	for _, l := range v.Now {
		if l.Series.Analyte.Code == "pth" && (!l.Split || l.Point.Value != 30) {
			t.Errorf("the last PTH: %+v", l)
		}
	}
}

// Beside each value stands the mean of three months with its count; a bound
// and what is older are not in it (H-100).
func TestThreeMonthMean(t *testing.T) {
	h, m, _ := invented(t, 7, 2, func(e *record.Entry) bool { return e.Kind != "bloods" })
	day := time.Date(2026, 1, 5, 8, 0, 0, 0, present.Location())
	for i, s := range []struct {
		day   int
		op    string
		value unit.Printed
		unit  string
	}{{0, "", "20", "mmol/L"}, {40, "", "22", "mEq/L"}, {80, ">", "40", "mmol/L"}, {92, "", "24", "mmol/L"}, {93, "", "26", "mmol/L"}} {
		add(t, h, m, "bloods-bic-"+string(rune('a'+i)), "bloods", day.AddDate(0, 0, s.day), &record.Bloods{Timing: record.Other, Laboratory: "L1",
			Results: []record.BloodResult{{Analyte: "bicarbonate", Op: s.op, Value: s.value, Unit: s.unit}}})
	}
	s := BloodSeriesOf(m)[0]
	for i, want := range []ThreeMonths{{1, 20, 0}, {2, 21, 0}, {2, 21, 1}, {3, 22, 1}, {3, 24, 1}} {
		// The clocks changed in between: the 92nd day is an hour shorter.
		if got := s.Points[i].Mean; got.N != want.N || got.Value != want.Value || got.Left != want.Left {
			t.Errorf("value %d: %+v, want %+v", i, got, want)
		}
	}
	if text := s.MeanText(s.Points[3]); text != "22 of 3" {
		t.Errorf("the mean reads %q", text)
	}
}

// Values in two units of one analyte stand on one line in the unit of the last.
func TestSeriesInOneUnit(t *testing.T) {
	h, m, _ := invented(t, 7, 2, func(e *record.Entry) bool { return e.Kind != "bloods" })
	for i, r := range []record.BloodResult{{Analyte: "phosphate", Value: "5.0", Unit: "mg/dL"}, {Analyte: "phosphate", Value: "1.50", Unit: "mmol/L"}} {
		add(t, h, m, "bloods-pho-"+string(rune('a'+i)), "bloods", present.AddDate(0, i-3, 0), &record.Bloods{Timing: record.Pre, Laboratory: "L1", Results: []record.BloodResult{r}})
	}
	s := BloodSeriesOf(m)[0]
	if s.Unit != "mmol/L" || s.Points[0].Value < 1.60 || s.Points[0].Value > 1.63 || !strings.Contains(s.Points[0].Result.Text(), "mg/dL") {
		t.Errorf("5.0 mg/dL in a series of mmol/L: %+v", s)
	}
}
