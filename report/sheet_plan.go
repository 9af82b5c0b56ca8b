package report

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ebbline/session"
	"ebbline/unit"
)

// plan is the sum of the fluid to remove as it was agreed, and what was set.
func (m *maker) plan() Plan {
	if one, e := session.PaperPlanOf(m.s, m.now()); one != nil {
		return m.paperPlan(one, e)
	}
	p := Plan{Ordered: m.ordered()}
	e := m.last("plan")
	marks := m.marks("plan")
	var a *session.AgreedPlan
	if e != nil {
		a, _ = e.Body.(*session.AgreedPlan)
		p.At = m.clock(e.At)
	}
	if a == nil {
		p.Sum = []Term{
			{"", "Weight before", Value{Unit: "kg"}, false}, {"−", "Clothes", Value{Unit: "kg"}, false}, {"−", "Dry weight", m.dry(), false},
			{"=", "Above dry weight", Value{Unit: "mL"}, false}, {"+", "Drinks and food", Value{Unit: "mL"}, false},
			{"+", "Washback", m.washback(nil), false}, {"+", "Saline", Value{Unit: "mL"}, false}, {"=", "Fluid to remove", Value{Unit: "mL", Marks: marks}, true},
		}
		if m.s.Rx.Flushes() {
			p.Sum = slices.Insert(p.Sum, len(p.Sum)-1, Term{"+", "Flushes", Value{Unit: "mL"}, false})
		}
		p.Set = []Field{
			{Label: "Dialled in", Value: Value{Unit: m.goalUnit()}}, {Label: "Over", Value: Value{Unit: "h"}},
			{Label: "Rate", Value: Value{Unit: "mL/h"}}, {Label: "Rate per kg", Value: Value{Unit: "mL/h/kg"}},
			{Label: "Machine shows", Value: m.shows()},
		}
		return p
	}
	above := Term{"=", "Above dry weight", volume(a.AboveDry), false}
	older := a.OlderRule(m.s.Machine.FieldStep())
	switch {
	case older: // as it was agreed: then nothing came off, whatever was drunk
		above.Label, above.Value = "Below dry weight: nothing", volume(0)
	case a.BelowDry:
		above.Label, above.Value = "Below dry weight", volume(unit.Volume(-a.Under()))
	}
	p.Sum = []Term{
		{"", "Weight before", mass(a.PreWeight), false}, {"−", "Clothes", mass(a.Clothing), false}, {"−", "Dry weight", mass(a.DryWeight), false},
		above, {"+", "Drinks and food", volume(a.Intake), false}, {"+", "Washback", m.washback(a), false}, {"+", "Saline", volume(a.Saline), false},
	}
	if a.Flushes > 0 {
		p.Sum = append(p.Sum, Term{"+", "Flushes", volume(a.Flushes), false})
	}
	if sum := a.Sum(); sum < 0 {
		p.Sum = append(p.Sum, Term{"+", "Short of dry weight", volume(-sum), false})
	}
	// The machine takes whole steps; without this line the column would not add up.
	switch step := a.Goal - max(0, a.Sum()); {
	case older || step == 0:
	case step > 0:
		p.Sum = append(p.Sum, Term{"+", "Machine's step", volume(step), false})
	default:
		p.Sum = append(p.Sum, Term{"−", "Machine's step", volume(-step), false})
	}
	p.Sum = append(p.Sum, Term{"=", "Fluid to remove", volume(a.Goal), true})
	p.Sum[len(p.Sum)-1].Value.Marks = marks
	if a.LeftOver > 0 {
		p.Sum = append(p.Sum, Term{"−", "Left for later", volume(a.LeftOver), false})
	}
	set := Value{Text: a.SetGoal.String(), Unit: "mL"}
	if shown, err := m.s.Machine.ShowGoal(a.SetGoal); err == nil {
		set = Value{Text: shown}
	}
	p.Set = []Field{
		{Label: "Dialled in", At: p.At, Value: set}, {Label: "Over", Value: Value{Text: hours(a.Length)}},
		{Label: "Rate", Value: Value{Text: a.Rate.String(), Unit: "mL/h"}}, {Label: "Rate per kg", Value: Value{Text: a.RatePerKg.Digits(1), Unit: "mL/h/kg"}},
		{Label: "Machine shows", At: m.at("read_back"), Value: m.shows()},
	}
	p.Cautions = a.Beside(m.s.Rx)
	return p
}

