package session

import (
	"slices"
	"strings"
	"time"

	"ebbline/unit"
)

// A batchUse is a stretch of a run on one batch.
type batchUse struct {
	used     string // the id that was written
	e        *Event // that names it
	from, to time.Time
	inRun    bool // it was named while the treatment ran
	left     bool // another one followed, to which its last moment belongs
}

// in reports whether something that came to light at a moment is about this stretch.
func (u batchUse) in(at time.Time) bool { return at.After(u.from) && !at.After(u.to) }

// batchUses lists the batches of a run in order of time, up to its end or now.
func batchUses(s *Session, now time.Time) (list []batchUse) {
	began, ok := s.Began()
	if !ok || now.Before(began) || s.Machine.Fluid() != FluidBatch || s.RemovalOnly() {
		return nil
	}
	until := now
	if ended, over := theEnd(s); over && ended.Before(now) {
		until = ended
	}
	Each(s, func(b *BatchUsed, e *Event) {
		if e.At.After(until) {
			return
		}
		one := batchUse{used: b.Batch, e: e, from: e.At, to: until, inRun: e.At.After(began)}
		if !one.inRun {
			one.from, list = began, nil
		} else if len(list) > 0 {
			last := &list[len(list)-1]
			last.to, last.left = e.At, true
		}
		list = append(list, one)
	})
	return list
}

// FluidRemarks gives what there is to remark on the batch that a treatment runs on, by
// what the household knows of it up to now: that it was struck out, that its use-by has
// passed (once, from then), that a test failed which came to light since, that another
// batch which was named while running is not as at the start line it would have to be,
// and a conductivity outside the batch's own range. None with another fluid.
func FluidRemarks(s *Session, h History, now time.Time) []Remark {
	f := fluidRun{s: s, h: h}
	if f.rx = s.Rx; f.rx == nil {
		f.rx = &Prescription{}
	}
	for _, use := range batchUses(s, now) {
		f.struck(use)
		i := slices.IndexFunc(h.Batches, func(b Batch) bool { return b.Is(use.used) })
		if i < 0 {
			continue
		}
		b := &h.Batches[i]
		if use.inRun {
			f.named(use)
		}
		if by := b.UseBy(); !by.IsZero() && use.in(by) {
			f.say(LevelLook, "batch_ran_out", by, nil, facts{value: capital(b.Words()), limit: dayClock(by)})
		}
		f.tested(use, b)
		f.measured(use, b)
	}
	slices.SortStableFunc(f.out, func(a, b Remark) int { return a.At.Compare(b.At) })
	return f.out
}

// RemarksWith gives [Remarks], [FluidRemarks] and [StartRemarks] together, in order of time.
func RemarksWith(s *Session, h History, now time.Time) []Remark {
	told := toldRemarks(s, h, now)
	var list []Remark
	if w, ok := watchRunTold(s, now, looksOf(told)); ok {
		list = w.out
	}
	list = append(list, told...)
	slices.SortStableFunc(list, func(a, b Remark) int { return a.At.Compare(b.At) })
	return list
}

// StandingFluid lists the remarks on the batch, and on what of the start line stops
// since, of level look that nobody has answered: by a call in which somebody was reached,
// or by another batch, written after it. The last made comes first.
func StandingFluid(s *Session, h History, now time.Time) (list []Remark) {
	all := append(FluidRemarks(s, h, now), standingStart(s, h, now)...)
	slices.SortStableFunc(all, func(a, b Remark) int { return a.At.Compare(b.At) })
	for _, r := range slices.Backward(all) {
		answered := r.Level != LevelLook
		Each(s, func(b *Rang, e *Event) {
			answered = answered || e.At.After(r.At) && !e.At.After(now) && ReachedBy(b.Said) != Nobody
		})
		Each(s, func(_ *BatchUsed, e *Event) { answered = answered || e.At.After(r.At) && !e.At.After(now) })
		if !answered {
			list = append(list, r)
		}
	}
	return list
}

// fluidRun collects what there is to remark on a batch.
type fluidRun struct {
	s   *Session
	h   History
	rx  *Prescription
	out []Remark
}

func (r *fluidRun) say(level, code string, at time.Time, e *Event, f facts) {
	at = r.s.local(at)
	r.out = append(r.out, Remark{Code: code, Words: r.s.Rx.InWords(wordsOf(code, f)), At: at, Level: level, Entry: idOf(e)})
}

