package web

import (
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// A fluidValue is one value of a fluid that is too far out, as it is read.
type fluidValue struct{ Figure, Is string }

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
