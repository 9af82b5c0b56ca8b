package chart

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"ebbline/report/fonts"
)

// Lines is one or more series of values over time, with the band that the
// unit set: weights over months, one blood result, the pressures of a
// session. Gaps between instants are drawn as long as they are.
type Lines struct {
	Title    string
	Unit     string // as the trade writes it; also the name of the axis
	Zone     *time.Location
	From, To time.Time // zero: from the values
	Series   []Series
	Ranges   []Range
	Band     *Band
	Spans    []Span
	Now      time.Time
	Decimals int  // of the values in titles and table
	Zero     bool // the axis starts at zero at the latest
}

// A Series is one line with points of its own shape.
type Series struct {
	Name     string
	Shape    Shape
	Hollow   bool
	Tone     Tone
	Readings []Reading
}

// A Range is a row of values between a lower and an upper one, drawn as
// upright bars: blood pressure.
type Range struct {
	Name    string
	Tone    Tone
	Between []Between
}

// Between is one upright bar. Gap is as in [Reading].
type Between struct {
	At        time.Time
	Low, High float64
	Gap       string
}

func (b Between) missing() bool { return b.Gap != "" || !known(b.Low) || !known(b.High) }

// A Band is where the unit wants the values to be.
type Band struct {
	Low, High float64
	Word      string // "target 71.0 to 72.0"
}

// Pressures are the pressures of one session in mmHg, as [Lines] with the
// shapes this trade's readers are used to: triangles for the two line
// pressures, bars for the blood pressure.
func Pressures(zone *time.Location, from, to time.Time, arterial, venous []Reading, bp []Between, pauses []Span) Lines {
	return Lines{
		Title: "Pressures", Unit: "mmHg", Zone: zone, From: from, To: to, Spans: pauses, Zero: true,
		Series: []Series{
			{Name: "venous", Shape: Up, Tone: Water, Readings: venous},
			{Name: "arterial", Shape: Down, Tone: Water, Hollow: true, Readings: arterial},
		},
		Ranges: []Range{{Name: "BP", Tone: Ink, Between: bp}},
	}
}

// Draw makes the drawing.
func (c Lines) Draw(f Frame) *Drawing {
	c.sort()
	s := c.bounds()
	for _, r := range c.Series {
		s.right = max(s.right, fonts.Regular.Width(r.Name, f.Text)+f.Text)
	}
	for _, r := range c.Ranges {
		s.right = max(s.right, fonts.Regular.Width(r.Name, f.Text)+f.Text)
	}
	if len(c.Series)+len(c.Ranges) == 1 {
		s.right = 0 // a single line needs no name: the title has it
	}
	p := newPlot(f, c.Title, c.Zone, s)
	p.spans(c.Spans)
	if c.Band != nil {
		top, bottom := max(p.y.at(c.Band.High), p.t), min(p.y.at(c.Band.Low), p.b)
		p.add(fill{around: rect(p.l, top, p.r, bottom), tone: Water, alpha: 0.12},
			line(Water, f.Text*0.07, place{p.l, top}, place{p.r, top}).dashed(f.Text*0.2, f.Text*0.2),
			line(Water, f.Text*0.07, place{p.l, bottom}, place{p.r, bottom}).dashed(f.Text*0.2, f.Text*0.2))
	}
	if s.lo < 0 && s.hi > 0 {
		p.add(line(Soft, f.Text*0.08, place{p.l, p.y.at(0)}, place{p.r, p.y.at(0)}))
	}
	for _, r := range c.Ranges {
		p.bars(r, c.Decimals)
	}
	for _, r := range c.Series {
		p.curve(r.Readings, stroke{tone: r.Tone, width: f.Text * 0.12}, r.Shape, r.Hollow, func(v Reading) string {
			return strings.TrimSpace(fmt.Sprintf("%s: %s %s %s", p.clock(v.At), r.Name, figure(v.Value, c.Decimals), c.Unit))
		})
		if last, ok := lastOf(r.Readings); ok && s.right > 0 {
			p.side = append(p.side, sideLabel{p.y.at(last.Value), r.Name, r.Tone, false})
		}
	}
	p.names()
	if c.Band != nil && c.Band.Word != "" {
		p.add(words{at: place{p.l + f.Text*0.5, max(p.y.at(c.Band.High), p.t) + f.Text*1.1}, text: c.Band.Word, size: f.Text, tone: Water, bold: true, halo: true})
	}
	p.now(c.Now)
	if s.from.IsZero() || s.empty {
		p.add(words{at: place{(p.l + p.r) / 2, (p.t + p.b) / 2}, text: "no values yet", size: f.Text, align: middle, tone: Soft, halo: true})
	}
	p.inWords(c.columns(), c.Unit, c.Band)
	return p.Drawing
}

