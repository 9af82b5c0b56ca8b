package session

import "time"

// AfterSugars remarks on the blood sugars after the treatment that were low or high, up
// to a moment, in order of time, by the rule of the run: after one that was inside, and
// again when a step further out. A better one that follows takes none of them away; the
// one measured last stands in its words.
func AfterSugars(s *Session, now time.Time) (list []Remark) {
	ended, over := theEnd(s)
	if !over || !s.Treated() {
		return nil
	}
	w := watch{s: s, connected: true, bounds: map[string]*beyond{}}
	last, when, out := "", "", false
	figure, whose := glucoseFigure(s.Rx)
	var read []*Glucose
	Each(s, func(b *Glucose, e *Event) {
		if !b.isRead() || e.At.Before(ended) || e.At.After(now) {
			return
		}
		from := len(w.out)
		w.sugar(b, e)
		for range w.out[from:] {
			read = append(read, b)
		}
		last, when, out = e.ID, b.Text()+" at "+clock(e.At), b.isLow(figure) || b.isHigh()
	})
	for i, r := range w.out {
		if r.Entry == last {
			continue // it is worded as one that stands
		}
		f := sugarFacts(read[i], figure, whose)
		if r.Code == "sugar_high" {
			f = sugarFacts(read[i], GlucoseHigh, ownDefault)
		}
		f.since, f.was, f.hard = clock(r.At), when, out
		w.out[i].Words = wordsOf(r.Code, f)
	}
	return w.out
}

// sugar words a blood sugar, with its time where another one followed.
func (f facts) sugar() string {
	if f.since == "" {
		return f.value
	}
	return f.value + " at " + f.since
}

// later words the one that was measured last, and the steps while it is out too.
func (f facts) later(steps string) string {
	switch {
	case f.was == "":
		return steps
	case f.hard:
		return "Later " + f.was + ". " + steps
	}
	return "Later " + f.was + ". Tell your unit."
}
