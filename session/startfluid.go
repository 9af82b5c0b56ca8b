package session

import (
	"slices"

	"ebbline/unit"
	"ebbline/water"
)

// conductivity is the dialysis fluid by the machine and by the person's own
// meter: whether the two agree, and how far each is from what it should be. The
// rules are those of [water]. No sodium is computed from it.
func (l startLine) conductivity(v *verdict) {
	if v.skip = noFluid[FluidCheck](l); v.skip {
		return
	}
	tolerance, whose := l.tolerance()
	v.limit = "±" + tolerance.Text() + ", " + whose
	if l.s.Machine.Fluid() == FluidBags {
		l.bagsFluid(v)
		return
	}
	l = l.ofBatch()
	if judged(l, v, startLine.fluidCheck) == nil {
		v.open(nil, "fluid_open")
	}
}

// bagsFluid is the fluid of ready bags: it was made and measured by their maker, so
// that nothing is asked. What was written all the same is said where it stops.
func (l startLine) bagsFluid(v *verdict) {
	var was verdict
	judged(l, &was, startLine.fluidCheck)
	for _, f := range was.findings {
		if f.state == StopHere || f.past {
			v.findings = append(v.findings, f)
		}
	}
	if len(v.findings) == 0 {
		v.limit = ""
	}
	v.ready("fluid_bags")
}

// tolerance is how far machine and meter may lie apart, and whose figure it is.
func (l startLine) tolerance() (unit.Conductivity, string) {
	return boundBy(l.rx, l.rx.ConductTol, water.MeterApart)
}

func (l startLine) fluidCheck(v *verdict, b *FluidCheck, e *Event) {
	if l.s.Machine.Fluid() != FluidBags && v.blank(e, "machine_conductivity_ms_cm", "meter_conductivity_ms_cm") {
		return
	}
	fluid := l.fluidBy(e)
	machine, meter := b.MachineConduct, b.MeterConduct
	both := machine != 0 && meter != 0
	tolerance, _ := l.tolerance()
	if both && water.Apart(machine, meter, tolerance) {
		v.ring(e, "fluid_disagree", machine.Digits(2), meter.Digits(2)).stays(looked)
	}
	var machines, meters []unit.Conductivity
	if o, _ := l.s.Opened(); o.Place != "elsewhere" && l.h.FluidOn.same(l.s.Machine) {
		for _, one := range l.h.Fluids {
			machines, meters = append(machines, one.Machine), append(meters, one.Meter)
		}
	}
	l.from(v, e, "Machine", machine, machines)
	l.from(v, e, "Meter", meter, meters)
	if !both {
		v.open(e, "fluid_one")
	}
	for _, t := range []measuredIn[unit.Temperature]{fluid.machineTemp, fluid.meterTemp} {
		if t.value != nil && water.TooHot(*t.value) {
			v.stop(t.e, "fluid_hot", t.value.Text()).against(water.FluidHot.Text() + ", " + ownDefault).stays(looked)
		}
	}
	if ph := fluid.ph; ph.value != nil && l.s.Machine.Fluid() == FluidTap && water.PHOff(*ph.value) {
		v.ring(ph.e, "fluid_ph", ph.value.Digits(2)).against(water.PHLow.Digits(1) + " to " + water.PHHigh.Digits(1) + " (from memory), " + ownDefault).stays(looked)
	}
	if l.hasRange() {
		l.oddRange(v, e)
		v.ready("batch_fluid", machine.Digits(2), meter.Digits(2), l.made.Words())
		return
	}
	v.ready("fluid_ready", machine.Digits(2), meter.Digits(2))
}

// measuredIn is a value with the entry that it was written in.
type measuredIn[T any] struct {
	value *T
	e     *Event
}

// fluidSoFar are the values that a fluid check may leave out.
type fluidSoFar struct {
	machineTemp, meterTemp measuredIn[unit.Temperature]
	ph                     measuredIn[unit.PH]
}

// fluidBy gives of each value the last one that was written by an entry: what a
// later check did not measure is still what it was.
func (l startLine) fluidBy(until *Event) fluidSoFar {
	var f fluidSoFar
	Each(l.s, func(b *FluidCheck, e *Event) {
		if e.At.After(until.At) {
			return
		}
		if b.MachineTemp != nil {
			f.machineTemp = measuredIn[unit.Temperature]{b.MachineTemp, e}
		}
		if b.MeterTemp != nil {
			f.meterTemp = measuredIn[unit.Temperature]{b.MeterTemp, e}
		}
		if b.PH != nil {
			f.ph = measuredIn[unit.PH]{b.PH, e}
		}
	})
	return f
}

