package chart

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"ebbline/report/fonts"
)

// An Ebb is what is drawn of a session's fluid: how much still has to come
// off for the session to end at the dry weight, as planned and as read.
//
// All values are litres still to come off, with the drinks and the washback
// that the plan allows for, so that the planned line ends on the dry-weight
// line when nothing is left over.
type Ebb struct {
	Zone       *time.Location
	Start, End time.Time // planned, or as it turned out
	Excess     float64   // litres to come off at Start
	LeftOver   float64   // litres that the plan leaves for later sessions
	Planned    []Reading // the plan as a bent line, after pauses or changes; nil is straight from Start to End
	Readings   []Reading // as read; a gap is a check that gave no value
	Within     float64   // share of the planned removal that still counts as on plan, 0.10; 0 draws no band
	Pauses     []Span
	Now        time.Time // zero when the session is not running
	DryWeight  string    // as printed, "71.5 kg"
}

// Draw makes the drawing.
func (e Ebb) Draw(f Frame) *Drawing {
	plan, rs := e.plan(), sorted(e.Readings)
	s := bounds{from: e.Start, to: e.End, axis: "litres still to come off", shore: f.Text * 1.7}
	if e.Now.After(s.to) {
		s.to = e.Now
	}
	for _, r := range slices.Concat(plan, rs) {
		if r.At.After(s.to) {
			s.to = r.At
		}
		if !r.missing() {
			s.lo, s.hi = min(s.lo, r.Value), max(s.hi, r.Value)
		}
	}
	if s.hi == s.lo {
		s.hi = s.lo + 1
	}
	last, lastKnown := lastOf(rs)
	s.right = fonts.Bold.Width("0.00 L", f.Text) + f.Text
	p := newPlot(f, "The ebb: fluid still to come off", e.Zone, s)
	p.spans(e.Pauses)
	p.band(plan, e.Within)
	p.water(rs)
	p.add(line(Ink, f.Text*0.1, p.through(plan)...).dashed(f.Text*0.45, f.Text*0.3))
	p.shore(e.DryWeight)
	p.curve(rs, stroke{tone: Water, width: f.Text * 0.17}, Circle, false, func(r Reading) string {
		return fmt.Sprintf("%s: %s L to come off", p.clock(r.At), figure(r.Value, 2))
	})
	if lastKnown {
		p.side = append(p.side, sideLabel{p.y.at(last.Value), figure(last.Value, 2) + " L", Water, true})
	}
	if end, ok := lastOf(plan); ok && end.Value >= 0.005 {
		p.side = append(p.side, sideLabel{p.y.at(end.Value), "left " + figure(end.Value, 1), Ink, false})
	}
	p.planWord(plan, rs)
	p.names()
	p.now(e.Now)
	p.Desc = e.describe(p, plan, rs)
	p.Table = e.table(p, plan, rs)
	return p.Drawing
}

func (e Ebb) plan() []Reading {
	if len(e.Planned) > 0 {
		return sorted(e.Planned)
	}
	if e.Start.IsZero() || !e.End.After(e.Start) {
		return nil
	}
	return []Reading{{At: e.Start, Value: e.Excess}, {At: e.End, Value: e.LeftOver}}
}

// band shades what still counts as on plan: the planned removal so far, more
// or less by the share.
func (p *plot) band(plan []Reading, share float64) {
	if share <= 0 || len(plan) < 2 {
		return
	}
	start, end := plan[0].Value, plan[len(plan)-1].Value
	var upper, lower []place
	for _, r := range plan {
		if r.missing() {
			return
		}
		off := (start - r.Value) * share
		upper = append(upper, place{p.x(r.At), p.y.at(r.Value + off)})
		lower = append(lower, place{p.x(r.At), p.y.at(max(r.Value-off, end))})
	}
	for i := len(lower) - 1; i >= 0; i-- {
		upper = append(upper, lower[i])
	}
	p.add(fill{around: upper, tone: Ink, alpha: 0.1})
}

