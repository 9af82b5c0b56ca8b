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
	state  CheckState
	code   string
	args   []any
	limit  string    // that it was held against, and whose it is
	at     time.Time // of the entry that decided; zero where none did
	entry  string    // id of that entry
	place  int       // of that entry in the order of writing
	asks   bool      // a stop that waits for the unit's word: a call answers it
	kept   keeping   // what is left of a stop when a better value follows it
	told   string    // what was said on the telephone, once it was
	when   string    // said before it, where two values of one kind stand beside each other
	always bool      // said beside what is not ready too
	past   bool      // found in an entry before the latest of its kind
	first  bool      // the ambulance is rung first, then the unit
	number bool      // the ambulance's number stands beside the unit's
	byTime bool      // it came about as time passed, with nothing written
}

// subject tells findings apart that are about different things: each has a code
// of its own, but for complaints, which are named in it.
func (f finding) subject() string {
	switch f.code {
	case "fit_ring_too":
		return "fit_ring " + f.args[0].(string)
	case "fit_ring", "fit_first", "fit_rang", "fit_note", "gap_signs", "gap_rang", "heparin_hold":
		return f.code + " " + f.args[0].(string)
	case "heparin_volume":
		return f.code + " " + f.args[0].(string)
	case "shelf_says":
		return f.code + " " + f.args[1].(string)
	}
	return f.code
}

// keeping is what becomes of a stop when a better value of the same kind
// follows: a fever that a tablet took away was a fever.
type keeping int

const (
	forgotten  keeping = iota // nothing is left of it
	looked                    // both values stay in sight; of a look, what would have stopped
	keptAsStop                // it stays a stop until the unit was rung about it
)

