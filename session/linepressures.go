package session

import (
	"slices"
	"time"

	"ebbline/unit"
)

// linePressures remarks on a pressure of the lines that left the value at which it
// ran: by a leap, by small steps, or against a change of the blood flow.
func (w *watch) linePressures(b *Reading, e *Event) {
	if w.flow == nil {
		return
	}
	say := func(code string, v unit.Pressure, d departure) {
		f := facts{value: v.String(), was: d.was.String()}
		switch d.how {
		case bySteps:
			f.since = clock(d.at)
		case byFlow:
			f.flow, f.wasFlow = w.flow.Text(), d.flow.Text()
			f.hard = *w.flow < d.flow
		}
		w.say(LevelLook, code, e, f)
	}
	if b.Venous != nil {
		switch d := w.venous.put(*b.Venous, *w.flow, e.At, venousBounds); {
		case d.side < 0:
			say("venous_fall", *b.Venous, d)
		case d.side > 0:
			say("venous_rise", *b.Venous, d)
		default:
			if d, gone := w.venousGone(*b.Venous); gone {
				say("venous_fall", *b.Venous, d)
			}
		}
		w.venousWas, w.venousAt = *b.Venous, *w.flow
	}
	if b.Arterial != nil {
		w.arterialGone(*b.Arterial, e)
		if d := w.arterial.put(*b.Arterial, *w.flow, e.At, arterialBounds); d.side < 0 {
			say("arterial_fall", *b.Arterial, d)
		}
	}
}

// venousGone reports whether a venous pressure is all but gone while the pump runs, and
// what it is held against: the value read before it, at what its flow explains, also
// across a change of flow or a needle that was moved. Where the running value says it
// already nothing more is said.
func (w *watch) venousGone(v unit.Pressure) (departure, bool) {
	d := departure{side: -1, was: w.venousWas, flow: w.venousAt}
	expected := w.venousWas
	if far := *w.flow - w.venousAt; max(far, -far) > sameFlow {
		d.how = byFlow
		if far < 0 {
			expected = atFlow(expected, *w.flow, w.venousAt)
		}
	}
	gone := w.venousAt > 0 && *w.flow >= goneFlow && v < venousGone && expected-v >= venousRise
	return d, w.beyond("venous gone", gone, -int64(v), int64(venousRise))
}

// arterialGone remarks on an arterial pressure that is all but gone: a needle that slipped
// out or a line that came apart no longer resists the pump, and it draws air. It is held
// against the running value, or the one with which that began where it came by small
// steps, and at a lower flow against what the flow explains.
func (w *watch) arterialGone(v unit.Pressure, e *Event) {
	gone, f := false, facts{value: v.String()}
	if r := &w.arterial; len(r.values) > 0 {
		was := min(r.value(), r.began)
		expected := was
		if *w.flow < r.flow-sameFlow {
			expected = atFlow(was, *w.flow, r.flow)
		}
		gone, f.was = v > arterialGone && v-expected >= arterialRise, was.String()
		if far := *w.flow - r.flow; max(far, -far) > sameFlow {
			f.flow, f.wasFlow = w.flow.Text(), r.flow.Text()
		}
	}
	if w.beyond("arterial gone", gone, int64(v), againArterial) {
		w.say(LevelLook, "arterial_rise", e, f)
	}
}

// leaves are the bounds of one pressure in mmHg: how far it may leave the running
// value down and up (0 for never), by small steps or at once, and whether it goes
// with the blood flow.
type leaves struct {
	fall, rise           unit.Pressure
	slideFall, slideRise unit.Pressure
	withFlow             bool
}

var (
	venousBounds   = leaves{fall: venousFall, rise: venousRise, slideFall: slid, slideRise: slid, withFlow: true}
	arterialBounds = leaves{fall: arterialFall, slideFall: slid}
)

// side gives −1 for a difference of −fall and less, +1 for one of rise and more.
func side(d, fall, rise unit.Pressure) int {
	switch {
	case fall > 0 && d <= -fall:
		return -1
	case rise > 0 && d >= rise:
		return 1
	}
	return 0
}

// A departure is how a reading left the running value; side 0 when it did not.
type departure struct {
	side int
	how  int
	was  unit.Pressure // what it is held against: the running value, or the one that it began with
	at   time.Time     // when it began so
	flow unit.Flow     // at which it ran
}