// struck is the batch taken out of the record while the treatment runs on it.
func (r *fluidRun) struck(use batchUse) {
	for _, b := range r.h.StruckBatches {
		if b.Is(use.used) && use.in(b.Struck.At) {
			r.say(LevelLook, "batch_struck", b.Struck.At, nil, facts{value: capital(b.Words()), was: clock(r.s.local(b.Struck.At)), limit: sentence(b.Struck.Reason)})
		}
	}
}

// named holds a batch that is named while the treatment runs against what the start line
// asks of one.
func (r *fluidRun) named(use batchUse) {
	l := startLine{s: r.s, h: r.h, rx: r.rx, at: use.e.At}
	var wrong, open []finding
	for _, judge := range []func(startLine, *verdict){startLine.bath, startLine.chlorine, startLine.conductivity} {
		var v verdict
		judge(l, &v)
		v.answered(l.ofBatch().s, l.at)
		for _, f := range v.findings {
			switch {
			case f.state == StopHere, f.code == "batch_not_tested", f.code == "batch_no_use_by":
				wrong = append(wrong, f)
			case f.state == OpenYet:
				open = append(open, f)
			}
		}
	}
	switch {
	case len(wrong) > 0:
		r.say(LevelLook, "batch_wrong", use.from, use.e, facts{value: wordsOfAll(append(wrong, open...))})
	case len(open) > 0:
		r.say(LevelNote, "batch_open", use.from, use.e, facts{value: wordsOfAll(open)})
	}
}

// tested are tests of the batch outside this session that came to light while it runs:
// what was known at its start is judged there.
func (r *fluidRun) tested(use batchUse, b *Batch) {
	limit, whose := chlorineLimitOf(r.s.Rx)
	for i := range b.Log {
		e := &b.Log[i]
		at := e.At
		if e.Written.After(at) {
			at = e.Written
		}
		if !use.in(at) {
			continue
		}
		switch test := e.Body.(type) {
		case *Chlorine:
			if test.over(limit, e) {
				r.say(LevelLook, "batch_failed", at, nil, facts{value: test.Result.Text(), was: capital(b.Words()), limit: limit.Text(), whose: whose})
			}
		case *FluidCheck:
			r.inRange(b, at, nil, test.MachineConduct, test.MeterConduct)
		}
	}
}

// measured is what this session measured of the fluid while it ran, against the batch's
// own range: each check of the fluid, and of the readings those that leave it.
func (r *fluidRun) measured(use batchUse, b *Batch) {
	out := false
	for i := range r.s.Log {
		e := &r.s.Log[i]
		if e.Struck != nil || e.At.Before(use.from) || e.At.After(use.to) || use.left && !e.At.Before(use.to) || !use.inRun && r.s.beforeStart(e) {
			continue
		}
		switch test := e.Body.(type) {
		case *FluidCheck:
			out = r.inRange(b, e.At, e, test.MachineConduct, test.MeterConduct)
		case *Reading:
			switch is := test.Conduct != nil && b.outOfRange(*test.Conduct); {
			case is && !out:
				out = r.inRange(b, e.At, e, *test.Conduct, 0)
			case test.Conduct != nil:
				out = is
			}
		}
	}
}

// beforeStart reports whether an entry was written before the treatment began: of one
// moment the order of writing decides.
func (s *Session) beforeStart(e *Event) bool {
	began, ok := s.Began()
	if _, c := First[Connected](s); ok && c != nil && e.At.Equal(began) {
		return e.Place <= c.Place
	}
	return ok && e.At.Before(began)
}

// inRange remarks on a conductivity outside the range of the batch; it reports whether
// one is. What an instrument did not read is 0.
func (r *fluidRun) inRange(b *Batch, at time.Time, e *Event, machine, meter unit.Conductivity) bool {
	var parts []string
	for _, one := range []struct {
		name string
		got  unit.Conductivity
	}{{"Machine ", machine}, {"Meter ", meter}} {
		if one.got != 0 && b.outOfRange(one.got) {
			parts = append(parts, one.name+one.got.Digits(2))
		}
	}
	if len(parts) == 0 {
		return false
	}
	limit := b.CondLow.Digits(2) + " to " + b.CondHigh.Digits(2) + "\u00a0mS/cm"
	r.say(LevelLook, "batch_range", at, e, facts{value: strings.Join(parts, ", "), was: b.Words(), limit: limit})
	return true
}

// outOfRange reports whether a conductivity lies outside the batch's own range; of one
// without a range nothing is said here, it is judged like that of any other fluid.
func (b *Batch) outOfRange(got unit.Conductivity) bool {
	return b.CondLow != nil && b.CondHigh != nil && (got < *b.CondLow || got > *b.CondHigh)
}
