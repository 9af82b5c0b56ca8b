package chart

import (
	"slices"
	"time"

	"ebbline/report/fonts"
)

// A Reading is one value at one instant. When Gap is not empty there is no
// value: Gap says in words why ("asleep by plan"), the line is broken there,
// and the table shows the words. A value that is not a finite number is a gap
// too.
type Reading struct {
	At    time.Time
	Value float64
	Gap   string
}

func (r Reading) missing() bool { return r.Gap != "" || !known(r.Value) }

// A Span is a stretch of time that is marked by hatching and a word.
type Span struct {
	From, To time.Time
	Word     string // "pause"
}

// plot is the field of a chart with its axes drawn; the curves come after.
type plot struct {
	*Drawing
	zone       *time.Location
	from, to   time.Time
	y          scale
	l, t, r, b float64 // edges of the field
	decimals   int
	offsets    bool // the clocks change in the field, and it is short enough to matter
	side       []sideLabel
	headEnd    float64 // how far the words above the field reach
}

// bounds are what the axes must hold.
type bounds struct {
	from, to time.Time
	lo, hi   float64
	axis     string  // what the values are, in words, with the unit
	right    float64 // room right of the field for names of lines
	shore    float64 // room kept free under the lowest value
	empty    bool    // there are no values
}

func newPlot(f Frame, title string, zone *time.Location, s bounds) *plot {
	if zone == nil {
		zone = time.UTC
	}
	p := &plot{Drawing: &Drawing{Frame: f, Title: title}, zone: zone, from: s.from, to: s.to}
	if !s.from.IsZero() {
		p.offsets = s.to.Sub(s.from) <= 48*time.Hour && changes(s.from, s.to, zone)
	}
	p.t, p.b = f.Text*1.7, f.Height-f.Text*1.6
	if p.underlined() {
		p.b -= f.Text * 1.15
	}
	wide, marks, decimals := round(s.lo, s.hi, int((p.b-p.t-s.shore)/(f.Text*1.9)))
	p.decimals = decimals
	for _, v := range marks {
		p.l = max(p.l, fonts.Regular.Width(figure(v, decimals), f.Text))
	}
	p.l += f.Text * 0.6
	p.r = f.Width - max(s.right, f.Text*0.8)
	p.y = scale{wide.lo, wide.hi, p.b - s.shore, p.t}

	p.add(words{at: place{0, f.Text}, text: s.axis, size: f.Text, tone: Soft})
	p.headEnd = fonts.Regular.Width(s.axis, f.Text)
	for _, v := range marks {
		y := p.y.at(v)
		p.add(line(Faint, f.Text*0.06, place{p.l, y}, place{p.r, y}),
			words{at: place{p.l - f.Text*0.4, y + f.Text*0.35}, text: figure(v, decimals), size: f.Text, align: right, tone: Soft})
	}
	p.timeAxis()
	return p
}

// underlined reports whether the time axis needs its second line. It is kept
// when the clocks change and for every span that may bring in a date.
func (p *plot) underlined() bool {
	return p.offsets || p.to.Sub(p.from) > 36*time.Hour || p.crossesMidnight()
}

func (p *plot) crossesMidnight() bool {
	return !p.from.IsZero() && p.from.In(p.zone).YearDay() != p.to.In(p.zone).YearDay()
}

func (p *plot) timeAxis() {
	size := p.Text
	p.add(line(Soft, size*0.08, place{p.l, p.b}, place{p.r, p.b}))
	room := fonts.Regular.Width("+00:00", size) * 1.25
	until := 0.0
	for _, k := range ticks(p.from, p.to, int((p.r-p.l)/room), p.zone) {
		x := p.x(k.at)
		p.add(line(Soft, size*0.08, place{x, p.b}, place{x, p.b + size*0.3}))
		half := max(fonts.Regular.Width(k.label, size), fonts.Regular.Width(k.under, size)) / 2
		if x-half < until || x+half > p.Width {
			continue // two pieces of a night meet closer than their labels
		}
		until = x + half + size*0.3
		p.add(words{at: place{x, p.b + size*1.35}, text: k.label, size: size, align: middle, tone: Ink})
		if k.under != "" {
			p.add(words{at: place{x, p.b + size*2.5}, text: k.under, size: size * 0.9, align: middle, tone: Soft})
		}
	}
	if p.offsets {
		_, change := p.from.In(p.zone).ZoneBounds()
		_, before := change.Add(-time.Second).In(p.zone).Zone()
		was := change.In(time.FixedZone("", before))
		x, text := p.x(change), "clocks "+was.Format("15:04")+" → "+change.In(p.zone).Format("15:04")
		p.add(line(Soft, size*0.08, place{x, p.t}, place{x, p.b}).dashed(size*0.15, size*0.25))
		p.above(x, text, Soft)
	}
}

