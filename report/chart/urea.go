package chart

import (
	"fmt"
	"slices"
	"time"

	"ebbline/report/fonts"
)

// A Urea is the urea of the blood over some days: the curve that the model
// draws through the sessions as they were held, and the samples on it. Sessions
// are upright bands, so that each fall stands in the time that made it; a day
// on which one was ordered and not held is marked.
type Urea struct {
	Zone     *time.Location
	From, To time.Time
	Unit     string    // of all values
	Curve    []Reading // close together; drawn as a line without points
	Measured []Reading
	Sessions []Span
	Missed   []time.Time
}

// Draw makes the drawing.
func (u Urea) Draw(f Frame) *Drawing {
	curve, measured := sorted(u.Curve), sorted(u.Measured)
	s := bounds{from: u.From, to: u.To, axis: u.Unit, empty: true, right: fonts.Bold.Width("measured", f.Text) + f.Text}
	for _, r := range slices.Concat(curve, measured) {
		if r.missing() {
			continue
		}
		if s.empty {
			s.hi, s.empty = r.Value, false
		}
		s.hi = max(s.hi, r.Value)
	}
	if s.empty {
		s.hi = 1
	}
	p := newPlot(f, "Urea in the blood", u.Zone, s)
	for _, held := range u.Sessions {
		if held.To.After(p.from) && held.From.Before(p.to) {
			a, b := p.x(held.From), p.x(held.To)
			p.add(fill{around: rect(a, p.t, max(b, a+f.Text*0.2), p.b), tone: Water, alpha: 0.16})
		}
	}
	for _, at := range u.Missed {
		if at.After(p.from) && at.Before(p.to) {
			x := p.x(at)
			p.add(line(Warm, f.Text*0.12, place{x, p.t + f.Text*0.4}, place{x, p.b}).dashed(f.Text*0.3, f.Text*0.3))
			p.above(x, "not held", Warm)
		}
	}
	p.thin(curve, stroke{tone: Ink, width: f.Text * 0.11})
	// No line joins samples: nothing is known between two of them.
	for _, r := range measured {
		if !r.missing() {
			p.add(dot{at: p.at(r), shape: Diamond, tone: Water, size: f.Text * 0.4, says: fmt.Sprintf("%s: measured %s %s", p.clock(r.At), figure(r.Value, 1), u.Unit)})
		}
	}
	if last, ok := lastOf(curve); ok {
		p.side = append(p.side, sideLabel{p.y.at(last.Value), "model", Ink, false})
	}
	if last, ok := lastOf(measured); ok {
		p.side = append(p.side, sideLabel{p.y.at(last.Value), "measured", Water, true})
	}
	p.names()
	if s.empty {
		p.add(words{at: place{(p.l + p.r) / 2, (p.t + p.b) / 2}, text: "no values yet", size: f.Text, align: middle, tone: Soft, halo: true})
	}
	u.inWords(p, curve, measured)
	return p.Drawing
}

// thin draws a line through readings, broken at gaps, without points.
func (p *plot) thin(rs []Reading, pen stroke) {
	var run []place
	end := func() {
		if len(run) > 1 {
			pen.through = append(pen.through, run)
		}
		run = nil
	}
	for _, r := range rs {
		if r.missing() {
			end()
			continue
		}
		run = append(run, p.at(r))
	}
	end()
	if pen.through != nil {
		p.add(pen)
	}
}

// inWords says the extremes and gives one row for each session and sample.
func (u Urea) inWords(p *plot, curve, measured []Reading) {
	p.Desc = fmt.Sprintf("From %s to %s: %s.", p.clock(p.from), p.clock(p.to), count(len(u.Sessions), "session"))
	var lo, hi Reading
	n := 0
	for _, r := range curve {
		if r.missing() {
			continue
		}
		if n == 0 || r.Value < lo.Value {
			lo = r
		}
		if n == 0 || r.Value > hi.Value {
			hi = r
		}
		n++
	}
	if n > 0 {
		p.Desc += fmt.Sprintf(" By the model the lowest is %s and the highest %s %s.", figure(lo.Value, 1), figure(hi.Value, 1), u.Unit)
	}
	p.Desc += fmt.Sprintf(" Measured: %s.", count(len(measured), "sample"))
	if len(u.Missed) > 0 {
		p.Desc += fmt.Sprintf(" Not held: %s.", count(len(u.Missed), "session"))
	}
	p.Table.Head = []string{"When", "What", u.Unit}
	type row struct {
		at   time.Time
		what string
		v    string
	}
	var rows []row
	near := func(at time.Time) string {
		i := slices.IndexFunc(curve, func(r Reading) bool { return !r.At.Before(at) })
		if i < 0 {
			return ""
		}
		return figure(curve[i].Value, 1)
	}
	for _, s := range u.Sessions {
		rows = append(rows, row{s.From, "before a session, by the model", near(s.From)}, row{s.To, "after it, by the model", near(s.To)})
	}
	for _, r := range measured {
		rows = append(rows, row{r.At, "measured", figure(r.Value, 1)})
	}
	for _, at := range u.Missed {
		rows = append(rows, row{at, "session not held", near(at)})
	}
	slices.SortStableFunc(rows, func(a, b row) int { return a.at.Compare(b.at) })
	zone := u.Zone
	if zone == nil {
		zone = time.UTC
	}
	for _, r := range rows {
		p.Table.Rows = append(p.Table.Rows, []string{r.at.In(zone).Format("Mon 2 Jan 15:04"), r.what, r.v})
	}
}
