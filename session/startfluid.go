package session

import "ebbline/unit"

// conductivity is the dialysis fluid by the machine and by the person's own
// meter.
func (l startLine) conductivity(v *verdict) {
	tolerance, whose := ConductTolerance, ownDefault
	if l.rx.ConductTol != nil {
		tolerance, whose = *l.rx.ConductTol, setByUnit(l.rx)
	}
	v.limit = "±" + tolerance.Text() + ", " + whose
	b, e := lastBy[FluidCheck](l.s, l.at)
	if b == nil {
		v.open(nil, "fluid_open")
		return
	}
	if v.blank(e, "machine_conductivity_ms_cm", "meter_conductivity_ms_cm") {
		return
	}
	machine, meter := b.MachineConduct, b.MeterConduct
	if d := machine - meter; max(d, -d) > tolerance {
		v.ring(e, "fluid_disagree", machine.Digits(2), meter.Digits(2))
	}
	if set := l.rx.SetConduct; set != nil {
		for _, c := range []struct {
			what string
			v    unit.Conductivity
		}{{"Machine", machine}, {"Meter", meter}} {
			if d := c.v - *set; 100*max(d, -d) > conductPercent**set {
				v.ring(e, "fluid_wrong", c.what, c.v.Digits(2), set.Digits(2))
			}
		}
	}
	for _, t := range []*unit.Temperature{b.MachineTemp, b.MeterTemp} {
		if t != nil && *t > tooWarm {
			v.stop(e, "fluid_hot", t.Text())
		}
	}
	if b.PH != nil && (*b.PH < 690 || *b.PH > 760) {
		v.look(e, "fluid_ph", b.PH)
	}
	v.ready("fluid_ready", machine.Digits(2), meter.Digits(2))
}

// bath is the label of the concentrate against what was prescribed.
func (l startLine) bath(v *verdict) {
	if judged(l, v, startLine.bathLabel) == nil {
		v.open(nil, "bath_open")
	}
}

func (l startLine) bathLabel(v *verdict, b *BathLabel, e *Event) {
	switch {
	case v.blank(e, "label_k_mmol_l", "label_ca_mmol_l"):
	case b.K != l.rx.BathK:
		v.stop(e, "bath_k", b.K, l.rx.BathK).stays(looked)
	case b.Ca != l.rx.BathCa:
		v.stop(e, "bath_ca", b.Ca, l.rx.BathCa).stays(looked)
	case b.Expiry.IsZero() && e.Missing["expiry"] != DoesNotApply:
		v.open(e, "bath_no_expiry")
	case !b.Expiry.IsZero() && b.Expiry.Before(unit.DateOf(l.at)):
		v.stop(e, "bath_expired", b.Expiry.Long())
	default:
		v.ready("bath_ready", b.K, b.Ca)
	}
}
