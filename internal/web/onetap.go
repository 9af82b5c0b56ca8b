package web

import (
	"net/url"
	"slices"
	"strconv"
	"strings"

	"ebbline/session"
	"ebbline/unit"
)

// A value that is asked about while running and leads to help is kept by one tap, since
// help must not wait: a low blood pressure, a fluid too hot or wrong, a fever, a pulse
// out of its bounds. So is a pressure that recovers. Every other value is typed again.

// yes is what one tap agrees to, in full. It keeps that, and of the rest what is in no
// doubt; see [server.sendYes].
type yes struct {
	Value string // of the button: what is agreed to, as a form is sent
	Words string // on it: "yes, 74/41"
}

// yesField is the name of the button.
const yesField = "yes"

// A way leads from a form to what to do about a value typed in it, and keeps the value
// by one tap.
type way struct {
	Trouble string
	Values  []wayValue
	Yes     *yes
	Title   string // of the trouble; empty where it leads nowhere
}

// Link is where the steps are.
func (w way) Link() string { return "#wrong-" + w.Trouble }

// A wayValue is a value as it is read, and what is said of it.
type wayValue struct{ Figure, Is string }

// Shown is what was typed, in one line.
func (w way) Shown() string {
	var list []string
	for _, v := range w.Values {
		list = append(list, v.Figure)
	}
	return strings.Join(list, ", ")
}

// ofReading leaves out of a reading what is asked for only where it belongs, says on
// its fields which value leads where, and puts the one tap in the place of a second
// typing.
func (f form) ofReading(v visit) form {
	one := v.session
	if one == nil || one.Phase() != session.Running || fromPaper(one) || f.Corrects != "" {
		return f
	}
	switch f.Kind.Name {
	case "reading":
		f = f.counter(v)
	case "low_pressure":
	default:
		return f
	}
	f.Inputs = slices.Clone(f.Inputs)
	leads := session.ReadingLeads(one, v.now)
	for i := range f.Inputs {
		in := &f.Inputs[i]
		if n := slices.IndexFunc(leads, func(l session.Lead) bool { return l.Key == in.Key }); n >= 0 {
			in.Lead = &leads[n]
		}
	}
	return f.beyond().ways(v)
}

// number is what was typed, as a number.
func (in input) number() (float64, bool) {
	n, err := strconv.ParseFloat(strings.Replace(strings.TrimSpace(in.Value), ",", ".", 1), 64)
	return n, err == nil
}

// beyond puts beside a value that is refused, since nothing can be read there, the way
// to what to do if the machine shows it all the same.
func (f form) beyond() form {
	for i := range f.Inputs {
		in := &f.Inputs[i]
		n, is := in.number()
		if !is || in.Problem == "" || in.Refuse == nil || in.Lead == nil || n >= in.Refuse.Lo && n <= in.Refuse.Hi {
			continue
		}
		if in.Lead.Beyond(n) || in.Lead.Trouble == session.TroubleFluid { // one far too cold is wrong as well
			in.IfShown = "#wrong-" + in.Lead.Trouble
		}
	}
	return f
}

// doubted reports whether anything stands against a value of the form.
func (f form) doubted() bool {
	return slices.ContainsFunc(f.Inputs, func(in input) bool { return in.Problem != "" || in.Asked != "" })
}

// wayOrder is the order in which the ways of one form stand: that of [leadOf].
var wayOrder = []string{session.TroubleFluid, session.TroubleLow, session.TroubleFever, session.TroubleHeart}

// ways puts at the head of a form the ways to what to do about the values typed in it.
// A form with nothing typed has none.
func (f form) ways(v visit) form {
	doubted := f.doubted() || f.Problem != ""
	for _, code := range wayOrder {
		w := way{Trouble: code}
		if t, known := session.TroubleOf(code); known {
			w.Title = t.Title
		}
		if code == session.TroubleLow {
			f = f.lowByOneTap(v, w)
			continue
		}
		var agreed []*input
		for i := range f.Inputs {
			in := &f.Inputs[i]
			if in.Lead == nil || in.Lead.Trouble != code || in.Value == "" {
				continue
			}
			n, is := in.number()
			switch {
			case in.IfShown != "":
				w.Values = append(w.Values, wayValue{in.typedFigure(), " cannot be kept. If it shows that:"})
			case is && in.Problem == "" && in.Lead.Beyond(n):
				w.Values = append(w.Values, in.leading(v.session))
				agreed = append(agreed, in)
			}
		}
		if len(w.Values) > 0 && doubted {
			w.Yes = f.agreeing(agreed, "")
			f.Ways = append(f.Ways, w)
		}
	}
	return f
}

