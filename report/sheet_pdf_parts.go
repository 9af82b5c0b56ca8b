package report

import (
	"math"
	"slices"
	"strings"

	"ebbline/report/chart"
)

// A lineAt draws one line of a column with its left edge at x.
type lineAt func(p *paper, x, base float64)

// at fixes a column to its place.
func at(x float64, column []lineAt) []func(*paper, float64) {
	var out []func(*paper, float64)
	for _, l := range column {
		out = append(out, func(p *paper, base float64) { l(p, x, base) })
	}
	return out
}

// inColumns shares groups of lines out over columns that are read downwards,
// none of them much longer than the others. A group is not broken.
func inColumns(groups [][]lineAt, n int, wide float64) [][]func(*paper, float64) {
	rest := 0
	for _, g := range groups {
		rest += len(g)
	}
	columns := make([][]lineAt, n)
	col := 0
	for _, g := range groups {
		share := (rest + n - col - 1) / (n - col)
		if len(columns[col]) > 0 && len(columns[col])+len(g)/2 >= share && col < n-1 {
			rest -= len(columns[col])
			col++
		}
		columns[col] = append(columns[col], g...)
	}
	var out [][]func(*paper, float64)
	for i, c := range columns {
		out = append(out, at(bodyLeft+float64(i)*(wide+gutter), c))
	}
	return out
}

// fields sets labels and values at x, one under the other.
func (t *setter) fields(x, width, labels float64, fs []Field) []func(*paper, float64) {
	return at(x, slices.Concat(t.groups(width, labels, fs)...))
}

// groups are the lines of each field. A value that is too long goes on under
// itself.
func (t *setter) groups(width, labels float64, fs []Field) [][]lineAt {
	var out [][]lineAt
	for _, f := range fs {
		// A longer label pushes its own value only.
		wide := math.Max(labels, t.small().width(f.Label)+1.2)
		var g []lineAt
		for i, l := range t.valueLines(width-wide, f.Value, f.At) {
			g = append(g, func(p *paper, x, base float64) {
				if i == 0 {
					p.put(x, base, t.small(), f.Label)
				}
				l(p, x+wide, base)
			})
		}
		out = append(out, g)
	}
	return out
}

// valueLines sets one value, with its time, in its lines; a blank is a rule
// with the unit at its end.
func (t *setter) valueLines(width float64, v Value, when string) []lineAt {
	if v.Blank() {
		return []lineAt{func(p *paper, x, base float64) {
			end := x + width
			if v.Unit != "" {
				end -= t.small().width(v.Unit) + 0.8
				p.put(end+0.8, base, t.small(), v.Unit)
			}
			for _, l := range v.Marks {
				end -= t.small().width("[" + l + "]")
				p.putRuns(end, base, t.marks([]string{l}))
			}
			p.blank(x, end-0.6, base)
		}}
	}
	var out []lineAt
	for _, l := range lines(t.runs(v, when), width) {
		out = append(out, func(p *paper, x, base float64) { p.putRuns(x, base, l) })
	}
	return out
}

// runs is a value with its unit, its time and the letters of its notes. A
// figure is strong, words are plain, a reason for a gap is soft.
func (t *setter) runs(v Value, at string) []run {
	var out []run
	switch {
	case v.Gap != "":
		out = append(out, run{text: v.Gap, style: t.plain.in(chart.Soft)})
	case v.figure():
		out = append(out, run{text: v.Text, style: t.plain.strong()})
	default:
		out = append(out, run{text: v.Text, style: t.plain})
	}
	if v.Unit != "" && v.Gap == "" {
		out = append(out, run{text: "\u00a0" + v.Unit, style: t.small()})
	}
	if at != "" {
		out = append(out, run{text: " · " + nobreak(at), style: t.small()})
	}
	return append(out, t.marks(v.Marks)...)
}

// figure reports whether a value is a number and not a sentence.
func (v Value) figure() bool {
	return v.Text != "" && len(v.Text) < 16 && strings.ContainsAny(v.Text[:1], "0123456789<+") || strings.HasPrefix(v.Text, "−")
}

func (t *setter) marks(letters []string) []run {
	var out []run
	for _, l := range letters {
		out = append(out, run{text: "[" + l + "]", style: t.small().in(chart.Warm), raised: true})
	}
	return out
}

