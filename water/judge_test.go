package water

import (
	"errors"
	"fmt"
	"math"
	"testing"

	"pgregory.net/rapid"

	"ebbline/unit"
)

func TestJudgeBoundaries(t *testing.T) {
	for _, tt := range []struct {
		use   Use
		what  Substance
		value float64
		unit  Unit
		want  Verdict
	}{
		{Standard, ViableCount, 49, CFUPerML, Within},
		{Standard, ViableCount, 50, CFUPerML, Action},
		{Standard, ViableCount, 99, CFUPerML, Action},
		{Standard, ViableCount, 100, CFUPerML, Over},
		{Standard, Endotoxin, 0.124, EUPerML, Within},
		{Standard, Endotoxin, 0.125, EUPerML, Action},
		{Standard, Endotoxin, 0.249, IUPerML, Action},
		{Standard, Endotoxin, 0.25, IUPerML, Over},
		{Ultrapure, ViableCount, 0.09, CFUPerML, Within},
		{Ultrapure, ViableCount, 0.1, CFUPerML, Over},
		{Ultrapure, Endotoxin, 0.029, EUPerML, Within},
		{Ultrapure, Endotoxin, 0.03, EUPerML, Over},
		{Standard, TotalChlorine, 0.10, MgPerL, Within},
		{Standard, TotalChlorine, 0.11, MgPerL, Over},
		{Standard, TotalChlorine, 0.1, PPM, Within},
		{Standard, TotalChlorine, 100, PPB, Within},
		{Standard, TotalChlorine, 1.0, MgPerL, Over},
		{Ultrapure, Mercury, 0.2, UgPerL, Within}, // 0.0002 mg/L, not a binary rounding over it
		{Ultrapure, Mercury, 0.201, PPB, Over},
		{Standard, Beryllium, 0.4, UgPerL, Within},
		{Standard, Chromium, 14, UgPerL, Within},
		{Standard, Antimony, 6, PPB, Within},
		{Standard, Aluminium, 10.0001, UgPerL, Over},
	} {
		j, err := edition(t, ISO2019).Judge(tt.use, Result{What: tt.what, Op: Equal, Value: tt.value, Unit: tt.unit})
		if err != nil || j.Verdict != tt.want {
			t.Errorf("%s %s %v %s = %s, %v; want %s", tt.use, tt.what, tt.value, tt.unit, j.Verdict, err, tt.want)
		}
	}
}

// Every chemical limit: on it is within, a hair above it is over, in mg/L and
// in µg/L alike.
func TestJudgeEveryLimit(t *testing.T) {
	for _, row := range isoTable {
		r := Result{What: row.what, Op: Equal, Unit: MgPerL}
		if row.what == Nitrate {
			r.Basis = AsN
		}
		micro := math.Round(row.max*1e6) / 1e3
		for _, at := range []struct {
			value float64
			unit  Unit
			want  Verdict
		}{
			{row.max, MgPerL, Within},
			{math.Nextafter(row.max, 2*row.max), MgPerL, Over},
			{micro, UgPerL, Within},
			{math.Nextafter(micro, 2*micro), UgPerL, Over},
		} {
			r.Value, r.Unit = at.value, at.unit
			if j, err := edition(t, ISO2019).Judge(Standard, r); err != nil || j.Verdict != at.want {
				t.Errorf("%s %v %s = %s, %v; want %s", row.what, at.value, at.unit, j.Verdict, err, at.want)
			}
		}
	}
}

