package calc

import (
	"cmp"
	"fmt"
	"io"
	"slices"
	"strings"
)

// A Formula is one line of what the program reckons by: where it is from, how
// well it is known, and which tests hold it.
type Formula struct {
	Name     string // as the trade calls it
	Room     string // the package that computes it
	Formula  string
	Takes    string // units and range, and what it gives; outside the range it is refused
	Source   string
	Standing string // one of the standings
	Tests    []string
}

// standings are the ways in which a formula can be known.
var standings = []string{
	"read",             // the formula and its constants were read in the source named
	"read, restated",   // they were read in a text that restates the source
	"from memory",      // the source is named from memory and was not read
	"definition",       // nothing to know
	"derived, checked", // derived here and checked against an independent reckoning
}

// The values first: the page counts them.
//go:generate go test . -run TestOutsideValuesAreCurrent -update
//go:generate go test . -run TestScienceIsCurrent -update

// formulas is filled by the science_*.go files, one for each room.
var formulas []Formula

// Formulas lists all formulas, by room and then in the order of the room.
func Formulas() []Formula {
	list := slices.Clone(formulas)
	slices.SortStableFunc(list, func(a, b Formula) int { return cmp.Compare(a.Room, b.Room) })
	return list
}

// WriteScience writes the list of formulas as a page of Markdown.
func WriteScience(w io.Writer) error {
	var b strings.Builder
	b.WriteString("# Formulas: source, standing and tests\n\n" +
		"Made by `go generate ./internal/calc` from what the rooms and their tests say; do not edit.\n\n" +
		"Standing: *read* – formula and constants were read in the source named; *read, restated* – in a text that restates it; " +
		"*from memory* – not read; *definition* – nothing to know; *derived, checked* – derived here and checked against an independent reckoning. " +
		"What lies outside a range is refused with a sentence, never reckoned with; where only a caution is given, the line says so.\n")
	room, tests := "", map[string]bool{}
	for _, f := range Formulas() {
		if f.Room != room {
			room = f.Room
			fmt.Fprintf(&b, "\n## %s\n\n| what | formula | units and range | source | standing | tests |\n|---|---|---|---|---|---|\n", room)
		}
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s |\n", cell(f.Name), cell(f.Formula), cell(f.Takes), cell(f.Source), f.Standing, strings.Join(f.Tests, ", "))
		for _, t := range f.Tests {
			tests[f.Room+"."+t] = true
		}
	}
	fmt.Fprintf(&b, "\n%d formulas, %d tests that hold them.\n", len(formulas), len(tests))

	fmt.Fprintf(&b, "\n## Values from outside\n\n%d values that the formulas are held to, from the literature (*read*, or from *memory*) "+
		"or *computed* by an independent script.\n\n| value | of | expected | source | | test |\n|---|---|---|---|---|---|\n", len(outsideValues))
	for _, v := range outsideValues {
		fmt.Fprintf(&b, "| %s | %s | %s | %s | %s | %s |\n", v.ID, cell(v.Quantity), cell(v.Expected), cell(v.Source), v.Provenance, v.Test)
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// cell keeps a text from breaking the table it stands in.
func cell(s string) string { return strings.ReplaceAll(s, "|", "\\|") }
