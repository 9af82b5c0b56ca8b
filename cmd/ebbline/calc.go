package main

import (
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"golang.org/x/term"

	"ebbline/internal/calc"
)

var calcVerb = verb{
	name:  "calc",
	args:  "[TOPIC [--explain] [--example]]",
	short: "compute from a JSON object; touches no record",
	long: `
Reads one JSON object on standard input and writes one on standard output: the
same reckoning that the pages use, open to a spreadsheet, a script or a check.
Every key carries its unit. Input that is not accepted gives nothing on standard
output, one sentence a line on standard error, and exit status 2.

Without a topic it lists the topics.

  ebbline calc fluid --example | ebbline calc fluid
  ebbline calc fluid --explain < tonight.json`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		explain := fs.Bool("explain", false, "print each term, formula and source for a person instead of JSON")
		example := fs.Bool("example", false, "print an input that works; with -explain, explain that one")
		return func(t *terminal, args []string) error { return runCalc(t, args, *explain, *example) }
	},
}

func runCalc(t *terminal, args []string, explain, example bool) error {
	if len(args) == 0 && !explain && !example {
		listTopics(&t.out)
		return nil
	}
	if len(args) != 1 {
		return &usageError{verb: "calc", words: "Name one topic; `ebbline calc` lists them."}
	}
	topic, ok := calc.Find(args[0])
	if !ok {
		var names []string
		for _, one := range calc.Topics() {
			names = append(names, one.Name)
		}
		return refusal{fmt.Sprintf("topic: %q is not known; accepted are %s", args[0], strings.Join(names, ", "))}
	}
	if example && !explain {
		fmt.Fprintln(&t.out, topic.Example)
		return nil
	}
	in := t.in
	if example {
		in = strings.NewReader(topic.Example)
	} else if f, ok := in.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		fmt.Fprintf(t.err, "Type one JSON object, then end the input. `ebbline calc %s --example` prints one.\n", topic.Name)
	}
	answer, err := topic.Answer(in)
	if problems := (calc.Problems)(nil); errors.As(err, &problems) {
		return refusal(problems)
	}
	if err != nil {
		return err
	}
	if explain {
		explainAnswer(&t.out, topic, answer)
		return nil
	}
	out, err := answer.JSON()
	if err != nil {
		return err
	}
	t.out.Write(append(out, '\n'))
	return nil
}

func listTopics(w io.Writer) {
	fmt.Fprintln(w, "Topics:")
	for _, t := range calc.Topics() {
		fmt.Fprintf(w, "  %-10s %s\n", t.Name, t.Summary)
	}
	fmt.Fprintln(w, "\n`ebbline calc TOPIC --example` prints an input that works.")
}

// explainAnswer prints each step of a reckoning with its formula and source
// below it, then the cautions and the sources of the whole.
func explainAnswer(w io.Writer, topic calc.Topic, a calc.Answer) {
	fmt.Fprintf(w, "%s: %s\n\n", topic.Name, topic.Summary)
	wide := 0
	for _, s := range a.Steps {
		wide = max(wide, utf8.RuneCountInString(s.Term))
	}
	for _, s := range a.Steps {
		fmt.Fprintf(w, "%-*s  %s\n", wide, s.Term, s.Value)
		if s.Formula != "" {
			fmt.Fprintf(w, "    = %s\n", s.Formula)
		}
		if s.Source != "" {
			fmt.Fprintf(w, "    source: %s\n", s.Source)
		}
	}
	printList(w, "Cautions", cautionWords(a))
	printList(w, "Sources", a.Sources)
}

func cautionWords(a calc.Answer) []string {
	var words []string
	for _, c := range a.Cautions {
		words = append(words, c.Text)
	}
	return words
}

// printList prints a heading and its lines, and nothing when there are none.
func printList(w io.Writer, heading string, lines []string) {
	if len(lines) == 0 {
		return
	}
	fmt.Fprintf(w, "\n%s:\n", heading)
	for _, one := range lines {
		fmt.Fprintf(w, "  - %s\n", one)
	}
}
