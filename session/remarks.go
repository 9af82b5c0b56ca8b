package session

import (
	"slices"
	"strconv"
	"time"

	"ebbline/unit"
)

// A Remark is something the readings show that a person may have read over. It
// is said on the page in words; the program watches nothing.
type Remark struct {
	Code  string
	Words string
	At    time.Time
	Level string // "look": needles, lines or pressure now; "note": when there is time
	Entry string // id of the entry it was seen in; empty when an entry is lacking
	Felt  string // of "unwell": the words that were written, or the title of the trouble
}

// The two levels of a remark.
const (
	LevelLook = "look"
	LevelNote = "note"
)

// Remarks gives what there is to remark on in a session up to now, in order of
// time, for every session alike: one that runs, one typed in from paper, one
// held elsewhere. Entries after now do not count, nor do those after the end of
// the treatment.
//
// A pressure of the lines is said again from a new running value; what is out
// of its bounds is said after a value that was inside, and again when it is
// further out by a stated step; feeling unwell each time; everything else once
// a session. The words are in sayrun.go.
func Remarks(s *Session, now time.Time) []Remark {
	w, ok := watchRun(s, now)
	if !ok {
		return nil
	}
	slices.SortStableFunc(w.out, func(a, b Remark) int { return a.At.Compare(b.At) })
	return w.out
}

// watch goes through a run's entries in order of time. It collects the
// remarks, follows the blood pressure and the falls of it, and when the next
// reading is due.
type watch struct {
	s         *Session
	until     time.Time // now, or the end
	out       []Remark
	said      map[string]bool
	connected bool
	flow      *unit.Flow
	venous    running
	arterial  running
	venousWas unit.Pressure // read last, and the blood flow then
	venousAt  unit.Flow
	tmp       []unit.Pressure
	row       lively // of the last reading that had all of it
	rows      int    // how many of those were the same
	bp        bloodPressure
	bounds    map[string]*beyond
	check     checks
	irregular bool              // the pulse was said to be newly so, and is still
	oddSaid   int               // place of the remark that said it
	count     count             // of what was removed
	word      int               // place of the unit's last word after a fall; −1 without one
	before    *unit.Temperature // of the body, before the session, or the first one read
	firstRead bool              // it is the first one read
	lowSaid   time.Time         // of the last entry that told of a low pressure; zero without one
	noFigure  bool              // that was a trouble opened with no figure
	eased     time.Time         // of the first of what saline may be given for; zero when there was none
	felt      hardFelt
	pressures []pressureTold
	hot       []string // entries that told of a fluid too hot or too wrong to go on with
}

// watchRun follows a run up to now. ok is false before the treatment began.
func watchRun(s *Session, now time.Time) (w *watch, ok bool) { return watchRunTold(s, now, nil) }

// watchRunTold is [watchRun] with looks that do not come from the run's own entries, in
// order of time ([toldLooks]): they bring the next reading forward like any other.
func watchRunTold(s *Session, now time.Time, told []Remark) (w *watch, ok bool) {
	began, ok := s.Began()
	if !ok || now.Before(began) {
		return nil, false
	}
	until := now
	if ended, over := theEnd(s); over && ended.Before(now) {
		until = ended
	}
	w = &watch{s: s, until: until, said: map[string]bool{}, bounds: map[string]*beyond{}, word: -1, count: countOf(s)}
	w.bp, w.check, w.before = pressureOf(s, began), checksOf(s, began), temperatureBefore(s, began)
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil || e.At.Before(began) || e.At.After(until) {
			continue
		}
		told = w.toldBefore(told, e)
		w.late(e.At)
		from := len(w.out)
		w.entry(e, i)
		for _, r := range w.out[from:] {
			if (r.Level == LevelLook || r.Code == "nadir") && r.Code != "low_pressure" {
				w.check.look(e, r.Code == "nadir")
			}
		}
	}
	w.toldBefore(told, &Event{At: until.Add(1)})
	w.late(until)
	w.shownOtherwise(began)
	w.undoneSugars()
	w.flushes()
	return w, true
}

