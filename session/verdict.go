package session

import (
	"slices"
	"strings"
	"time"

	"ebbline/unit"
)

// A finding is one thing that a check found: a code and the values that decided,
// which [says] puts into words.
type finding struct {
	state CheckState
	code  string
	args  []any
	limit string    // that it was held against, and whose it is
	at    time.Time // of the entry that decided; zero where none did
	asks  bool      // a stop that waits for the unit's word: a call answers it
	kept  keeping   // what is left of a stop when a better value follows it
	told  string    // what was said on the telephone, once it was
	when  string    // said before it, where two values of one kind stand beside each other
	first bool      // the ambulance is rung first, then the unit
}

// keeping is what becomes of a stop when a better value of the same kind
// follows: a fever that a tablet took away was a fever.
type keeping int

const (
	forgotten  keeping = iota // nothing is left of it
	looked                    // both values stay in sight
	keptAsStop                // it stays a stop until the unit was rung about it
)

// words puts the finding into one or two sentences.
func (f finding) words() string {
	words := worded(f.code, f.args...)
	if f.when != "" {
		words = worded("at", f.when, words)
	}
	if f.told != "" {
		words += " " + f.told
	}
	return words
}

// A verdict is a check in the making.
type verdict struct {
	findings []finding
	limit    string // of the check, where no finding has one of its own
	skip     bool   // the check does not belong to this session
}

func (v *verdict) add(f finding) *finding {
	v.findings = append(v.findings, f)
	return &v.findings[len(v.findings)-1]
}

// moment is when an entry happened; zero for none.
func moment(e *Event) time.Time {
	if e == nil {
		return time.Time{}
	}
	return e.At
}

// ready says what is so where nothing else was found.
func (v *verdict) ready(code string, args ...any) *finding {
	return v.add(finding{state: Ready, code: code, args: args})
}

// look says what should be looked at and holds nothing up. The entry is the one
// that decided, nil where none did.
func (v *verdict) look(e *Event, code string, args ...any) *finding {
	return v.add(finding{state: Look, code: code, args: args, at: moment(e)})
}

// open says what is not answered yet.
func (v *verdict) open(e *Event, code string, args ...any) *finding {
	return v.add(finding{state: OpenYet, code: code, args: args, at: moment(e)})
}

// stop says what has to be put right before the start.
func (v *verdict) stop(e *Event, code string, args ...any) *finding {
	return v.add(finding{state: StopHere, code: code, args: args, at: moment(e)})
}

// ring says what the unit is rung about before the start. A call written down
// after it makes it a look that names the call.
func (v *verdict) ring(e *Event, code string, args ...any) *finding {
	return v.add(finding{state: StopHere, code: code, args: args, at: moment(e), asks: true})
}

// against names the limit that a finding was held against.
func (f *finding) against(limit string) *finding {
	f.limit = limit
	return f
}

// stays says what is left of a stop when a better value follows it.
func (f *finding) stays(k keeping) *finding {
	f.kept = k
	return f
}

// ambulanceFirst says that the ambulance is rung before the unit.
func (f *finding) ambulanceFirst() *finding {
	f.first = true
	return f
}

// any reports whether something worse than ready was found.
func (v *verdict) any() bool {
	return slices.ContainsFunc(v.findings, func(f finding) bool { return f.state != Ready })
}

// blank finds a value that was written as missing; it reports whether one was.
func (v *verdict) blank(e *Event, keys ...string) bool {
	for _, k := range keys {
		if why := e.Missing[k]; why != "" {
			v.stop(e, "blank", missingWords[why])
			return true
		}
	}
	return false
}

// judged judges every entry of one kind up to the moment of the start line: the
// latest for what it says, the ones before for what they stopped. What stopped
// is not wiped out by a better value (hazard H-140). It returns the latest, or
// nil.
func judged[T any](l startLine, v *verdict, judge func(startLine, *verdict, *T, *Event)) *Event {
	type entry struct {
		body *T
		e    *Event
	}
	var all []entry
	Each(l.s, func(b *T, e *Event) {
		if !e.At.After(l.at) {
			all = append(all, entry{b, e})
		}
	})
	if len(all) == 0 {
		return nil
	}
	last := all[len(all)-1]
	judge(l, v, last.body, last.e)
	now := len(v.findings)
	for _, one := range all[:len(all)-1] {
		then := l
		then.at = one.e.At
		var before verdict
		judge(then, &before, one.body, one.e)
		for _, f := range before.findings {
			stands := slices.ContainsFunc(v.findings, func(g finding) bool { return g.state == StopHere && g.code == f.code })
			if f.state != StopHere || f.kept == forgotten || stands {
				continue
			}
			if f.kept == looked {
				f.state = Look
			}
			f.when, f.asks = clock(f.at), true
			v.add(f)
		}
	}
	if len(v.findings) > now {
		for i := range v.findings[:now] {
			v.findings[i].when = clock(last.e.At)
		}
	}
	return last.e
}

