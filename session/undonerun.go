package session

// UndoneSugars lists the low blood sugars of a run, or of after it, that were struck out,
// or corrected so that they are low no longer, in the order of the log: insulin and food
// may have been given by the first value.
func UndoneSugars(s *Session) []Undone {
	began, ok := s.Began()
	if !ok {
		return nil
	}
	figure, whose := glucoseFigure(s.Rx)
	low := func(body any) (words string) {
		if b, is := body.(*Glucose); is && b.isRead() && b.isLow(figure) {
			return wordsOf("sugar_low", sugarFacts(b, figure, whose))
		}
		return ""
	}
	var list []Undone
	for i := range s.Log {
		e := &s.Log[i]
		if _, is := e.Body.(*Glucose); !is || !e.At.After(began) {
			continue
		}
		now := low(e.Body)
		if e.Struck != nil && now != "" {
			list = append(list, Undone{Entry: e.ID, Then: e.At, Words: now, Struck: true, At: e.Struck.At, By: e.Struck.By, Reason: e.Struck.Reason})
		}
		for k, was := range e.Was {
			next, after := Version{Written: e.Written, By: e.By}, now
			if k+1 < len(e.Was) {
				next = e.Was[k+1]
				after = low(next.Body)
			}
			if then := low(was.Body); then != "" && after == "" {
				list = append(list, Undone{Entry: e.ID, Then: was.At, Words: then, At: next.Written, By: next.By, Reason: was.Reason})
			}
		}
	}
	return list
}

// undoneSugars remarks on each low blood sugar of the run that was undone, when it was.
func (w *watch) undoneSugars() {
	for _, u := range UndoneSugars(w.s) {
		_, opened := w.s.Opened()
		if u.At.After(w.until) && u.Then.After(w.until) {
			continue
		}
		at := u.At.In(opened.Location())
		if at.After(w.until) {
			at = w.until // it was undone once the treatment had ended
		}
		f := facts{value: u.Words, since: u.when(opened), was: u.Reason, felt: u.Struck}
		w.out = append(w.out, Remark{Code: "sugar_undone", At: at, Level: LevelNote, Entry: u.Entry, Words: wordsOf("sugar_undone", f)})
	}
}
