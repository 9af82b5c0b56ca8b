package web

import (
	"slices"
	"strconv"
	"strings"

	"ebbline/session"
	"ebbline/unit"
)

// A low blood pressure that is asked about while running is kept by one tap, since
// help must not wait. Every other value that is asked about is typed again.

// yes is what one tap agrees to: a low blood pressure, in full.
type yes struct {
	Name, Value string // of the button
	Words       string // on it: "yes, 74/41"
}

// ofReading leaves out of a reading what is asked for only where it belongs, and puts
// the one tap for a low pressure, or for a counter that began again, in the place of
// a second typing.
func (f form) ofReading(v visit) form {
	one := v.session
	if one == nil || one.Phase() != session.Running || fromPaper(one) || f.Corrects != "" {
		return f
	}
	switch f.Kind.Name {
	case "reading":
		f = f.counter(v).ofFluid(v)
	case "low_pressure":
	default:
		return f
	}
	return f.beyond().lowByOneTap(v)
}

// beyond puts beside a value that is refused, since nothing can be read there, the way
// to what to do if the machine shows it all the same.
func (f form) beyond() form {
	f.Inputs = slices.Clone(f.Inputs)
	for i := range f.Inputs {
		in := &f.Inputs[i]
		n, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(in.Value), ",", ".", 1), 64)
		if err != nil || in.Problem == "" || in.Refuse == nil {
			continue
		}
		switch in.Key {
		case "dialysate_temp_c", "conductivity_ms_cm":
			if n < in.Refuse.Lo || n > in.Refuse.Hi {
				in.IfShown = "#wrong-" + session.TroubleFluid
			}
		case "systolic_mmhg", "diastolic_mmhg":
			if n < in.Refuse.Lo {
				in.IfShown = "#wrong-" + session.TroubleLow
			}
		}
	}
	return f
}

// lowByOneTap gives a form the button that keeps a low pressure as it was typed.
func (f form) lowByOneTap(v visit) form {
	upper, lower := f.pressure("systolic_mmhg"), f.pressure("diastolic_mmhg")
	low, lowerLow := session.FallTold(v.session, upper, lower, v.now)
	words := ""
	if upper != nil {
		words = upper.String()
	}
	if lower != nil {
		words += "/" + lower.String()
	}
	inputs := make([]input, len(f.Inputs))
	copy(inputs, f.Inputs)
	f.Inputs = inputs
	for i := range f.Inputs {
		in := &f.Inputs[i]
		switch {
		case in.Problem != "" || in.Key != "systolic_mmhg" && in.Key != "diastolic_mmhg":
			continue
		case in.Key == "systolic_mmhg" && !low || in.Key == "diastolic_mmhg" && !lowerLow:
			continue
		case in.Asked == "" && in.Again == in.Value: // agreed to; something else is still asked about
			in.Kept = in.Value != ""
		case in.Asked == "":
			continue
		case f.Yes == nil:
			f.Yes, in.ByTap = &yes{"again." + in.Name(), in.Value, "yes, " + words}, true
		default:
			in.Kept, in.ByTap = true, true // goes with the one tap
		}
		in.Asked = in.AskedWhy
		f.Low = "#wrong-" + session.TroubleLow
	}
	return f
}

// pressure reads a pressure as it was typed; nil where it is none.
func (f form) pressure(key string) *unit.Pressure {
	for _, in := range f.Inputs {
		if in.Key != key || in.Value == "" || in.Problem != "" {
			continue
		}
		var p unit.Pressure
		if err := p.UnmarshalText([]byte(in.Value)); err == nil {
			return &p
		}
	}
	return nil
}

// counter takes the tick that the machine's count began again off the form; a button
// says it where less is typed as removed than was read before.
func (f form) counter(v visit) form {
	const key = "counter_began_again"
	f = f.without(key)
	if v.PostFormValue(key) == "yes" {
		f = f.hide(key, "yes")
	}
	before := session.Counted(v.session, v.now)
	if before.At.IsZero() {
		return f
	}
	for i := range f.Inputs {
		in := &f.Inputs[i]
		var typed unit.Volume
		if in.Key != "removed_ml" || in.Asked == "" || typed.UnmarshalText([]byte(in.Value)) != nil {
			continue
		}
		in.Began = typed < before.Shown
	}
	return f
}