// from holds the conductivity of one instrument against the set value, or where
// none was ordered against what the same instrument showed before: machine
// against machine, meter against meter. A batch with a range of its own is held
// against that. What was not read is held against nothing.
func (l startLine) from(v *verdict, e *Event, what string, got unit.Conductivity, before []unit.Conductivity) {
	switch {
	case got == 0:
		return
	case l.hasRange():
		l.inRange(v, e, what, got)
		return
	}
	held := water.Conductivity(got, l.rx.SetConduct, before)
	bound := held.Low.Digits(2) + " to " + held.High.Digits(2) + "\u00a0mS/cm, " + boundOf[held.Against] + ownDefault
	switch {
	case held.FluidStanding == water.FluidNear:
	case held.Against == water.FluidSet && held.FluidStanding == water.FluidWrong:
		v.ring(e, "fluid_wrong", what, got.Digits(2), held.Middle.Digits(2)).against(bound).stays(looked)
	case held.Against == water.FluidSet:
		v.look(e, "fluid_off", what, got.Digits(2), held.Middle.Digits(2)).against(bound)
	case held.FluidStanding == water.FluidWrong:
		v.ring(e, "fluid_far", what, got.Digits(2), held.Low.Digits(1), held.High.Digits(1)).against(bound).stays(looked)
	case held.Against == water.FluidUsual:
		v.look(e, "fluid_unusual", what, got.Digits(2), held.Middle.Digits(2)).against(bound)
	default:
		v.look(e, "fluid_at_first", what, got.Digits(2), held.Low.Digits(1), held.High.Digits(1)).against(bound)
	}
}

// boundOf says what a bound is measured from, before whose it is.
var boundOf = map[water.FluidReference]string{water.FluidSet: "around the set value, ", water.FluidUsual: "around your last six sessions, "}

// FluidSeen are the conductivities of a session that was treated, as machine and
// own meter showed them.
type FluidSeen struct{ Machine, Meter unit.Conductivity }

// fluid takes in what one more session that was treated on a machine at home
// says of its fluid. On another machine the values begin again.
func (h *History) fluid(on Machine, b *FluidCheck) {
	if !h.FluidOn.same(on) {
		h.Fluids = nil
	}
	h.FluidOn = on
	if b == nil || b.MachineConduct == 0 || b.MeterConduct == 0 {
		return
	}
	// A slice of its own, so that a copied history can be added to apart.
	h.Fluids = append(slices.Clone(h.Fluids[max(0, len(h.Fluids)+1-water.UsualOf):]), FluidSeen{b.MachineConduct, b.MeterConduct})
}

// same reports whether two descriptions mean one machine that makes its fluid in
// one way: by its name and its kind.
func (m Machine) same(other Machine) bool { return m.sameKind(other) && m.SameName(other) }

// IsOne reports whether two descriptions mean one machine: by its name, and by its
// kind where both say it. A machine of another kind is another one, whatever it is
// called.
func (m Machine) IsOne(other Machine) bool {
	return m.SameName(other) && (m.sameKind(other) || m.Kind == "" || other.Kind == "")
}

// SameName reports whether the household calls two machines the same.
func (m Machine) SameName(other Machine) bool {
	return sameName(m.Name, other.Name)
}

// bath is the label of the concentrate against what was prescribed.
func (l startLine) bath(v *verdict) {
	if v.skip = noFluid[BathLabel](l); v.skip {
		return
	}
	switch l.s.Machine.Fluid() {
	case FluidBatch:
		l.batch(v)
		l = l.ofBatch()
	case FluidBags:
		if !l.eachBag(v) {
			v.open(nil, "bath_open")
		}
		return
	}
	if judged(l, v, startLine.bathLabel) == nil {
		v.open(nil, "bath_open")
	}
}

func (l startLine) bathLabel(v *verdict, b *BathLabel, e *Event) {
	if v.blank(e, "label_k_mmol_l", "label_ca_mmol_l") {
		return
	}
	l.shelfSays(v, e)
	switch {
	case l.s.Rx == nil:
		v.open(e, "bath_unordered", b.K, b.Ca)
	case b.K != l.rx.BathK:
		v.stop(e, "bath_k", b.K, l.rx.BathK).stays(looked)
	case b.Ca != l.rx.BathCa:
		v.stop(e, "bath_ca", b.Ca, l.rx.BathCa).stays(looked)
	case b.Expiry.IsZero() && e.Missing["expiry"] != DoesNotApply:
		v.open(e, "bath_no_expiry")
	case !b.Expiry.IsZero() && b.Expiry.Before(l.dayOf(e)):
		v.stop(e, "bath_expired", b.Expiry.Long()).stays(looked)
	default:
		v.ready("bath_ready", b.K, b.Ca)
	}
	if l.s.Machine.Fluid() == FluidBags {
		bagSeen(v, b, e)
	}
}
