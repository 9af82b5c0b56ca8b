package report

import (
	"slices"
	"time"

	"ebbline/report/chart"
	"ebbline/session"
)

type gridColumn struct{ label, key, second string }

// gridColumns are the quantities of the grid in the order in which a reading
// goes round: me, the pump, the pressures, the fluid, the bath, the heparin.
var gridColumns = []gridColumn{
	{"BP", "systolic_mmhg", "diastolic_mmhg"}, {"Pulse", "pulse_per_min", ""}, {"Blood flow", "blood_flow_ml_min", ""},
	{"Arterial", "arterial_mmhg", ""}, {"Venous", "venous_mmhg", ""}, {"TMP", "tmp_mmhg", ""}, {"Rate", "removal_rate_ml_h", ""},
	{"Removed", "removed_ml", ""}, {"Cond.", "conductivity_ms_cm", ""}, {"Temp.", "dialysate_temp_c", ""}, {"Heparin", "heparin_so_far_iu", ""},
}

// columns are those of the grid, with the body's temperature where a reading
// has it, and with the substitution fluid in haemodiafiltration; without
// that of heparin where none is ordered and none was written.
func (m *maker) columns() []gridColumn {
	body := gridColumn{"Body", "body_temperature_c", ""}
	given := gridColumn{"Subst.", "substitution_l", ""}
	columns, filtered := slices.Clone(gridColumns), m.s.ByFiltration()
	warm, heparin := false, !m.s.Rx.NoHeparin()
	for i := range m.s.Log {
		if b, is := m.s.Log[i].Body.(*session.Reading); is {
			filtered = filtered || b.Given != nil
			heparin = heparin || b.Heparin != nil
			warm = warm || b.BodyTemp != nil || m.s.Log[i].Missing[body.key] != ""
		}
	}
	if !heparin {
		columns = slices.DeleteFunc(columns, func(c gridColumn) bool { return c.key == "heparin_so_far_iu" })
	}
	if filtered {
		removed := slices.IndexFunc(columns, func(c gridColumn) bool { return c.key == "removed_ml" })
		if m.s.RemovedShows() == session.RemovedGross {
			columns[removed].label = "Removed with subst."
		}
		columns = slices.Insert(columns, removed+1, given)
	}
	if warm {
		columns = slices.Insert(columns, 2, body)
	}
	return columns
}

// grid has one row for each reading, struck ones included, in the order they
// happened; rows are kept apart by their place and not by their clock, since
// on one night of the year a time comes twice.
func (m *maker) grid() Grid {
	var g Grid
	columns := m.columns()
	for _, c := range columns {
		g.Columns = append(g.Columns, Column{c.label, fieldOf("reading", c.key).Symbol()})
	}
	m.placed["reading"], m.placed["asleep"] = true, true
	used := map[session.Missing]bool{}
	for i := range m.s.Log {
		e := &m.s.Log[i]
		switch b := e.Body.(type) {
		case *session.Reading:
			r := Row{At: m.clock(e.At), Note: beside(b), Struck: e.Struck != nil, Marks: m.marksOf(e)}
			for _, c := range columns {
				r.Cells = append(r.Cells, m.cell(e, c.key, c.second, used))
			}
			if e.Struck != nil {
				r.Marks = append(slices.Clone(r.Marks), m.note("reading of "+r.At+m.strike(e)))
			}
			g.Rows = append(g.Rows, r)
		case *session.Asleep:
			r := Row{At: m.clock(e.At), Whole: "asleep by plan for " + hours(b.For), Struck: e.Struck != nil, Marks: m.marksOf(e)}
			if e.Struck != nil {
				r.Marks = append(slices.Clone(r.Marks), m.note(r.Whole+m.strike(e)))
			}
			g.Rows = append(g.Rows, r)
		}
	}
	for _, why := range []session.Missing{session.NotDone, session.NotRecorded, session.DoesNotApply} {
		if used[why] {
			g.Legend = append(g.Legend, shortGaps[why]+" = "+gaps[why])
		}
	}
	return g
}

// beside is what stands at the end of the row of a reading: what it says beside its figures,
// and its own words.
func beside(b *session.Reading) string {
	odd, again := "", ""
	if b.Irregular {
		odd = "pulse newly irregular"
	}
	if b.Again {
		again = "the machine’s count began again: what it showed before is added to it"
	}
	return joined("; ", odd, again, b.Note)
}

func (m *maker) cell(e *session.Event, key, second string, used map[session.Missing]bool) Value {
	one := func(key string) string {
		if s := text(fieldOf("reading", key), e.Body); s != "" {
			return s
		}
		if why := e.Missing[key]; why != "" {
			used[why] = true
			return shortGaps[why]
		}
		return ""
	}
	a := one(key)
	if second == "" {
		return Value{Text: a}
	}
	b := one(second)
	switch {
	case a == b: // both blank, or both missing for one reason
		return Value{Text: a}
	case a == "":
		a = "–"
	case b == "":
		b = "–"
	}
	return Value{Text: a + "/" + b}
}

