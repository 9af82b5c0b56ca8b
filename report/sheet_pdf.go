package report

import (
	"fmt"
	"io"
	"math"
	"slices"
	"strings"
	"time"

	"ebbline/report/chart"
	"ebbline/report/fonts"
)

// The sizes of letters on a session sheet, in points. An ordinary session is
// set as large as one side allows; smaller than the least it is never set,
// and goes on over the page instead.
const (
	largestLetters  = 8.2
	usualLetters    = 7.6  // where more than one side is needed anyway
	smallestLetters = 6.65 // figures and values; labels and units stand at 0.98 of it
)

// labelScale is the size of labels and units against values.
const labelScale = 0.98

// PDF writes the sheet as A4: one side for an ordinary session, more where
// it must, each with whose it is, which session, page n of m, when it was
// printed and the hash of the record. made is the date the file carries.
func (s Sheet) PDF(w io.Writer, print Printing, made time.Time) error {
	set := setter{Sheet: s, print: print}
	pages := set.fit()
	p := newPaper(joined(", ", s.title(), s.Name, s.Date), made)
	for i, pg := range pages {
		p.pdf.AddPage()
		if print.Demo {
			p.watermark()
		}
		set.headOf(p, i+1)
		for _, x := range pg.placed {
			x.draw(p, x.y)
		}
		set.foot(p, i+1, len(pages))
	}
	return p.finish(w)
}

func (s Sheet) title() string {
	if s.Blank {
		return "Session sheet, to fill in"
	}
	return "Session sheet"
}

// setter sets one sheet in one size of letters.
type setter struct {
	Sheet
	print  Printing
	plain  style
	lead   float64 // from line to line, mm
	charts float64 // height of the charts, mm
}

const (
	leastCharts = 35.0
	mostCharts  = 62.0
	bodyBottom  = 285.2
)

// fit finds the largest letters with which the sheet keeps to one side, gives
// what is left over to the charts, and otherwise sets it on as many sides as
// it needs.
func (t *setter) fit() []page {
	for size := largestLetters; size >= smallestLetters-1e-9; size -= 0.05 {
		pages := t.set(size, leastCharts)
		if len(pages) > 1 {
			continue
		}
		if t.Ebb == nil && !t.Blank {
			return pages
		}
		last := pages[0].placed[len(pages[0].placed)-1]
		spare := bodyBottom - (last.y + last.high)
		return t.set(size, math.Min(leastCharts+spare, mostCharts))
	}
	return t.set(usualLetters, 48)
}

func (t *setter) set(size, charts float64) []page {
	t.plain, t.lead, t.charts = style{size: size, tone: chart.Ink}, size*point*1.25, charts
	if t.Blank { // a pen needs more room than a printer
		t.lead = size * point * 1.75
	}
	return paginate(t.blocks(), t.small(), t.top, bodyBottom)
}

func (t *setter) small() style { return t.plain.times(labelScale).in(chart.Soft) }

func (t *setter) blocks() []block {
	blocks := []block{
		{heading: "Prescribed", strips: t.inline(t.Plan.Ordered)},
		{heading: "Before", times: t.SetUp, strips: append(t.inline(t.Fit.Fields), side(t.lead,
			t.fields(bodyLeft, third, 17.5, t.Before.Fields),
			t.fields(bodyLeft+third+gutter, third, 18, t.Water.Fields),
			t.plan(bodyLeft+2*(third+gutter), third),
		)...)},
		{heading: "Opened", strips: t.inline(t.Opened.Fields)},
		t.startBlock(),
		{heading: "Needles", strips: t.inline(t.Needles.Fields)},
		t.gridBlock(), t.chartBlock(), t.eventsBlock(),
		{heading: "After", times: t.After.Times, strips: side(t.lead, inColumns(t.groups(third, 18.5, t.After.Fields), 3, third)...)},
	}
	return append(blocks, t.notesBlock()...)
}

