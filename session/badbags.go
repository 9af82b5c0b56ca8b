package session

import (
	"slices"
	"strings"
	"time"
)

// A BadBag is a ready bag whose label, seal or fluid is not right.
type BadBag struct {
	Lot   string // by which a label says that it replaces it; the time of day where none is written
	Words string // what is wrong with it
	At    time.Time
	entry *Event
	found []finding
}

// bagName is what a bag is called by the label that replaces it.
func bagName(b *BathLabel, e *Event) string {
	if b.Lot == "" {
		return clock(e.At)
	}
	return b.Lot
}

// replaces reports whether a label says that the bag of an earlier one is off.
func (b *BathLabel) replaces(before *BathLabel, e *Event) bool {
	return b.Replaces != "" && sameLot(b.Replaces, bagName(before, e))
}

// Is reports whether a name means this bag.
func (b BadBag) Is(name string) bool { return sameLot(b.Lot, name) }

// A bagLabel is one label of a session with ready bags and what was found on it as of
// its own time.
type bagLabel struct {
	b     *BathLabel
	e     *Event
	found []finding
	off   bool // a later one says that it replaces it
}

// bagLabels lists the labels of all bags up to the moment of the start line.
func (l startLine) bagLabels() (list []bagLabel) {
	Each(l.s, func(b *BathLabel, e *Event) {
		if e.At.After(l.at) {
			return
		}
		for i := range list {
			one := &list[i]
			one.off = one.off || b.replaces(one.b, one.e)
		}
		then := l
		then.at = e.At
		var was verdict
		then.bathLabel(&was, b, e)
		list = append(list, bagLabel{b: b, e: e, found: was.findings})
	})
	return list
}

// bad are the stops of a label that a better value does not answer: several bags hang
// at once, so that the label of another one says nothing of this one.
func (o bagLabel) bad() (list []finding) {
	for _, f := range o.found {
		if f.state == StopHere && f.kept != forgotten {
			list = append(list, f)
		}
	}
	return list
}

// eachBag is the bath of ready bags: each bag is judged for itself. One that is not
// right stays a stop until the label of another says that it replaces it, or its own is
// struck out; replaced, it stays in sight. What is open of a bag stays open until the
// same lot is written with it; an entry without a lot is made whole by the next one. It
// reports whether there is a label.
func (l startLine) eachBag(v *verdict) bool {
	labels := l.bagLabels()
	if len(labels) == 0 {
		return false
	}
	last := labels[len(labels)-1]
	l.bathLabel(v, last.b, last.e)
	now := len(v.findings)
	for i, one := range labels[:len(labels)-1] {
		for _, f := range one.found {
			switch {
			case f.state == Ready, f.state == Look && f.kept == forgotten:
			case f.state == OpenYet, f.kept == forgotten:
				if !wholeLater(one.b, labels[i+1:]) {
					f.when = clock(one.e.At)
					v.add(f)
				}
			case one.off:
				v.add(f.left())
			default:
				f.when, f.past = clock(one.e.At), true
				v.add(f)
			}
		}
		if len(one.bad()) > 0 && !one.off {
			v.stop(one.e, "bag_on", bagName(one.b, one.e)).past = true
		}
	}
	if len(v.findings) > now {
		for i := range v.findings[:now] {
			v.findings[i].when = clock(last.e.At)
		}
	}
	return true
}

// wholeLater reports whether what was left out of a label is written on a later one of
// the same lot, or on any where it has none.
func wholeLater(b *BathLabel, later []bagLabel) bool {
	return slices.ContainsFunc(later, func(o bagLabel) bool { return b.Lot == "" || sameLot(b.Lot, o.b.Lot) })
}

// BadBags lists the bags of a session that are not right, and of which nothing says
// that they are off, oldest first; none on a machine whose fluid comes otherwise.
func BadBags(s *Session, h History, at time.Time) (list []BadBag) {
	if s.Machine.Fluid() != FluidBags || s.Rx == nil {
		return nil
	}
	l := startLine{s: s, h: h, rx: s.Rx, at: at}
	for _, one := range l.bagLabels() {
		bad := one.bad()
		if one.off || len(bad) == 0 {
			continue
		}
		list = append(list, BadBag{Lot: bagName(one.b, one.e), Words: wordsOfAll(bad), At: one.e.At, entry: one.e, found: bad})
	}
	return list
}

// wordsOfAll are the words of some findings, each once.
func wordsOfAll(found []finding) string {
	var words []string
	for _, f := range found {
		if w := f.words(); !slices.Contains(words, w) {
			words = append(words, w)
		}
	}
	return strings.Join(words, " ")
}

// bag remarks on a bag that is hung while the treatment runs, and again on one that
// was hung so and is not right, when another label follows that does not replace it.
// The start line asks the same of what is written before.
func (w *watch) bag(b *BathLabel, e *Event) {
	if !w.connected || w.s.Machine.Fluid() != FluidBags || w.s.Rx == nil {
		return
	}
	began, _ := w.s.Began()
	for _, one := range BadBags(w.s, History{}, e.At) {
		if one.At.Before(began) || one.entry.ID == e.ID {
			continue
		}
		if one.At.Before(e.At) || one.entry.Place < e.Place {
			w.say(LevelLook, "bag_still", e, facts{value: one.Lot, was: clock(one.At)})
		}
	}
	l := startLine{s: w.s, rx: w.s.Rx, at: e.At}
	var v verdict
	l.bathLabel(&v, b, e)
	for _, state := range []CheckState{StopHere, OpenYet} {
		var found []finding
		for _, f := range v.findings {
			if f.state == state {
				found = append(found, f)
			}
		}
		if len(found) == 0 {
			continue
		}
		if f := (facts{value: wordsOfAll(found)}); state == StopHere {
			w.say(LevelLook, "bag_wrong", e, f)
		} else {
			w.say(LevelNote, "bag_open", e, f)
		}
		return
	}
}