// inline sets fields after one another on as many lines as they need.
func (t *setter) inline(fs []Field) []strip {
	if len(fs) == 0 {
		return nil
	}
	return t.paragraph(bodyLeft, bodyWidth, t.running(fs))
}

func (t *setter) running(fs []Field) []run {
	var all []run
	for i, f := range fs {
		if i > 0 {
			all = append(all, run{text: "   ", style: t.plain})
		}
		all = append(all, run{text: nobreak(f.Label) + "\u00a0\u00a0", style: t.small()})
		if f.Value.Blank() {
			all = append(all, run{text: strings.Repeat(".", 30), style: t.small()})
			continue
		}
		all = append(all, t.runs(f.Value, f.At)...)
	}
	return all
}

func nobreak(s string) string { return strings.ReplaceAll(s, " ", "\u00a0") }

// paragraph sets runs in lines.
func (t *setter) paragraph(x, width float64, rs []run) []strip {
	var out []strip
	for _, l := range lines(rs, width) {
		out = append(out, strip{t.lead, func(p *paper, y float64) { p.putRuns(x, y+t.lead*0.76, l) }})
	}
	return out
}

// plan sets the sum of the fluid to remove, with its figures under one
// another, then what was set and what is prescribed.
func (t *setter) plan(x, width float64) []func(*paper, float64) {
	var out []func(*paper, float64)
	figures := x + width - 10
	for _, term := range t.Plan.Sum {
		label, value := t.plain, t.plain
		if term.Total {
			label, value = label.strong(), value.strong().in(chart.Water)
		}
		out = append(out, func(p *paper, base float64) {
			p.put(x, base, label, term.Sign)
			end := p.put(x+3, base, label.in(chart.Ink), term.Label)
			p.putRuns(end+0.6, base, t.marks(term.Value.Marks))
			if term.Total {
				p.rule(figures-13, base-t.lead*0.76, figures+0.3, base-t.lead*0.76, 0.2, chart.Ink)
			}
			switch {
			case term.Value.Gap != "":
				p.putRight(x+width, base, t.small(), term.Value.Gap)
			case term.Value.Blank():
				p.blank(figures-13, figures, base)
				p.put(figures+0.9, base, t.small(), term.Value.Unit)
			default:
				p.putRight(figures, base, value, term.Value.Text)
				p.put(figures+0.9, base, t.small(), term.Value.Unit)
			}
		})
	}
	out = append(out, t.fields(x, width, 20, t.Plan.Set)...)
	for _, c := range t.Plan.Cautions {
		for _, l := range lines([]run{{text: "▲ " + c, style: t.plain.in(chart.Warm)}}, width) {
			out = append(out, func(p *paper, base float64) { p.putRuns(x, base, l) })
		}
	}
	return out
}

// startBlock names what was ready on one line, since its figures stand above,
// and says what was not with all its words.
func (t *setter) startBlock() block {
	var well []run
	b := block{heading: "Start line"}
	for _, c := range t.StartLine {
		if c.Passed() {
			well = append(well, run{text: nobreak(c.Sign() + " " + c.Title), style: t.plain}, run{text: "    ", style: t.plain})
		}
	}
	if len(well) > 0 {
		b.strips = t.paragraph(bodyLeft, bodyWidth, well)
	}
	var open []run
	for _, c := range t.StartLine {
		if c.State == checkOpen {
			open = append(open, run{text: nobreak(c.Sign() + " " + c.Title + " "), style: t.plain.strong()}, run{text: nobreak("– "+c.State) + "   ", style: t.small()})
		}
	}
	if len(open) > 0 {
		b.strips = append(b.strips, t.paragraph(bodyLeft, bodyWidth, open)...)
	}
	for _, c := range t.StartLine {
		if c.Passed() || c.State == checkOpen {
			continue
		}
		sign := t.plain
		if c.State == checkStop || c.State == checkReason {
			sign = sign.in(chart.Warm)
		}
		rs := []run{{text: c.Sign() + "\u00a0", style: sign}, {text: nobreak(c.Title), style: t.plain.strong()}, {text: " – " + c.State + ". ", style: t.small()}, {text: c.Words, style: t.plain}}
		if c.Reason != "" {
			rs = append(rs, run{text: " Reason: " + c.Reason, style: t.plain})
		}
		b.strips = append(b.strips, t.paragraph(bodyLeft, bodyWidth, rs)...)
	}
	return b
}