// charts are the ebb and the pressures, nil while there is nothing to draw.
func (m *maker) charts() (*chart.Ebb, *chart.Lines) {
	if m.began.IsZero() {
		return nil, nil
	}
	at := m.Now
	if !m.ended.IsZero() {
		at = m.ended
	}
	zone := m.began.Location()
	pauses := m.pauseSpans(at)
	end := at
	var ebb *chart.Ebb
	if e, ok := session.EbbOf(m.s, at); ok {
		ebb = &chart.Ebb{Zone: zone, Start: m.began, Excess: e.Start.Float() / 1000, LeftOver: e.Rest.Float() / 1000, Within: onPlan, Pauses: pauses}
		if m.s.Rx != nil {
			ebb.DryWeight = m.s.Rx.DryWeight.Text()
		}
		ebb.Planned = planned(m.s, e, pauses)
		if n := len(ebb.Planned); n > 0 {
			ebb.End = ebb.Planned[n-1].At
		}
		for _, p := range e.Actual {
			ebb.Readings = append(ebb.Readings, chart.Reading{At: p.At, Value: p.Excess.Float() / 1000})
		}
		ebb.Readings = append(ebb.Readings, m.netGaps(m.began)...)
		if m.ended.IsZero() {
			ebb.Now = m.Now
		}
		if ebb.End.After(end) {
			end = ebb.End
		}
	}
	var arterial, venous []chart.Reading
	var bp []chart.Between
	session.Each(m.s, func(b *session.Reading, e *session.Event) {
		if b.Arterial != nil {
			arterial = append(arterial, chart.Reading{At: e.At, Value: b.Arterial.Float()})
		}
		if b.Venous != nil {
			venous = append(venous, chart.Reading{At: e.At, Value: b.Venous.Float()})
		}
		if b.Systolic != nil && b.Diastolic != nil {
			bp = append(bp, chart.Between{At: e.At, Low: b.Diastolic.Float(), High: b.Systolic.Float()})
		}
	})
	arterial = append(arterial, m.gapsOf("arterial_mmhg", m.began)...)
	venous = append(venous, m.gapsOf("venous_mmhg", m.began)...)
	pressures := chart.Pressures(zone, m.began, end, arterial, venous, bp, pauses)
	return ebb, &pressures
}

// onPlan is the share by which a removal may be off the planned line and
// still be called on plan; beyond it the person writes why (common practice).
const onPlan = 0.10

// planned bends the planned line flat where the treatment stood still.
func planned(s *session.Session, e session.Ebb, pauses []chart.Span) []chart.Reading {
	var out []chart.Reading
	add := func(at time.Time, litres float64) {
		out = append(out, chart.Reading{At: at, Value: litres})
	}
	for i, p := range e.Planned {
		if i > 0 {
			q := e.Planned[i-1]
			for _, pause := range pauses {
				treated := session.TreatedFor(s, pause.From)
				if treated <= q.Treated || treated >= p.Treated {
					continue
				}
				share := float64(treated-q.Treated) / float64(p.Treated-q.Treated)
				litres := (q.Excess.Float() + (p.Excess.Float()-q.Excess.Float())*share) / 1000
				add(pause.From, litres)
				add(pause.To, litres)
			}
		}
		add(p.At, p.Excess.Float()/1000)
	}
	return out
}

func (m *maker) pauseSpans(at time.Time) []chart.Span {
	var out []chart.Span
	for _, p := range session.Pauses(m.s) {
		end := p.End
		if end.IsZero() {
			end = at
		}
		out = append(out, chart.Span{From: p.From, To: end, Word: "pause"})
	}
	return out
}

// netGaps are those of [maker.gapsOf] for what came off, and the readings whose figure
// does not tell it.
func (m *maker) netGaps(from time.Time) []chart.Reading {
	out := m.gapsOf("removed_ml", from)
	for i := range m.s.Log {
		e := &m.s.Log[i]
		b, is := e.Body.(*session.Reading)
		if is && e.Struck == nil && !e.At.Before(from) && b.Removed != nil && session.NetUnknown(m.s, e.At) != "" {
			out = append(out, chart.Reading{At: e.At, Gap: "not known"})
		}
	}
	return out
}

// gapsOf are the readings in which a value was left out or was missing for a
// reason, and the moments slept through by plan: the line is broken there.
func (m *maker) gapsOf(key string, from time.Time) []chart.Reading {
	var out []chart.Reading
	f := fieldOf("reading", key)
	for i := range m.s.Log {
		e := &m.s.Log[i]
		if e.Struck != nil || e.At.Before(from) {
			continue
		}
		switch e.Body.(type) {
		case *session.Reading:
			if _, there := f.Of(e.Body); !there {
				why := gaps[e.Missing[key]]
				if why == "" {
					why = "not recorded"
				}
				out = append(out, chart.Reading{At: e.At, Gap: why})
			}
		case *session.Asleep:
			out = append(out, chart.Reading{At: e.At, Gap: gaps[session.AsleepByPlan]})
		}
	}
	return out
}
