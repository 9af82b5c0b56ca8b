package report

import (
	"ebbline/report/chart"
)

// A strip is a piece of a page that is not broken: so high, drawn with its
// top at y.
type strip struct {
	high float64
	draw func(p *paper, y float64)
}

// A block is strips under one heading in the margin. head is drawn again
// where the block goes on over a page.
type block struct {
	heading string
	times   string
	head    []strip
	strips  []strip
}

// The margin carries the headings and the times, as in a log book; what was
// recorded stands right of it.
const (
	bodyLeft  = marginSide + 19.0
	bodyRight = paperWidth - marginSide
	bodyWidth = bodyRight - bodyLeft

	marginWidth = bodyLeft - marginSide - 1.5
)

const blockGap = 1.6 // between two blocks, with the rule in it

func total(strips []strip) float64 {
	sum := 0.0
	for _, s := range strips {
		sum += s.high
	}
	return sum
}

// A page is what was placed on one side.
type page struct{ placed []placed }

type placed struct {
	y float64
	strip
}

// paginate places blocks on sides from top to bottom. A heading is never left
// alone at the foot of a side.
func paginate(blocks []block, small style, top func(page int) float64, bottom float64) []page {
	pages := []page{{}}
	y := top(1)
	put := func(s strip) {
		last := &pages[len(pages)-1]
		last.placed = append(last.placed, placed{y, s})
		y += s.high
	}
	turn := func() {
		pages = append(pages, page{})
		y = top(len(pages))
	}
	for _, b := range blocks {
		if len(b.strips) == 0 {
			continue
		}
		if y+blockGap+total(b.head)+b.strips[0].high > bottom && len(pages[len(pages)-1].placed) > 0 {
			turn()
		}
		from, begun := y, len(pages)
		put(b.title(small, false))
		for _, s := range b.head {
			put(s)
		}
		for i, s := range b.strips {
			if i > 0 && y+s.high > bottom {
				turn()
				from = y
				put(b.title(small, true))
				for _, h := range b.head {
					put(h)
				}
			}
			put(s)
		}
		if len(pages) > begun { // the words in the margin need their room too
			b.times = "continued"
		}
		y = max(y, from+b.margin(small))
	}
	return pages
}

// margin is the height of a block's words in the margin.
func (b block) margin(small style) float64 {
	n := len(lines([]run{{text: b.heading, style: small.strong()}}, marginWidth))
	if b.times != "" {
		n += len(lines([]run{{text: b.times, style: small}}, marginWidth))
	}
	return blockGap + float64(n)*small.size*point*1.25
}

// title is the rule over a block with its heading and times in the margin.
func (b block) title(small style, again bool) strip {
	return strip{blockGap, func(p *paper, y float64) {
		p.rule(marginSide, y+blockGap/2, bodyRight, y+blockGap/2, 0.18, chart.Soft)
		lead := small.size * point * 1.25
		base := y + blockGap + lead*0.76
		for _, l := range lines([]run{{text: b.heading, style: small.strong().in(chart.Water)}}, marginWidth) {
			p.putRuns(marginSide, base, l)
			base += lead
		}
		note := b.times
		if again {
			note = "continued"
		}
		for _, l := range lines([]run{{text: note, style: small.in(chart.Soft)}}, marginWidth) {
			p.putRuns(marginSide, base, l)
			base += lead
		}
	}}
}

// together makes one strip of several, so that they stay on one side.
func together(strips []strip) strip {
	return strip{total(strips), func(p *paper, y float64) {
		for _, s := range strips {
			s.draw(p, y)
			y += s.high
		}
	}}
}

// side sets columns of equally high lines beside one another, line by line,
// so that even a long column can be broken over a page.
func side(lead float64, columns ...[]func(p *paper, base float64)) []strip {
	rows := 0
	for _, c := range columns {
		rows = max(rows, len(c))
	}
	var out []strip
	for i := range rows {
		out = append(out, strip{lead, func(p *paper, y float64) {
			for _, c := range columns {
				if i < len(c) && c[i] != nil {
					c[i](p, y+lead*0.76)
				}
			}
		}})
	}
	return out
}
