package session

import "time"

// NetUnknown says why what came off is not known from the last figure that was typed
// for it: nobody has said what the machine's figure means, or the substitution fluid is
// in it and was not typed beside it. Empty where it is known, or no figure was typed.
func NetUnknown(s *Session, at time.Time) string {
	c := countOf(s)
	for i := len(s.Log) - 1; i >= 0; i-- {
		e := &s.Log[i]
		shown := removedTyped(e.Body)
		if e.Struck != nil || e.At.After(at) || shown == nil {
			continue
		}
		if c.tells(givenBy(e.Body)) {
			return ""
		}
		return wordsOf(c.unknown(), facts{value: shown.Text()})
	}
	return ""
}

// unknown is the code of what is said of a figure that tells nothing.
func (c *count) unknown() string {
	if c.means == RemovedGross {
		return "removed_gross"
	}
	return "removed_unsaid"
}

// untold remarks on a figure that tells nothing of what came off, from the first of
// them after one that did.
func (w *watch) untold(e *Event, told bool) {
	shown, code := removedTyped(e.Body), w.count.unknown()
	switch {
	case shown == nil:
	case told:
		delete(w.said, code)
	default:
		w.once(LevelNote, code, e, facts{value: shown.Text()})
	}
}
