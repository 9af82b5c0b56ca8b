package report

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"ebbline/session"
)

// afterKinds are the entries of the end of a session.
var afterKinds = []string{"came_off", "holding", "vitals_after", "weigh_out", "circuit", "disinfection", "closed"}

var circuitWords = [...]string{"clear", "streaks", "partly clotted", "lost"}

// after is how the session ended and what it adds up to.
func (m *maker) after() Part {
	run, ran := session.Follow(m.s, m.present())
	fields := []Field{
		{Label: "Came off", Value: m.cameOff()},
		{Label: "Treated", Value: m.treated(run, ran)},
		{Label: "Pauses", Value: m.pauses()},
		{Label: "Blood processed", Value: m.blood(run, ran)},
		{Label: "Removed", Value: m.removed()},
		{Label: "Washback", Value: m.washedBack()},
		{Label: "Drunk, saline", Value: m.added(run, ran)},
		m.flushes(),
		{Label: "Circuit", Value: m.circuit()},
		{Label: "BP lying", At: m.at("vitals_after"), Value: m.pair("vitals_after", "lying_systolic_mmhg", "lying_diastolic_mmhg")},
		{Label: "BP standing", Value: m.pair("vitals_after", "standing_systolic_mmhg", "standing_diastolic_mmhg")},
		{Label: "Pulse", Value: m.value("vitals_after", "pulse_per_min")},
		{Label: "Temperature", Value: m.value("vitals_after", "temperature_c")},
		m.sugarAfter(),
		{Label: "Weight", At: m.at("weigh_out"), Value: m.weighOut()},
		{Label: "Balance", Value: m.balance()},
		{Label: "Disinfection", At: m.cleanedAt(), Value: m.disinfection()},
		{Label: "To recover", Value: m.value("closed", "recovery_min")},
		{Label: "How I feel", Value: m.value("closed", "feel")},
		{Label: "Told the unit", Value: m.value("closed", "told_unit")},
		{Label: "To ask the unit", Value: m.value("closed", "ask_unit")},
	}
	row := func(label string) int {
		return slices.IndexFunc(fields, func(f Field) bool { return f.Label == label })
	}
	if !m.s.Rx.ByCatheter() || m.last("holding") != nil {
		fields = slices.Insert(fields, row("Circuit"), Field{Label: "Holding A, V", Value: m.holding()}, m.thrillAfter())
	}
	fields = slices.Insert(fields, row("Circuit"), m.catheterAfter()...)
	if m.s.ByFiltration() {
		fields = slices.Insert(fields, row("Washback"), Field{Label: "Substitution", Value: m.substituted()})
	}
	if words, low := session.AfterLow(m.s); low {
		lying := &fields[row("BP lying")].Value
		lying.Marks = append(lying.Marks, m.note(words))
	}
	kinds := afterKinds
	if m.cleanedAt() == "" { // what was run while setting up gives this part no time
		kinds = slices.DeleteFunc(slices.Clone(afterKinds), func(kind string) bool { return kind == "disinfection" })
	}
	return m.part(kinds, fields...)
}

func (m *maker) thrillAfter() Field {
	if m.blank {
		return Field{Label: "Thrill after", Value: Value{Text: m.tick("felt", "not felt")}}
	}
	return m.optional("Thrill after", "holding", "thrill")
}

func (m *maker) cameOff() Value {
	e := m.last("came_off")
	v := Value{Marks: m.marks("came_off")}
	if e == nil {
		if v.Text = m.tick("all", "part", "none"); v.Text != "" {
			v.Text = "............ returned " + v.Text
		}
		return v
	}
	v.Text = joined(", ", m.clock(e.At), "blood returned: "+text(fieldOf("came_off", "returned"), e.Body), text(fieldOf("came_off", "why"), e.Body))
	return v
}

func (m *maker) treated(run session.Run, ran bool) Value {
	if !ran {
		return Value{}
	}
	c := session.Close(m.s, m.present())
	v := Value{Text: hours(c.Treated)}
	if c.Machine != nil {
		v.Text += ", machine " + hours(*c.Machine)
	}
	if !m.ended.IsZero() && c.Planned > 0 && c.Delivered != "whole" {
		v.Text += "; " + strings.TrimSuffix(lower(c.Words), ".")
	}
	return v
}

