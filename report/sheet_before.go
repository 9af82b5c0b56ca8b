package report

import (
	"fmt"
	"math"
	"strings"
	"time"

	"ebbline/session"
)

// The parts of the sheet that are written before the treatment begins. The
// fields are those that record sheets of home programmes share (common
// practice).

func (m *maker) facts() []Field {
	opened, _ := m.s.Opened()
	where := Value{Text: map[string]string{"home": "at home", "elsewhere": joined(": ", "elsewhere", opened.Where)}[opened.Place], Marks: m.marks("session_opened")}
	m.placed["session_opened"] = true
	facts := []Field{{Label: "Where", Value: where}, {Label: "Who helps", Value: Value{Text: opened.Carer, Gap: m.none(opened.Carer, "nobody named")}}}
	if m.paper {
		facts = append(facts, Field{Label: "Written", Value: Value{Text: "on paper, typed in " + m.typedIn()}})
	}
	if opened.RemovalOnly {
		facts = append(facts, Field{Label: "Treatment", Value: Value{Text: "Removal only: no dialysis"}})
	}
	if m.s.Machine.Name != "" {
		facts = append(facts, Field{Label: "Machine", Value: Value{Text: m.s.Machine.Name}})
	}
	if rx := m.s.Rx; rx != nil {
		facts = append(facts, Field{Label: "Access", Value: Value{Text: joined(", ",
			text(fieldOf("prescription", "access"), rx), text(fieldOf("prescription", "access_side"), rx))}})
	}
	return facts
}

// none is a gap in words, only on a sheet of something that was held.
func (m *maker) none(text, words string) string {
	if text != "" || m.blank || len(m.s.Log) == 0 {
		return ""
	}
	return words
}

// typedIn says how much later a session on paper came into the record.
func (m *maker) typedIn() string {
	lo, hi := time.Duration(math.MaxInt64), time.Duration(0)
	for i := range m.s.Log {
		d, _ := m.s.Log[i].Late()
		lo, hi = min(lo, d), max(hi, d)
	}
	if a, b := later(lo), later(hi); a != b {
		return strings.TrimSuffix(a, " later") + " to " + b
	}
	return later(hi)
}

func (m *maker) fit() Part {
	return m.part([]string{"fitness"},
		Field{Label: "How I am", Value: m.fitness()},
		m.optional("Rang", "fitness", "rang"),
		m.optional("In words", "fitness", "note"),
	)
}

func (m *maker) before() Part {
	return m.part([]string{"access_check", "weigh_in", "vitals_before"},
		Field{Label: "Thrill, bruit", Value: m.both("access_check", "thrill", "bruit")},
		Field{Label: "Skin", Value: m.or(m.value("access_check", "skin"), m.tick("clean", "red", "warm", "tender", "swollen", "pus"))},
		m.signs(),
		m.optional("Access", "access_check", "note"),
		Field{Label: "Weight", At: m.at("weigh_in"), Value: m.value("weigh_in", "weight_kg")},
		Field{Label: "Clothes", Value: m.value("weigh_in", "clothing_kg")},
		Field{Label: "Scale", Value: m.scale()},
		Field{Label: "Since last", Value: m.gain()},
		m.posture("BP sitting", "sitting"),
		m.posture("BP standing", "standing"),
		m.posture("BP lying", "lying"),
		Field{Label: "Pulse", Value: m.vital("pulse_per_min")},
		Field{Label: "Temperature", Value: m.temperature()},
		m.sugarBefore(),
	)
}

// vital takes a value of the vitals before the session: the last that was
// written, as the start line does.
func (m *maker) vital(key string) Value {
	return m.valueIn(m.lastWith("vitals_before", key), "vitals_before", key)
}

// posture is the blood pressure in one posture. Lying takes the place of standing
// for somebody who cannot stand; for all others it is left out.
func (m *maker) posture(label, how string) Field {
	upper := how + "_systolic_mmhg"
	e := m.lastWith("vitals_before", upper)
	f := Field{Label: label, Value: m.pairIn(e, "vitals_before", upper, how+"_diastolic_mmhg")}
	stands := m.unable().Stand.IsZero()
	switch {
	case how == "sitting" && e != nil:
		f.At = m.clock(e.At)
	case f.Value.Text != "":
	case how == "lying" && stands:
		return Field{}
	case how == "standing" && !stands:
		f.Value.Gap = "cannot stand"
	}
	return f
}

// temperature is the temperature, or that there was no thermometer.
func (m *maker) temperature() Value {
	v, e := m.vital("temperature_c"), m.last("vitals_before")
	if e != nil && v.Text == "" && m.unable().WithoutThermometer(e.At) {
		v.Gap = "no thermometer"
	}
	return v
}