func (c *Lines) sort() {
	c.Series, c.Ranges = slices.Clone(c.Series), slices.Clone(c.Ranges)
	for i := range c.Series {
		c.Series[i].Readings = sorted(c.Series[i].Readings)
	}
	for i := range c.Ranges {
		c.Ranges[i].Between = slices.Clone(c.Ranges[i].Between)
		slices.SortStableFunc(c.Ranges[i].Between, func(a, b Between) int { return a.At.Compare(b.At) })
	}
}

func (c *Lines) bounds() bounds {
	s := bounds{from: c.From, to: c.To, axis: c.Unit, empty: true}
	see := func(at time.Time, vs ...float64) {
		if s.from.IsZero() || at.Before(s.from) {
			s.from = at
		}
		if at.After(s.to) {
			s.to = at
		}
		for _, v := range vs {
			if s.empty {
				s.lo, s.hi, s.empty = v, v, false
			}
			s.lo, s.hi = min(s.lo, v), max(s.hi, v)
		}
	}
	for _, r := range c.Series {
		for _, v := range r.Readings {
			if v.missing() {
				see(v.At)
			} else {
				see(v.At, v.Value)
			}
		}
	}
	for _, r := range c.Ranges {
		for _, v := range r.Between {
			if v.missing() {
				see(v.At)
			} else {
				see(v.At, v.Low, v.High)
			}
		}
	}
	if c.Band != nil {
		if s.empty {
			s.lo, s.hi = c.Band.Low, c.Band.High
		}
		s.lo, s.hi = min(s.lo, c.Band.Low), max(s.hi, c.Band.High)
	}
	if c.Zero {
		s.lo, s.hi = min(s.lo, 0), max(s.hi, 0)
	} else { // a point on the very edge would be cut in half
		air := (s.hi - s.lo) * 0.04
		s.lo, s.hi = s.lo-air, s.hi+air
	}
	return s
}

// bars draws a range: an upright line with a cap at each end.
func (p *plot) bars(r Range, decimals int) {
	cap := p.Text * 0.3
	var last *Between
	for i, v := range r.Between {
		if v.missing() {
			continue
		}
		x, lo, hi := p.x(v.At), p.y.at(v.Low), p.y.at(v.High)
		w := p.Text * 0.12
		p.add(line(r.Tone, w, place{x, lo}, place{x, hi}),
			line(r.Tone, w, place{x - cap, lo}, place{x + cap, lo}),
			line(r.Tone, w, place{x - cap, hi}, place{x + cap, hi}),
			dot{at: place{x, hi}, shape: Square, tone: r.Tone, size: p.Text * 0.14,
				says: fmt.Sprintf("%s: %s %s/%s", p.clock(v.At), r.Name, figure(v.High, decimals), figure(v.Low, decimals))})
		last = &r.Between[i]
	}
	if last != nil {
		p.side = append(p.side, sideLabel{p.y.at((last.Low + last.High) / 2), r.Name, r.Tone, false})
	}
}
