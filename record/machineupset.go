package record

import (
	"cmp"
	"slices"
	"strconv"
	"time"

	"ebbline/session"
)

// lookBack is how far back it is asked what may have left disinfectant – chemical
// cycles, moves, stores, repairs –, what was rinsed and what was tested since: by
// then whatever was left has been through a dozen and more rinses. Ours.
const lookBack = 60 * 24 * time.Hour

// A Happening is something of machine or water treatment that does not recur by
// date and is written as an item of the round all the same.
type Happening struct{ ID, Name, Did string }

// Happenings lists them. After each but the rinse the machine counts as
// chemically disinfected until a residue test shows nothing, and after each that
// did something to it (Did) until it was rinsed as well.
func Happenings() []Happening {
	return []Happening{
		{"chemical", "Chemical disinfection of the machine", ""},
		{"rinse", "Machine and water treatment rinsed", ""},
		{"moved", "Machine or water treatment moved", "moved"},
		{"stored", "Machine or water treatment stored, or out of store", "stored"},
		{"preserved", "Machine or water treatment filled with a preservative", "preserved"},
		{"new-water", "Water treatment, or a part of it, replaced", "water treatment new"},
	}
}

// upsets are the items of the round after which residue is looked for, with the
// word for it.
var upsets = func() map[string]string {
	m := map[string]string{"service": "serviced", "membrane": "membrane new"}
	for _, h := range Happenings() {
		if h.Did != "" {
			m[h.ID] = h.Did
		}
	}
	return m
}()

// isNew reports whether no session of this record was treated on the machine
// before a moment – the one that the session was set up on, or the one there is –
// and since when it stands in the place of another; zero for the first there was.
// Another name, or another kind, is another machine.
func (h *Household) isNew(but *session.Session, until time.Time) (is bool, since time.Time) {
	machine, _ := h.Machine.Now()
	if but != nil {
		machine = but.Machine
	}
	for _, m := range h.People {
		for _, s := range slices.Backward(m.Sessions) {
			began, treated := s.Began()
			if s == but || !treated || !began.Before(until) || !s.AtHome() {
				continue
			}
			if s.Machine.IsOne(machine) {
				return false, time.Time{}
			}
		}
	}
	other := false
	for i := range h.Machine {
		d := &h.Machine[i]
		switch {
		case d.Struck != nil:
		case !d.Value.IsOne(machine):
			other = true
		case other:
			return true, d.At
		default:
			return true, time.Time{}
		}
	}
	return true, time.Time{}
}

// residue gathers why residue is looked for and what was found of it. opened is
// when the session was opened, until the moment of its start line.
func (h *Household) residue(to *session.History, but *session.Session, opened, until time.Time) {
	from := until.Add(-lookBack)
	var chemical time.Time // the last before this session
	ran := func(at time.Time) {
		if at.Before(opened) && at.After(from) && at.After(chemical) {
			chemical = at
		}
	}
	h.eachCycle(but, from, until, func(c session.Cycle) {
		if c.Programme == "chemical" {
			ran(c.At)
		}
	})
	for i := range h.Upkeep.Done {
		d := &h.Upkeep.Done[i]
		fresh := d.At.After(to.Used)
		if !d.At.Before(until) || !fresh && !d.At.After(from) {
			continue // nearly all of them, after years
		}
		switch b := d.Value; {
		case d.Struck != nil:
		case b.Item == "chemical":
			ran(d.At)
		case b.Item == "ro-disinfection" && b.Programme != "heat" && fresh:
			// An entry of before may not say with what. One that failed rinsed nothing.
			to.Upset = append(to.Upset, session.Upset{At: d.At, What: didTo(b), Disinfected: b.Outcome != "failed", Unsure: b.Programme == ""})
		case b.Item == "ro-disinfection" && b.Programme == "chemical":
			ran(d.At)
		case b.Item == "rinse" && b.Outcome != "failed" && d.At.After(from):
			to.Rinses = append(to.Rinses, d.At)
		case upsets[b.Item] != "" && d.At.After(from) && !(asksLate(b.Item) && h.inUseSince(but, d.At, until, d.place)):
			// A session that was held in spite of it rinses nothing.
			to.Upset = append(to.Upset, session.Upset{At: d.At, What: didTo(b)})
		}
	}
	for _, d := range h.Upkeep.Faults {
		if d.Struck == nil && d.Value.Opened && d.At.Before(until) && d.At.After(from) {
			to.Upset = append(to.Upset, session.Upset{At: d.At, What: "repaired"})
		}
	}
	slices.SortStableFunc(to.Upset, func(a, b session.Upset) int { return a.At.Compare(b.At) })
	to.Residues = h.residues(but, from, until)
	tested := slices.ContainsFunc(to.Residues, func(r session.Residue) bool { return r.Good && r.At.After(chemical) && r.At.Before(opened) })
	if !tested {
		to.Chemical = chemical
	}
}

