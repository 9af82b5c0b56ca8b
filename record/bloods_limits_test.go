package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

func potassium(value string) BloodResult {
	return BloodResult{Analyte: "potassium", Value: unit.Printed(value), Unit: "mmol/L"}
}

// The boundaries of the program's own potassium limits, both sides (H-94,
// H-103).
func TestPotassiumBoundaries(t *testing.T) {
	for _, tt := range []struct{ value, verdict, critical string }{
		{"2.9", Below, "low"}, {"3.0", Below, ""}, {"3.9", Below, ""}, {"4.0", Inside, ""}, {"5.9", Inside, ""},
		{"6.0", Inside, ""}, {"6.1", Above, ""}, {"6.4", Above, ""}, {"6.5", Above, "high"}, {"7.2", Above, "high"},
	} {
		j := ownLimits("potassium").Judge(potassium(tt.value), Pre)
		if j.Verdict != tt.verdict || j.Critical != tt.critical {
			t.Errorf("potassium %s: %q, critical %q; want %q, %q", tt.value, j.Verdict, j.Critical, tt.verdict, tt.critical)
		}
		if !strings.Contains(j.Words, "not set by your unit") {
			t.Errorf("potassium %s by the program's own range says %q", tt.value, j.Words)
		}
	}
	if j := ownLimits("potassium").Judge(BloodResult{Analyte: "potassium", Op: ">", Value: "6.0", Unit: "mmol/L"}, Pre); j.Critical != "may be" {
		t.Errorf("> 6.0 is critical: %q, want that it may be", j.Critical)
	}
	if j := ownLimits("potassium").Judge(BloodResult{Analyte: "potassium", Value: "6.5", Unit: "mEq/L"}, Pre); j.Critical != "high" {
		t.Errorf("6.5 mEq/L is critical: %q, want the same as mmol/L", j.Critical)
	}
}

// Phosphate and potassium are held to both sides, by the program's own figures
// and by the unit's (H-103).
func TestLimitsAreTwoSided(t *testing.T) {
	for code, low := range map[string]string{"potassium": "3.6", "phosphate": "0.7", "calcium_corrected": "2.0", "haemoglobin": "92", "bicarbonate": "20"} {
		l := ownLimits(code)
		if l.Low == nil || l.High == nil {
			t.Errorf("%s has one side only", code)
			continue
		}
		a, _ := unit.FindAnalyte(code)
		if j := l.Judge(BloodResult{Analyte: code, Value: unit.Printed(low), Unit: a.Units[0].Symbol}, Pre); j.Verdict != Below {
			t.Errorf("%s %s is %q, want below", code, low, j.Verdict)
		}
	}
}

// What the unit sets takes the place of the program's figure side by side,
// says so with its date, and leaves earlier judgements as they were (CC21).
func TestLimitsOfTheUnit(t *testing.T) {
	b := newBook(t)
	m := b.h.Member("person-one")
	before := b.now
	b.must("blood_range", "", &BloodRange{Analyte: "potassium", Unit: "mmol/L", Low: "4.0", High: "5.5", CriticalHigh: "6.2", SetBy: "Dr Q (invented)", SetOn: unit.NewDate(2026, 3, 3)})
	after := b.now.Add(time.Minute)

	if j := m.LimitsAt("potassium", before).Judge(potassium("5.8"), Pre); j.Verdict != Inside {
		t.Errorf("5.8 before the unit set its limits is %q", j.Verdict)
	}
	j := m.LimitsAt("potassium", after).Judge(potassium("5.8"), Pre)
	if j.Verdict != Above || j.Words != "outside the limits your unit set on 3 March 2026: above" {
		t.Errorf("5.8 by the unit's limits: %q, %q", j.Verdict, j.Words)
	}
	if j := m.LimitsAt("potassium", after).Judge(potassium("5.0"), Pre); j.Words != "inside the limits your unit set on 3 March 2026" {
		t.Errorf("5.0 by the unit's limits: %q", j.Words)
	}
	if j := m.LimitsAt("potassium", after).Judge(potassium("6.2"), Pre); j.Critical != "high" || j.CriticalWords != "at or above 6.2\u00a0mmol/L" || !strings.Contains(j.CriticalWhose, "set by your unit on 3 March 2026") {
		t.Errorf("6.2 by the unit's critical limit: %+v", j)
	}
	// The side that the unit left blank stays guarded by the program's figure.
	if j := m.LimitsAt("potassium", after).Judge(potassium("2.8"), Pre); j.Critical != "low" || !strings.Contains(j.CriticalWhose, "not set by your unit") {
		t.Errorf("2.8 with no critical low of the unit: %+v", j)
	}
	// In the unit's own units of measure.
	b.must("blood_range", "", &BloodRange{Analyte: "phosphate", Unit: "mg/dL", Low: "3.5", High: "5.5", SetBy: "Dr Q (invented)", SetOn: unit.NewDate(2026, 3, 3)})
	if j := m.LimitsAt("phosphate", b.now).Judge(BloodResult{Analyte: "phosphate", Value: "1.9", Unit: "mmol/L"}, Pre); j.Verdict != Above {
		t.Errorf("1.9 mmol/L against 5.5 mg/dL is %q", j.Verdict)
	}
	if w := m.LimitsAt("phosphate", b.now).Words(BloodResult{Analyte: "phosphate", Unit: "mmol/L"}); w != "1.13 to 1.776\u00a0mmol/L" {
		t.Errorf("the range in mmol/L is %q", w)
	}
}