// water shades what the readings leave above the dry weight.
func (p *plot) water(rs []Reading) {
	var run []place
	end := func() {
		if len(run) > 1 {
			floor := p.y.at(0)
			p.add(fill{around: append(run, place{run[len(run)-1].x, floor}, place{run[0].x, floor}), tone: Water, alpha: 0.13})
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
}

// shore is the dry-weight line with the ground hatched under it and its word.
func (p *plot) shore(dry string) {
	y, size := p.y.at(0), p.Text
	p.add(line(Water, size*0.16, place{p.l, y}, place{p.r, y}), hatch(p.l, y, p.r, y+size*0.4, size*0.55, Water, size*0.07))
	p.add(words{at: place{p.l + size*0.5, y + size*1.4}, text: strings.TrimSpace("dry weight " + dry), size: size, tone: Water, bold: true, halo: true})
}

// planWord writes "plan" beside the planned line, on the side away from the
// readings.
func (p *plot) planWord(plan, rs []Reading) {
	if len(plan) < 2 || p.to.Equal(p.from) {
		return
	}
	at := plan[0].At.Add(plan[len(plan)-1].At.Sub(plan[0].At) * 3 / 4)
	v, ok := valueAt(plan, at)
	if !ok {
		return
	}
	above := true
	if r, ok := valueAt(rs, at); ok && r > v {
		above = false
	}
	m := words{at: place{p.x(at) + p.Text*0.5, p.y.at(v) - p.Text*0.7}, text: "plan", size: p.Text, tone: Ink, halo: true}
	if !above {
		m.at, m.align = place{p.x(at) - p.Text*0.5, p.y.at(v) + p.Text*0.9}, right
		m.at.x = max(m.at.x, p.l+fonts.Regular.Width(m.text, m.size))
	}
	p.add(m)
}

func (e Ebb) describe(p *plot, plan, rs []Reading) string {
	var b strings.Builder
	if len(plan) > 1 {
		a, z := plan[0], plan[len(plan)-1]
		fmt.Fprintf(&b, "The plan falls from %s L at %s to %s L at %s", figure(a.Value, 2), p.clock(a.At), figure(z.Value, 2), p.clock(z.At))
		if e.DryWeight != "" {
			fmt.Fprintf(&b, "; zero is the dry weight, %s", e.DryWeight)
		}
		b.WriteString(". ")
	}
	last, ok := lastOf(rs)
	if !ok {
		b.WriteString("No readings.")
	} else {
		fmt.Fprintf(&b, "%s; at the last, %s, %s L was still to come off", count(len(rs), "check"), p.clock(last.At), figure(last.Value, 2))
		if v, ok := valueAt(plan, last.At); ok {
			switch d := last.Value - v; {
			case d >= 0.005:
				fmt.Fprintf(&b, ", %s L behind the plan", figure(d, 2))
			case d <= -0.005:
				fmt.Fprintf(&b, ", %s L ahead of the plan", figure(-d, 2))
			default:
				b.WriteString(", as planned")
			}
		}
		b.WriteString(".")
	}
	if len(e.Pauses) > 0 {
		fmt.Fprintf(&b, " %s.", count(len(e.Pauses), "pause"))
	}
	return b.String()
}

func (e Ebb) table(p *plot, plan, rs []Reading) Table {
	t := Table{Head: []string{"Time", "Planned, L", "Read, L"}}
	for _, r := range rs {
		planned, read := "", r.Gap
		if v, ok := valueAt(plan, r.At); ok {
			planned = figure(v, 2)
		}
		if !r.missing() {
			read = figure(r.Value, 2)
		} else if read == "" {
			read = "not recorded"
		}
		t.Rows = append(t.Rows, []string{p.clock(r.At), planned, read})
	}
	return t
}

// through is a line through readings that are all there.
func (p *plot) through(rs []Reading) []place {
	var out []place
	for _, r := range rs {
		if !r.missing() {
			out = append(out, p.at(r))
		}
	}
	return out
}

// valueAt reads a line between its points; outside them it has no value, nor
// next to a gap.
func valueAt(rs []Reading, at time.Time) (float64, bool) {
	for i, r := range rs {
		if r.missing() {
			continue
		}
		if r.At.Equal(at) {
			return r.Value, true
		}
		if i+1 == len(rs) {
			break
		}
		if n := rs[i+1]; !n.missing() && at.After(r.At) && at.Before(n.At) {
			return r.Value + (n.Value-r.Value)*at.Sub(r.At).Seconds()/n.At.Sub(r.At).Seconds(), true
		}
	}
	return 0, false
}

func lastOf(rs []Reading) (Reading, bool) {
	for i := len(rs) - 1; i >= 0; i-- {
		if !rs[i].missing() {
			return rs[i], true
		}
	}
	return Reading{}, false
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