// didTo says what an entry of the round tells was done to machine or water
// treatment beside the machine's own disinfection; empty for nothing. No item says
// of which of the two it was: it may be both.
func didTo(b RoundDone) string {
	switch {
	case b.Item != "ro-disinfection":
		return upsets[b.Item]
	case b.Outcome == "failed":
		return "disinfection of water treatment failed"
	}
	return "water treatment disinfected"
}

// reworked lists what was done to machine or water treatment between two moments
// beside the machine's disinfection, in the order of writing of each kind of entry.
func (u *Upkeep) reworked(from, until time.Time) []session.Cycle {
	var list []session.Cycle
	add := func(at time.Time, place int, did string) {
		if did != "" && !at.Before(from) && at.Before(until) {
			list = append(list, session.Cycle{At: at, Place: place, Did: did})
		}
	}
	for i := range u.Done {
		if d := &u.Done[i]; d.Struck == nil && !d.At.Before(from) {
			add(d.At, d.place, didTo(d.Value))
		}
	}
	for _, d := range u.Faults {
		if d.Struck == nil && d.Value.Opened {
			add(d.At, d.place, "repaired")
		}
	}
	return list
}

// asksLate reports whether something was written in households before a rinse and a
// test were asked for after it.
func asksLate(item string) bool { return item == "service" || item == "membrane" }

// usedFor is how many sessions held since a service or a new membrane put the
// machine in use again in a household that wrote on paper before a test was asked
// for. Ours.
const usedFor = 3

// inUseSince reports whether the machine was in use again before a test was asked
// for after a service or a new membrane, at and place being its own: a live session
// was begun on it without a reason past the stop, as none can be that is asked, or
// three sessions were treated. One on paper, or past a reason, alone proves nothing.
func (h *Household) inUseSince(but *session.Session, at, until time.Time, place int) bool {
	treated := 0
	for _, m := range h.People {
		for _, s := range m.since(at) {
			connected, e := session.First[session.Connected](s)
			if s == but || connected == nil || !s.AtHome() || !e.At.After(at) || !e.At.Before(until) {
				continue
			}
			opened, _ := s.Opened()
			if treated++; treated >= usedFor || opened.Source == "live" && e.Place > place && !wentPast(s, session.CheckCleaned) {
				return true
			}
		}
	}
	return false
}

// residues lists the tests for what was left between two moments, oldest first. A
// step that was ticked in an earlier session counts as it did when no result was
// asked for: where that session was treated, and did not go past the stop that has
// asked for the result since.
func (h *Household) residues(but *session.Session, from, until time.Time) []session.Residue {
	var list []session.Residue
	for _, d := range h.Upkeep.Residuals {
		if d.Struck == nil && d.At.After(from) && d.At.Before(until) {
			list = append(list, d.Value.residue(d.At))
		}
	}
	for _, m := range h.People {
		for _, s := range m.since(from) {
			if s == but || !s.AtHome() || !s.Treated() || wentPast(s, session.CheckCleaned) {
				continue
			}
			var ticked session.Residue
			session.Each(s, func(b *session.StepDone, e *session.Event) {
				if b.Phase == session.SetUp && b.Step == session.ResidueStep && e.At.Before(until) {
					ticked = session.Residue{At: e.At, Good: b.State == "done", Ticked: true}
				}
			})
			if ticked.Good && ticked.At.After(from) {
				list = append(list, ticked)
			}
		}
	}
	slices.SortStableFunc(list, func(a, b session.Residue) int { return a.At.Compare(b.At) })
	return list
}

// wentPast reports whether a reason was written in a session to go on in spite of a
// check.
func wentPast(s *session.Session, check string) (past bool) {
	session.Each(s, func(b *session.Override, _ *session.Event) { past = past || b.Check == check })
	return past
}

// residueWords are what a residue test looks for, in words.
var residueWords = map[string]string{"chlorine": "chlorine", "peracetic": "peracetic acid or peroxide", "formaldehyde": "formaldehyde"}

// residue is the test as the start line reads it.
func (t ResidualTest) residue(at time.Time) session.Residue {
	negative, bound := t.Negative()
	good := t.Shows(at)
	r := session.Residue{At: at, Found: t.Value.Text(), Good: good, Expired: negative && !good}
	if t.Below {
		r.Found = "less than " + r.Found
	}
	r.Found += " " + residueWords[t.For]
	if bound.High != nil {
		r.Bound = strconv.FormatFloat(*bound.High, 'f', -1, 64) + "\u00a0" + bound.Unit
		if bound.Strict {
			r.Bound = "under " + r.Bound
		}
		r.Limit = r.Bound + ", " + cmp.Or(bound.Setter, "program default") + ", " + bound.Source
	}
	return r
}

// failedAt is when something that recurs was tried last and failed, up to a
// moment; zero where it never did.
func (u *Upkeep) failedAt(item string, until time.Time) (at time.Time) {
	for _, d := range u.Done {
		if d.Struck == nil && d.Value.Item == item && d.Value.Outcome == "failed" && !d.At.After(until) && d.At.After(at) {
			at = d.At
		}
	}
	return at
}
