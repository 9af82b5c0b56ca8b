package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// What the start line was held against may be written again while the treatment runs: a
// strip read wrongly is corrected, a label is struck out, a complaint is told late with
// its own time. The start is over; that it would have stopped has to be said all the
// same, at the next look (hazard H-140).

// saidElsewhere are the kinds of which an entry with a time in the run is judged there.
var saidElsewhere = map[string]bool{"chlorine": true, "fluid_check": true, "glucose": true, "lock_drawn": true, "batch_used": true}

// StartRemarks says what of the start line stops, or is not answered any more, by what
// was written, corrected or struck out after the treatment began: once for each change,
// when it was written. Of the plan only a weight is named that is another one than it was
// made from, and nothing is said of a session typed in afterwards.
func StartRemarks(s *Session, h History, now time.Time) []Remark {
	began, ok := s.Began()
	_, at := First[Connected](s)
	if opened, _ := s.Opened(); !ok || at == nil || opened.Afterwards() || now.Before(began) {
		return nil
	}
	until := now
	if ended, over := theEnd(s); over && ended.Before(now) {
		until = ended
	}
	var list []Remark
	changes := changesSince(s, at.FirstWritten(), until)
	if len(changes) > 0 {
		was := asWritten(s, at.FirstWritten())
		for _, when := range changes {
			is := asWritten(s, when)
			list = append(list, newStops(was, is, h, when)...)
			was = is
		}
	}
	return append(list, batchStops(s, h, at.FirstWritten(), until)...)
}

// StartRewritten reports whether anything that the start line rests on was written,
// corrected or struck out after the treatment began: whether there can be [StartRemarks]
// where the fluid is of no batch. It needs no history.
func StartRewritten(s *Session, now time.Time) bool {
	_, at := First[Connected](s)
	return at != nil && len(changesSince(s, at.FirstWritten(), now)) > 0
}

// changesSince lists when something that the start line rests on was written after a
// moment, in order, each moment once.
func changesSince(s *Session, since, until time.Time) (list []time.Time) {
	began, _ := s.Began()
	note := func(t time.Time) {
		if t.After(since) && !t.After(until) && !slices.ContainsFunc(list, t.Equal) {
			list = append(list, t)
		}
	}
	for i := range s.Log {
		e := &s.Log[i]
		first := e.At
		if len(e.Was) > 0 {
			first = e.Was[0].At
		}
		if first.After(began) && e.At.After(began) {
			continue
		}
		for _, was := range e.Was {
			note(was.Written)
		}
		note(e.Written)
		if e.Struck != nil {
			note(e.Struck.At)
		}
	}
	slices.SortFunc(list, time.Time.Compare)
	return list
}

// asWritten is a session as it was written down by a moment. What was typed before the
// start keeps its place there when a correction gives it the time of the correction; of
// what is judged in the run from then on, the first version keeps it.
func asWritten(s *Session, by time.Time) *Session {
	began, _ := s.Began()
	then := *s
	then.Log = nil
	for _, e := range s.Log {
		if e.FirstWritten().After(by) {
			continue
		}
		now, k := e, len(e.Was)
		for ; k > 0 && now.Written.After(by); k-- {
			now = e.as(e.Was[k-1])
		}
		now.Was = e.Was[:k]
		if e.Struck != nil && e.Struck.At.After(by) {
			now.Struck = nil
		}
		if moved := k > 0 && now.At.After(began) && !e.Was[0].At.After(began); moved && saidElsewhere[e.Kind] {
			now = e.as(e.Was[0])
		} else if moved {
			now.At = e.Was[0].At
		}
		then.Add(now)
	}
	return &then
}

// newStops remarks on what stops in one state of a session and did not in the one before
// it, and on what was answered and is not any more.
func newStops(was, is *Session, h History, when time.Time) (list []Remark) {
	_, opened := is.Opened()
	before := StopsAt(was, h, when)
	said := map[string]bool{} // by check and by entry: a fever stops two checks
	say := func(check, entry, words string) {
		said[check], said[entry] = true, entry != ""
		if check == CheckHeparin {
			list = append(list, heparinNow(is, entry, when.In(opened.Location())))
			return
		}
		list = append(list, startRemark(check, entry, words, when.In(opened.Location())))
	}
	for _, f := range StopsAt(is, h, when) {
		known := slices.ContainsFunc(before, func(b stop) bool { return b.check == f.check && b.words() == f.words() })
		if f.check != CheckPlan && !known && !said[f.check] && !said[f.entry] {
			say(f.check, f.entry, f.words())
		}
	}
	if r, is := weightRewritten(was, is, when.In(opened.Location())); is {
		list = append(list, r)
	}
	stood := StartLine(was, h, when)
	for _, c := range StartLine(is, h, when) {
		if c.ID == CheckPlan || c.State != OpenYet || c.Overridden != nil || said[c.ID] {
			continue
		}
		if i := slices.IndexFunc(stood, func(b Check) bool { return b.ID == c.ID }); i < 0 || stood[i].State != OpenYet {
			say(c.ID, c.Entry, c.Words)
		}
	}
	return list
}