// The truth table of censored results.
func TestJudgeCensored(t *testing.T) {
	for _, tt := range []struct {
		use   Use
		what  Substance
		op    Op
		value float64
		unit  Unit
		want  Verdict
	}{
		// Chemistry, limit 0.1 with the limit itself inside.
		{Standard, TotalChlorine, Less, 0.05, MgPerL, Within},
		{Standard, TotalChlorine, Less, 0.1, MgPerL, Within},
		{Standard, TotalChlorine, Less, 0.11, MgPerL, CannotTell},
		{Standard, TotalChlorine, Less, 0.5, MgPerL, CannotTell},
		{Standard, TotalChlorine, Greater, 0.05, MgPerL, CannotTell},
		{Standard, TotalChlorine, Greater, 0.09, MgPerL, CannotTell},
		{Standard, TotalChlorine, Greater, 0.1, MgPerL, Over},
		{Standard, TotalChlorine, Greater, 4, MgPerL, Over},
		// Microbes, action 50, limit 100 outside.
		{Standard, ViableCount, Less, 1, CFUPerML, Within},
		{Standard, ViableCount, Less, 50, CFUPerML, Within},
		{Standard, ViableCount, Less, 51, CFUPerML, CannotTell},
		{Standard, ViableCount, Less, 100, CFUPerML, CannotTell}, // under the limit; the action level is unknown
		{Standard, ViableCount, Less, 101, CFUPerML, CannotTell},
		{Standard, ViableCount, Greater, 10, CFUPerML, CannotTell},
		{Standard, ViableCount, Greater, 50, CFUPerML, CannotTell},
		{Standard, ViableCount, Greater, 99, CFUPerML, CannotTell}, // 99.5 is under the limit
		{Standard, ViableCount, Greater, 100, CFUPerML, Over},
		{Standard, ViableCount, Greater, 300, CFUPerML, Over},
		// Endotoxin, action 0.125, limit 0.25 outside.
		{Standard, Endotoxin, Less, 0.03, EUPerML, Within},
		{Standard, Endotoxin, Less, 0.125, EUPerML, Within},
		{Standard, Endotoxin, Less, 0.25, EUPerML, CannotTell},
		{Standard, Endotoxin, Less, 0.5, EUPerML, CannotTell},
		{Standard, Endotoxin, Greater, 0.25, EUPerML, Over},
		// Ultrapure, limit 0.1 outside, no action level.
		{Ultrapure, ViableCount, Less, 0.1, CFUPerML, Within},
		{Ultrapure, ViableCount, Less, 1, CFUPerML, CannotTell},
		{Ultrapure, ViableCount, Greater, 0.05, CFUPerML, CannotTell},
		{Ultrapure, ViableCount, Greater, 0.1, CFUPerML, Over},
		{Ultrapure, Endotoxin, Less, 0.03, EUPerML, Within},
		{Ultrapure, Endotoxin, Less, 0.05, EUPerML, CannotTell},
	} {
		j, err := edition(t, ISO2019).Judge(tt.use, Result{What: tt.what, Op: tt.op, Value: tt.value, Unit: tt.unit})
		if err != nil || j.Verdict != tt.want {
			t.Errorf("%s %s %s%v %s = %s, %v; want %s", tt.use, tt.what, tt.op, tt.value, tt.unit, j.Verdict, err, tt.want)
		}
		if tt.want == CannotTell && len(j.Cautions) == 0 {
			t.Errorf("%s %s%v: cannot_tell without a word why", tt.what, tt.op, tt.value)
		}
	}
}

// A verdict on a censored result holds for every value the result allows, and
// cannot_tell is said only when two of them differ.
func TestCensoredVerdictIsSound(t *testing.T) {
	iso := edition(t, ISO2019)
	rapid.Check(t, func(t *rapid.T) {
		use := rapid.SampledFrom([]Use{Standard, Ultrapure}).Draw(t, "use")
		l := rapid.SampledFrom(iso.Limits(use)).Draw(t, "limit")
		op := rapid.SampledFrom([]Op{Less, Greater}).Draw(t, "op")
		at := l.Max * rapid.SampledFrom([]float64{0.1, 0.4, 0.5, 0.6, 0.9, 1, 1.1, 3}).Draw(t, "part")
		r := Result{What: l.What, Op: op, Value: at, Unit: l.Unit, Basis: l.Basis}
		j, err := l.Judge(r)
		if err != nil {
			t.Fatal(err)
		}
		seen := map[Verdict]bool{}
		for i := range 501 {
			v := at * float64(i) / 501 // below at
			if op == Greater {
				v = at + l.Max*3*float64(i+1)/501
			}
			one, err := l.Judge(Result{What: l.What, Op: Equal, Value: v, Unit: l.Unit, Basis: l.Basis})
			if err != nil {
				t.Fatal(err)
			}
			seen[one.Verdict] = true
		}
		if j.Verdict == CannotTell && len(seen) == 1 {
			t.Fatalf("%s %s%v: cannot_tell, though every value is %v", l.What, op, at, seen)
		}
		if j.Verdict != CannotTell && (len(seen) != 1 || !seen[j.Verdict]) {
			t.Fatalf("%s %s%v: %s, though values are %v", l.What, op, at, j.Verdict, seen)
		}
	})
}

