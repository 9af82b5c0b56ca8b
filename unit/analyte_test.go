package unit

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"
)

// Conversions as two published tables and laboratories print them; the
// tolerance is half of the last digit printed.
func TestAnalyteConversions(t *testing.T) {
	for _, tt := range []struct {
		code         string
		value        float64
		from, to     string
		want, within float64
		source       string
	}{
		{"urea", 60, "mg/dL", "mmol/L", 21.418, 0.0005, "60·10/28.014"},
		{"urea", 100, "mg/dL", "mg/dL urea", 214, 0.5, "printed factor from nitrogen to urea"},
		{"urea", 100, "mg/dL urea", "mmol/L", 16.65, 0.005, "printed factor 0.1665"},
		{"creatinine", 10, "mg/dL", "µmol/L", 884, 0.5, "printed factor"},
		{"creatinine", 8.85, "mg/dL", "µmol/L", 782.4, 0.05, "8.85·88.4017"},
		{"calcium", 10, "mg/dL", "mmol/L", 2.495, 0.0005, "printed factor 0.2495"},
		{"calcium", 9.26, "mg/dL", "mmol/L", 2.310, 0.0006, "9.26·0.249513"},
		{"calcium", 5, "mEq/L", "mmol/L", 2.5, 0, "two charges"},
		{"phosphate", 1, "mg/dL", "mmol/L", 0.3229, 0.00005, "printed factor"},
		{"phosphate", 4.7, "mg/dL", "mmol/L", 1.517, 0.0005, "4.7·0.322854"},
		{"magnesium", 2, "mg/dL", "mmol/L", 0.8228, 0.0001, "printed factor 0.4114"},
		{"magnesium", 2, "mEq/L", "mmol/L", 1, 0, "two charges"},
		{"glucose", 100, "mg/dL", "mmol/L", 5.551, 0.0005, "printed factor 0.05551"},
		{"haemoglobin", 11.2, "g/dL", "g/L", 112, 1e-9, "definition"},
		{"haemoglobin", 10, "g/dL", "mmol/L", 6.206, 0.0005, "printed factor 0.6206"},
		{"haematocrit", 0.33, "L/L", "%", 33, 1e-9, "definition"},
		{"albumin", 3.8, "g/dL", "g/L", 38, 1e-9, "definition"},
		{"pth", 297, "pg/mL", "pmol/L", 31.5, 0.05, "297·0.1061"},
		{"pth", 100, "ng/L", "pg/mL", 100, 1e-9, "definition"},
		{"vitamin_d", 30, "ng/mL", "nmol/L", 74.88, 0.005, "printed factor 2.496"},
		{"iron", 100, "µg/dL", "µmol/L", 17.91, 0.005, "printed factor 0.1791"},
		{"potassium", 5.2, "mEq/L", "mmol/L", 5.2, 0, "one charge"},
		{"bicarbonate", 22, "mEq/L", "mmol/L", 22, 0, "one charge"},
		{"sodium", 138, "mEq/L", "mmol/L", 138, 0, "one charge"},
		{"ferritin", 350, "ng/mL", "µg/L", 350, 0, "definition"},
		{"hba1c", 7, "%", "mmol/mol", 53, 0.05, "printed pair 7 % and 53"},
		{"hba1c", 48, "mmol/mol", "%", 6.5, 0.05, "printed pair 48 and 6.5 %"},
		{"urate", 6, "mg/dL", "µmol/L", 357, 0.5, "printed factor 59.48"},
		{"bilirubin", 1, "mg/dL", "µmol/L", 17.1, 0.05, "printed factor"},
		{"cholesterol", 200, "mg/dL", "mmol/L", 5.17, 0.005, "printed factor 0.02586"},
		{"triglycerides", 150, "mg/dL", "mmol/L", 1.69, 0.005, "printed factor 0.01129"},
		{"aluminium", 0.74, "µmol/L", "µg/L", 20, 0.05, "0.74·26.98"},
		{"alkaline_phosphatase", 2, "µkat/L", "U/L", 120, 1e-9, "1 µkat = 60 U"},
	} {
		a, ok := FindAnalyte(tt.code)
		if !ok {
			t.Errorf("no analyte %s", tt.code)
			continue
		}
		got, err := a.Convert(tt.value, tt.from, tt.to)
		if err != nil || math.Abs(got-tt.want) > tt.within {
			t.Errorf("%s: %v %s = %v %s, %v; want %v ± %v (%s)", tt.code, tt.value, tt.from, got, tt.to, err, tt.want, tt.within, tt.source)
		}
	}
}

