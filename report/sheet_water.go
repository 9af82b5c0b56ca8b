package report

import (
	"fmt"
	"slices"
	"strings"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// The parts of the sheet about the machine, its water, and what was opened
// and drawn up.

func (m *maker) water() Part {
	test := m.value("chlorine", "total_chlorine_mg_l")
	if e := m.last("chlorine"); e != nil && test.Text != "" && fieldOf("chlorine", "below").Text(e.Body) == "yes" {
		test.Text = "< " + test.Text
	}
	return m.part([]string{"batch_used", "chlorine", "self_test", "fluid_check", "bath_label"},
		m.ofDialysis("batch_used", m.batch()),
		Field{Label: "Total chlorine", At: m.at("chlorine"), Value: m.ofFluid("chlorine", test)},
		Field{Label: "Method", Value: m.ofFluid("chlorine", m.list("chlorine", "method", "sample_point"))},
		m.cleanedBefore(),
		Field{Label: "Self-test", Value: m.selfTest()},
		m.ofDialysis("fluid_check", Field{Label: "Conductivity", Value: m.ofFluid("fluid_check", m.twice("fluid_check", "machine_conductivity_ms_cm", "meter_conductivity_ms_cm"))}),
		m.ofDialysis("fluid_check", Field{Label: "Temperature", Value: m.twice("fluid_check", "machine_temperature_c", "meter_temperature_c")}),
		m.ofDialysis("fluid_check", Field{Label: "pH", Value: bare(m.value("fluid_check", "ph"))}),
		m.ofDialysis("bath_label", Field{Label: "Bath label", Value: m.ofFluid("bath_label", m.bath())}),
		m.optional("In words", "self_test", "note"),
	)
}

// cleanedBefore are the disinfections that were run while setting up, a field that
// is left out where none was.
func (m *maker) cleanedBefore() Field {
	var parts []string
	session.Each(m.s, func(b *session.Disinfection, e *session.Event) {
		if m.began.IsZero() || e.At.Before(m.began) {
			parts = append(parts, text(fieldOf("disinfection", "programme"), b)+", "+text(fieldOf("disinfection", "result"), b)+" · "+m.clock(e.At))
		}
	})
	if len(parts) == 0 {
		return Field{}
	}
	m.placed["disinfection"] = true
	return Field{Label: "Disinfected", Value: Value{Text: strings.Join(parts, "; ")}}
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
	if m.s.Machine.Fluid() == session.FluidBags || m.bagsSeen() {
		m.placed["bath_label"], v.Text = true, m.bags()
		return v
	}
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
			names = slices.Clone(usualSupplies)
		}
		if i := slices.Index(names, "Needles"); i >= 0 && m.s.Rx.ByCatheter() {
			names[i] = "Caps"
		}
		for _, name := range names {
			fields = append(fields, Field{Label: name})
		}
	}
	m.placed["supply"] = true
	fields = append(fields, Field{Label: "Heparin", Value: m.heparin()})
	if v := m.anaesthetic(); !m.s.Rx.ByCatheter() || !v.Blank() || len(v.Marks) > 0 {
		fields = append(fields, Field{Label: "Anaesthetic", Value: v})
	}
	if v := m.lock(false); m.s.Rx.ByCatheter() || !v.Blank() || len(v.Marks) > 0 {
		fields = append(fields, Field{Label: "Catheter lock", Value: v})
	}
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
		if m.s.Rx != nil && m.s.Rx.Heparin == "none" {
			v.Gap = "none ordered"
		}
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
	if m.s.Rx.ByCatheter() && m.last("needling") == nil {
		return m.catheter()
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
