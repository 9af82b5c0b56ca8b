package session

import (
	"time"

	"ebbline/unit"
	"ebbline/water"
)

// beyond follows one side of one quantity: a value that is out is said after
// one that was inside, and again only when it lies a step further out than the
// furthest one said.
type beyond struct {
	remark int // place of the remark that said it last
	out    bool
	far    int64 // the furthest said, in the quantity's own finest unit; of a lower bound the negative value, so that more is further out
}

// put takes in a value, larger further out, and reports whether it is to be
// said.
func (b *beyond) put(out bool, far, step int64) bool {
	switch {
	case !out:
		*b = beyond{}
		return false
	case b.out && far < b.far+step:
		return false
	}
	b.out, b.far = true, far
	return true
}

// beyond takes in a value on one side of a quantity, and reports whether it is to be
// said, by the next remark.
func (w *watch) beyond(side string, out bool, far, step int64) bool {
	b := w.bounds[side]
	if b == nil {
		b = &beyond{}
		w.bounds[side] = b
	}
	say := b.put(out, far, step)
	if say {
		b.remark = len(w.out)
	}
	return say
}

// stillOut reports whether the remark at a place is of a value that was last read
// out of its bounds, or of a pulse that is still irregular.
func (w *watch) stillOut(place int) bool {
	if w.irregular && w.oddSaid == place {
		return true
	}
	for side, b := range w.bounds {
		if b.out && b.remark == place && side != "nadir" && side != "nadir_fell" { // that one is followed as a low pressure
			return true
		}
	}
	return false
}

// outside remarks on the values of a reading that are out of their bounds.
func (w *watch) outside(b *Reading, e *Event) {
	w.pulse(b, e)
	w.fluid(b.Conduct, b.DialTemp, e)
	w.transmembrane(b, e)
	if v := b.Arterial; v != nil && w.beyond("arterial", *v < arterialLow, -int64(*v), againArterial) {
		w.say(LevelLook, "arterial_low", e, facts{value: v.Text(), limit: arterialLow.Text()})
	}
	w.fever(b, e)
}

// pulse is judged by the unit's pair for starting; a side that it did not set
// is the program's own. One that is newly irregular is said too, once while it
// stays so: a pulse without that word ends it. Both at once are one remark.
func (w *watch) pulse(b *Reading, e *Event) {
	odd := b.Irregular && !w.irregular
	if b.Irregular || b.Pulse != nil {
		w.irregular = b.Irregular
	}
	f := facts{felt: odd}
	out := false
	if b.Pulse != nil {
		v := *b.Pulse
		f.value = v.String()
		slow, fast := pulseBounds(w.s)
		if w.beyond("pulse slow", slow.under(v), -int64(v), againPulse) {
			out, f.limit, f.whose = true, "under "+slow.at.String(), slow.whose
		}
		if w.beyond("pulse fast", fast.over(v), int64(v), againPulse) {
			out, f.limit, f.whose = true, "over "+fast.at.String(), fast.whose
			if fast.start > 0 {
				f.was = fast.start.String()
			}
		}
	}
	if odd {
		w.oddSaid = len(w.out)
	}
	if out || odd {
		w.say(LevelLook, "pulse_out", e, f)
	}
}

// pulseBound is one side of the pair, and whose it is; at is 0 where there is none.
type pulseBound struct {
	at    unit.Pulse
	whose string
	start unit.Pulse // that it is a rise from; 0 where it is a figure of its own
}

func (b pulseBound) under(v unit.Pulse) bool { return b.at > 0 && v < b.at }
func (b pulseBound) over(v unit.Pulse) bool  { return b.at > 0 && v > b.at }

// pulseBounds give the pair by which a pulse is out, with or without a prescription. A
// child has no upper figure but the unit's: a child's heart is faster than an adult's, and
// what is said is the rise from the start ([childPulse]). The lower one of the program stands for children too, since under it is slow at any age
// (from memory).
func pulseBounds(s *Session) (slow, fast pulseBound) {
	rx := s.Rx
	if rx == nil {
		rx = &Prescription{}
	}
	slow.at, slow.whose = boundBy(rx, rx.PulseLow, startPulseLow)
	if fast.at, fast.whose = boundBy(rx, rx.PulseHigh, startPulseHigh); s.Child && rx.PulseHigh == nil {
		fast = childPulse(s)
	}
	return slow, fast
}

// transmembrane is judged by the unit's figure, or by the program's own where it
// set none; in haemodiafiltration, which runs higher, by the unit's alone.
func (w *watch) transmembrane(b *Reading, e *Event) {
	rx := w.s.Rx
	if rx == nil {
		rx = &Prescription{}
	}
	if b.TMP == nil || rx.Filtration && rx.TMPAbove == nil {
		return
	}
	v := *b.TMP
	most, whose := boundBy(rx, rx.TMPAbove, tmpHigh)
	if w.beyond("tmp", v > most, int64(v), againTMP) {
		w.say(LevelLook, "tmp_high", e, facts{value: v.Text(), limit: most.Text(), whose: whose})
	}
}

