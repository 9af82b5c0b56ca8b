package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// Pace is how long a person's own past sessions took, step by step and whole.
type Pace struct {
	Steps  map[string][]time.Duration
	Totals []time.Duration
}

// paceOver is how many sessions the pace is measured on: people get quicker,
// and a new machine or room changes it.
const paceOver = 40

// PaceOf measures the pace on the latest forty of the earlier sessions, oldest
// first. Sessions from paper or held elsewhere give nothing, nor do ticks made
// in a heap.
func PaceOf(sheet RunSheet, earlier []*Session) Pace {
	p := Pace{Steps: map[string][]time.Duration{}}
	for _, s := range earlier[max(0, len(earlier)-paceOver):] {
		if opened, _ := s.Opened(); opened.Afterwards() {
			continue
		}
		took, total := timesOf(sheet, s)
		for id, d := range took {
			p.Steps[id] = append(p.Steps[id], d)
		}
		if total > 0 {
			p.Totals = append(p.Totals, total)
		}
	}
	return p
}

// Times outside these bounds are ticks made in a heap, or an evening broken
// off, and say nothing about a step.
const (
	shortestStep = 5 * time.Second
	longestStep  = 3 * time.Hour
)

// timesOf gives how long each step of a past session took. Hands do one thing
// at a time, so a step of the hands begins when the hands were last free; a
// step of the machine begins when it could.
func timesOf(sheet RunSheet, s *Session) (took map[string]time.Duration, total time.Duration) {
	took = map[string]time.Duration{}
	if len(s.Log) == 0 {
		return took, 0
	}
	began, ended := phaseSpan(sheet.Phase, s)
	end := s.Log[len(s.Log)-1].At
	p := Progress(sheet, s, end)
	steps := slices.Clone(p.Steps)
	slices.SortStableFunc(steps, func(a, b StepState) int { return a.Finished.Compare(b.Finished) })
	free := began
	for _, st := range steps {
		if st.State != StepIsDone || st.Finished.Before(began) {
			continue
		}
		from := st.Began
		if st.Lane == LaneHands {
			if from.IsZero() {
				from = free
			}
			if st.Finished.After(free) {
				free = st.Finished
			}
		}
		if d := st.Finished.Sub(from); !from.IsZero() && st.Tick != TickTimer && d >= shortestStep && d <= longestStep {
			took[st.ID] = d
		}
	}
	if !began.IsZero() && ended.After(began) && ended.Sub(began) < 2*longestStep {
		total = ended.Sub(began)
	}
	return took, total
}

// phaseSpan gives when a phase of a session began and ended, zero where it
// did not.
func phaseSpan(phase string, s *Session) (began, ended time.Time) {
	if phase == SetUp {
		_, began = s.Opened()
		if _, e := First[Connected](s); e != nil {
			ended = e.At
		}
		return began, ended
	}
	if _, e := First[CameOff](s); e != nil {
		began = e.At
	}
	if _, e := Last[Closed](s); e != nil {
		ended = e.At
	}
	return began, ended
}

// Expected is when a run sheet will be finished, as a median and the range
// that holds eight of ten.
type Expected struct {
	Median, Early, Late time.Time
	Own                 int // sessions of the person's own it rests on; 0 is usual minutes only
}

// rounds is how many times the rest of a sheet is played through; with
// stratified draws the tenth and ninetieth of a hundred hold to under a
// minute.
const rounds = 256

// spreadLog is the scatter of a step's time about its usual minutes, as the
// standard deviation of its logarithm, until the person's own times are known:
// a quarter of an hour then lies between 10 and 23 minutes four times in five.
// A proposal of this program.
const spreadLog = 0.35

// ownEnough is how many of a person's own times make a distribution.
const ownEnough = 5

// Expect gives when a sheet will be finished: the rest of it is played through
// by the steps' times – drawn from the person's own past where there are at
// least five, else spread about the usual minutes – with the hands at one
// thing at a time and the machine beside them. The draws are stratified and
// fixed, so that the same record gives the same answer on every screen. What a
// disinfection undoes, one written by the round included, is to be done again.
func Expect(sheet RunSheet, s *Session, h History, pace Pace, now time.Time) Expected {
	p := ProgressWith(sheet, s, h, now)
	d := playThrough(p, pace, now)
	return Expected{
		Median: now.Add(d.at(0.5)), Early: now.Add(d.at(0.1)), Late: now.Add(d.at(0.9)),
		Own: len(pace.Totals),
	}
}

// Usual gives how long a whole sheet takes from nothing: median and the range
// that holds eight of ten.
func Usual(sheet RunSheet, pace Pace) (median, early, late time.Duration) {
	d := playThrough(Progress(sheet, &Session{}, time.Time{}), pace, time.Time{})
	return d.at(0.5), d.at(0.1), d.at(0.9)
}

// StartBy gives when setting up must begin to have the hands free at off:
//
//	off − taking off (median) − length − setting up (the nine-in-ten time)
//
// Instants are subtracted, so a clock change on the way does not matter.
func StartBy(off time.Time, setUp, takeOff RunSheet, setUpPace, takeOffPace Pace, length unit.Minutes) time.Time {
	_, _, up := Usual(setUp, setUpPace)
	down, _, _ := Usual(handsOnly(takeOff), takeOffPace)
	return off.Add(-down).Add(-time.Duration(length) * time.Minute).Add(-up).Truncate(time.Minute)
}

// handsOnly leaves out what the machine does when the person has gone: its
// steps that no step of the hands waits for.
func handsOnly(sheet RunSheet) RunSheet {
	out := sheet.clone()
	for {
		i := slices.IndexFunc(out.Steps, func(s Step) bool {
			return s.Lane == LaneMachine && !slices.ContainsFunc(out.Steps, func(b Step) bool { return slices.Contains(b.After, s.ID) })
		})
		if i < 0 {
			return out
		}
		out.Steps = slices.Delete(out.Steps, i, i+1)
	}
}