// heparinNow remarks on heparin that is written otherwise than it was at the start, in
// words of its own: it may have been given, and the start line says to draw up again.
func heparinNow(is *Session, entry string, at time.Time) Remark {
	var f facts
	if b, _ := Last[HeparinDrawn](is); b != nil {
		f.value, f.was = b.Bolus.Text(), b.Strength.Text()
	}
	return Remark{Code: "start_heparin", At: at, Level: LevelLook, Entry: entry, Words: wordsOf("start_heparin", f)}
}

// weightRewritten remarks on a weight before that is another one now than before a change:
// the plan that was agreed from it takes off so much too much, or too little.
func weightRewritten(was, is *Session, at time.Time) (Remark, bool) {
	before, _ := Last[WeighIn](was)
	now, e := Last[WeighIn](is)
	plan, _ := Last[AgreedPlan](is)
	if before == nil || now == nil || plan == nil || e.Missing["weight_kg"] != "" || now.Weight-now.Clothing == before.Weight-before.Clothing {
		return Remark{}, false
	}
	off := (now.Weight - now.Clothing) - (plan.PreWeight - plan.Clothing)
	if off == 0 {
		return Remark{}, false // it is as it was planned from again
	}
	f := facts{value: now.Weight.Text(), was: plan.PreWeight.Text(), limit: unit.Mass(max(off, -off)).Text(), hard: off < 0}
	return Remark{Code: "start_weight", At: at, Level: LevelLook, Entry: e.ID, Words: wordsOf("start_weight", f)}, true
}

// batchStops does the same for the batch of a session, whose entries are the
// household's: what stops of it without a reason, and was written after a moment.
func batchStops(s *Session, h History, since, until time.Time) (list []Remark) {
	b := batchOfStart(s, h)
	if b == nil || !b.Changed.After(since) || b.Changed.After(until) || b.Struck != nil {
		return nil // one that was struck out is said by its own remark
	}
	_, opened := s.Opened()
	told := FluidRemarks(s, h, until)
	for _, c := range StartLine(s, h, until) {
		if !slices.Contains([]string{CheckChlorine, CheckConduct, CheckBath}, c.ID) || !c.State.holds() || c.Overridden != nil {
			continue
		}
		code := map[string]string{CheckChlorine: "batch_failed", CheckConduct: "batch_range"}[c.ID]
		if !slices.ContainsFunc(told, func(r Remark) bool { return r.Code == code }) {
			list = append(list, startRemark(c.ID, c.Entry, c.Words, b.Changed.In(opened.Location())))
		}
	}
	return list
}

// batchOfStart is the batch that a treatment began on; nil for none.
func batchOfStart(s *Session, h History) *Batch {
	began, ok := s.Began()
	used, _ := lastBy[BatchUsed](s, began)
	if !ok || used == nil || s.Machine.Fluid() != FluidBatch || s.RemovalOnly() {
		return nil
	}
	if i := slices.IndexFunc(h.Batches, func(b Batch) bool { return b.Is(used.Batch) }); i >= 0 {
		return &h.Batches[i]
	}
	return nil
}

// standingStart lists those of [StartRemarks] that are still so: what was corrected by a
// slip, and back, is not.
func standingStart(s *Session, h History, now time.Time) (list []Remark) {
	all := StartRemarks(s, h, now)
	if len(all) == 0 {
		return nil
	}
	_, at := First[Connected](s)
	still := append(newStops(asWritten(s, at.FirstWritten()), asWritten(s, now), h, now), batchStops(s, h, at.FirstWritten(), now)...)
	for _, r := range all {
		if slices.ContainsFunc(still, func(b Remark) bool { return b.Words == r.Words }) {
			list = append(list, r)
		}
	}
	return list
}

func startRemark(check, entry, words string, at time.Time) Remark {
	title := check
	for _, one := range startChecks {
		if one.id == check {
			title = one.title
		}
	}
	code := "start_stops"
	if slices.Contains([]string{CheckChlorine, CheckConduct, CheckBath, CheckCleaned}, check) {
		code = "start_fluid_stops"
	}
	return Remark{Code: code, At: at, Level: LevelLook, Entry: entry, Words: wordsOf(code, facts{value: title, was: words})}
}