func volume(v unit.Volume) Value { return Value{Text: minus(v.String()), Unit: "mL"} }
func mass(v unit.Mass) Value     { return Value{Text: minus(v.Digits(1)), Unit: "kg"} }

// orderedFlushes is what flushes the unit ordered.
func orderedFlushes(rx *session.Prescription) string {
	if !rx.Flushes() {
		return ""
	}
	return "a flush of " + rx.FlushML.Text() + " every " + rx.FlushEvery.Text()
}

// flushes is how many were given, and left out.
func (m *maker) flushes() Field {
	if !m.s.Rx.Flushes() || m.began.IsZero() {
		return Field{}
	}
	given, leftOut := session.FlushesGiven(m.s, m.present())
	v := Value{Text: fmt.Sprintf("%d given", given)}
	if leftOut > 0 {
		v.Text += fmt.Sprintf(", %d left out", leftOut)
	}
	return Field{Label: "Flushes", Value: v}
}

// dry is the dry weight as prescribed; it is ordered, not measured, so a blank
// form carries it.
func (m *maker) dry() Value {
	if m.s.Rx == nil || m.s.Rx.DryWeight == 0 {
		return Value{Unit: "kg"}
	}
	return mass(m.s.Rx.DryWeight)
}

func (m *maker) washback(a *session.AgreedPlan) Value {
	switch {
	case m.s.Machine.AddsWashback && (a == nil || a.Washback == 0):
		return Value{Gap: "machine adds it"}
	case a == nil:
		return Value{Unit: "mL"}
	}
	return volume(a.Washback)
}

// goal writes a goal as the machine's field shows it, when it can be shown so.
func (m *maker) goal(v unit.Volume) string {
	if shown, err := m.s.Machine.ShowGoal(v); err == nil && m.s.Machine.GoalUnit != "" {
		return shown
	}
	return v.Text()
}

func (m *maker) goalUnit() string {
	if m.s.Machine.GoalUnit != "" {
		return m.s.Machine.GoalUnit
	}
	return "mL"
}

// shows is the read-back: what the machine said after the plan was dialled in.
func (m *maker) shows() Value {
	v := m.value("read_back", "shown")
	if v.Text != "" {
		v.Unit = m.goalUnit()
		if length := m.value("read_back", "machine_length_min"); length.Text != "" {
			b := m.last("read_back").Body.(*session.ReadBack)
			v.Unit += ", " + hours(*b.Length)
		}
	}
	return v
}

