package web

import (
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// A fluid too hot or wrong that is asked about may be one digit wrong, or may be so. The
// answer leads with the way to what to do, before the field to type it again.

// fluidTold is what is said of such a fluid, and where its steps are.
type fluidTold struct {
	Values []fluidValue
	Link   string
}

// A fluidValue is one value of a fluid that is too far out, as it is read.
type fluidValue struct{ Figure, Is string }

// ofFluid puts the way to the steps at the head of a reading whose fluid is too hot,
// or wrong, if it was read right.
func (f form) ofFluid(v visit) form {
	told := fluidTold{Link: "#wrong-" + session.TroubleFluid}
	for _, in := range f.Inputs {
		if in.Value == "" || in.Problem != "" {
			continue
		}
		var conduct unit.Conductivity
		var temp unit.Temperature
		switch in.Key {
		case "conductivity_ms_cm":
			if conduct.UnmarshalText([]byte(in.Value)) == nil {
				told.Values = append(told.Values, fluidValues(v.session, &conduct, nil)...)
			}
		case "dialysate_temp_c":
			if temp.UnmarshalText([]byte(in.Value)) == nil {
				told.Values = append(told.Values, fluidValues(v.session, nil, &temp)...)
			}
		}
	}
	if len(told.Values) > 0 {
		f.Fluid = &told
	}
	return f
}

// fluidValues are those of a conductivity and a temperature that are too far out.
func fluidValues(one *session.Session, conduct *unit.Conductivity, temp *unit.Temperature) (list []fluidValue) {
	wrong, hot := session.FluidTold(one, conduct, temp)
	if hot {
		list = append(list, fluidValue{temp.Digits(1) + "\u00a0" + temp.Symbol(), "it is too hot"})
	}
	if wrong {
		list = append(list, fluidValue{conduct.Digits(2) + "\u00a0" + conduct.Symbol(), "it is wrong"})
	}
	return list
}

// fluidHeld is the reading that opened the trouble with the fluid.
type fluidHeld struct {
	Values []fluidValue
	At     time.Time
}

// fluidOpened gives it; nil where the person said it without one.
func fluidOpened(one *session.Session, entry string) *fluidHeld {
	e := one.Find(entry)
	if e == nil {
		return nil
	}
	b, is := e.Body.(*session.Reading)
	if !is {
		return nil
	}
	return &fluidHeld{fluidValues(one, b.Conduct, b.DialTemp), e.At}
}