// fluidCheck is the fluid by the person's own meter and by the machine. What an
// instrument did not read is 0.
func (w *watch) fluidCheck(b *FluidCheck, e *Event) {
	read := func(v unit.Conductivity) *unit.Conductivity {
		if v == 0 {
			return nil
		}
		return &v
	}
	w.fluid(read(b.MeterConduct), b.MeterTemp, e)
	w.fluid(read(b.MachineConduct), b.MachineTemp, e)
}

// fluid takes in what the dialysis fluid was found to be, by the machine or, in a
// check made while the treatment runs, by a meter of one's own.
func (w *watch) fluid(conduct *unit.Conductivity, temp *unit.Temperature, e *Event) {
	if w.s.RemovalOnly() {
		return // none passes the dialyser
	}
	wrong, hot := FluidTold(w.s, conduct, temp)
	if wrong || hot {
		w.hot = append(w.hot, e.ID)
	}
	w.conductivity(conduct, e, wrong)
	w.temperature(temp, e, hot)
}

// conductivity is judged as before the start ([water.Conductivity]), by the value
// that the prescription sets, or by bounds of its own where it sets none. What
// lies too far to be used at all is worded harder.
func (w *watch) conductivity(read *unit.Conductivity, e *Event, wrong bool) {
	if read == nil {
		return
	}
	var set *unit.Conductivity
	if w.s.Rx != nil {
		set = w.s.Rx.SetConduct
	}
	v := *read
	h := water.Conductivity(v, set, nil)
	off := h.FluidStanding != water.FluidNear
	f := facts{value: v.Digits(2) + "\u00a0" + v.Symbol(), hard: wrong}
	if set != nil {
		f.was = set.Digits(2)
	} else {
		f.limit = h.Low.Digits(1) + " to " + h.High.Digits(1)
	}
	if w.beyond("conductivity low", off && v < h.Low, -int64(v), againConduct) {
		w.say(LevelLook, "conductivity_out", e, f)
	}
	if w.beyond("conductivity high", off && v > h.High, int64(v), againConduct) {
		w.say(LevelLook, "conductivity_out", e, f)
	}
}

func (w *watch) temperature(read *unit.Temperature, e *Event, hot bool) {
	if read == nil {
		return
	}
	v := *read
	f := facts{value: v.Digits(1) + "\u00a0" + v.Symbol(), hard: hot}
	if w.beyond("temperature high", hot, int64(v), againTemperature) {
		f.limit = water.FluidHot.Text()
		w.say(LevelLook, "temperature_out", e, f)
	}
	if w.beyond("temperature low", v < tooCold, -int64(v), againTemperature) {
		f.limit = tooCold.Text()
		w.say(LevelNote, "temperature_out", e, f)
	}
}

// temperatureBefore gives the body's temperature written last before a moment.
func temperatureBefore(s *Session, at time.Time) *unit.Temperature {
	var before *unit.Temperature
	Each(s, func(b *VitalsBefore, e *Event) {
		if !e.At.After(at) && b.Temperature != nil {
			before = b.Temperature
		}
	})
	return before
}

// fever is from 38.0 °C, or from half a degree above the temperature before the
// session, or above the first one read where none was measured before. Chills
// without a temperature are fever too: see [hasChills].
func (w *watch) fever(b *Reading, e *Event) {
	if b.BodyTemp == nil {
		return
	}
	v, f := *b.BodyTemp, facts{value: b.BodyTemp.Digits(1) + "\u00a0" + b.BodyTemp.Symbol()}
	out := v >= feverFrom
	if w.before != nil {
		f.was = w.before.Digits(1) + " before the session"
		if w.firstRead {
			f.was = w.before.Digits(1) + " at the first reading"
		}
		out = out || v-*w.before >= feverRise
	} else {
		w.before, w.firstRead = b.BodyTemp, true
	}
	if w.beyond("fever", out, int64(v), againTemperature) {
		w.say(LevelLook, "fever", e, f)
	}
}

// chlorine remarks on a test made while the treatment runs: at the very minute
// of the beginning, on one written after it.
func (w *watch) chlorine(b *Chlorine, e *Event) {
	if !w.connected || e.Missing["total_chlorine_mg_l"] != "" {
		return
	}
	limit, whose := chlorineLimitOf(w.s.Rx)
	if b.Below && b.Result > limit {
		return // "less than" a figure over the limit tells neither
	}
	if w.beyond("chlorine", b.Result > limit, int64(b.Result), againChlorine) {
		w.say(LevelLook, "chlorine_out", e, facts{value: b.Result.Text(), limit: limit.Text(), whose: whose})
	}
}

// chlorineLimitOf gives the most total chlorine that water may hold, and whose
// figure that is; it may be asked with no prescription.
func chlorineLimitOf(rx *Prescription) (limit unit.Concentration, whose string) {
	if rx == nil {
		return ChlorineLimit, ownDefault
	}
	return boundBy(rx, rx.Chlorine, ChlorineLimit)
}
