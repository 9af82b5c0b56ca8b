package report

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
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
		d, _ := typedLater(&m.s.Log[i])
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
		Field{Label: "Skin", Value: m.or(m.value("access_check", "skin"), m.tick("clean", "red", "swollen", "pus"))},
		m.optional("Access", "access_check", "note"),
		Field{Label: "Weight", At: m.at("weigh_in"), Value: m.value("weigh_in", "weight_kg")},
		Field{Label: "Clothes", Value: m.value("weigh_in", "clothing_kg")},
		Field{Label: "Scale", Value: m.scale()},
		Field{Label: "Since last", Value: m.gain()},
		Field{Label: "BP sitting", At: m.at("vitals_before"), Value: m.pair("vitals_before", "sitting_systolic_mmhg", "sitting_diastolic_mmhg")},
		Field{Label: "BP standing", Value: m.pair("vitals_before", "standing_systolic_mmhg", "standing_diastolic_mmhg")},
		Field{Label: "Pulse", Value: m.value("vitals_before", "pulse_per_min")},
		Field{Label: "Temperature", Value: m.value("vitals_before", "temperature_c")},
	)
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
		v.Text = m.tick("felt", "heard")
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
		v.Text = m.tick("fever", "chest\u00a0pain", "breathless", "bleeding", "fall", "stomach", "hospital", "dentist", "new\u00a0medicine", "none")
		return v
	}
	var yes []string
	for _, key := range []string{"fever", "chest_pain", "breathless", "bleeding", "fall", "stomach", "hospital", "procedure", "medicine"} {
		if f := fieldOf("fitness", key); f.Text(e.Body) == "yes" {
			yes = append(yes, lower(f.Label))
		}
	}
	if v.Text = strings.Join(yes, "; "); v.Text == "" {
		v.Text = "nothing to tell"
	}
	return v
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

func (m *maker) water() Part {
	test := m.value("chlorine", "total_chlorine_mg_l")
	if e := m.last("chlorine"); e != nil && test.Text != "" && fieldOf("chlorine", "below").Text(e.Body) == "yes" {
		test.Text = "< " + test.Text
	}
	return m.part([]string{"chlorine", "self_test", "fluid_check", "bath_label"},
		Field{Label: "Total chlorine", At: m.at("chlorine"), Value: test},
		Field{Label: "Method", Value: m.list("chlorine", "method", "sample_point")},
		Field{Label: "Self-test", Value: m.selfTest()},
		Field{Label: "Conductivity", Value: m.twice("fluid_check", "machine_conductivity_ms_cm", "meter_conductivity_ms_cm")},
		Field{Label: "Temperature", Value: m.twice("fluid_check", "machine_temperature_c", "meter_temperature_c")},
		Field{Label: "pH", Value: bare(m.value("fluid_check", "ph"))},
		Field{Label: "Bath label", Value: m.bath()},
		m.optional("In words", "self_test", "note"),
	)
}

// bare is a value without its unit, where the label says it.
func bare(v Value) Value {
	v.Unit = ""
	return v
}

// twice is a value by the machine, and by the person's own meter.
func (m *maker) twice(kind, machine, meter string) Value {
	a, b := m.value(kind, machine), m.value(kind, meter)
	if a.Blank() && b.Blank() {
		return a
	}
	own := "–"
	if !b.Blank() {
		own = joined("", b.Text, b.Gap)
	}
	if a.Blank() {
		a.Text = "–"
	}
	a.Text, a.Gap = joined("", a.Text, a.Gap)+", own meter "+own, ""
	return a
}

// list puts several values of one entry in a line, with its lot and expiry
// when it has them.
func (m *maker) list(kind string, keys ...string) Value {
	v := Value{Marks: m.marks(kind)}
	e := m.last(kind)
	if e == nil {
		return v
	}
	var parts []string
	for _, key := range keys {
		if s := text(fieldOf(kind, key), e.Body); s != "" {
			parts = append(parts, s)
		}
	}
	parts = append(parts, lotOf(e))
	v.Text = joined(", ", parts...)
	return v
}

// lotOf is the lot and expiry of what an entry used, if its kind has them.
func lotOf(e *session.Event) string {
	if k, ok := record.Find(e.Kind); !ok {
		return ""
	} else if _, ok := k.Field("lot"); !ok {
		return ""
	}
	lot, expiry := "", ""
	if l := text(fieldOf(e.Kind, "lot"), e.Body); l != "" {
		lot = "lot " + l
	}
	if v, ok := fieldOf(e.Kind, "expiry").Of(e.Body); ok {
		expiry = "exp. " + v.(unit.Date).String()
	}
	return joined(", ", lot, expiry)
}

func (m *maker) selfTest() Value {
	v := Value{Text: m.tick("passed, at try ......"), Marks: m.marks("self_test")}
	if e := m.last("self_test"); e != nil {
		v.Text = "not passed"
		if fieldOf("self_test", "passed").Text(e.Body) == "yes" {
			v.Text = "passed"
		}
		v.Text += ", try " + fieldOf("self_test", "tries").Text(e.Body)
	}
	return v
}