// words puts the finding into one or two sentences.
func (f finding) words() string {
	words := worded(f.code, f.args...)
	if f.first && f.told != "" { // the call was made: what it was about stays
		words = worded("rung_for", f.args...)
	}
	if f.when != "" {
		words = worded("at", f.when, words)
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

// found adds a finding about an entry, nil where none decided.
func (v *verdict) found(state CheckState, e *Event, code string, args []any) *finding {
	return v.add(finding{state: state, code: code, args: args}).by(e)
}

// about begins a finding about an entry, nil where none decided.
func about(code string, e *Event) finding {
	f := finding{code: code}
	f.by(e)
	return f
}

// by says which entry decided, nil for none.
func (f *finding) by(e *Event) *finding {
	f.at, f.entry = moment(e), idOf(e)
	if e != nil {
		f.place = e.Place
	}
	return f
}

// moment is when an entry happened; zero for none.
func moment(e *Event) time.Time {
	if e == nil {
		return time.Time{}
	}
	return e.At
}

func idOf(e *Event) string {
	if e == nil {
		return ""
	}
	return e.ID
}

// ready says what is so where nothing else was found.
func (v *verdict) ready(code string, args ...any) *finding {
	return v.add(finding{state: Ready, code: code, args: args})
}

// look says what should be looked at and holds nothing up. The entry is the one
// that decided, nil where none did.
func (v *verdict) look(e *Event, code string, args ...any) *finding {
	return v.found(Look, e, code, args)
}

// open says what is not answered yet.
func (v *verdict) open(e *Event, code string, args ...any) *finding {
	return v.found(OpenYet, e, code, args)
}

// stop says what has to be put right before the start.
func (v *verdict) stop(e *Event, code string, args ...any) *finding {
	return v.found(StopHere, e, code, args)
}

// ring says what the unit is rung about before the start. A call written down
// after it makes it a look that names the call.
func (v *verdict) ring(e *Event, code string, args ...any) *finding {
	f := v.found(StopHere, e, code, args)
	f.asks = true
	return f
}

// against names the limit that a finding was held against.
func (f *finding) against(limit string) *finding {
	f.limit = limit
	return f
}

// since says from when on something is so that no entry of the session decided.
// A call or a reason that was written before does not count for it.
func (f *finding) since(t time.Time) *finding {
	f.at = t
	return f
}

// asTimePassed says from when on something is so by time alone: with nothing written, a
// moment before that was well and stays so. A call or a reason that was written before
// does not count for it.
func (f *finding) asTimePassed(t time.Time) *finding {
	f.at, f.byTime = t, true
	return f
}

// stays says what is left of a stop when a better value follows it.
func (f *finding) stays(k keeping) *finding {
	f.kept = k
	return f
}

// staysIf keeps a stop in sight where something was written that can hurt.
func (f *finding) staysIf(written bool) {
	if written {
		f.kept = looked
	}
}

// ambulanceFirst says that the ambulance is rung before the unit.
func (f *finding) ambulanceFirst() *finding {
	f.first = true
	return f
}

// ambulanceToo says that the ambulance's number stands beside the unit's.
func (f *finding) ambulanceToo(so bool) *finding {
	f.number = so
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
	said := map[string]int{} // how bad, of a later entry already
	for _, f := range v.findings {
		said[f.subject()] = max(said[f.subject()], rank[f.state])
	}
	var before []finding
	for _, one := range slices.Backward(all[:len(all)-1]) {
		then := l
		then.at = one.e.At
		var was verdict
		judge(then, &was, one.body, one.e)
		for _, f := range was.findings {
			if f.kept != forgotten && said[f.subject()] < rank[f.state] {
				before = append(before, f.left())
			}
		}
		for _, f := range was.findings {
			if f.kept != forgotten {
				said[f.subject()] = max(said[f.subject()], rank[f.state])
			}
		}
	}
	slices.Reverse(before)
	v.findings = append(v.findings, before...)
	if len(v.findings) > now {
		for i := range v.findings[:now] {
			f := &v.findings[i]
			if f.when = clock(last.e.At); !f.at.IsZero() {
				f.when = clock(f.at) // what the latest left out counts from before it
			}
		}
	}
	return last.e
}

// left is what is left of a stop once something followed it: a look, or a stop
// until it was rung about. What was rung about in the same entry is a look.
func (f finding) left() finding {
	if f.kept == looked || f.state == Look {
		f.state = Look
	} else {
		f.asks = true
	}
	f.when, f.past = clock(f.at), true
	return f
}

// redo opens a check again whose latest entry was written before the machine was
// disinfected, serviced or the like. What that entry stopped, and those before it, stays in sight.
func (v *verdict) redo(c Cycle) {
	var left []finding
	for _, f := range v.findings {
		switch {
		case f.past:
			left = append(left, f)
		case f.state == StopHere && f.kept != forgotten && f.entry != "":
			left = append(left, f.left())
		}
	}
	v.findings = left
	if c.Did != "" {
		v.open(nil, "redo_since", capital(c.Did), clock(c.At)).since(c.At)
		return
	}
	v.open(nil, "redo", clock(c.At)).since(c.At)
}

// answered lets a call about the session answer each stop that was there when it
// was written down, and what is left of one for the ambulance. A call that "How am I?" tells of answers what that stopped.
func (v *verdict) answered(s *Session, at time.Time) {
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.After(at) {
			continue
		}
		told, own := "", false
		switch b := e.Body.(type) {
		case *Rang:
			told = worded("rang", b.Whom, clock(e.At), sentence(b.Said))
		case *Fitness:
			if told, own = worded("rang_told", sentence(b.Rang)), true; b.Rang == "" {
				continue
			}
		default:
			continue
		}
		for i := range v.findings {
			f := &v.findings[i]
			if f.asks && (f.state == StopHere || f.unrung()) && f.knownTo(e) && (!own || strings.HasPrefix(f.code, "fit_") || f.code == "gap_signs") {
				f.state, f.told = Look, told
			}
		}
	}
}

// unrung reports whether a finding that is kept from earlier still says that the
// ambulance is rung.
func (f finding) unrung() bool { return f.first && f.state == Look && f.told == "" }

// knownTo reports whether what was found was there when an entry was written: of
// one moment the order of writing decides.
func (f finding) knownTo(e *Event) bool {
	return f.at.Before(e.At) || f.at.Equal(e.At) && f.place <= e.Place
}

// check is the line of the start line that the findings make.
func (v *verdict) check(id, title string) Check {
	c := Check{ID: id, Title: title, State: Ready, Limit: v.limit}
	list := slices.Clone(v.findings)
	slices.SortStableFunc(list, func(a, b finding) int { return rank[b.state] - rank[a.state] })
	var words []string
	for i, f := range list {
		c.Rings = c.Rings || f.asks && (f.state == StopHere || f.unrung())
		if i == 0 {
			c.State = f.state
			if f.limit != "" {
				c.Limit = f.limit
			}
		}
		if c.Entry == "" && f.state == c.State {
			c.Entry = f.entry
		}
		if f.state == c.State && !f.byTime && f.at.After(c.Since) {
			c.Since = f.at
		}
		if f.state == Ready && c.State != Ready && f.when == "" && !f.always {
			continue // what is well is not said beside what is not
		}
		w := f.words()
		if slices.Contains(words, w) {
			continue
		}
		words = append(words, w)
		if f.first && f.state != Ready && f.told == "" {
			c.Ambulance = strings.TrimSpace(c.Ambulance + " " + w)
		}
		c.Numbers = c.Numbers || f.number && f.state == StopHere
		if f.state != Ready || c.State == Ready {
			c.Codes = append(c.Codes, f.code)
		}
	}
	for _, f := range list { // the call once, whatever it answered
		if f.told != "" && !slices.Contains(words, f.told) {
			words = append(words, f.told)
		}
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
			if !f.knownTo(e) {
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
// about, or under the program's own where there is none, which is a look. as is
// the finding in the making, with its code and the moment of its entry; it says
// the value, how it stands, and the bound.
func below[M unit.Measure](v *verdict, rx *Prescription, as finding, got, set *unit.Quantity[M], own unit.Quantity[M]) *finding {
	return outside(v, rx, as, "under", got, set, own, Look, func(a, b unit.Quantity[M]) bool { return a < b })
}

// exceeds finds a value over the limit.
func exceeds[M unit.Measure](v *verdict, rx *Prescription, as finding, got, set *unit.Quantity[M], own unit.Quantity[M]) *finding {
	return outside(v, rx, as, "over", got, set, own, Look, func(a, b unit.Quantity[M]) bool { return a > b })
}

// reaches finds a value at or over the limit.
func reaches[M unit.Measure](v *verdict, rx *Prescription, as finding, got, set *unit.Quantity[M], own unit.Quantity[M], byOwn CheckState) *finding {
	return outside(v, rx, as, "at or over", got, set, own, byOwn, func(a, b unit.Quantity[M]) bool { return a >= b })
}

// outside gives what was found, or nil.
func outside[M unit.Measure](v *verdict, rx *Prescription, as finding, how string, got, set *unit.Quantity[M], own unit.Quantity[M], byOwn CheckState, out func(a, b unit.Quantity[M]) bool) *finding {
	if got == nil {
		return nil
	}
	bound, whose := boundBy(rx, set, own)
	state := byOwn
	if set != nil {
		state = StopHere
	}
	if !out(*got, bound) {
		return nil
	}
	as.state, as.args, as.limit = state, []any{got.Text(), how, bound}, bound.Text()+", "+whose
	as.asks, as.kept = state == StopHere, looked
	return v.add(as)
}