// The body is set in one column, in two or in three.
const (
	gutter = 4.0
	half   = (bodyWidth - gutter) / 2
	third  = (bodyWidth - 2*gutter) / 3
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

// figure tells whether a value is a number and not a sentence.
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
	return t.paragraph(bodyLeft, bodyWidth, all)
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

// startBlock names what was green on one line, since its figures stand above,
// and says what was not with all its words.
func (t *setter) startBlock() block {
	var green []run
	b := block{heading: "Start line"}
	for _, c := range t.StartLine {
		if c.State == checkPassed || t.Blank {
			green = append(green, run{text: nobreak(c.Sign() + " " + c.Title), style: t.plain}, run{text: "    ", style: t.plain})
		}
	}
	if len(green) > 0 {
		b.strips = t.paragraph(bodyLeft, bodyWidth, green)
	}
	for _, c := range t.StartLine {
		if c.State == checkPassed || t.Blank {
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
		if !t.Blank {
			return block{}
		}
		return block{} // a form is filled in with figures
	}
	wide := bodyWidth
	if t.Ebb != nil && t.Pressures != nil {
		wide = bodyWidth*0.56 - gutter/2
	}
	frame := chart.Frame{Width: wide / point, Height: t.charts / point, Text: 6.6}
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
	if len(t.Overrides) > 0 {
		b := block{heading: "Gone on"}
		for _, o := range t.Overrides {
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
		out = append(out, block{heading: "Still open", strips: t.paragraph(bodyLeft, bodyWidth, []run{{text: "□ " + strings.Join(t.Open, "   □ "), style: t.plain}})})
	}
	return out
}

// top is where the body begins: under the whole head on the first side, under
// one line of it on the others.
func (t *setter) top(page int) float64 {
	if page > 1 {
		return marginTop + 8
	}
	high := marginTop + 12.6
	for range t.headLines() {
		high += t.lead
	}
	return high
}

// headLines are the lines under the name.
func (t *setter) headLines() [][]run {
	var out [][]run
	add := func(rs []run) {
		if len(rs) > 0 {
			out = append(out, lines(rs, paperWidth-2*marginSide)...)
		}
	}
	var who []run
	say := func(label, text string) {
		if text != "" {
			who = append(who, run{text: label + "\u00a0", style: t.small()}, run{text: text + "   ", style: t.plain})
		}
	}
	say("Unit", joined(", ", t.Unit, t.Telephone))
	say("Prescription", t.Prescription)
	say("Allergies", t.Allergies)
	add(who)
	who = nil
	for _, f := range t.Facts {
		if f.Value.Blank() {
			say(f.Label, strings.Repeat(".", 34))
			continue
		}
		say(f.Label, joined("", f.Value.Text, f.Value.Gap))
		who = append(who[:len(who)-1], run{text: strings.TrimRight(who[len(who)-1].text, " "), style: t.plain})
		who = append(append(who, t.marks(f.Value.Marks)...), run{text: "   ", style: t.plain})
	}
	add(who)
	return out
}

// headOf draws the head of a side.
func (t *setter) headOf(p *paper, page int) {
	born := fmt.Sprintf("born %d", t.BirthYear)
	if t.BirthYear == 0 {
		born = ""
	}
	number := ""
	if t.Number != "" {
		number = "no. " + t.Number
	}
	person := joined(" · ", born, t.Colour, number)
	if page > 1 {
		x := p.put(marginSide, marginTop+4.4, style{size: 10, bold: true}, t.Name)
		p.put(x+2.5, marginTop+4.4, style{size: 8, tone: chart.Soft}, person)
		p.putRight(bodyRight, marginTop+4.4, style{size: 8}, joined(" · ", t.Date, t.ID, t.Zone))
		return
	}
	emblem(p, marginSide, marginTop+0.6, 9.5, 6.6)
	name := style{size: 15, bold: true}
	for name.width(t.Name) > 112 && name.size > 9 {
		name.size -= 0.5
	}
	p.put(marginSide+12, marginTop+5.4, name, t.Name)
	p.put(marginSide+12, marginTop+9.6, style{size: 8.5, tone: chart.Soft}, person)
	right := style{size: 8.5, tone: chart.Soft}
	if t.Blank {
		p.putRight(bodyRight, marginTop+4.6, style{size: 10.5, bold: true, tone: chart.Water}, "Session sheet, to fill in")
		p.put(bodyRight-62, marginTop+9.6, right, "date")
		p.blank(bodyRight-54, bodyRight, marginTop+9.6)
	} else {
		p.putRight(bodyRight, marginTop+4.6, style{size: 10.5, bold: true, tone: chart.Water}, t.Date)
		p.putRight(bodyRight, marginTop+9.6, right, joined(" · ", "session "+t.ID, t.Zone, t.State))
	}
	y := marginTop + 12.6
	for _, l := range t.headLines() {
		p.putRuns(marginSide, y+t.lead*0.76, l)
		y += t.lead
	}
}

// emblem is the program's own picture: a line that falls to the dry weight.
func emblem(p *paper, x, y, w, h float64) {
	p.pdf.SetDrawColor(chart.Water.RGB())
	p.pdf.SetLineWidth(0.55)
	p.pdf.MoveTo(x, y)
	p.pdf.CurveTo(x+w*0.42, y+h*0.25, x+w*0.9, y+h*0.86)
	p.pdf.DrawPath("D")
	p.rule(x, y+h*0.88, x+w, y+h*0.88, 0.55, chart.Water)
	for i := range 6 {
		at := x + w*float64(i)/6
		p.rule(at, y+h*1.12, at+w*0.08, y+h*0.9, 0.2, chart.Water)
	}
}

// foot is the line at the foot of every side.
func (t *setter) foot(p *paper, page, of int) {
	s := style{size: 6.6, tone: chart.Soft}
	p.rule(marginSide, footLine-3.2, bodyRight, footLine-3.2, 0.18, chart.Soft)
	left := joined(" · ", "printed "+t.print.At, hashWords(t.print.Hash))
	if t.print.Demo {
		left = "DEMONSTRATION, invented data · " + left
	}
	p.put(marginSide, footLine, s, left)
	p.putRight(bodyRight, footLine, s.strong(), fmt.Sprintf("page %d of %d", page, of))
	if p.lost {
		p.put(marginSide, footLine+3, s, string(fonts.Lost)+" stands for a character that this paper cannot print; the record and the page hold it.")
	}
}

func hashWords(hash string) string {
	if hash == "" {
		return ""
	}
	return "record " + hash
}