func (m *maker) bath() Value {
	v := Value{Marks: m.marks("bath_label")}
	if e := m.last("bath_label"); e != nil {
		v.Text = joined(", ", fmt.Sprintf("K %s, Ca %s", text(fieldOf("bath_label", "label_k_mmol_l"), e.Body), text(fieldOf("bath_label", "label_ca_mmol_l"), e.Body)), lotOf(e))
	}
	return v
}

// usualSupplies are the lines a blank form offers for lots.
var usualSupplies = []string{"Dialyser", "Lines", "Needles", "Concentrate", "Bicarbonate", "Saline"}

func (m *maker) opened() Part {
	var fields []Field
	for i := range m.s.Log {
		if e := &m.s.Log[i]; e.Kind == "supply" && e.Struck == nil {
			fields = append(fields, Field{Label: text(fieldOf("supply", "item"), e.Body), Value: Value{Text: lotOf(e), Marks: m.marksOf(e)}})
		}
	}
	if struck := m.struckOnly("supply"); len(struck) > 0 {
		fields = append(fields, Field{Label: "Struck out", Value: Value{Gap: "see notes", Marks: struck}})
	}
	if len(fields) == 0 {
		names := usualSupplies[:1]
		if m.blank {
			names = usualSupplies
		}
		for _, name := range names {
			fields = append(fields, Field{Label: name})
		}
	}
	m.placed["supply"] = true
	fields = append(fields, Field{Label: "Heparin", Value: m.heparin()}, Field{Label: "Anaesthetic", Value: m.anaesthetic()})
	if v := m.flush(); m.blank || !v.Blank() || len(v.Marks) > 0 {
		fields = append(fields, Field{Label: "Flushes", Value: v})
	}
	return m.part([]string{"supply", "heparin_drawn", "anaesthetic_drawn", "flush_drawn"}, fields...)
}

// struckOnly are the notes of the struck entries of a kind that stands more
// than once on the sheet.
func (m *maker) struckOnly(kind string) []string {
	var out []string
	for i := range m.s.Log {
		if e := &m.s.Log[i]; e.Kind == kind && e.Struck != nil {
			out = append(out, m.note(m.whole(e)+m.strike(e)))
		}
	}
	return out
}

func (m *maker) heparin() Value {
	v := Value{Marks: m.marks("heparin_drawn")}
	e := m.last("heparin_drawn")
	if e == nil {
		return v
	}
	b, ok := e.Body.(*session.HeparinDrawn)
	if !ok {
		return v
	}
	var parts []string
	if b.Bolus > 0 {
		parts = append(parts, "bolus "+b.Bolus.Text()+" = "+b.BolusVol.Text())
	}
	if b.Line > 0 {
		parts = append(parts, "pump "+b.Line.Text()+" = "+b.LineVol.Text())
	}
	v.Text = joined(", ", append(parts, "of "+b.Strength.Text(), lotOf(e))...)
	return v
}

func (m *maker) anaesthetic() Value {
	v := Value{Marks: m.marks("anaesthetic_drawn")}
	if e := m.last("anaesthetic_drawn"); e != nil {
		if b, ok := e.Body.(*session.AnaestheticDrawn); ok {
			v.Text = joined(", ", b.Volume.Text()+" of "+b.Strength.Text(), lotOf(e))
		}
	}
	return v
}

func (m *maker) flush() Value {
	v := Value{Marks: m.marks("flush_drawn")}
	if e := m.last("flush_drawn"); e != nil {
		if b, ok := e.Body.(*session.FlushDrawn); ok {
			v.Text = joined(", ", fmt.Sprintf("%d × %s", b.Count, b.Each.Text()), lotOf(e))
		}
	}
	return v
}

// needles are one line: where, how thick, how often tried.
func (m *maker) needles() Part {
	if m.s.Rx != nil && m.s.Rx.Access == "catheter" && m.last("needling") == nil {
		return m.part(nil, Field{Label: "Needles", Value: Value{Gap: "does not apply, catheter"}})
	}
	side := func(label, site, gauge, tries string) Field {
		v := m.value("needling", site)
		if v.Text != "" {
			e := m.last("needling")
			v.Text = joined(", ", v.Text, text(fieldOf("needling", gauge), e.Body)+" G", "tries "+text(fieldOf("needling", tries), e.Body))
		}
		return Field{Label: label, Value: v}
	}
	fields := []Field{
		side("Arterial", "arterial_site", "arterial_gauge", "arterial_tries"),
		side("Venous", "venous_site", "venous_gauge", "venous_tries"),
		{Label: "Pain 0–10", Value: m.value("needling", "pain_0_10")},
		{Label: "By", Value: m.value("needling", "needled_by")},
		m.optional("In words", "needling", "note"),
	}
	if m.s.Rx != nil && !m.blank && m.last("needling") != nil {
		fields = slices.Insert(fields, 0, Field{Label: "Technique", Value: Value{Text: text(fieldOf("prescription", "technique"), m.s.Rx)}})
	}
	return m.part([]string{"needling"}, fields...)
}
