package main

import (
	"flag"
	"fmt"
	"io"
	"strings"
)

// verbs is the one table of commands, in the order of the list. It is filled
// at start, since the command that lists the table stands in it.
var verbs []verb

func init() {
	verbs = []verb{
		serveVerb,
		demoVerb,
		recordVerb,
		showVerb,
		sheetVerb,
		doseVerb,
		weekVerb,
		dueVerb,
		waterVerb,
		shelfVerb,
		orderVerb,
		recallVerb,
		calendarVerb,
		schemaVerb,
		whereVerb,
		verifyVerb,
		copyVerb,
		sealVerb,
		exportVerb,
		calcVerb,
		scienceVerb,
		helpVerb,
		versionVerb,
	}
}

func findVerb(name string) (verb, bool) {
	for _, v := range verbs {
		if v.name == name {
			return v, true
		}
	}
	return verb{}, false
}

func listVerbs(w io.Writer) {
	fmt.Fprintln(w, "Ebbline is a notebook that can count, for haemodialysis at home.")
	fmt.Fprintln(w, "\nCommands:")
	for _, v := range verbs {
		fmt.Fprintf(w, "  %-9s %s\n", v.name, v.short)
	}
	fmt.Fprintln(w, "\n`ebbline help COMMAND` says more about one.")
}

// help prints all there is to say about a verb.
func (v verb) help(w io.Writer) {
	fs := flag.NewFlagSet(v.name, flag.ContinueOnError)
	v.setUp(fs)
	fmt.Fprintf(w, "%s: %s\n\nUsage: %s\n", v.name, v.short, strings.TrimSpace("ebbline "+v.name+" "+v.args))
	if v.long != "" {
		fmt.Fprintf(w, "\n%s\n", strings.TrimSpace(v.long))
	}
	first := true
	fs.VisitAll(func(f *flag.Flag) {
		if first {
			fmt.Fprint(w, "\nFlags:\n")
			first = false
		}
		value, usage := flag.UnquoteUsage(f)
		fmt.Fprintf(w, "  %-16s %s\n", strings.TrimSpace("-"+f.Name+" "+value), usage)
	})
}

var helpVerb = verb{
	name:  "help",
	args:  "[COMMAND]",
	short: "list the commands, or say all about one",
	setUp: func(*flag.FlagSet) func(*terminal, []string) error { return runHelp },
}

func runHelp(t *terminal, args []string) error {
	switch len(args) {
	case 0:
		listVerbs(&t.out)
		return nil
	case 1:
		if v, ok := findVerb(args[0]); ok {
			v.help(&t.out)
			return nil
		}
		return &usageError{words: fmt.Sprintf("There is no command %q.", args[0]), list: true}
	}
	return &usageError{words: "Ask about one command at a time.", list: true}
}

// noWords is the complaint of a verb that takes flags only.
func noWords(name string, args []string) error {
	if len(args) == 0 {
		return nil
	}
	return &usageError{verb: name, words: fmt.Sprintf("`ebbline %s` takes no words, but was given %q.", name, strings.Join(args, " "))}
}