// typedFigure is a value as it was typed, with its unit.
func (in input) typedFigure() string {
	text := strings.TrimSpace(in.Value)
	if in.Key == "pulse_per_min" {
		return "pulse\u00a0" + text
	}
	if s := in.Symbol(); s != "" {
		text += "\u00a0" + s
	}
	return text
}

// leading is a value that leads to help, as it is read.
func (in input) leading(one *session.Session) wayValue {
	var conduct unit.Conductivity
	var temp unit.Temperature
	switch in.Key {
	case "conductivity_ms_cm":
		if conduct.UnmarshalText([]byte(in.Value)) == nil {
			for _, told := range fluidValues(one, &conduct, nil) {
				return wayValue{told.Figure, ": if the machine shows it, " + told.Is + "."}
			}
		}
	case "dialysate_temp_c":
		if temp.UnmarshalText([]byte(in.Value)) == nil {
			for _, told := range fluidValues(one, nil, &temp) {
				return wayValue{told.Figure, ": if the machine shows it, " + told.Is + "."}
			}
		}
	case "body_temperature_c":
		return wayValue{in.typedFigure(), ": if it is right, it is a fever."}
	}
	return wayValue{in.typedFigure(), ": if it is right, it is out of its bounds."}
}

// agreeing is the one tap that agrees to these values, in the words given or as they
// read; nil where nothing is asked that a tap could answer. What one tap agreed to is
// sent along while something else is still asked about.
func (f form) agreeing(list []*input, words string) *yes {
	asked := f.Problem == "" && f.doubted()
	sent := url.Values{}
	var said []string
	done := len(list) > 0
	for _, in := range list {
		if in.Asked == "" && in.Again != "" && in.Again == in.Value { // agreed to already
			in.Kept = true
		} else {
			done = false
		}
		sent.Set(in.Key, in.Value)
		said = append(said, in.typedFigure())
	}
	if done || len(list) == 0 || !asked {
		return nil
	}
	for _, in := range list {
		if in.Asked != "" {
			in.ByTap, in.Asked = true, in.AskedWhy
		}
	}
	if words == "" {
		words = strings.Join(said, " and ")
	}
	return &yes{sent.Encode(), "yes, " + words}
}

// lowByOneTap gives a form the button that keeps a low pressure as it was typed, or one
// that recovers.
func (f form) lowByOneTap(v visit, w way) form {
	upper, lower := f.pressure("systolic_mmhg"), f.pressure("diastolic_mmhg")
	low, lowerLow := session.FallTold(v.session, upper, lower, v.now)
	words := ""
	if upper != nil {
		words = upper.String()
	}
	if lower != nil {
		words += "/" + lower.String()
	}
	recovers := upper != nil && !lowerLow && session.NoFall(v.session, *upper, v.now)
	var agreed []*input
	refused := false
	for i := range f.Inputs {
		in := &f.Inputs[i]
		if in.Key != "systolic_mmhg" && in.Key != "diastolic_mmhg" {
			continue
		}
		switch {
		case in.IfShown != "":
			w.Values, refused = append(w.Values, wayValue{in.typedFigure(), " cannot be kept. If it is so:"}), true
		case in.Value == "" || in.Problem != "":
		case in.Key == "systolic_mmhg" && (low || recovers && in.Asked != ""), in.Key == "diastolic_mmhg" && lowerLow:
			agreed = append(agreed, in)
		}
	}
	if !refused && (len(agreed) == 0 || !f.doubted() && f.Problem == "" && !f.Sent) {
		return f
	}
	if !low && !lowerLow && !refused {
		w.Title = ""
	}
	if len(agreed) > 0 && !refused {
		w.Values = []wayValue{{Figure: words}} // the button says it
		w.Yes = f.agreeing(agreed, words)
	}
	f.Ways = append(f.Ways, w)
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
	for i := range f.Inputs {
		in := &f.Inputs[i]
		var typed unit.Volume
		var given unit.Litres
		switch {
		case in.Asked == "":
		case in.Key == "removed_ml" && typed.UnmarshalText([]byte(in.Value)) == nil:
			in.Began = typed < before.Shown
		case in.Key == "substitution_l" && given.UnmarshalText([]byte(in.Value)) == nil:
			in.Began = unit.Volume(given) < before.GivenShown
		}
	}
	return f
}
