package report

import (
	"cmp"
	"fmt"
	"io"
	"time"

	"ebbline/report/chart"
	"ebbline/report/fonts"
)

// The sizes of letters on a session sheet, in points. An ordinary session is
// set as large as one side allows; smaller than the least it is never set,
// and goes on over the page instead.
const (
	largestLetters  = 8.2
	formLetters     = 7.2
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
		footOf(p, print, i+1, len(pages))
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
	closeSet    = 1.25 // from line to line, in sizes of letters
	leastCharts = 35.0
	mostCharts  = 62.0
	bodyBottom  = 283.4
)

// fit finds the largest letters with which the sheet keeps to one side, gives
// what is left over to the charts, and otherwise sets it on as many sides as
// it needs. A form is set as wide apart as one side allows, since a pen needs
// more room than a printer.
func (t *setter) fit() []page {
	if t.Blank {
		for apart := 2.2; apart > 1.3; apart -= 0.02 {
			if pages := t.set(formLetters, apart, 0); len(pages) == 1 {
				return pages
			}
		}
		return t.set(formLetters, 1.75, 0)
	}
	for size := largestLetters; size >= smallestLetters-1e-9; size -= 0.05 {
		pages := t.set(size, closeSet, leastCharts)
		if len(pages) > 1 {
			continue
		}
		if t.Ebb == nil && t.Pressures == nil {
			return pages
		}
		last := pages[0].placed[len(pages[0].placed)-1]
		spare := bodyBottom - (last.y + last.high) - 2*t.lead // two lines for what stands in the margin
		return t.set(size, closeSet, min(leastCharts+max(spare, 0), mostCharts))
	}
	return t.set(usualLetters, closeSet, 48)
}

func (t *setter) set(size, apart, charts float64) []page {
	t.plain, t.lead, t.charts = style{size: size, tone: chart.Ink}, size*point*apart, charts
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
		{heading: cmp.Or(t.Needles.Heading, "Needles"), strips: t.inline(t.Needles.Fields)},
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

// top is where the body begins: under the whole head on the first side, under
// one line of it on the others.
func (t *setter) top(page int) float64 {
	if page > 1 {
		return marginTop + 11
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
	half := len(t.headFields()) - len(t.Facts)
	for _, fs := range [][]Field{t.headFields()[:half], t.Facts} {
		if len(fs) > 0 {
			out = append(out, lines(t.running(fs), paperWidth-2*marginSide)...)
		}
	}
	return out
}

// headOf draws the head of a side.
func (t *setter) headOf(p *paper, page int) {
	person := t.person()
	if page > 1 {
		x := p.put(marginSide, marginTop+4.4, style{size: 10, bold: true}, t.Name)
		p.put(x+2.5, marginTop+4.4, style{size: 8, tone: chart.Soft}, person)
		p.put(marginSide, marginTop+8.4, style{size: 8}, joined(" · ", t.Date, t.which()))
		return
	}
	emblem(p, marginSide, marginTop+0.6, 9.5, 6.6)
	name := style{size: 15, bold: true}
	date := style{size: 10.5, bold: true, tone: chart.Water}
	for name.width(t.Name) > bodyRight-marginSide-16-date.width(t.Date) && name.size > smallestLetters {
		name.size -= 0.25
	}
	p.put(marginSide+12, marginTop+5.4, name, t.Name)
	p.put(marginSide+12, marginTop+9.6, style{size: 8.5, tone: chart.Soft}, person)
	right := style{size: 8.5, tone: chart.Soft}
	for right.width(t.which()) > bodyRight-marginSide-16-right.width(person) && right.size > smallestLetters {
		right.size -= 0.25
	}
	if t.Blank {
		p.putRight(bodyRight, marginTop+4.6, date, "Session sheet, to fill in")
		p.put(bodyRight-62, marginTop+9.6, right, "date")
		p.blank(bodyRight-54, bodyRight, marginTop+9.6)
	} else {
		p.putRight(bodyRight, marginTop+4.6, date, t.Date)
		p.putRight(bodyRight, marginTop+9.6, right, t.which())
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

// footOf is the line at the foot of every side.
func footOf(p *paper, print Printing, page, of int) {
	s := style{size: 6.6, tone: chart.Soft}
	p.rule(marginSide, footLine-3.2, bodyRight, footLine-3.2, 0.18, chart.Soft)
	p.put(marginSide, footLine, s, print.foot())
	p.putRight(bodyRight, footLine, s.strong(), fmt.Sprintf("page %d of %d", page, of))
	if p.lost {
		p.put(marginSide, footLine+3, s, string(fonts.Lost)+" stands for a character that this paper cannot print; the record and the page hold it.")
	}
}
