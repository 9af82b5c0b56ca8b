package session

// asItStood is a session in which what was typed before the treatment began keeps its
// place before it, when a correction typed since gives it a time in the run: the start
// line stays as it stood. Of what the run judges from that time on ([saidElsewhere]) the
// version that stood then keeps the place, of everything else the corrected one. It is
// the session itself where nothing was moved so; one typed in afterwards has no such
// order.
func asItStood(s *Session) *Session {
	began, ok := s.Began()
	_, at := First[Connected](s)
	if opened, _ := s.Opened(); !ok || at == nil || opened.Afterwards() {
		return s
	}
	var moved []Event
	for i := range s.Log {
		e := &s.Log[i]
		k, stood := len(e.Was), *e
		for ; k > 0 && stood.Written.After(at.FirstWritten()); k-- {
			stood = e.as(e.Was[k-1])
		}
		if k == len(e.Was) || e.Struck != nil || stood.Written.After(at.FirstWritten()) || stood.At.After(began) || !e.At.After(began) {
			continue
		}
		if !saidElsewhere[e.Kind] {
			stood.Body, stood.Missing, stood.Written, stood.By = e.Body, e.Missing, e.Written, e.By
		}
		moved = append(moved, stood)
	}
	if len(moved) == 0 {
		return s
	}
	then := *s
	then.Log = append([]Event(nil), s.Log...)
	for _, e := range moved {
		then.Remove(e.ID)
		then.Add(e)
	}
	return &then
}
