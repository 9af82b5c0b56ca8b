package session

import "time"

// NetUnknown says why what came off is not known from the last figure that was typed
// for it: nobody has said what the machine's figure means, or the substitution fluid is
// in it and was not typed beside it. Empty where it is known, or no figure was typed.
func NetUnknown(s *Session, at time.Time) string {
	c := countOf(s)
	words := ""
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.After(at) {
			continue
		}
		c.take(e)
		if removedTyped(e.Body) == nil {
			continue
		}
		if words = ""; c.fault != "" {
			words = wordsOf(c.fault, c.said(e))
		}
	}
	return words
}

// said are the values of what is said of a figure that tells nothing.
func (c *count) said(e *Event) facts {
	f := facts{value: removedTyped(e.Body).Text()}
	if given := givenBy(e.Body); given != nil {
		f.was = given.Text()
	}
	return f
}

// untold remarks on a figure that tells nothing of what came off, from the first of
// them after one that did.
func (w *watch) untold(e *Event, told bool) {
	switch {
	case removedTyped(e.Body) == nil:
	case told:
		for _, code := range []string{"removed_unsaid", "removed_gross", "removed_cannot"} {
			delete(w.said, code)
		}
	default:
		level := LevelNote
		if w.count.fault == "removed_cannot" { // no machine can: the figure, or the counter, is not what it seems
			level = LevelLook
		}
		w.once(level, w.count.fault, e, w.count.said(e))
	}
}

// shownOtherwise remarks on each moment of a run at which something else was written of
// what the machine's figure for the fluid removed means.
func (w *watch) shownOtherwise(began time.Time) {
	s := w.s
	if s.RemovedShows() != s.Machine.RemovedShows { // no haemodiafiltration, or elsewhere
		return
	}
	for i, b := range s.Shown {
		now := s.Machine.RemovedShows
		if i+1 < len(s.Shown) {
			now = s.Shown[i+1].Means
		}
		if at := b.Until.In(began.Location()); at.After(began) && !at.After(w.until) {
			w.out = append(w.out, Remark{Code: "removed_means", At: at, Level: LevelLook,
				Words: wordsOf("removed_means", facts{value: shownWords[now], was: shownWords[b.Means], since: clock(at)})})
		}
	}
}
