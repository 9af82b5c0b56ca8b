package main

import (
	"fmt"
	"io"
	"strconv"
	"strings"

	"ebbline/record"
)

// entriesPage writes the page that explains every kind of entry.
func entriesPage(w io.Writer) {
	fmt.Fprint(w, `# Entries

Everything that happened is an entry: one JSON object a line, for `+"`ebbline record`"+`.
This page is made from the table of kinds by `+"`ebbline schema -page`"+`; do not edit it.

Entries are only ever added. A correction is a new entry of the same kind that
names the one it corrects and says why; a mistake is taken out of the count with
a `+"`struck`"+` entry and stays in sight. Numbers are written in the unit that ends
their key, with no more decimals than are recorded. A bound has two steps: outside
the first a value is refused; outside the second it is asked about, and taken when
it stands a second time under `+"`again`"+`. A measured value that is not there is left
out, or named under `+"`missing`"+` with one of `)
	for i, way := range waysOfMissing {
		if i > 0 {
			fmt.Fprint(w, ", ")
		}
		fmt.Fprintf(w, "`%s`", way)
	}
	fmt.Fprint(w, `; it is never a zero.

## What stands around the values

| key | needed | what |
|---|---|---|
`)
	for _, e := range envelope() {
		fmt.Fprintf(w, "| `%s` | %s | %s |\n", e.key, yesOrNothing(e.required), e.doc)
	}
	fmt.Fprint(w, "\n## Kinds\n")
	for _, k := range record.Kinds() {
		kindSection(w, k)
	}
}

func kindSection(w io.Writer, k *record.Kind) {
	fmt.Fprintf(w, "\n### %s\n\n%s: %s", k.Name, k.Title, k.Doc)
	switch {
	case k.Live:
		fmt.Fprint(w, " It belongs to a session that is running.")
	case k.Session:
		fmt.Fprint(w, " It belongs to a session.")
	}
	if k.Once {
		fmt.Fprint(w, " Once in a session; a second one corrects the first.")
	}
	fmt.Fprintln(w)
	if len(k.Fields) == 0 {
		fmt.Fprint(w, "\nIt holds no values: `{}`.\n")
		return
	}
	fmt.Fprint(w, "\n| key | needed | what | form | refused outside | asked about outside |\n|---|---|---|---|---|---|\n")
	for _, f := range k.Fields {
		what := f.Label
		if f.Doc != "" {
			what += " (" + f.Doc + ")"
		}
		fmt.Fprintf(w, "| `%s` | %s | %s | %s | %s | %s |\n", f.Key, yesOrNothing(!f.Optional), what, form(f), bounds(f.Refuse), bounds(f.Ask))
	}
}

// form says in a few words how a value is written.
func form(f record.Field) string {
	if f.Choices != nil {
		var words []string
		for _, c := range f.Choices {
			words = append(words, "`"+c.Value+"`")
		}
		return strings.Join(words, ", ")
	}
	s := map[string]string{
		record.TypeNumber: "number", record.TypeWhole: "whole number", record.TypeText: "text", record.TypeYesNo: "true or false",
		record.TypeDate: "date, YYYY-MM-DD", record.TypeList: "list of words", record.TypeNested: "see `ebbline schema`",
	}[f.Type()]
	if unit := f.Symbol(); unit != "" {
		s = unit
		if n := f.Decimals(); n > 0 {
			s += ", to 0." + strings.Repeat("0", n-1) + "1"
		}
	}
	if f.Measured {
		s += ", measured"
	}
	return s
}

func bounds(r *record.Range) string {
	if r == nil {
		return ""
	}
	return strconv.FormatFloat(r.Lo, 'f', -1, 64) + " to " + strconv.FormatFloat(r.Hi, 'f', -1, 64)
}

func yesOrNothing(b bool) string {
	if b {
		return "yes"
	}
	return ""
}
