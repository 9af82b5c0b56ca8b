package kinetics

import (
	"encoding/json"
	"errors"
	"math"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"testing"

	"ebbline/unit"
)

// A checkRow is one value from the literature, or worked by an independent
// script, with the inputs it belongs to.
type checkRow struct {
	ID, Quantity string
	Inputs       map[string]any
	Expected     any
	Tolerance    float64
	Source       string
	Provenance   string
}

// A cover says what holds a row: a reckoning by our formula, a named test, or
// the reason why no formula of this room answers it.
type cover struct {
	ids  string // a pattern of path.Match
	by   func(in checkInputs) ([]float64, error)
	only int // how many of the expected values the reckoning answers; 0 for all
	test string
	room string // where that test stands, when not here
	none string
}

func readChecks(t *testing.T) []checkRow {
	t.Helper()
	raw, err := os.ReadFile("testdata/checks.json")
	if err != nil {
		t.Fatal(err)
	}
	var rows []checkRow
	if err := json.Unmarshal(raw, &rows); err != nil {
		t.Fatal(err)
	}
	if len(rows) < 200 {
		t.Fatalf("only %d check rows were found", len(rows))
	}
	return rows
}

// TestChecks holds every row that has a formula in this room, and fails on a
// row that nobody has looked at.
func TestChecks(t *testing.T) {
	known := map[string]map[string]bool{"": testNames(t, "."), "internal/calc": testNames(t, "../internal/calc")}
	reckoned, elsewhere, without := 0, 0, 0
	used := make([]bool, len(covers))
	for _, row := range readChecks(t) {
		c, i := coverOf(t, row.ID)
		if c == nil {
			t.Errorf("%s (%s) is not in the table of what holds it", row.ID, row.Quantity)
			continue
		}
		used[i] = true
		switch {
		case c.by != nil:
			reckoned++
			t.Run(row.ID, func(t *testing.T) { row.hold(t, c) })
		case c.test != "":
			elsewhere++
			if !known[c.room][c.test] {
				t.Errorf("%s is said to be held by %s, which is not in %q", row.ID, c.test, c.room)
			}
		case c.none != "":
			without++
		default:
			t.Errorf("%s has neither a reckoning, a test, nor a reason", row.ID)
		}
	}
	for i, c := range covers {
		if !used[i] {
			t.Errorf("no row matches %s", c.ids)
		}
	}
	t.Logf("%d rows reckoned here, %d held by other tests, %d without a formula here", reckoned, elsewhere, without)
}

func coverOf(t *testing.T, id string) (*cover, int) {
	t.Helper()
	for i := range covers {
		match, err := path.Match(covers[i].ids, id)
		if err != nil {
			t.Fatalf("%s: %v", covers[i].ids, err)
		}
		if match {
			return &covers[i], i
		}
	}
	return nil, 0
}

// slack is what a tolerance of 0 leaves for the last digits of a float64.
const slack = 1e-12

func (row checkRow) hold(t *testing.T, c *cover) {
	got, err := c.by(checkInputs{t, row.Inputs})
	if row.Expected == "error" {
		if !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s = %v, %v; want an InputError (%s)", row.Quantity, got, err, row.Source)
		}
		return
	}
	if err != nil {
		t.Fatalf("%s: %v (%s)", row.Quantity, err, row.Source)
	}
	want := row.values(t)
	if c.only > 0 && c.only < len(want) {
		want = want[:c.only]
	}
	if len(got) != len(want) {
		t.Fatalf("%s = %v, want %v", row.Quantity, got, want)
	}
	for i := range want {
		if !(math.Abs(got[i]-want[i]) <= row.Tolerance+slack*math.Abs(want[i])) {
			t.Errorf("%s [%d] = %v, want %v ± %v (%s; %s)", row.Quantity, i, got[i], want[i], row.Tolerance, row.Source, row.Provenance)
		}
	}
}

func (row checkRow) values(t *testing.T) []float64 {
	t.Helper()
	list, ok := row.Expected.([]any)
	if !ok {
		list = []any{row.Expected}
	}
	var v []float64
	for _, e := range list {
		f, ok := e.(float64)
		if !ok {
			t.Fatalf("%s: expected %v is not a number", row.ID, e)
		}
		v = append(v, f)
	}
	return v
}

// checkInputs reads the inputs of a row; a missing one fails the test.
type checkInputs struct {
	t      *testing.T
	values map[string]any
}

func (in checkInputs) num(key string) float64 {
	in.t.Helper()
	f, ok := in.values[key].(float64)
	if !ok {
		in.t.Fatalf("input %s is %v, not a number", key, in.values[key])
	}
	return f
}

func (in checkInputs) or(key string, otherwise float64) float64 {
	if _, ok := in.values[key]; !ok {
		return otherwise
	}
	return in.num(key)
}

func (in checkInputs) text(key string) string {
	in.t.Helper()
	s, ok := in.values[key].(string)
	if !ok {
		in.t.Fatalf("input %s is %v, not a text", key, in.values[key])
	}
	return s
}

func (in checkInputs) list(key string) []float64 {
	in.t.Helper()
	var v []float64
	for _, e := range in.values[key].([]any) {
		v = append(v, e.(float64))
	}
	return v
}

var testFunc = regexp.MustCompile(`(?m)^func (Test\w+)\(`)

// testNames lists the tests of a package.
func testNames(t *testing.T, folder string) map[string]bool {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(folder, "*_test.go"))
	if err != nil || len(files) == 0 {
		t.Fatalf("no test files: %v", err)
	}
	names := map[string]bool{}
	for _, f := range files {
		raw, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range testFunc.FindAllSubmatch(raw, -1) {
			names[string(m[1])] = true
		}
	}
	return names
}