func TestNitrateBasis(t *testing.T) {
	iso := edition(t, ISO2019)
	for _, tt := range []struct {
		value float64
		basis Basis
		want  Verdict
	}{
		{2, AsN, Within}, {2.01, AsN, Over}, {5, AsN, Over},
		{5, AsNO3, Within}, {8.85, AsNO3, Within}, {8.86, AsNO3, Over}, {10, AsNO3, Over},
	} {
		j, err := iso.Judge(Standard, Result{What: Nitrate, Op: Equal, Value: tt.value, Unit: MgPerL, Basis: tt.basis})
		if err != nil || j.Verdict != tt.want {
			t.Errorf("nitrate %v as %s = %s, %v; want %s", tt.value, tt.basis, j.Verdict, err, tt.want)
		}
	}
	// 8.9 as NO3, the printed equal of the limit, is 2.0 as N to its digits,
	// and the caution says that it is a matter of rounding.
	j, err := iso.Judge(Standard, Result{What: Nitrate, Op: Equal, Value: 8.9, Unit: MgPerL, Basis: AsNO3})
	if err != nil || math.Abs(j.InUnit-2) > 0.05 || !has(j.Cautions, "nitrate_rounding") {
		t.Errorf("8.9 as NO3 = %+v, %v; want 2.0 as N and a caution", j, err)
	}
}

func TestJudgeRefuses(t *testing.T) {
	for name, r := range map[string]Result{
		"nitrate without basis":  {What: Nitrate, Op: Equal, Value: 1, Unit: MgPerL},
		"basis of lead":          {What: Lead, Op: Equal, Value: 0.001, Unit: MgPerL, Basis: AsN},
		"count in mg/L":          {What: ViableCount, Op: Equal, Value: 1, Unit: MgPerL},
		"lead in CFU/mL":         {What: Lead, Op: Equal, Value: 1, Unit: CFUPerML},
		"endotoxin in CFU/mL":    {What: Endotoxin, Op: Equal, Value: 0.1, Unit: CFUPerML},
		"unknown unit":           {What: Lead, Op: Equal, Value: 1, Unit: "mmol/L"},
		"no unit":                {What: Lead, Op: Equal, Value: 1},
		"negative":               {What: Lead, Op: Equal, Value: -1, Unit: MgPerL},
		"not a number":           {What: Lead, Op: Equal, Value: math.NaN(), Unit: MgPerL},
		"below nothing":          {What: Lead, Op: Less, Value: 0, Unit: MgPerL},
		"no operator":            {What: Lead, Value: 0, Unit: MgPerL},
		"substance not in table": {What: "gold", Op: Equal, Value: 1, Unit: MgPerL},
	} {
		if j, err := edition(t, ISO2019).Judge(Standard, r); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s: %+v, %v; want an InputError", name, j, err)
		}
	}
	if _, err := edition(t, Fluid2019).Judge(Standard, Result{What: Lead, Op: Equal, Value: 1, Unit: MgPerL}); err == nil {
		t.Error("the fluid edition judged lead")
	}
}

func TestJudgeDoubtsTheUnit(t *testing.T) {
	for _, tt := range []struct {
		value float64
		unit  Unit
		code  string
	}{
		{12, MgPerL, "unit_in_doubt"},    // 12 µg/L typed as mg/L: 1200 times the limit
		{0.005, UgPerL, "unit_in_doubt"}, // 5 µg/L typed as 0.005 µg/L
		{0, MgPerL, "zero_reported"},
		{0.011, MgPerL, ""},
	} {
		j, err := edition(t, ISO2019).Judge(Standard, Result{What: Aluminium, Op: Equal, Value: tt.value, Unit: tt.unit})
		if err != nil || tt.code != "" && !has(j.Cautions, tt.code) || tt.code == "" && len(j.Cautions) > 0 {
			t.Errorf("aluminium %v %s: %v, %v; want caution %q", tt.value, tt.unit, j.Cautions, err, tt.code)
		}
	}
	j, err := edition(t, ISO2019).Judge(Ultrapure, Result{What: ViableCount, Op: Equal, Value: 0, Unit: CFUPerML})
	if err != nil || j.Verdict != Within || !has(j.Cautions, "volume_in_doubt") {
		t.Errorf("a count of 0 for ultrapure water: %+v, %v", j, err)
	}
}

func has(list []unit.Caution, code string) bool {
	for _, c := range list {
		if c.Code == code {
			return true
		}
	}
	return false
}

func ExampleEdition_Judge() {
	iso, _ := FindEdition(DefaultEdition)
	j, _ := iso.Judge(Ultrapure, Result{What: ViableCount, Op: Less, Value: 1, Unit: CFUPerML})
	fmt.Println(j.Verdict)
	fmt.Println(j.Cautions[0].Text)
	// Output:
	// cannot_tell
	// viable count <1 does not show that the limit of 0.1 CFU/mL is kept: ask for a method or a sample volume that sees less.
}
