package main

import (
	"encoding/json"
	"slices"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// asksOf is what *Unit* asks of a prescription after these sessions.
func asksOf(rx *session.Prescription, m *record.Member) (a asked) {
	a.rate = !rx.RateKnown()
	a.idle = m.IdleAsked() != ""
	who, _ := m.Person.Now()
	for _, one := range session.AskedOfUnit(rx, m.Sessions, session.Asker{Pacemaker: who.Pacemaker}) {
		switch one.Code {
		case session.AskFall:
			a.fall = true
		case session.AskPulse:
			a.pulse = true
		case session.AskStart:
			a.start = true
		case session.AskStand:
			a.stand = true
		case session.AskDry:
			a.dry = true
		}
	}
	return a
}

// A said is what the program said in one session.
type said struct {
	n     int
	looks map[string]bool // by rule: the id of a check, or the code of a remark
	stops map[string]bool
	open  map[string]bool
	notes map[string]bool
	codes map[string]bool // rule and code, for a closer look

	beyond []beyond // what lies beyond a figure of the unit by chance
}

func newSaid(n int) *said {
	return &said{n: n, looks: map[string]bool{}, stops: map[string]bool{}, open: map[string]bool{}, notes: map[string]bool{}, codes: map[string]bool{}}
}

// start takes in the start line as it stands just before the lines are joined.
func (s *said) start(line []session.Check) {
	for _, c := range line {
		switch c.State {
		case session.Look:
			s.looks[c.ID] = true
		case session.StopHere:
			s.stops[c.ID] = true
		case session.OpenYet:
			s.open[c.ID] = true
		default:
			continue
		}
		for _, code := range c.Codes {
			s.codes[c.ID+" "+code] = true
		}
	}
}

// run takes in the remarks of a run.
func (s *said) run(list []session.Remark) {
	for _, r := range list {
		if r.Level == session.LevelLook {
			s.looks[r.Code] = true
			s.codes["run "+r.Code] = true
		} else {
			s.notes[r.Code] = true
		}
	}
}

// A tally counts sessions by what was said in them.
type tally struct {
	sessions, looked, stopped, opened, noted, spoke int
	chance, chanceSaid                              int            // sessions with a value beyond a figure of the unit: in none of the others
	byRule                                          map[string]int // sessions with a look or a stop
	byCode                                          map[string]int
	byChance                                        map[string]int // of those beyond: rules that were to say it
}

func (t *tally) add(s *said) {
	if t.byRule == nil {
		t.byRule, t.byCode, t.byChance = map[string]int{}, map[string]int{}, map[string]int{}
	}
	if len(s.beyond) > 0 {
		t.chance++
		if s.saidAll() {
			t.chanceSaid++
		}
		for _, rule := range s.mustSay() {
			t.byChance[rule]++
		}
		return
	}
	t.sessions++
	if len(s.looks)+len(s.stops)+len(s.open) > 0 {
		t.spoke++
	}
	count := func(n *int, of map[string]bool) {
		if len(of) > 0 {
			*n++
		}
	}
	count(&t.looked, s.looks)
	count(&t.stopped, s.stops)
	count(&t.opened, s.open)
	count(&t.noted, s.notes)
	for _, of := range []map[string]bool{s.looks, s.stops, s.open} {
		for rule := range of {
			t.byRule[rule]++
		}
	}
	for code := range s.codes {
		t.byCode[code]++
	}
}

// rules are those that spoke, the most frequent first.
func rulesOf(by map[string]int) []string {
	var list []string
	for rule := range by {
		list = append(list, rule)
	}
	slices.SortFunc(list, func(a, b string) int {
		if by[a] != by[b] {
			return by[b] - by[a]
		}
		if a < b {
			return -1
		}
		return 1
	})
	return list
}

// live makes one life of n uneventful sessions and gives what was said in each. at is
// called before each session, with the evening that is about to be lived.
func live(p person, how string, seed uint64, n int, out *json.Encoder, at func(*life, *evening)) ([]*said, *life, error) {
	l := newLife(p, how, seed, at != nil, out)
	var all []*said
	for i, start := range l.starts(n) {
		if i >= answerAfter {
			l.answers(start)
		}
		e := l.draw(i+1, start)
		if at != nil && l.err == nil {
			at(l, e)
		}
		s := newSaid(i + 1)
		plan := l.setUp(e)
		if l.err != nil {
			return nil, l, l.err
		}
		s.beyond = e.beyondOf(&l.member().Prescription(unit.DateOf(e.start)).Value, p.paper)
		l.tell(line{Start: s.n, Session: l.session, At: l.now, Beyond: s.mustSay()})
		checks := l.startLine()
		s.start(checks)
		s.startBeyond(checks)
		l.goOn()
		row := 0
		l.look = func(l *life, entry record.Entry) {
			list := l.remarks()
			s.run(list)
			if entry.Kind == "reading" {
				s.runBeyond(row, entry, list)
				row++
			}
		}
		l.run(e, plan)
		l.look = nil
		if l.err != nil {
			return nil, l, l.err
		}
		all = append(all, s)
	}
	return all, l, nil
}

// startLine and remarks ask the program as its pages do.
func (l *life) startLine() []session.Check {
	s := l.house.Session(l.session)
	return session.StartLine(s, l.member().History(s), l.now)
}

func (l *life) remarks() []session.Remark {
	s := l.house.Session(l.session)
	return session.RemarksWith(s, l.member().History(s), s.Log[len(s.Log)-1].At)
}