const (
	byLeap  = iota
	bySteps // each too small to be seen
	byFlow  // more than the change of the blood flow explains
)

// running is the value that a pressure runs at: the middle of the last three
// readings at one blood flow.
type running struct {
	flow   unit.Flow
	values []unit.Pressure
	began  unit.Pressure  // the first of them
	at     time.Time      // its time
	left   *unit.Pressure // what was left last and not come back to
}

// value gives it.
func (r *running) value() unit.Pressure {
	last := slices.Sorted(slices.Values(r.values[max(0, len(r.values)-3):]))
	if len(last) == 2 {
		return (last[0] + last[1]) / 2
	}
	return last[len(last)/2]
}

// put takes in a reading and gives how it leaves the running value: with a leap from
// the middle of the last three, or by small steps from the value with which they
// began. At another flow it begins again, and for a pressure that goes with the flow
// it is held against what the change of flow explains. Having left it, it begins
// again too; back at what it left before, nothing is said.
func (r *running) put(v unit.Pressure, flow unit.Flow, at time.Time, b leaves) departure {
	if len(r.values) == 0 {
		*r = running{flow: flow, values: []unit.Pressure{v}, began: v, at: at}
		return departure{}
	}
	was := r.value()
	d := departure{was: was, at: r.at, flow: r.flow}
	if far := flow - r.flow; max(far, -far) > sameFlow {
		fell := b.withFlow && fellBeyondFlow(v, was, flow, r.flow)
		*r = running{flow: flow, values: []unit.Pressure{v}, began: v, at: at}
		if !fell {
			return departure{}
		}
		d.side, d.how = -1, byFlow
		expected := was
		if flow < d.flow {
			expected = atFlow(was, flow, d.flow)
		}
		r.left = &expected
		return d
	}
	if d.side = side(v-was, b.fall, b.rise); d.side == 0 {
		d.side, d.how, d.was = side(v-r.began, b.slideFall, b.slideRise), bySteps, r.began
	}
	if d.side == 0 {
		r.values = append(r.values, v)
		return departure{}
	}
	back := r.left != nil && max(v-*r.left, *r.left-v) < b.fall
	r.values, r.left, r.began, r.at = []unit.Pressure{v}, &d.was, v, at
	if back { // to where it ran before: what was remarked on has been put right
		r.left = nil
		return departure{}
	}
	return d
}

// atFlow gives what a venous pressure in mmHg comes to at another blood flow: as the
// flow, for a pressure of 83 mmHg at 200 and 204 at 500 mL/min through 14G needles,
// and of 147 and 382 through 17G (a trial of needle gauges, abstract). Their ratios
// are 0.41 and 0.38, that of the flows 0.40.
func atFlow(was unit.Pressure, flow, before unit.Flow) unit.Pressure {
	if before <= 0 {
		return was
	}
	return unit.Pressure(int64(was) * int64(flow) / int64(before))
}

// fellBeyondFlow reports whether a venous pressure fell by more than a change of the
// blood flow explains: 50 mmHg and more below what it comes to at a lower flow, or
// 20 and more at a higher one.
func fellBeyondFlow(v, was unit.Pressure, flow, before unit.Flow) bool {
	if flow > before {
		return v-was <= -venousFall
	}
	return before > 0 && int64(v)*int64(before) <= int64(was)*int64(flow)-int64(slid)*int64(before)
}

// membrane remarks on a TMP that creeps up, which a clotting dialyser shows: by 50
// mmHg and more over four readings running or more, of which at most two are no
// higher than the one before, by 5 mmHg at most.
func (w *watch) membrane(b *Reading, e *Event) {
	if b.TMP == nil {
		return
	}
	w.tmp = append(w.tmp, *b.TMP)
	still, rises, from := 0, 0, -1
	for i := len(w.tmp) - 2; i >= 0; i-- {
		d := w.tmp[i+1] - w.tmp[i]
		if d > 0 {
			rises++
		} else if still++; still > tmpStill || d < -tmpDip {
			break
		}
		if len(w.tmp)-i > tmpRun && rises > 1 && *b.TMP-w.tmp[i] >= tmpRise {
			from = i
		}
	}
	if from >= 0 {
		w.once(LevelNote, "tmp_creeps", e, facts{value: b.TMP.String(), was: w.tmp[from].String()})
	}
}
