package water

import (
	"slices"
	"testing"
	"time"

	"ebbline/unit"
)

var start = time.Date(2026, time.March, 3, 7, 0, 0, 0, time.UTC)

func codes(list []unit.Caution) []string {
	var out []string
	for _, c := range list {
		out = append(out, c.Code)
	}
	return out
}

func TestChlorineRule(t *testing.T) {
	good := ChlorineTest{
		At: start.Add(-20 * time.Minute), Op: Equal, MgPerL: 50,
		Method: ChlorineMethod{Name: "photometer", Least: 20, Lots: true},
		Lot:    "A1", Expires: unit.NewDate(2026, time.March, 31), After: "first carbon",
	}
	fine := ChlorineMethod{Name: "strip", Least: 100, Steps: []unit.Concentration{0, 100, 500}}
	coarse := ChlorineMethod{Name: "coarse strip", Least: 500, Steps: []unit.Concentration{0, 500, 1000}}
	for _, tt := range []struct {
		name    string
		change  func(*ChlorineTest)
		verdict Verdict
		codes   []string
	}{
		{"passes", func(*ChlorineTest) {}, Within, nil},
		{"on the limit", func(c *ChlorineTest) { c.MgPerL = 100 }, Within, nil},
		{"0.11", func(c *ChlorineTest) { c.MgPerL = 110 }, Over, []string{"chlorine_over"}},
		{"1.0", func(c *ChlorineTest) { c.MgPerL = 1000 }, Over, []string{"chlorine_over"}},
		{"below what it sees", func(c *ChlorineTest) { c.MgPerL = 0 }, Within, nil},
		{"<0.1", func(c *ChlorineTest) { c.Op, c.MgPerL = Less, 100 }, Within, nil},
		{"<0.5", func(c *ChlorineTest) { c.Op, c.MgPerL = Less, 500 }, CannotTell, []string{"chlorine_cannot_tell"}},
		{">0.1", func(c *ChlorineTest) { c.Op, c.MgPerL = Greater, 100 }, Over, []string{"chlorine_over"}},
		{"a step of 0.1", func(c *ChlorineTest) { c.Method, c.MgPerL = fine, 100 }, Within, nil},
		{"none on a strip that sees 0.1", func(c *ChlorineTest) { c.Method, c.MgPerL = fine, 0 }, Within, nil},
		{"0 on a strip that sees 0.5", func(c *ChlorineTest) { c.Method, c.MgPerL = coarse, 0 }, CannotTell, []string{"chlorine_cannot_tell", "method_cannot_read_limit"}},
		{"<0.1 claimed of such a strip", func(c *ChlorineTest) { c.Method, c.Op, c.MgPerL = coarse, Less, 100 }, CannotTell, []string{"chlorine_cannot_tell", "method_cannot_read_limit"}},
		{"0.5 on such a strip", func(c *ChlorineTest) { c.Method, c.MgPerL = coarse, 500 }, Over, []string{"chlorine_over", "method_cannot_read_limit"}},
		{"a method with no least", func(c *ChlorineTest) { c.Method.Least = 0 }, Within, []string{"method_cannot_read_limit"}},
		{"between the steps", func(c *ChlorineTest) { c.Method, c.MgPerL = fine, 70 }, Within, []string{"not_a_step"}},
		{"no lot", func(c *ChlorineTest) { c.Lot = "" }, Within, []string{"lot_missing"}},
		{"lot on its last day", func(c *ChlorineTest) { c.Expires = unit.NewDate(2026, time.March, 3) }, Within, nil},
		{"lot the day after", func(c *ChlorineTest) { c.Expires = unit.NewDate(2026, time.March, 2) }, Within, []string{"lot_expired"}},
		{"60 minutes old", func(c *ChlorineTest) { c.At = start.Add(-time.Hour) }, Within, nil},
		{"61 minutes old", func(c *ChlorineTest) { c.At = start.Add(-61 * time.Minute) }, Within, []string{"too_old"}},
		{"yesterday", func(c *ChlorineTest) { c.At = c.At.Add(-24 * time.Hour) }, Within, []string{"too_old"}},
		{"after the start", func(c *ChlorineTest) { c.At = start.Add(time.Minute) }, Within, []string{"after_start"}},
		{"no time", func(c *ChlorineTest) { c.At = time.Time{} }, Within, []string{"time_missing"}},
		{"no operator", func(c *ChlorineTest) { c.Op = "" }, CannotTell, []string{"chlorine_cannot_tell"}},
	} {
		c := good
		tt.change(&c)
		got := DefaultChlorineRule().Judge(c, start)
		if got.Verdict != tt.verdict || !slices.Equal(codes(got.Cautions), tt.codes) || got.Passes != (tt.codes == nil) {
			t.Errorf("%s: %s, passes %v, %v; want %s, %v", tt.name, got.Verdict, got.Passes, codes(got.Cautions), tt.verdict, tt.codes)
		}
	}
}

// Of the methods listed, only those that see 0.1 mg/L let a clean reading pass.
func TestChlorineMethods(t *testing.T) {
	for _, m := range ChlorineMethods() {
		s := DefaultChlorineRule().Judge(ChlorineTest{At: start, Op: Equal, MgPerL: 0, Method: m, Lot: "A1"}, start)
		if sees := m.Least <= 100; s.Passes != sees {
			t.Errorf("%s, least %s mg/L: passes %v", m.Name, m.Least, s.Passes)
		}
	}
}

func TestChlorineRepeats(t *testing.T) {
	r := DefaultChlorineRule()
	for _, tt := range []struct {
		hours float64
		want  []time.Duration
	}{
		{3, nil}, {4, nil}, {4.5, []time.Duration{4 * time.Hour}},
		{9, []time.Duration{4 * time.Hour, 8 * time.Hour}},
	} {
		var got []time.Duration
		for _, at := range r.Repeats(start, time.Duration(tt.hours*float64(time.Hour))) {
			got = append(got, at.Sub(start))
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%v hours: tests after %v, want %v", tt.hours, got, tt.want)
		}
	}
	r.RepeatAfter = 0
	if got := r.Repeats(start, 9*time.Hour); got != nil {
		t.Errorf("not asked, yet due at %v", got)
	}
}

func TestIdentical(t *testing.T) {
	zeros := make([]unit.Concentration, 30)
	if got := Identical("Total chlorine", zeros); len(got) != 1 || got[0].Code != "identical_results" {
		t.Errorf("30 zeros: %v", got)
	}
	if got := Identical("Total chlorine", zeros[:29]); got != nil {
		t.Errorf("29 zeros: %v", got)
	}
	zeros[10] = 50
	if got := Identical("Total chlorine", zeros); got != nil {
		t.Errorf("another value among them: %v", got)
	}
	if got := Identical("Total chlorine", nil); got != nil {
		t.Errorf("nothing at all: %v", got)
	}
}