// answered lets a call about the session answer each stop that was there when it
// was written down.
func (v *verdict) answered(s *Session, at time.Time) {
	Each(s, func(b *Rang, e *Event) {
		if e.At.After(at) {
			return
		}
		for i := range v.findings {
			if f := &v.findings[i]; f.asks && f.state == StopHere && !e.At.Before(f.at) {
				f.state, f.told = Look, worded("rang", b.Whom, clock(e.At), sentence(b.Said))
			}
		}
	})
}

// check is the line of the start line that the findings make.
func (v *verdict) check(id, title string) Check {
	c := Check{ID: id, Title: title, State: Ready, Limit: v.limit}
	list := slices.Clone(v.findings)
	slices.SortStableFunc(list, func(a, b finding) int { return rank[b.state] - rank[a.state] })
	var words []string
	for i, f := range list {
		if i == 0 {
			c.State = f.state
			if f.limit != "" {
				c.Limit = f.limit
			}
		}
		if f.state == Ready && c.State != Ready && f.when == "" {
			break // what is well is not said beside what is not
		}
		w := f.words()
		if slices.Contains(words, w) {
			continue
		}
		words = append(words, w)
		if f.first && f.state == StopHere {
			c.Ambulance = strings.TrimSpace(c.Ambulance + " " + w)
		}
		c.Codes = append(c.Codes, f.code)
	}
	c.Words = strings.Join(words, " ")
	return c
}

// override puts on the check the reason that was written to go on in spite of
// it. It counts for what was known when it was written: something newer and as
// bad needs a new one.
func (v *verdict) override(c *Check, s *Session, ref time.Time) {
	Each(s, func(o *Override, e *Event) {
		if o.Check != c.ID || !GoodReason(o.Reason) || e.At.After(ref) {
			return
		}
		known, newer := -1, -1
		for _, f := range v.findings {
			if !f.state.holds() {
				continue
			}
			if f.at.After(e.At) {
				newer = max(newer, rank[f.state])
			} else {
				known = max(known, rank[f.state])
			}
		}
		if known >= 0 && newer < known {
			c.Overridden, c.By, c.At = o, e.By, e.At
		}
	})
}

// missingWords says why a value is not there.
var missingWords = map[Missing]string{
	NotDone: "not done", NotRecorded: "not recorded", DoesNotApply: "does not apply", AsleepByPlan: "asleep by plan",
}

// below finds a value under the unit's limit, which stops until it was rung
// about, or under the program's own where there is none, which is a look.
func below[M unit.Measure](v *verdict, rx *Prescription, e *Event, what string, got, set *unit.Quantity[M], own unit.Quantity[M]) {
	outside(v, rx, e, "under", what, got, set, own, Look, func(a, b unit.Quantity[M]) bool { return a < b })
}

// exceeds finds a value over the limit.
func exceeds[M unit.Measure](v *verdict, rx *Prescription, e *Event, what string, got, set *unit.Quantity[M], own unit.Quantity[M]) {
	outside(v, rx, e, "over", what, got, set, own, Look, func(a, b unit.Quantity[M]) bool { return a > b })
}

// reaches finds a value at or over the limit.
func reaches[M unit.Measure](v *verdict, rx *Prescription, e *Event, what string, got, set *unit.Quantity[M], own unit.Quantity[M], byOwn CheckState) {
	outside(v, rx, e, "at or over", what, got, set, own, byOwn, func(a, b unit.Quantity[M]) bool { return a >= b })
}

func outside[M unit.Measure](v *verdict, rx *Prescription, e *Event, how, what string, got, set *unit.Quantity[M], own unit.Quantity[M], byOwn CheckState, out func(a, b unit.Quantity[M]) bool) {
	if got == nil {
		return
	}
	bound, whose, state := own, ownDefault, byOwn
	if set != nil {
		bound, whose, state = *set, setByUnit(rx), StopHere
	}
	if !out(*got, bound) {
		return
	}
	f := finding{state: state, code: "outside_limit", args: []any{what, got.Text(), how, bound}, at: moment(e), limit: bound.Text() + ", " + whose}
	if state == StopHere {
		f.asks, f.kept = true, looked
	}
	v.add(f)
}