// ordered is what the prescription says for this session.
func (m *maker) ordered() []Field {
	rx := m.s.Rx
	if rx == nil {
		return []Field{{Label: "Prescription", Value: Value{Gap: m.none("", "none in the record")}}}
	}
	length := ""
	if l, from, err := rx.SessionLength(); err == nil {
		length = hours(l)
		if rx.Length == nil {
			length += " (" + from + ")"
		}
	}
	flows := "blood " + rx.BloodFlow.Text()
	if rx.DialFlow != nil && !m.s.RemovalOnly() {
		flows += ", dialysate " + rx.DialFlow.Text()
	}
	bath := fmt.Sprintf("K %s, Ca %s", rx.BathK, rx.BathCa)
	if rx.DialTemp != nil {
		bath += ", " + rx.DialTemp.Digits(1) + "\u00a0" + rx.DialTemp.Symbol()
	}
	fields := []Field{
		{Label: "Length", Value: Value{Text: length}},
		{Label: "Flows", Value: Value{Text: flows}},
		{Label: "Dialyser", Value: Value{Text: rx.Dialyser}},
		{Label: "Bath", Value: Value{Text: bath}},
		{Label: "Heparin", Value: Value{Text: m.orderedHeparin(rx)}},
	}
	if m.s.RemovalOnly() { // no dialysis fluid is used
		fields = slices.DeleteFunc(fields, func(f Field) bool { return f.Label == "Bath" })
	}
	if rx.ByFiltration() {
		fields = slices.Insert(fields, 2, Field{Label: "Haemodiafiltration", Value: Value{Text: rx.SubstitutionText()}})
	}
	if rx.Profile() {
		fields = append(fields, Field{Label: "Profile", Value: Value{Text: profiles(rx)}})
	}
	if rx.ByCatheter() {
		fields = append(fields, Field{Label: "Catheter lock", Value: Value{Text: cmp.Or(rx.OrderedLock.Text(), "none ordered")}})
	}
	if words := orderedSugar(rx); words != "" {
		fields = append(fields, Field{Label: "Blood sugar", Value: Value{Text: words}})
	}
	return append(fields, Field{Label: "Dry weight", Value: Value{Text: joined(", ", rx.DryWeight.Text(), joined(" ", "set", rx.DrySetOn.Long(), "by", rx.DrySetBy))}})
}

func (m *maker) orderedHeparin(rx *session.Prescription) string {
	if rx.Heparin == "" || rx.Heparin == "none" {
		return joined(", ", "none", orderedFlushes(rx))
	}
	var parts []string
	if rx.HepBolus != nil {
		parts = append(parts, "bolus "+rx.HepBolus.Text())
	}
	if rx.HepHourly != nil {
		parts = append(parts, rx.HepHourly.Text())
	}
	if rx.HepStop != nil {
		parts = append(parts, "off "+hours(*rx.HepStop)+" before the end")
	}
	parts = append(parts, orderedFlushes(rx))
	return joined(", ", append([]string{text(fieldOf("prescription", "heparin"), rx)}, parts...)...)
}

// startLine is every check as it stood at connecting.
func (m *maker) startLine() []CheckLine {
	now := m.Now
	if !m.began.IsZero() {
		now = m.began
	}
	var out []CheckLine
	for _, c := range session.StartLine(m.s, m.History, now) {
		l := CheckLine{Title: c.Title, Words: c.Words}
		if c.State == session.StopHere && c.Limit != "" {
			l.Words += " Limit: " + c.Limit + "."
		}
		switch {
		case m.blank:
			l.Words, l.State = "", checkTick
		case c.Overridden != nil:
			l.State = checkReason
			l.Reason = fmt.Sprintf("%s (%s%s)", c.Overridden.Reason, m.clock(c.At), by(c.By))
		case c.State == session.Ready:
			l.State = checkReady
		case c.State == session.Look:
			l.State = checkLook
		case c.State == session.StopHere:
			l.State = checkStop
		default:
			l.State = checkOpen
		}
		out = append(out, l)
	}
	return out
}

// overrides are all reasons that were written to go on, those for checks that
// became ready after all too.
func (m *maker) overrides() []Line {
	m.placed["override"] = true
	var out []Line
	for i := range m.s.Log {
		e := &m.s.Log[i]
		if o, ok := e.Body.(*session.Override); ok {
			out = append(out, m.line(e, "Gone on in spite of “"+checkTitle(o.Check)+"”", o.Reason))
		}
	}
	for _, words := range session.GivenBackWords(m.s) {
		out = append(out, Line{At: m.clock(m.ended), Title: "Washback", Words: words})
	}
	return out
}

// checkTitle is the heading of a check inside a sentence.
func checkTitle(id string) string {
	title := session.CheckTitle(id)
	return strings.ToLower(title[:1]) + title[1:]
}
