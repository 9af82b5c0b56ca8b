package chart

import (
	"fmt"
	"slices"

	"ebbline/report/fonts"
)

// A TradeOff sets weeks against each other by two costs, both better when
// smaller, so that the lower left corner is where nobody can be: less of the
// one is more of the other. Those that no other beats in both are joined.
type TradeOff struct {
	Title    string
	Across   string // name of the axis to the right, with its unit
	Up       string
	Points   []Choice
	Decimals [2]int // of the two values in words and table
	Limit    float64
	LimitSay string // at Limit on the axis up; 0 draws none
}

// A Choice is one week of a [TradeOff].
type Choice struct {
	X, Y  float64
	Name  string // short, beside the point when it is Named
	Says  string // in full, for who points at it and for the table
	Shape Shape
	Thin  bool // drawn hollow: it lacks something that was asked for
	Named bool
	Mine  bool // today's
}

// Front gives the places of the points that no other beats in both values, in
// order of X. Thin points are left out.
func (t TradeOff) Front() []int {
	var front []int
	for i, p := range t.Points {
		beaten := p.Thin || !known(p.X) || !known(p.Y)
		for j, q := range t.Points {
			if q.Thin || i == j || !known(q.X) || !known(q.Y) {
				continue
			}
			better := q.X < p.X || q.Y < p.Y
			same := q.X == p.X && q.Y == p.Y
			if q.X <= p.X && q.Y <= p.Y && (better || same && j < i) {
				beaten = true
			}
		}
		if !beaten {
			front = append(front, i)
		}
	}
	slices.SortFunc(front, func(a, b int) int {
		switch x, y := t.Points[a].X, t.Points[b].X; {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	return front
}

// Draw makes the drawing.
func (t TradeOff) Draw(f Frame) *Drawing {
	d := &Drawing{Frame: f, Title: t.Title}
	lo, hi := [2]float64{}, [2]float64{}
	n := 0
	for _, p := range t.Points {
		if !known(p.X) || !known(p.Y) {
			continue
		}
		for k, v := range [2]float64{p.X, p.Y} {
			if n == 0 {
				lo[k], hi[k] = v, v
			}
			lo[k], hi[k] = min(lo[k], v), max(hi[k], v)
		}
		n++
	}
	if t.Limit > 0 {
		lo[1], hi[1] = min(lo[1], t.Limit), max(hi[1], t.Limit)
	}
	size := f.Text
	top, bottom := size*1.7, f.Height-size*2.9
	up, upMarks, upDecimals := round(lo[1], hi[1], int((bottom-top)/(size*1.9)))
	left := 0.0
	for _, v := range upMarks {
		left = max(left, fonts.Regular.Width(figure(v, upDecimals), size))
	}
	left += size * 0.6
	edge := f.Width - size*1.2
	across, marks, decimals := round(lo[0], hi[0], int((edge-left)/(size*5)))
	x := scale{across.lo, across.hi, left, edge}
	y := scale{up.lo, up.hi, bottom, top}

	d.add(words{at: place{0, size}, text: t.Up, size: size, tone: Soft})
	for _, v := range upMarks {
		d.add(line(Faint, size*0.06, place{left, y.at(v)}, place{edge, y.at(v)}),
			words{at: place{left - size*0.4, y.at(v) + size*0.35}, text: figure(v, upDecimals), size: size, align: right, tone: Soft})
	}
	d.add(line(Soft, size*0.08, place{left, bottom}, place{edge, bottom}))
	for _, v := range marks {
		d.add(line(Soft, size*0.08, place{x.at(v), bottom}, place{x.at(v), bottom + size*0.3}),
			words{at: place{x.at(v), bottom + size*1.35}, text: figure(v, decimals), size: size, align: middle, tone: Ink})
	}
	d.add(words{at: place{edge, bottom + size*2.6}, text: t.Across, size: size, align: right, tone: Soft})
	if t.Limit > 0 {
		at := y.at(t.Limit)
		d.add(line(Warm, size*0.1, place{left, at}, place{edge, at}).dashed(size*0.4, size*0.3),
			words{at: place{edge, at - size*0.35}, text: t.LimitSay, size: size * 0.9, align: right, tone: Warm, halo: true})
	}
	t.front(d, x, y)
	t.points(d, x, y)
	if n == 0 {
		d.add(words{at: place{(left + edge) / 2, (top + bottom) / 2}, text: "no week to show", size: size, align: middle, tone: Soft, halo: true})
	}
	t.inWords(d, n)
	return d
}

// front joins the points that no other beats, in steps: between two of them
// only the worse of each value is to be had.
func (t TradeOff) front(d *Drawing, x, y scale) {
	front := t.Front()
	if len(front) < 2 {
		return
	}
	var through []place
	for k, i := range front {
		p := t.Points[i]
		if k > 0 {
			through = append(through, place{x.at(p.X), y.at(t.Points[front[k-1]].Y)})
		}
		through = append(through, place{x.at(p.X), y.at(p.Y)})
	}
	d.add(line(Water, d.Text*0.12, through...))
}

func (t TradeOff) points(d *Drawing, x, y scale) {
	size := d.Text
	order := make([]int, 0, len(t.Points))
	for i, p := range t.Points {
		if known(p.X) && known(p.Y) {
			order = append(order, i)
		}
	}
	// What is to be read lies on top.
	slices.SortStableFunc(order, func(a, b int) int { return rank(t.Points[a]) - rank(t.Points[b]) })
	type box struct{ x0, y0, x1, y1 float64 }
	var taken []box
	for _, i := range order {
		p := t.Points[i]
		at := place{x.at(p.X), y.at(p.Y)}
		tone, r := Soft, size*0.26
		if p.Named {
			tone, r = Water, size*0.38
		}
		if p.Mine {
			tone, r = Ink, size*0.5
		}
		d.add(dot{at: at, shape: p.Shape, tone: tone, size: r, hollow: p.Thin, says: p.Says})
		if !p.Named && !p.Mine || p.Name == "" {
			continue
		}
		wide := fonts.Regular.Width(p.Name, size*0.9)
		// Below and to the left lies what nobody can have, so there is room.
		offs := []place{{-size*0.5 - wide, size * 1.2}, {size * 0.5, size * 1.2}, {size * 0.5, -size * 0.6}, {-size*0.5 - wide, -size * 0.6}}
		if p.Mine {
			offs = []place{offs[2], offs[1], offs[0], offs[3]}
		}
		for _, off := range offs {
			b := box{at.x + off.x, at.y + off.y - size*0.9, at.x + off.x + wide, at.y + off.y + size*0.2}
			free := b.x0 >= 0 && b.x1 <= d.Width && b.y0 >= 0 && b.y1 <= d.Height &&
				!slices.ContainsFunc(taken, func(o box) bool { return b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1 })
			if free {
				taken = append(taken, b)
				d.add(words{at: place{b.x0, at.y + off.y}, text: p.Name, size: size * 0.9, tone: tone, bold: p.Mine, halo: true})
				break
			}
		}
	}
}

func rank(c Choice) int {
	switch {
	case c.Mine:
		return 2
	case c.Named:
		return 1
	}
	return 0
}

func (t TradeOff) inWords(d *Drawing, n int) {
	front := t.Front()
	d.Desc = fmt.Sprintf("%s by %s to the right and %s upwards; less is better in both. %s by no other in both, and joined by a line.",
		count(n, "week"), t.Across, t.Up, count(len(front), "week")+" beaten")
	for _, p := range t.Points {
		if p.Mine {
			d.Desc += fmt.Sprintf(" Today’s: %s and %s.", figure(p.X, t.Decimals[0]), figure(p.Y, t.Decimals[1]))
		}
	}
	d.Table.Head = []string{"Week", t.Across, t.Up}
	for _, i := range front {
		p := t.Points[i]
		d.Table.Rows = append(d.Table.Rows, []string{p.Says, figure(p.X, t.Decimals[0]), figure(p.Y, t.Decimals[1])})
	}
}
