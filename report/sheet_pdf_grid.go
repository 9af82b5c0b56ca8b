package report

import (
	"math"

	"ebbline/report/chart"
)

// gridBlock is the table of readings.
func (t *setter) gridBlock() block {
	g := t.Grid
	clock := t.plain.width("00:00") + 2
	for _, r := range g.Rows {
		clock = math.Max(clock, t.plain.width(r.At)+2)
	}
	edges := []float64{bodyLeft, bodyLeft + clock}
	for i, c := range g.Columns {
		wide := math.Max(t.small().width(c.Label), t.small().width(c.Unit))
		for _, r := range g.Rows {
			if i < len(r.Cells) {
				wide = math.Max(wide, t.plain.width(r.Cells[i].Text))
			}
		}
		if t.Blank {
			wide = math.Max(wide, 9)
		}
		edges = append(edges, edges[len(edges)-1]+wide+2.2)
	}
	notes := edges[len(edges)-1] + 1.5
	b := block{heading: "Running", times: t.EventsAt}
	headHigh := t.lead*0.76 + t.small().size*point*1.6
	b.head = []strip{{headHigh, func(p *paper, y float64) {
		s := t.small()
		p.put(bodyLeft, y+t.lead*0.76, s.in(chart.Ink), "Time")
		for i, c := range g.Columns {
			p.putRight(edges[i+2]-1, y+t.lead*0.76, s.in(chart.Ink), c.Label)
			p.putRight(edges[i+2]-1, y+t.lead*0.76+s.size*point*1.2, s, c.Unit)
		}
		p.put(notes, y+t.lead*0.76, s.in(chart.Ink), "Note")
		p.rule(bodyLeft, y+headHigh-0.1, bodyRight, y+headHigh-0.1, 0.2, chart.Ink)
	}}}
	for _, r := range g.Rows {
		b.strips = append(b.strips, t.gridRow(r, edges, notes)...)
	}
	if len(g.Rows) == 0 {
		b.strips = t.paragraph(bodyLeft, bodyWidth, []run{{text: "No readings recorded.", style: t.plain.in(chart.Soft)}})
	}
	if len(g.Legend) > 0 {
		b.strips = append(b.strips, t.paragraph(bodyLeft, bodyWidth, []run{{text: joined("   ", g.Legend...), style: t.small()}})...)
	}
	return b
}

// gridRow is one reading. A note that does not fit beside its figures goes
// under them.
func (t *setter) gridRow(r Row, edges []float64, notes float64) []strip {
	note := lines(append([]run{{text: r.Note, style: t.plain, struck: r.Struck}}, t.marks(r.Marks)...), bodyRight-notes)
	var below [][]run
	if len(note) > 2 {
		note, below = [][]run{nil}, lines(append([]run{{text: r.Note, style: t.plain, struck: r.Struck}}, t.marks(r.Marks)...), bodyRight-edges[1]-1.2)
	}
	high := t.lead * 1.12
	if t.Blank {
		high = t.lead * 1.25
	}
	var out []strip
	for i, l := range note {
		final := i == len(note)-1
		step := t.lead
		if final {
			step = math.Max(high, t.lead)
		}
		out = append(out, strip{step, func(p *paper, y float64) {
			base := y + t.lead*0.8
			p.putRuns(notes, base, l)
			if final && len(below) == 0 {
				p.rule(bodyLeft, y+step, bodyRight, y+step, 0.1, chart.Faint)
			}
			if i > 0 {
				return
			}
			p.put(bodyLeft, base, t.plain.strong(), r.At)
			if r.Whole != "" {
				p.put(edges[1]+1.2, base, t.plain.in(chart.Soft), r.Whole)
			}
			for k, c := range r.Cells {
				if c.Text == "" && r.Struck {
					continue
				}
				if c.Text == "" {
					p.blank(edges[k+1]+2, edges[k+2]-1, y+step-1.1)
					continue
				}
				p.putRight(edges[k+2]-1, base, t.plain, c.Text)
			}
			if t.Blank {
				p.blank(notes, bodyRight, y+step-1.1)
				p.blank(bodyLeft, edges[1]-1, y+step-1.1)
			}
			if r.Struck {
				p.rule(bodyLeft, base-t.plain.size*point*0.27, notes-2, base-t.plain.size*point*0.27, 0.2, chart.Ink)
			}
		}})
	}
	for i, l := range below {
		out = append(out, strip{t.lead, func(p *paper, y float64) {
			p.putRuns(edges[1]+1.2, y+t.lead*0.76, l)
			if i == len(below)-1 {
				p.rule(bodyLeft, y+t.lead, bodyRight, y+t.lead, 0.1, chart.Faint)
			}
		}})
	}
	if len(out) > keptRow {
		return out
	}
	return []strip{together(out)}
}

// keptRow is up to how many lines a reading and its note stay on one side.
const keptRow = 8
