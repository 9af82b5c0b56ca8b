package main

import (
	"fmt"
	"io"
)

// scatterTable prints how often the program speaks once the unit answered, where a
// pressure scatters by other shares of the usual one within a session, and over more
// lives. The lives of the first three columns are the same but for that.
func scatterTable(w io.Writer, sessions int) error {
	usual := pressureWithin
	defer func() { pressureWithin = usual }()
	columns := []struct {
		within float64
		lives  int
	}{{0.04, 10}, {0.06, 10}, {0.08, 10}, {0.06, 25}}
	fmt.Fprint(w, "| people, look from the 7th session, answered |")
	var all []*results
	for _, c := range columns {
		pressureWithin = c.within
		r, err := measure([]string{unitAnswers}, c.lives, sessions, 0, nil)
		if err != nil {
			return err
		}
		all = append(all, r)
		fmt.Fprintf(w, " %d lives, within %.0f %% |", c.lives, 100*c.within)
	}
	fmt.Fprintln(w, "\n|---|---|---|---|---|")
	for _, p := range kinds {
		fmt.Fprintf(w, "| %s |", p.title)
		for _, r := range all {
			fmt.Fprintf(w, " %s |", r.quiet[group{unitAnswers, p.code, true}].spokeText())
		}
		fmt.Fprintln(w)
	}
	return nil
}

// spokeText writes the share of uneventful sessions with a look, that with a stop
// where there is one, and what of the others was said.
func (t *tally) spokeText() string {
	if t == nil {
		return "–"
	}
	text := share(t.looked, t.sessions)
	if t.stopped > 0 {
		text += fmt.Sprintf(", stop %s (%d)", share(t.stopped, t.sessions), t.stopped)
	}
	if t.chance > 0 {
		text += "; beyond " + count{t.chance, t.chanceSaid}.text()
	}
	return text
}