// unable is what the person said cannot be measured, up to the last vitals.
func (m *maker) unable() session.Unable {
	e := m.last("vitals_before")
	if e == nil {
		return session.Unable{}
	}
	return session.UnableAt(m.s, m.History, e.At)
}

// or fills a blank with words to tick.
func (m *maker) or(v Value, words string) Value {
	if v.Blank() && words != "" {
		v.Text, v.Unit = words, ""
	}
	return v
}

// optional is a field that is left out when nothing was written in it.
func (m *maker) optional(label, kind, key string) Field {
	v := m.value(kind, key)
	if v.Text == "" {
		return Field{}
	}
	return Field{Label: label, Value: v}
}

// both puts two words of one entry side by side.
func (m *maker) both(kind, a, b string) Value {
	v, w := m.value(kind, a), m.value(kind, b)
	if m.blank {
		v.Text = m.tick("felt", "weaker", "like\u00a0a\u00a0pulse", "heard")
		return v
	}
	v.Text = joined(", ", joined("", v.Text, v.Gap), joined("", w.Text, w.Gap))
	v.Gap = ""
	return v
}

// fitness lists what was answered with yes.
func (m *maker) fitness() Value {
	v := Value{Marks: m.marks("fitness")}
	e := m.last("fitness")
	if e == nil {
		v.Text = m.tick("fever", "chest\u00a0pain", "breathless", "weak", "heavy\u00a0legs", "tingling", "faint", "heart\u00a0racing", "odd\u00a0pulse", "bleeding", "fall", "stomach", "hospital", "dentist", "new\u00a0medicine", "blood\u00a0thinner", "none")
		return v
	}
	if v.Text = ticked(e, "fever", "chest_pain", "breathless", "weakness", "heavy_legs", "tingling", "faint", "palpitations", "odd_pulse",
		"bleeding", "fall", "stomach", "hospital", "procedure", "medicine", "blood_thinner"); v.Text == "" {
		v.Text = "nothing to tell"
	}
	return v
}

// signs lists what was ticked at the access; the field is left out where nothing
// was.
func (m *maker) signs() Field {
	e := m.last("access_check")
	if e == nil {
		return Field{}
	}
	text := ticked(e, "red", "warm", "tender", "swollen", "bulge", "hand", "arm", "chills")
	if text == "" {
		return Field{}
	}
	return Field{Label: "At the access", Value: Value{Text: text, Marks: m.marks("access_check")}}
}

// ticked lists the labels of what was answered with yes.
func ticked(e *session.Event, keys ...string) string {
	var yes []string
	for _, key := range keys {
		if f := fieldOf(e.Kind, key); f.Text(e.Body) == "yes" {
			yes = append(yes, lower(f.Label))
		}
	}
	return strings.Join(yes, "; ")
}

// scale names the scale, and the unit it showed when that was not kilograms.
func (m *maker) scale() Value {
	v := m.value("weigh_in", "scale")
	if e := m.last("weigh_in"); e != nil && v.Text != "" {
		if in := text(fieldOf("weigh_in", "read_in"), e.Body); in != "kilograms" {
			v.Text += ", read in " + in
		}
	}
	return v
}

// gain is the weight put on since the session before, without clothes, as a
// share of the dry weight too.
func (m *maker) gain() Value {
	e, last := m.last("weigh_in"), m.History.LastPost
	if e == nil {
		return Value{Unit: "kg"}
	}
	w, ok := e.Body.(*session.WeighIn)
	if !ok || e.Missing["weight_kg"] != "" {
		return Value{Unit: "kg"}
	}
	if last == nil {
		if m.History.Treated == 0 {
			return Value{Gap: "no session before this one"}
		}
		return Value{Gap: "last weight after not recorded"}
	}
	gain := (w.Weight - w.Clothing) - (last.Weight - last.Clothing)
	sign := "+"
	if gain < 0 {
		sign, gain = "−", -gain
	}
	v := Value{Text: sign + gain.Digits(1), Unit: "kg"}
	if m.s.Rx != nil && m.s.Rx.DryWeight > 0 {
		v.Unit = fmt.Sprintf("kg (%.1f %%)", gain.Float()/m.s.Rx.DryWeight.Float()*100)
	}
	if !m.History.LastPostAt.IsZero() {
		if since := e.At.Sub(m.History.LastPostAt).Hours(); since < 100 {
			v.Unit += fmt.Sprintf(" in %.0f h", since)
		} else {
			v.Unit += fmt.Sprintf(" in %.0f days", since/24)
		}
	}
	return v
}
