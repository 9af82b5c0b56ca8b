package session

import (
	"math"
	"slices"
	"time"
)

// durations are how long the rest of a sheet took in each round, sorted, in
// minutes.
type durations []float64

func (d durations) at(q float64) time.Duration {
	return time.Duration(quantile(d, q) * float64(time.Minute)).Round(time.Second)
}

// playThrough plays through what is left of a sheet at an instant, and brings
// it to the person's own whole times.
func playThrough(p SheetState, pace Pace, now time.Time) durations {
	d := rest(p, pace, now)
	if len(pace.Totals) < totalsEnough {
		return d
	}
	whole := d
	if !untouched(p) {
		whole = rest(SheetState{Steps: fresh(p.sheet())}, pace, time.Time{})
	}
	return pace.widen(d, quantile(whole, 0.5))
}

func untouched(p SheetState) bool {
	return !slices.ContainsFunc(p.Steps, func(s StepState) bool { return s.State != StepReady && s.State != StepWaiting })
}

func fresh(sheet RunSheet) []StepState {
	out := make([]StepState, len(sheet.Steps))
	for i, s := range sheet.Steps {
		out[i] = StepState{Step: s, State: StepWaiting}
	}
	return out
}

// rest gives how long what is left takes, round by round, sorted. Each step's
// times are its quantiles at even places, in an order of their own.
func rest(p SheetState, pace Pace, now time.Time) durations {
	draws := make([][]float64, len(p.Steps))
	dice := lcg(20)
	for i, st := range p.Steps {
		draws[i] = stepTimes(st, pace.Steps[st.ID], now)
		dice.shuffle(draws[i])
	}
	w := worksheetOf(p)
	out := make(durations, rounds)
	takes := make([]float64, len(p.Steps))
	for k := range rounds {
		for i := range takes {
			takes[i] = draws[i][k]
		}
		out[k] = w.play(takes)
	}
	slices.Sort(out)
	return out
}

// stepTimes gives a step's minutes still to come, at even quantiles.
func stepTimes(st StepState, own []time.Duration, now time.Time) []float64 {
	out := make([]float64, rounds)
	var gone float64
	if st.State == StepRunning {
		gone = now.Sub(st.Began).Minutes()
	}
	at := quantiles(st.Step, own)
	for k := range out {
		out[k] = max(0, at((float64(k)+0.5)/rounds)-gone)
	}
	return out
}

// quantiles gives how long a step takes: a timer its minutes; else the
// person's own times, or, while there are too few, usual minutes that those
// few pull towards them.
func quantiles(s Step, own []time.Duration) func(q float64) float64 {
	if s.Tick == TickTimer {
		return func(float64) float64 { return s.Timer.Float() }
	}
	minutes := minutesOf(own)
	if len(minutes) >= ownEnough {
		return func(q float64) float64 { return quantile(minutes, q) }
	}
	usual := 2 * s.Usual.Float()
	for _, m := range minutes {
		usual += m
	}
	usual /= float64(2 + len(minutes))
	return func(q float64) float64 {
		return usual * math.Exp(spreadLog*math.Sqrt2*math.Erfinv(2*q-1))
	}
}

// A worksheet is what is left of a sheet, made ready to be played through many
// times.
type worksheet struct {
	steps     []workStep
	followers [][]int

	// of one round
	waits []int
	ends  []float64
	state []byte
}

type workStep struct {
	over    bool    // done before the round
	alone   bool    // begins without the hands as soon as nothing holds it up
	running bool    // under way, whatever it still waits for
	tail    float64 // length of the longest chain that begins with it
	waits   int
}

const (
	idle byte = iota
	begun
	over
)

func worksheetOf(p SheetState) *worksheet {
	n := len(p.Steps)
	tail := tails(p.sheet(), func(s Step) float64 { return max(s.Usual.Float(), s.Timer.Float()) })
	w := &worksheet{
		steps: make([]workStep, n), followers: make([][]int, n),
		waits: make([]int, n), ends: make([]float64, n), state: make([]byte, n),
	}
	place := make(map[string]int, n)
	for i, st := range p.Steps {
		place[st.ID] = i
		w.steps[i] = workStep{
			over:    st.Over(),
			running: st.State == StepRunning,
			alone:   st.Lane == LaneMachine || (st.State == StepRunning && st.Tick == TickTimer),
			tail:    tail[st.ID],
		}
	}
	for i, st := range p.Steps {
		for _, a := range st.After {
			if j, ok := place[a]; ok && !w.steps[j].over && !w.steps[i].over {
				w.steps[i].waits++
				w.followers[j] = append(w.followers[j], i)
			}
		}
	}
	return w
}

// play plays the rest through once and gives the minutes until the last step
// is done. The machine's steps begin by themselves; the hands do one thing at
// a time, first what is under way, then what the longest chain waits for.
func (w *worksheet) play(takes []float64) float64 {
	for i, st := range w.steps {
		w.waits[i], w.state[i] = st.waits, idle
		if st.over {
			w.state[i] = over
		}
	}
	now, hands := 0.0, -1
	for {
		best := -1
		for i, st := range w.steps {
			if w.state[i] != idle || (w.waits[i] > 0 && !st.running) {
				continue
			}
			if st.alone {
				w.state[i], w.ends[i] = begun, now+takes[i]
			} else if hands < 0 && (best < 0 || w.ahead(i, best)) {
				best = i
			}
		}
		if best >= 0 {
			w.state[best], w.ends[best], hands = begun, now+takes[best], best
		}
		next := -1
		for i := range w.steps {
			if w.state[i] == begun && (next < 0 || w.ends[i] < w.ends[next]) {
				next = i
			}
		}
		if next < 0 {
			return now
		}
		now, w.state[next] = w.ends[next], over
		for _, f := range w.followers[next] {
			w.waits[f]--
		}
		if hands == next {
			hands = -1
		}
	}
}

func (w *worksheet) ahead(i, j int) bool {
	if w.steps[i].running != w.steps[j].running {
		return w.steps[i].running
	}
	return w.steps[i].tail > w.steps[j].tail
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