// chartBlock is the ebb with the pressures beside it.
func (t *setter) chartBlock() block {
	if t.Ebb == nil && t.Pressures == nil {
		return block{}
	}
	wide := bodyWidth
	if t.Ebb != nil && t.Pressures != nil {
		wide = bodyWidth*0.56 - gutter/2
	}
	frame := chart.Frame{Width: wide / point, Height: t.charts / point, Text: 7.25}
	return block{heading: "The ebb", strips: []strip{{t.charts + 0.8, func(p *paper, y float64) {
		x := bodyLeft
		if t.Ebb != nil {
			t.Ebb.Draw(frame).Paper(p.pdf, x, y+0.8)
			x += wide + gutter
		}
		if t.Pressures != nil {
			f := frame
			f.Width = (bodyRight - x) / point
			t.Pressures.Draw(f).Paper(p.pdf, x, y+0.8)
		}
	}}}}
}

// manyEvents is from how many lines on the events are set in one column, which
// may be broken over a page; two would have to be read across the break.
const manyEvents = 34

// eventsBlock is what happened, in two columns.
func (t *setter) eventsBlock() block {
	b := block{heading: "Events", times: ""}
	if len(t.Events) == 0 {
		b.strips = t.paragraph(bodyLeft, bodyWidth, []run{{text: "No events recorded.", style: t.plain.in(chart.Soft)}})
		return b
	}
	groups := t.eventGroups(half)
	columns := inColumns(groups, 2, half)
	if len(slices.Concat(groups...)) > manyEvents {
		columns = inColumns(t.eventGroups(bodyWidth), 1, bodyWidth)
	}
	b.strips = side(t.lead, columns...)
	return b
}

func (t *setter) eventGroups(width float64) [][]lineAt {
	clock := t.plain.width("00:00") + 2
	for _, e := range t.Events {
		clock = math.Max(clock, t.plain.width(e.At)+2)
	}
	var out [][]lineAt
	for _, e := range t.Events {
		if e.At == "" && e.Title == "" {
			out = append(out, []lineAt{func(p *paper, x, base float64) {
				p.blank(x, x+clock-1.5, base)
				p.blank(x+clock, x+width, base)
			}})
			continue
		}
		rs := []run{{text: e.Title, style: t.plain.strong(), struck: e.Struck}}
		if e.Words != "" {
			rs = append(rs, run{text: " \u00a0" + e.Words, style: t.plain, struck: e.Struck})
		}
		var g []lineAt
		for i, l := range lines(append(rs, t.marks(e.Marks)...), width-clock) {
			g = append(g, func(p *paper, x, base float64) {
				if i == 0 {
					p.putRuns(x, base, []run{{text: e.At, style: t.plain, struck: e.Struck}})
				}
				p.putRuns(x+clock, base, l)
			})
		}
		out = append(out, g)
	}
	return out
}

// notesBlock is what cannot be left off: reasons, changes, and what is still
// open.
func (t *setter) notesBlock() []block {
	var out []block
	for _, part := range []struct {
		heading string
		lines   []Line
	}{{"Rang", t.Calls}, {"Gone on", t.Overrides}, {"Undone", t.Undone}} {
		if len(part.lines) == 0 {
			continue
		}
		b := block{heading: part.heading}
		for _, o := range part.lines {
			rs := []run{{text: joined(" ", "◆", o.At) + "  ", style: t.plain.in(chart.Warm), struck: o.Struck}, {text: o.Title + ": ", style: t.plain.strong(), struck: o.Struck}, {text: o.Words, style: t.plain, struck: o.Struck}}
			b.strips = append(b.strips, t.paragraph(bodyLeft, bodyWidth, append(rs, t.marks(o.Marks)...))...)
		}
		out = append(out, b)
	}
	if len(t.Notes) > 0 {
		b := block{heading: "Changed or late"}
		for _, n := range t.Notes {
			rs := []run{{text: "[" + n.Letter + "] ", style: t.plain.in(chart.Warm)}, {text: n.Words, style: t.plain}}
			b.strips = append(b.strips, t.paragraph(bodyLeft, bodyWidth, rs)...)
		}
		out = append(out, b)
	}
	if len(t.Open) > 0 {
		out = append(out, block{heading: "Still open", strips: t.paragraph(bodyLeft, bodyWidth, []run{{text: "○\u00a0" + strings.Join(t.Open, "   ○\u00a0"), style: t.plain}})})
	}
	return out
}