func (w *watch) entry(e *Event, i int) {
	if told := flowOf(e); told != nil {
		w.flow = told
	}
	switch b := e.Body.(type) {
	case *Connected:
		w.connected = true
	case *Reading:
		w.check.reading(e.At, b.Systolic != nil)
		w.reading(b, e, i)
	case *LowPressure:
		w.felt.complaint("", e.At)
		if b.Systolic == nil && w.noFigure && e.At.Sub(w.lowSaid) <= sameFall {
			w.bp.low, w.noFigure = true, false // the trouble said it; a further one is said again
			w.check.low(e)
			break
		}
		w.pressure(b.Systolic, true, e, i)
		w.lowSaid, w.noFigure = e.At, false
	case *Trouble:
		w.trouble(b, e, i)
	case *LieBack:
		w.ease(e.At)
	case *Cramp:
		w.bp.complaint()
		w.felt.complaint("", e.At)
		w.ease(e.At)
	case *Unwell:
		w.unwell(b.Words, e)
		if w.out[len(w.out)-1].Trouble() == TroubleLow || namesEase(b.Words) {
			w.ease(e.At)
		}
		if hasChills(b.Words) {
			w.felt.complaint(TroubleFever, e.At)
			w.say(LevelLook, "fever", e, facts{value: b.Words, felt: true})
		}
	case *Chlorine:
		w.chlorine(b, e)
	case *BathLabel:
		w.bag(b, e)
	case *LockDrawn:
		if w.connected && (b.Arterial == CouldNot || b.Venous == CouldNot) {
			w.say(LevelLook, "lock_stuck", e, facts{value: b.stuck()})
		}
	case *Glucose:
		w.sugar(b, e)
	case *FluidCheck:
		if w.connected {
			w.fluidCheck(b, e)
		}
	case *NeedleAdjusted: // the other needle's pressure goes on where it ran
		if b.Which != "arterial" {
			w.venous = running{}
		}
		if b.Which != "venous" {
			w.arterial = running{}
		}
	case *Fitness:
		if b.Pregnant && !toldInSession(w.s, e) {
			w.say(LevelLook, "pregnant_told", e, facts{value: clock(e.At)})
		}
	case *GoalChanged:
		w.takesWord(b, i)
		w.paperGoal(b, e)
	case *Asleep:
		w.check.asleep(e.At, b.For)
	case *CameOff:
		w.removal(e)
	}
}

// unwell says what is felt, each time.
func (w *watch) unwell(words string, e *Event) {
	w.bp.complaint()
	w.felt.complaint(unwellLeads(words), e.At)
	w.say(LevelLook, "unwell", e, facts{value: words, hard: ringsAmbulance(unwellLeads(words))})
	w.out[len(w.out)-1].Felt = words
}

// trouble takes in one that is there. A low pressure is a low reading with no
// figure, but when an entry told of it within a minute; what is felt in the body is
// said as "unwell" by its title; of every other the next check is due as after a
// look.
func (w *watch) trouble(b *Trouble, e *Event, i int) {
	t, ok := TroubleOf(b.Trouble)
	switch {
	case ok && b.State == TroubleOver:
		w.felt.over(t.Code)
	case !ok:
	case t.Code == TroubleLow && !w.lowSaid.IsZero() && e.At.Sub(w.lowSaid) <= sameFall:
		w.bp.complaint()
		w.bp.low = true
		w.check.low(e)
	case t.Code == TroubleLow:
		w.pressure(nil, true, e, i)
		w.lowSaid, w.noFigure = e.At, true
	case felt(t):
		w.unwell(t.Title, e)
		if t.Code == TroubleFever {
			w.say(LevelLook, "fever", e, facts{value: t.Title, felt: true})
		}
	default:
		w.check.wake(e) // while it is open, [NextCheck] says when the next one is due
	}
}

// ease notes the first moment from which saline may have been given for a low
// pressure or a cramp: one of them, lying back, feeling faint, or a pressure that
// counts as low pressure of the session.
func (w *watch) ease(at time.Time) {
	if w.eased.IsZero() {
		w.eased = at
	}
}

