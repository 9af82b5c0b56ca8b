package session

import (
	"math"
	"slices"
	"time"

	"ebbline/unit"
)

// Pace is how long a person's own past sessions took, step by step and whole.
type Pace struct {
	Steps  map[string][]time.Duration
	Totals []time.Duration
}

// PaceOf measures the pace on earlier sessions with the same sheet. Steps that
// were typed in later, or whose beginning is not known, give nothing.
func PaceOf(sheet RunSheet, earlier []*Session) Pace {
	p := Pace{Steps: map[string][]time.Duration{}}
	for _, s := range earlier {
		if opened, _ := s.Opened(); opened.Source == "paper" || opened.Place == "elsewhere" {
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

// Expect tells when a sheet will be finished: the rest of it is played through
// by the steps' times – drawn from the person's own past where there are at
// least five, else spread about the usual minutes – with the hands at one
// thing at a time and the machine beside them. The draws are stratified and
// fixed, so that the same record gives the same answer on every screen.
func Expect(sheet RunSheet, s *Session, pace Pace, now time.Time) Expected {
	p := Progress(sheet, s, now)
	d := playThrough(p, pace, now)
	return Expected{
		Median: now.Add(d.at(0.5)), Early: now.Add(d.at(0.1)), Late: now.Add(d.at(0.9)),
		Own: len(pace.Totals),
	}
}

// Usual tells how long a whole sheet takes from nothing: median and the range
// that holds eight of ten.
func Usual(sheet RunSheet, pace Pace) (median, early, late time.Duration) {
	d := playThrough(Progress(sheet, &Session{}, time.Time{}), pace, time.Time{})
	return d.at(0.5), d.at(0.1), d.at(0.9)
}

// StartBy tells when setting up must begin to have the hands free at off:
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

// durations are how long the rest took in each round, sorted, in minutes.
type durations []float64

func (d durations) at(q float64) time.Duration {
	return time.Duration(quantile(d, q) * float64(time.Minute)).Round(time.Second)
}

func playThrough(p SheetState, pace Pace, now time.Time) durations {
	d := rest(p, pace, now)
	if len(pace.Totals) < totalsEnough {
		return d
	}
	whole := d
	if p.Done > 0 || !now.IsZero() {
		whole = rest(SheetState{Steps: fresh(p.sheet())}, pace, time.Time{})
	}
	return pace.widen(d, quantile(whole, 0.5))
}

// rest plays through what is left of a sheet, step by step.
func rest(p SheetState, pace Pace, now time.Time) durations {
	draws := make([][]float64, len(p.Steps))
	dice := lcg(20)
	for i, st := range p.Steps {
		draws[i] = make([]float64, rounds)
		for k := range rounds {
			draws[i][k] = stepTime(st.Step, pace.Steps[st.ID], (float64(k)+0.5)/rounds)
		}
		dice.shuffle(draws[i])
	}
	tail := tails(p.sheet(), func(s Step) float64 { return max(s.Usual.Float(), s.Timer.Float()) })
	out := make(durations, rounds)
	takes := make([]float64, len(p.Steps))
	for k := range rounds {
		for i, st := range p.Steps {
			takes[i] = draws[i][k]
			if st.State == StepRunning {
				takes[i] = max(0, takes[i]-now.Sub(st.Began).Minutes())
				if st.Tick == TickTimer {
					takes[i] = max(0, st.Due.Sub(now).Minutes())
				}
			}
		}
		out[k] = makespan(p, takes, tail)
	}
	slices.Sort(out)
	return out
}

// totalsEnough is how many whole times of the person's own show how days
// differ.
const totalsEnough = 8

// widen carries what single steps cannot know: days are slow or quick as a
// whole, and time goes between the steps. The median follows the person's
// whole times against what the steps make of them, whole, and the range is at
// least as wide as theirs. The q-quantile of n of them is taken at place
// q·(n+1), which is where the next one falls below with probability q.
func (p Pace) widen(d durations, whole float64) durations {
	totals := minutesOf(p.Totals)
	n := float64(len(totals))
	mid := quantile(totals, 0.5)
	if mid <= 0 || whole <= 0 || len(d) == 0 {
		return d
	}
	scale := min(max(mid/whole, 0.5), 2)
	centre := quantile(d, 0.5) * scale
	out := make(durations, len(d))
	for i := range d {
		q := (float64(i) + 0.5) / float64(len(d))
		place := min(max((q*(n+1)-1)/(n-1), 0), 1)
		steps, days := d[i]*scale, centre*quantile(totals, place)/mid
		if q < 0.5 {
			out[i] = min(steps, days)
		} else {
			out[i] = max(steps, days)
		}
	}
	return out
}

func fresh(sheet RunSheet) []StepState {
	var out []StepState
	for _, s := range sheet.Steps {
		out = append(out, StepState{Step: s, State: StepWaiting, Waits: s.After})
	}
	return out
}

// makespan plays the rest of a sheet through once and gives the minutes until
// the last step is done. At each moment the hands take up the step on which
// the longest chain waits; the machine's steps begin by themselves.
func makespan(p SheetState, takes []float64, tail map[string]float64) float64 {
	n := len(p.Steps)
	waits := make([]int, n)
	at := map[string]int{}
	for i, st := range p.Steps {
		at[st.ID] = i
	}
	over := make([]bool, n) // done, before or in this round
	for i, st := range p.Steps {
		over[i] = st.State == StepIsDone || st.State == StepNotDone
	}
	followers := make([][]int, n)
	for i, st := range p.Steps {
		for _, a := range st.After {
			if j, ok := at[a]; ok && !over[j] {
				waits[i]++
				followers[j] = append(followers[j], i)
			}
		}
	}
	begun := make([]bool, n)
	ends := make([]float64, n)
	now, hands := 0.0, -1
	for {
		// The machine begins what it can; running steps go on whatever waits.
		for i, st := range p.Steps {
			if !over[i] && !begun[i] && (st.State == StepRunning && (st.Lane == LaneMachine || st.Tick == TickTimer) || st.Lane == LaneMachine && waits[i] == 0) {
				begun[i], ends[i] = true, now+takes[i]
			}
		}
		if hands < 0 {
			best := -1
			for i, st := range p.Steps {
				if over[i] || begun[i] || st.Lane != LaneHands || (waits[i] > 0 && st.State != StepRunning) {
					continue
				}
				if best < 0 || ahead(p.Steps[i], p.Steps[best], tail) {
					best = i
				}
			}
			if best >= 0 {
				begun[best], ends[best], hands = true, now+takes[best], best
			}
		}
		next := -1
		for i := range n {
			if begun[i] && !over[i] && (next < 0 || ends[i] < ends[next]) {
				next = i
			}
		}
		if next < 0 {
			return now
		}
		now = ends[next]
		over[next] = true
		for _, f := range followers[next] {
			waits[f]--
		}
		if hands == next {
			hands = -1
		}
	}
}

// ahead tells whether the hands take up a before b: what is under way first,
// then what more waits for.
func ahead(a, b StepState, tail map[string]float64) bool {
	if ra, rb := a.State == StepRunning, b.State == StepRunning; ra != rb {
		return ra
	}
	return tail[a.ID] > tail[b.ID]
}

// stepTime gives the q-quantile of a step's minutes.
func stepTime(s Step, own []time.Duration, q float64) float64 {
	if s.Tick == TickTimer {
		return s.Timer.Float()
	}
	if len(own) >= ownEnough {
		return quantile(minutesOf(own), q)
	}
	usual := s.Usual.Float()
	if len(own) > 0 { // a few own times pull the usual one towards them
		sum := 2 * usual
		for _, d := range own {
			sum += d.Minutes()
		}
		usual = sum / float64(2+len(own))
	}
	return usual * math.Exp(spreadLog*math.Sqrt2*math.Erfinv(2*q-1))
}

func minutesOf(ds []time.Duration) []float64 {
	out := make([]float64, len(ds))
	for i, d := range ds {
		out[i] = d.Minutes()
	}
	slices.Sort(out)
	return out
}

// quantile gives the q-quantile of sorted values, straight between neighbours.
func quantile(sorted []float64, q float64) float64 {
	if len(sorted) == 0 {
		return 0
	}
	pos := q * float64(len(sorted)-1)
	i := int(pos)
	if i+1 >= len(sorted) {
		return sorted[len(sorted)-1]
	}
	return sorted[i] + (pos-float64(i))*(sorted[i+1]-sorted[i])
}

// lcg is a fixed sequence of numbers for shuffling draws. It need not be
// unpredictable, only the same on every screen. Constants: Knuth, The Art of
// Computer Programming vol. 2, §3.3.4 (from memory).
type lcg uint64

func (l *lcg) next(n int) int {
	*l = *l*6364136223846793005 + 1442695040888963407
	return int(uint64(*l) >> 33 % uint64(n))
}

func (l *lcg) shuffle(v []float64) {
	for i := len(v) - 1; i > 0; i-- {
		j := l.next(i + 1)
		v[i], v[j] = v[j], v[i]
	}
}
