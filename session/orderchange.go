package session

import (
	"slices"
	"strings"
	"time"
)

// Terms are what the checks of a start line are held against that no entry of the
// session says: what the unit ordered, how the machine is described, who the person is,
// how long the machine may stand.
type Terms struct {
	Rx      *Prescription
	Machine Machine
	Who     Whom
	Child   bool // as of [Session.Child]
	Idle    IdleRule
}

// A TermsChange tells that some of the terms were written again between the opening of
// a session and its start.
type TermsChange struct {
	Then  Terms     // as they stood when the session was opened
	Until time.Time // when the first of them was written again
	By    string    // who ordered what holds since; empty where it is no order
	Lines []TermLine
}

// A TermLine is one line that was changed, and the terms of now with that line alone
// as it was.
type TermLine struct {
	Label, Was, Now string
	Back            Terms
}

// Terms are those by which a session is judged now.
func (h History) Terms(s *Session) Terms {
	return Terms{Rx: s.Rx, Machine: s.Machine, Who: h.Who, Child: s.Child, Idle: h.Idle}
}

// underTerms is the start line held against other terms. What only says that a plan or
// a session rests on another version is left out of it.
func (l startLine) underTerms(t Terms) startLine {
	then := *l.s
	then.Rx, then.Machine, then.Child = t.Rx, t.Machine, t.Child
	l.s, l.rx = &then, t.Rx
	if l.rx == nil {
		l.rx = &Prescription{}
	}
	l.h.Who, l.h.Idle, l.h.NewRx, l.h.Changed = t.Who, t.Idle, time.Time{}, nil
	if l.called != nil {
		l.called = map[string]named{} // what a thing is called depends on what is ordered
	}
	return l
}

// orderChanged keeps in sight what a check would hold up, or a value that it would
// look at, by the terms as they stood when the session was opened, and that is gone only
// because they were written again since. It holds nothing up: the unit may have been
// rung. A check that does not belong to the session any more is shown for it.
func (l startLine) orderChanged(check string, judge func(startLine, *verdict), v *verdict) {
	c := l.h.Changed
	if c == nil {
		return
	}
	var gone []finding
	for _, f := range l.stoodBy(c.Then, check, judge) {
		if !v.holdsAs(f) && !slices.ContainsFunc(gone, func(g finding) bool { return g.words() == f.words() }) {
			gone = append(gone, f)
		}
	}
	for _, f := range gone {
		v.inSight(finding{
			code: "order_changed", args: []any{f.words(), clock(c.Until), c.since(l, check, judge, f)},
			at: c.Until, entry: f.entry, place: f.place, told: f.told,
		})
	}
}

// stoodBy lists what a check finds by other terms that must not go without a trace:
// what stops, or would if nobody had been rung about it, each value out of a bound, and
// that no plan is made here. What is only not answered is not among it.
func (l startLine) stoodBy(t Terms, check string, judge func(startLine, *verdict)) []finding {
	then := l.underTerms(t)
	was := then.found(check, judge)
	if was.skip {
		return nil
	}
	was.answered(then.callsFor(check), l.at)
	list := slices.DeleteFunc(slices.Clone(was.findings), func(f finding) bool {
		value := f.entry != "" && f.kept != forgotten
		return f.state == Ready || f.state != StopHere && f.told == "" && !value || slices.Contains(besidesTerms, f.code)
	})
	if no := NoPlanOf(then.s, then.h, l.at); check == CheckPlan && no != nil && NoPlanOf(l.s, l.h, l.at) == nil {
		list = append(list, finding{state: Look, code: "no_plan_why", args: []any{no.Words()}})
	}
	return list
}

// besidesTerms are stops that say which version something rests on, and those of a plan
// that is told by its own line.
var besidesTerms = []string{"plan_weight", "plan_rx", "paper_beside", "rx_none", "rx_newer"}

// holdsAs reports whether a verdict says the same of the same entry already, as bad or
// worse, or that it was as bad.
func (v *verdict) holdsAs(f finding) bool {
	return !v.skip && slices.ContainsFunc(v.findings, func(g finding) bool {
		return g.subject() == f.subject() && g.entry == f.entry && (rank[g.state] >= rank[f.state] || g.told != "" || g.past)
	})
}

// inSight adds a look about something that is over, so that what is ready is still said
// beside it.
func (v *verdict) inSight(f finding) {
	if v.skip {
		v.skip, v.findings = false, nil
	}
	if !v.any() {
		for i := range v.findings {
			v.findings[i].always = true
			if f.limit == "" {
				f.limit = v.findings[i].limit
			}
		}
	}
	f.state = Look
	v.add(f)
}

// since names what was changed, and by whose order: of all lines those without which
// what was found would stand still; all of them where none decides alone.
func (c *TermsChange) since(l startLine, check string, judge func(startLine, *verdict), f finding) string {
	var decide []string
	for _, line := range c.Lines {
		if slices.ContainsFunc(l.stoodBy(line.Back, check, judge), func(g finding) bool { return g.subject() == f.subject() && g.entry == f.entry }) {
			decide = append(decide, line.words())
		}
	}
	if len(decide) == 0 {
		for _, line := range c.Lines {
			decide = append(decide, line.words())
		}
	}
	words := strings.Join(decide, "; ")
	if c.By != "" {
		words = worded("order_by", words, c.By)
	}
	return sentence(words)
}

func (t TermLine) words() string {
	if t.Was == t.Now {
		return worded("order_again", t.Label)
	}
	return worded("order_line", t.Label, t.Now, t.Was)
}