// above writes words over the field, centred on x or as far left as the words
// before them allow.
func (p *plot) above(x float64, text string, tone Tone) {
	size := p.Text * 0.9
	wide := fonts.Regular.Width(text, size)
	from := max(x-wide/2, p.headEnd+p.Text*0.4)
	if text == "" || from+wide > p.Width {
		return
	}
	p.add(words{at: place{from, p.t - p.Text*0.4}, text: text, size: size, tone: tone, halo: true})
	p.headEnd = from + wide
}

// x is where an instant lies, held inside the field.
func (p *plot) x(at time.Time) float64 {
	s := scale{0, p.to.Sub(p.from).Seconds(), p.l, p.r}
	return min(max(s.at(at.Sub(p.from).Seconds()), p.l), p.r)
}

func (p *plot) at(r Reading) place { return place{p.x(r.At), p.y.at(r.Value)} }

// clock names an instant on this axis as the tables and titles print it.
func (p *plot) clock(at time.Time) string { return clock(at, p.zone, p.from, p.to) }

// clock names an instant as short as the stretch it lies in allows: the time,
// with its offset when the clocks change in between; the date when the
// stretch is longer than two days.
func clock(at time.Time, zone *time.Location, from, to time.Time) string {
	if zone == nil {
		zone = time.UTC
	}
	switch {
	case to.Sub(from) > 48*time.Hour:
		return at.In(zone).Format("2 Jan 2006")
	case !from.IsZero() && changes(from, to, zone):
		return at.In(zone).Format("15:04 -07:00")
	}
	return at.In(zone).Format("15:04")
}

func (p *plot) spans(all []Span) {
	for _, s := range all {
		if !s.To.After(s.From) || s.To.Before(p.from) || s.From.After(p.to) {
			continue
		}
		a, b := p.x(s.From), p.x(s.To)
		b = max(b, a+p.Text*0.25) // a short stop is still seen
		p.add(fill{around: rect(a, p.t, b, p.b), tone: Faint, alpha: 0.35})
		p.add(hatch(a, p.t, b, p.b, p.Text*0.45, Soft, p.Text*0.04))
		p.above((a+b)/2, s.Word, Ink)
	}
}

// now marks the present, if it lies in the field.
func (p *plot) now(at time.Time) {
	if at.IsZero() || at.Before(p.from) || at.After(p.to) {
		return
	}
	x, text := p.x(at), "now "+p.clock(at)
	half := fonts.Bold.Width(text, p.Text) / 2
	label := words{at: place{min(max(x, p.l+half), p.Width-half), p.t - p.Text*0.45}, text: text, size: p.Text, align: middle, tone: Ink, bold: true, halo: true}
	if label.at.x-half < p.headEnd+p.Text*0.4 {
		// The name of the axis stands there: beside the line is room enough.
		label.at, label.align = place{x + p.Text*0.4, p.t + p.Text*0.9}, left
	}
	p.add(line(Ink, p.Text*0.1, place{x, p.t}, place{x, p.b}),
		dot{at: place{x, p.t}, shape: Down, tone: Ink, size: p.Text * 0.3, says: text},
		label)
}

// curve draws a series: a line from each reading to the next, broken at gaps,
// and a point on each.
func (p *plot) curve(rs []Reading, pen stroke, shape Shape, hollow bool, says func(Reading) string) {
	var run []place
	end := func() {
		if len(run) > 1 {
			pen.through = append(pen.through, run)
		}
		run = nil
	}
	var dots []mark
	for _, r := range rs {
		if r.missing() {
			end()
			continue
		}
		run = append(run, p.at(r))
		dots = append(dots, dot{at: p.at(r), shape: shape, tone: pen.tone, size: p.Text * 0.32, hollow: hollow, says: says(r)})
	}
	end()
	if pen.through != nil {
		p.add(pen)
	}
	p.add(dots...)
}

// A sideLabel is the name of a line at its right end.
type sideLabel struct {
	y    float64
	text string
	tone Tone
	bold bool
}

// name puts the names of lines beside the field, moved apart where they would
// touch.
func (p *plot) names() {
	gap := p.Text * 1.15
	slices.SortStableFunc(p.side, func(a, b sideLabel) int {
		switch {
		case a.y < b.y:
			return -1
		case a.y > b.y:
			return 1
		}
		return 0
	})
	for i := range p.side { // push down …
		if i > 0 {
			p.side[i].y = max(p.side[i].y, p.side[i-1].y+gap)
		}
	}
	floor := p.b + p.Text*0.3
	for i := len(p.side) - 1; i >= 0; i-- { // … and back up from the floor
		p.side[i].y = min(p.side[i].y, floor)
		floor = p.side[i].y - gap
	}
	for _, s := range p.side {
		p.add(words{at: place{p.r + p.Text*0.6, s.y + p.Text*0.35}, text: s.text, size: p.Text, tone: s.tone, bold: s.bold})
	}
}

// sorted is a copy in order of time.
func sorted(rs []Reading) []Reading {
	out := slices.Clone(rs)
	slices.SortStableFunc(out, func(a, b Reading) int { return a.At.Compare(b.At) })
	return out
}
