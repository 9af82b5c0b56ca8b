package main

import (
	"encoding/json"
	"fmt"
	"io"
	"slices"
	"strings"
)

// A group is what the table counts together: sessions of one kind of people, whose
// unit meets what is asked in one way, before that and after.
type group struct {
	unit, kind string
	after      bool
}

// results are what one version of the program said, by group and by event.
type results struct {
	quiet  map[group]*tally
	events map[string]count
	missed []string // kind of people and event
}

func newResults() *results { return &results{map[group]*tally{}, map[string]count{}, nil} }

func (r *results) add(unit, kind string, s *said) {
	both := []string{kind, ""} // "" is all ten
	if slices.ContainsFunc(more(), func(p person) bool { return p.code == kind }) {
		both = both[:1]
	}
	for _, k := range both {
		g := group{unit, k, s.n > answerAfter}
		if r.quiet[g] == nil {
			r.quiet[g] = &tally{}
		}
		r.quiet[g].add(s)
	}
}

func (r *results) event(kind, code string, said bool) {
	c := r.events[code]
	c.made++
	if said {
		c.said++
	} else {
		r.missed = append(r.missed, kind+" "+code)
	}
	r.events[code] = c
}

// measure lives the lives of every kind of people, and writes them to out, nil for
// nowhere. eventful is how many lives of each have the true events in them.
func measure(units []string, lives, sessions, eventful int, out *json.Encoder) (*results, error) {
	r := newResults()
	for _, how := range units {
		for _, p := range kinds {
			for seed := range lives {
				all, _, err := live(p, how, uint64(seed+1), sessions, out, nil)
				if err != nil {
					return nil, err
				}
				for _, s := range all {
					r.add(how, p.code, s)
				}
			}
			for seed := range eventful {
				if err := r.eventsOf(p, how, uint64(1000+seed), out); err != nil {
					return nil, err
				}
			}
		}
	}
	return r, nil
}

// another reads what an earlier version said of the same lives.
func another(in io.Reader) (*results, error) {
	r := newResults()
	for dec := json.NewDecoder(in); ; {
		var one struct {
			Unit, Kind, Event string
			N                 int
			Said              bool
			Looks, Stops      []string
			Open, Beyond      []string
		}
		if err := dec.Decode(&one); err == io.EOF {
			return r, nil
		} else if err != nil {
			return nil, err
		}
		if one.Event != "" {
			r.event(one.Kind, one.Event, one.Said)
			continue
		}
		s := newSaid(one.N)
		for _, of := range []struct {
			list []string
			in   map[string]bool
		}{{one.Looks, s.looks}, {one.Stops, s.stops}, {one.Open, s.open}} {
			for _, rule := range of.list {
				of.in[rule] = true
			}
		}
		for _, rule := range one.Beyond {
			s.beyond = append(s.beyond, beyond{rule: rule, said: s.looks[rule] || s.stops[rule]})
		}
		r.add(one.Unit, one.Kind, s)
	}
}

// share writes how many of so many, in percent.
func share(n, of int) string {
	if of == 0 {
		return "–"
	}
	return fmt.Sprintf("%.1f %%", 100*float64(n)/float64(of))
}

// table prints both tables in Markdown: with what the first version said, nil where
// it was not asked.
func table(w io.Writer, first, now *results) {
	fmt.Fprintln(w, "| people | sessions 1 to 6: look or stop | answered, from the 7th: uneventful sessions | look | stop | by chance beyond the unit’s figure: sessions, of which said | never answered: look or stop | “sets none”: look or stop |")
	fmt.Fprintln(w, "|---|---|---|---|---|---|---|---|")
	row := func(title string, r *results, kind string) {
		at := func(unit string, after bool) *tally {
			if t := r.quiet[group{unit, kind, after}]; t != nil {
				return t
			}
			return &tally{}
		}
		before, after := at(unitAnswers, false), at(unitAnswers, true)
		spoke := func(t *tally) string { return share(t.spoke, t.sessions) }
		fmt.Fprintf(w, "| %s | %s | %d | %s | %s | %s | %s | %s |\n", title, spoke(before), after.sessions, share(after.looked, after.sessions), share(after.stopped, after.sessions),
			count{after.chance, after.chanceSaid}.text(),
			spoke(at(unitSilent, true)), spoke(at(unitNone, true)))
	}
	if first != nil {
		row("**the first version**, all ten", first, "")
	}
	row("**this version**, all ten", now, "")
	for _, p := range everybody() {
		row(p.title, now, p.code)
	}
	fmt.Fprintln(w)
	rules(w, now)
	fmt.Fprintln(w)
	fmt.Fprintln(w, "| what goes wrong | said at the next look | by the first version |\n|---|---|---|")
	for _, ev := range events() {
		was := "–"
		if first != nil {
			was = first.events[ev.code].text()
		}
		fmt.Fprintf(w, "| %s | %s | %s |\n", ev.title, now.events[ev.code].text(), was)
	}
}

func (c count) text() string { return fmt.Sprintf("%d of %d", c.said, c.made) }

// rules prints by rule the share of sessions with a look or a stop, over all kinds of
// people, and those of whom it speaks most.
func rules(w io.Writer, r *results) {
	all := map[string]int{}
	for g, t := range r.quiet {
		if g.kind == "" {
			for rule, n := range t.byRule {
				all[rule] += n
			}
		}
	}
	fmt.Fprintln(w, "| rule | sessions 1 to 6 | answered, from the 7th | never answered | “sets none” | most, never answered |\n|---|---|---|---|---|---|")
	for _, rule := range rulesOf(all) {
		cell := func(unit string, after bool) string {
			t := r.quiet[group{unit, "", after}]
			if t == nil {
				return "–"
			}
			return share(t.byRule[rule], t.sessions)
		}
		most, whose := 0.0, "–"
		for _, p := range people() {
			if t := r.quiet[group{unitSilent, p.code, true}]; t != nil {
				if part := float64(t.byRule[rule]) / float64(t.sessions); part > most {
					most, whose = part, p.title+" "+share(t.byRule[rule], t.sessions)
				}
			}
		}
		fmt.Fprintf(w, "| `%s` | %s | %s | %s | %s | %s |\n", rule, cell(unitAnswers, false), cell(unitAnswers, true), cell(unitSilent, true), cell(unitNone, true), whose)
	}
}

// codes prints for each group what was said, by code.
func codes(w io.Writer, r *results) {
	for _, unit := range []string{unitAnswers, unitSilent, unitNone} {
		for _, p := range everybody() {
			for _, after := range []bool{false, true} {
				t := r.quiet[group{unit, p.code, after}]
				if t == nil {
					continue
				}
				var parts []string
				for _, c := range rulesOf(t.byCode) {
					parts = append(parts, fmt.Sprintf("%s %d", c, t.byCode[c]))
				}
				fmt.Fprintf(w, "%s, %s, after %v: %d sessions, look %d, stop %d, open %d, note %d; beyond by chance %d, said %d, %v\n    %s\n",
					unit, p.code, after, t.sessions, t.looked, t.stopped, t.opened, t.noted, t.chance, t.chanceSaid, t.byChance, strings.Join(parts, ", "))
			}
		}
	}
	for _, m := range r.missed {
		fmt.Fprintln(w, "missed:", m)
	}
}