func (w *watch) say(level, code string, e *Event, f facts) {
	f.catheter = w.s.Rx.ByCatheter()
	w.out = append(w.out, Remark{Code: code, Words: wordsOf(code, f), At: e.At, Level: level, Entry: e.ID})
}

func (w *watch) once(level, code string, e *Event, f facts) {
	if !w.said[code] {
		w.said[code] = true
		w.say(level, code, e, f)
	}
}

func (w *watch) reading(b *Reading, e *Event, i int) {
	if !OneNeedle(w.s) {
		w.linePressures(b, e)
	}
	if b.Systolic != nil {
		if w.pressure(b.Systolic, false, e, i) {
			w.lowSaid, w.noFigure = e.At, false
		}
	}
	w.outside(b, e)
	w.removal(e)
	w.paperRate(b, e)
	w.bloodFlow(b, e)
	w.membrane(b, e)
	w.copied(b, e)
}

// copied remarks on readings that are the same in everything that never stays:
// a row that was copied, not read.
func (w *watch) copied(b *Reading, e *Event) {
	now, whole := livelyOf(b)
	if !whole {
		return
	}
	if w.rows == 0 || now != w.row {
		w.row, w.rows = now, 0
	}
	w.rows++
	if w.rows >= alike {
		w.once(LevelNote, "copied", e, facts{value: strconv.Itoa(w.rows)})
	}
}

// lively are the figures of a reading that a body and a needle move.
type lively struct {
	systolic, diastolic, arterial, venous unit.Pressure
	pulse                                 unit.Pulse
}

// livelyOf gives them, and whether the reading has all five.
func livelyOf(b *Reading) (lively, bool) {
	if b.Systolic == nil || b.Diastolic == nil || b.Pulse == nil || b.Arterial == nil || b.Venous == nil {
		return lively{}, false
	}
	return lively{*b.Systolic, *b.Diastolic, *b.Arterial, *b.Venous, *b.Pulse}, true
}

func (w *watch) removal(e *Event) {
	removed, told := w.count.take(e)
	w.untold(e, told)
	w.substituted(e)
	l := lineOf(w.s, e.At)
	if !told {
		return
	}
	if l == nil { // of the paper's goal it is said all the same, however the rate runs
		if p, _ := PaperPlanOf(w.s, e.At); p != nil {
			w.overGoal(removed, e)
		}
		return
	}
	treated := TreatedFor(w.s, e.At)
	expected := unit.Volume(l.at(treated))
	off := removed - expected
	if far := max(off, -off); treated >= offLineMin && far >= offLineMl && 100*far > offLine*expected {
		code := "removal_ahead"
		if off < 0 {
			code = "removal_behind"
		}
		w.once(LevelNote, code, e, facts{value: removed.Text(), was: expected.Text()})
	}
	w.overGoal(removed, e)
}

// overGoal remarks on more removed than the goal that is set.
func (w *watch) overGoal(removed unit.Volume, e *Event) {
	if goal, ok := Goal(w.s, e.At); ok && removed > goal+overGoal {
		w.once(LevelLook, "goal_exceeded", e, facts{value: removed.Text(), limit: goal.Text()})
	}
}

func (w *watch) bloodFlow(b *Reading, e *Event) {
	if b.BloodFlow == nil || w.s.Rx == nil || TreatedFor(w.s, e.At) < settled {
		return
	}
	if want := w.s.Rx.BloodFlow; 100**b.BloodFlow < (100-lowFlow)*want {
		w.once(LevelNote, "blood_flow_low", e, facts{value: b.BloodFlow.String(), limit: want.Text()})
	}
}

// late remarks on a reading that had not come by at, before what happened then
// is taken in.
func (w *watch) late(at time.Time) {
	due := w.check.due(at).latest
	if at.Sub(due) > checkGrace && !w.said["check_late"] {
		w.said["check_late"] = true
		w.out = append(w.out, Remark{Code: "check_late", At: due.Add(checkGrace), Level: LevelNote,
			Words: wordsOf("check_late", facts{value: clock(due)})})
	}
}