func TestRangesAreChecked(t *testing.T) {
	b := newBook(t)
	day := unit.NewDate(2026, 3, 3)
	for name, r := range map[string]BloodRange{
		"nothing set":         {Analyte: "potassium", Unit: "mmol/L"},
		"upside down":         {Analyte: "potassium", Unit: "mmol/L", Low: "6", High: "4"},
		"wrong unit":          {Analyte: "potassium", Unit: "mg/dL", Low: "4", High: "6"},
		"no blood holds it":   {Analyte: "potassium", Unit: "mmol/L", Low: "4", High: "60"},
		"critical inside":     {Analyte: "potassium", Unit: "mmol/L", Low: "4", High: "6", CriticalHigh: "5.5"},
		"critical low inside": {Analyte: "potassium", Unit: "mmol/L", Low: "4", High: "6", CriticalLow: "4.5"},
	} {
		r.SetBy, r.SetOn = "Dr Q (invented)", day
		if found := b.try(b.entry("blood_range", "", &r)); !found.Refused() {
			t.Errorf("%s: %v, want it refused", name, found)
		}
	}
	ahead := BloodRange{Analyte: "potassium", Unit: "mmol/L", Low: "4", High: "6", SetBy: "Dr Q (invented)", SetOn: unit.NewDate(2030, 1, 1)}
	if found := b.try(b.entry("blood_range", "", &ahead)); found.On("set_on") == "" {
		t.Error("a range set in 2030 was taken")
	}
}

// PTH counts the laboratory's own upper limit, and cannot be judged without it.
func TestRangeInMultiplesOfTheUpperLimit(t *testing.T) {
	pth := BloodResult{Analyte: "pth", Value: "40", Unit: "pmol/L"}
	if j := ownLimits("pth").Judge(pth, Pre); j.Verdict != CannotTell {
		t.Errorf("PTH without an upper limit is %q", j.Verdict)
	}
	for upper, want := range map[unit.Printed]string{"7": Inside, "30": Below, "4": Above} {
		pth.Upper = upper
		if j := ownLimits("pth").Judge(pth, Pre); j.Verdict != want {
			t.Errorf("PTH 40 with an upper limit of %s is %q, want %q", upper, j.Verdict, want)
		}
	}
}

func TestSampleAfterTheSessionHasNoRange(t *testing.T) {
	j := ownLimits("potassium").Judge(potassium("3.4"), Post)
	if j.Verdict != NoLimits || j.Critical != "" {
		t.Errorf("3.4 after a session: %+v", j)
	}
	if j := ownLimits("potassium").Judge(potassium("2.8"), Post); j.Critical != "low" {
		t.Errorf("2.8 after a session is critical: %q, want low", j.Critical)
	}
}
