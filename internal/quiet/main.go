// Quiet measures how often the program speaks over sessions in which nothing is wrong,
// and whether it says everything that is. It lives the lives of kinds of invented
// people in memory, with fixed chances, and asks after each start and each entry of a
// run what the pages would ask.
//
//	go run ./internal/quiet                    the tables, in Markdown
//	go run ./internal/quiet -codes             what was said, by code
//	go run ./internal/quiet -scatter           other scatters of a pressure, more lives
//	internal/quiet/testdata/first.sh COMMIT    the same lives judged by an earlier version
//	internal/quiet/testdata/whole.sh           "Quiet, and true events" of docs/performance.md
package main

import (
	"bufio"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"slices"
)

func main() {
	lives := flag.Int("lives", 10, "lives of each kind of people")
	sessions := flag.Int("sessions", 36, "sessions of each life")
	eventful := flag.Int("eventful", 5, "lives of each with the true events in them")
	byCode := flag.Bool("codes", false, "say what was said, by code")
	write := flag.String("write", "", "file to write the lives to, for another version of the program")
	first := flag.String("first", "", "file with what an earlier version said of them")
	within := flag.Float64("within", 6, "scatter of a pressure within a session, % of the usual one")
	spread := flag.Bool("scatter", false, "only the table of other scatters of a pressure, and of more lives")
	only := flag.String("kind", "", "only this kind of people, by its code")
	flag.Parse()
	if *within < 0 || *within >= 100*pressureTotal {
		fmt.Fprintf(os.Stderr, "quiet: -within must be from 0 to %g\n", 100*pressureTotal)
		os.Exit(2)
	}
	pressureWithin = *within / 100
	if *only != "" {
		kinds = slices.DeleteFunc(everybody(), func(p person) bool { return p.code != *only })
	}
	if *spread {
		if err := scatterTable(os.Stdout, *sessions); err != nil {
			fmt.Fprintln(os.Stderr, "quiet:", err)
			os.Exit(1)
		}
		return
	}
	if err := run(*lives, *sessions, *eventful, *byCode, *write, *first); err != nil {
		fmt.Fprintln(os.Stderr, "quiet:", err)
		os.Exit(1)
	}
}

// kinds are the people that are lived.
var kinds = everybody()

func run(lives, sessions, eventful int, byCode bool, write, first string) error {
	var out *json.Encoder
	if write != "" {
		f, err := os.Create(write)
		if err != nil {
			return err
		}
		defer f.Close()
		b := bufio.NewWriter(f)
		defer b.Flush()
		out = json.NewEncoder(b)
	}
	var was *results
	if first != "" {
		f, err := os.Open(first)
		if err != nil {
			return err
		}
		defer f.Close()
		if was, err = another(bufio.NewReader(f)); err != nil {
			return err
		}
	}
	now, err := measure([]string{unitAnswers, unitSilent, unitNone}, lives, sessions, eventful, out)
	if err != nil {
		return err
	}
	if byCode {
		codes(os.Stdout, now)
		return nil
	}
	table(os.Stdout, was, now)
	return nil
}
