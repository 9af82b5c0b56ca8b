package main

import (
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"strings"

	"ebbline/internal/calc"
)

var scienceVerb = verb{
	name:  "science",
	short: "list every formula with its source, how well it is known, and its tests",
	long: `
Lists the formulas that the program reckons by, room by room: where each is
from, whether it was read there or is known from memory, and which tests hold
it. docs/science.md is the same list as a page. --json prints it for a program.`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		asJSON := fs.Bool("json", false, "print JSON")
		return func(t *terminal, args []string) error { return runScience(t, args, *asJSON) }
	},
}

// formulaOut is one line of `science --json`.
type formulaOut struct {
	Room     string   `json:"room"`
	Name     string   `json:"name"`
	Formula  string   `json:"formula"`
	Takes    string   `json:"takes"`
	Source   string   `json:"source"`
	Standing string   `json:"standing"`
	Tests    []string `json:"tests"`
}

func runScience(t *terminal, args []string, asJSON bool) error {
	if err := noWords("science", args); err != nil {
		return err
	}
	if asJSON {
		out := []formulaOut{}
		for _, f := range calc.Formulas() {
			out = append(out, formulaOut{f.Room, f.Name, f.Formula, f.Takes, f.Source, f.Standing, f.Tests})
		}
		return printJSON(&t.out, out)
	}
	listFormulas(&t.out)
	return nil
}

func printJSON(w io.Writer, v any) error {
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(v)
}

func listFormulas(w io.Writer) {
	room, n, tests := "", 0, map[string]bool{}
	for _, f := range calc.Formulas() {
		if f.Room != room {
			if room != "" {
				fmt.Fprintln(w)
			}
			room = f.Room
			fmt.Fprintln(w, room)
		}
		n++
		fmt.Fprintf(w, "  %s (%s)\n    %s\n    takes:  %s\n    source: %s\n    tests:  %s\n", f.Name, f.Standing, f.Formula, f.Takes, f.Source, strings.Join(f.Tests, ", "))
		for _, name := range f.Tests {
			tests[f.Room+"."+name] = true
		}
	}
	fmt.Fprintf(w, "\n%d formulas, %d tests that hold them.\n", n, len(tests))
}