func (m *maker) pauses() Value {
	if m.began.IsZero() {
		return Value{}
	}
	var parts []string
	for _, p := range session.Pauses(m.s) {
		end := "still"
		if !p.End.IsZero() {
			end = m.clock(p.End)
		}
		parts = append(parts, strings.TrimSpace(m.clock(p.From)+"–"+end+" "+p.Why))
	}
	if len(parts) == 0 {
		return Value{Text: "none"}
	}
	return Value{Text: strings.Join(parts, "; ")}
}

func (m *maker) blood(run session.Run, ran bool) Value {
	if !ran {
		return Value{Unit: "L"}
	}
	v := Value{Text: fmt.Sprintf("%.1f", run.Blood), Unit: "L"}
	if run.BloodAssumed > 0 {
		v.Unit = "L, in part from the prescribed flow"
	}
	return v
}

func (m *maker) added(run session.Run, ran bool) Value {
	if !ran {
		return Value{Unit: "mL"}
	}
	return Value{Text: run.Drunk.String() + ", " + run.Saline.String(), Unit: "mL"}
}

func (m *maker) holding() Value {
	a, v := m.value("holding", "arterial_min"), m.value("holding", "venous_min")
	if a.Blank() && v.Blank() {
		return a
	}
	dash := func(v Value) string {
		if v.Blank() {
			return "–"
		}
		return joined("", v.Text, v.Gap)
	}
	a.Text, a.Gap = dash(a)+", "+dash(v), ""
	return a
}

func (m *maker) circuit() Value {
	v := Value{Marks: m.marks("circuit")}
	e := m.last("circuit")
	if e == nil {
		v.Text = m.tick("0", "1", "2", "3")
		return v
	}
	b, ok := e.Body.(*session.Circuit)
	if !ok || e.Missing["grade_0_3"] != "" {
		v.Gap = gaps[e.Missing["grade_0_3"]]
		return v
	}
	v.Text = fmt.Sprint(b.Grade)
	if b.Grade >= 0 && b.Grade < len(circuitWords) {
		v.Text += " " + circuitWords[b.Grade]
	}
	if b.Lost != nil {
		v.Text += ", blood lost " + b.Lost.Text()
	}
	return v
}

// weighOut is the weight after, and where it lies from the dry weight.
func (m *maker) weighOut() Value {
	v := m.value("weigh_out", "weight_kg")
	e := m.last("weigh_out")
	if e == nil || v.Text == "" {
		return v
	}
	b := e.Body.(*session.WeighOut)
	if b.Clothing > 0 {
		v.Unit += ", clothes " + b.Clothing.Text()
	}
	if in := text(fieldOf("weigh_out", "read_in"), e.Body); in != "" && in != "kilograms" {
		v.Unit += ", read in " + in
	}
	if m.s.Rx != nil && m.s.Rx.DryWeight > 0 {
		off := b.Weight - b.Clothing - m.s.Rx.DryWeight
		switch {
		case off > 0:
			v.Unit += fmt.Sprintf(" (%s above dry weight)", off.Text())
		case off < 0:
			v.Unit += fmt.Sprintf(" (%s below dry weight)", (-off).Text())
		default:
			v.Unit += " (the dry weight)"
		}
	}
	return v
}

func (m *maker) balance() Value {
	b, ok := session.BalanceOf(m.s)
	if !ok {
		return Value{}
	}
	return Value{Text: strings.TrimSuffix(lower(b.Words), ".")}
}

// cleanedAt is when the disinfection after the treatment was written.
func (m *maker) cleanedAt() string {
	if _, e := session.CleanedAfter(m.s); e != nil && !m.began.IsZero() {
		return m.clock(e.At)
	}
	return ""
}

func (m *maker) disinfection() Value {
	if m.cleanedAt() == "" && !m.blank {
		return Value{Marks: m.marks("disinfection")} // what was run while setting up stands with the water
	}
	return m.or(m.list("disinfection", "programme", "result"), m.tick("heat", "citric", "chemical"))
}

// present is the moment up to which a session is added up.
func (m *maker) present() time.Time {
	if !m.ended.IsZero() {
		return m.ended
	}
	return m.Now
}