func TestAnalytesComeBack(t *testing.T) {
	for _, a := range Analytes() {
		mid := (a.Low + a.High) / 2
		for _, u := range a.Units {
			stated, err := a.Convert(mid, a.Units[0].Symbol, u.Symbol)
			if err != nil {
				t.Errorf("%s in %s: %v", a.Code, u.Symbol, err)
				continue
			}
			back, err := a.Canonical(stated, u.Symbol)
			if err != nil || math.Abs(back/mid-1) > 1e-14 {
				t.Errorf("%s: %v went to %v %s and came back as %v, %v", a.Code, mid, stated, u.Symbol, back, err)
			}
			for _, unlike := range []float64{a.High * 1.001, -1} {
				if v := (unlike - u.Offset) / u.Factor; !refusedBy(a, v, u.Symbol) {
					t.Errorf("%s: %v %s was taken", a.Code, v, u.Symbol)
				}
			}
		}
	}
}

func refusedBy(a Analyte, v float64, unit string) bool {
	_, err := a.Canonical(v, unit)
	return errors.As(err, new(*InputError))
}

func TestAnalyteTable(t *testing.T) {
	seen := map[string]bool{}
	for _, a := range Analytes() {
		if a.Code == "" || a.Name == "" || seen[a.Code] || len(a.Units) == 0 || a.High <= a.Low || a.Low < 0 {
			t.Errorf("the line of %q is not whole, or stands twice", a.Code)
		}
		seen[a.Code] = true
		if first := a.Units[0]; first.Factor != 1 || first.Offset != 0 {
			t.Errorf("%s: the first unit %s has the factor %v and the offset %v", a.Code, first.Symbol, first.Factor, first.Offset)
		}
		for _, u := range a.Units {
			if plainSymbol(u.Symbol) != u.Symbol {
				t.Errorf("%s: the unit %q cannot be found by its own symbol", a.Code, u.Symbol)
			}
			if c := u.UCUM(); c == "" || strings.ContainsAny(c, "µ× ⁹³") {
				t.Errorf("%s: %q becomes %q for machines", a.Code, u.Symbol, c)
			}
		}
	}
	for _, code := range []string{"urea", "creatinine", "calcium", "phosphate", "magnesium", "glucose", "haemoglobin",
		"albumin", "pth", "sodium", "potassium", "bicarbonate"} {
		if !seen[code] {
			t.Errorf("no line for %s", code)
		}
	}
}

func TestAnalyteUnitSpellings(t *testing.T) {
	creatinine, _ := FindAnalyte("creatinine")
	for _, s := range []string{"µmol/L", "μmol/L", "umol/L", "umol/l", " µmol/l "} {
		if u, err := creatinine.Unit(s); err != nil || u.Symbol != "µmol/L" {
			t.Errorf("Unit(%q) = %q, %v; want µmol/L", s, u.Symbol, err)
		}
	}
	white, _ := FindAnalyte("white_cells")
	for s, want := range map[string]string{"10^9/L": "×10⁹/L", "x10^9/l": "×10⁹/L", "10*9/L": "×10⁹/L", "10*3/uL": "×10³/µL"} {
		if u, err := white.Unit(s); err != nil || u.Symbol != want {
			t.Errorf("Unit(%q) = %q, %v; want %s", s, u.Symbol, err, want)
		}
	}
	protein, _ := FindAnalyte("total_protein")
	for _, s := range []string{"", "G/L", "mg/dL", "g", "gram/L"} {
		if u, err := protein.Unit(s); !errors.As(err, new(*InputError)) {
			t.Errorf("Unit(%q) = %q, %v; want an InputError", s, u.Symbol, err)
		}
	}
}

// A number that suits the other family of units is said to.
func TestAnalyteFits(t *testing.T) {
	for _, tt := range []struct {
		code  string
		value float64
		unit  string
		fits  string
	}{
		{"calcium", 9.2, "mmol/L", "mg/dL"},
		{"haemoglobin", 11.2, "g/L", "g/dL"},
		{"creatinine", 8.8, "µmol/L", "mg/dL"},
		{"phosphate", 5.5, "mmol/L", "mg/dL"},
		{"urea", 90, "mmol/L", "mg/dL"},
	} {
		a, _ := FindAnalyte(tt.code)
		if fits := a.Fits(tt.value); slices.Contains(fits, tt.unit) || !slices.Contains(fits, tt.fits) {
			t.Errorf("%s %v fits %v; want %s among them and not %s", tt.code, tt.value, fits, tt.fits, tt.unit)
		}
		_, err := a.Canonical(tt.value, tt.unit)
		if err == nil || !strings.Contains(err.Error(), "would fit") || !strings.Contains(err.Error(), tt.fits) {
			t.Errorf("%s %v %s: %v; want it to name %s", tt.code, tt.value, tt.unit, err, tt.fits)
		}
	}
}

func TestUreaAndAnalyteAgree(t *testing.T) {
	a, _ := FindAnalyte("urea")
	for _, symbol := range UreaUnits() {
		byTable, err := a.Canonical(20, symbol)
		if err != nil {
			t.Fatal(err)
		}
		byType, err := NewUrea(20, symbol)
		if err != nil || byType.MmolPerL() != byTable {
			t.Errorf("20 %s is %v by the type and %v by the table (%v)", symbol, byType.MmolPerL(), byTable, err)
		}
	}
}
