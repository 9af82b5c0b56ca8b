package session

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"ebbline/unit"
)

// GainLook is the gain since the last session, in whole percent of the dry weight,
// from which on it is looked at; the figure itself is. Gains over 4 % are ordinary,
// a third to a half of all (Dantas LGG et al. 2019, read); 6 % is ours.
const GainLook = 6

// gap is the time without treatment, what can come of it, and the gain.
//
// The time runs from the end of the last session to the moment of judging: who
// opens the page and then waits is still waiting. One that is typed in later
// waits no longer than its own last entry.
func (l startLine) gap(v *verdict) {
	judgedApart(l, v, startLine.potassium)
	judgedApart(l, v, startLine.slowPulse)
	g := GapOf(l.h, l.rx, l.waited())
	g.find(v)
	l.gain(v)
	g.beside(v)
}

// SinceLast is the time without treatment before a session, as its start line
// counts it at a moment.
func SinceLast(s *Session, h History, now time.Time) Gap {
	l := lineAt(s, h, now)
	return GapOf(h, l.rx, l.waited())
}

// judgedApart is [judged] for a check that is made of several kinds of entry: the
// times of each are kept apart.
func judgedApart[T any](l startLine, v *verdict, judge func(startLine, *verdict, *T, *Event)) {
	var own verdict
	judged(l, &own, judge)
	v.findings = append(v.findings, own.findings...)
}

// waited is the moment up to which the gap is counted.
func (l startLine) waited() time.Time {
	opened, at := l.s.Opened()
	if l.s.Treated() || opened.Source == "live" && opened.Place == "home" && l.s.Phase() != Done {
		return l.at
	}
	for i := range l.s.Log {
		if e := &l.s.Log[i]; !e.At.After(l.at) && e.At.After(at) {
			at = e.At
		}
	}
	return at
}

// complaints are the answers to "how am I?" that can be potassium, in words.
func (b *Fitness) complaints() []string {
	var list []string
	for _, q := range []struct {
		yes  bool
		what string
	}{
		{b.Weakness, "weak"}, {b.HeavyLegs, "heavy legs"}, {b.Tingling, "tingling"}, {b.Faint, "faint or dizzy"},
		{b.Flutters, "heart racing"}, {b.OddPulse, "pulse odd"},
	} {
		if q.yes {
			list = append(list, q.what)
		}
	}
	return list
}

// potassium judges the complaints that too much potassium makes: nobody waits
// for a session with them (common practice).
func (l startLine) potassium(v *verdict, b *Fitness, e *Event) {
	list := b.complaints()
	if len(list) == 0 {
		return
	}
	words := capital(strings.Join(list, ", "))
	if b.Rang != "" {
		v.look(e, "gap_rang", words, sentence(b.Rang)).stays(looked)
		return
	}
	v.ring(e, "gap_signs", words).stays(looked).ambulanceFirst()
}

// slowPulse judges the pulse measured before the session as a sign of potassium:
// under the program's own bound, or the unit's where that is lower. A higher one of
// the unit is a limit of the vitals, and no sign.
func (l startLine) slowPulse(v *verdict, b *VitalsBefore, e *Event) {
	bound, whose := startPulseLow, ownDefault
	if set := l.rx.PulseLow; set != nil && *set < bound {
		bound, whose = boundBy(l.rx, set, bound)
	}
	if b.Pulse != nil && *b.Pulse < bound {
		v.ring(e, "gap_pulse", "Pulse "+b.Pulse.Text()).stays(looked).ambulanceFirst().against(bound.Text() + ", " + whose)
	}
}

// find says what the gap by itself comes to.
func (g Gap) find(v *verdict) {
	if g.First() {
		v.ready("gap_first")
		return
	}
	words := capital(g.Words())
	stop, look := g.StopFrom(), g.Longest+GapBeyond
	switch {
	case g.Since >= stop:
		v.ring(nil, "gap_potassium", words).against(wholeHours(stop) + ", " + ownDefault).asTimePassed(g.Last.Add(stop))
	case g.Missed >= MissedStop:
		v.ring(nil, "gap_potassium", words).against(fmt.Sprintf("%d missed, %s", MissedStop, ownDefault))
	case g.Longest > 0 && g.Since >= look:
		v.look(nil, "gap_long", words).against(wholeHours(look) + ", " + wholeHours(GapBeyond) + " beyond your order; " + ownDefault)
	case g.Missed > 0:
		v.look(nil, "gap_long", words)
	default:
		v.ready("gap_so", words)
	}
	if !g.RemovedAt.IsZero() {
		v.ready("gap_removed", g.RemovedAt.Format("2\u00a0January at 15:04")).always = true
	}
	if g.Short() {
		v.look(nil, "gap_short", hoursText(g.Ran), hoursText(g.Planned))
	}
	g.beside(v)
}

// beside says how long it is also where the gap is well and something else is
// not: they are read together.
func (g Gap) beside(v *verdict) {
	well := func(f finding) bool { return f.code == "gap_so" }
	if v.any() && slices.ContainsFunc(v.findings, well) {
		v.findings = slices.DeleteFunc(v.findings, well)
		v.look(nil, "gap_beside", capital(g.Words()))
	}
}

func wholeHours(d time.Duration) string { return hoursText(unit.Minutes(d / time.Minute)) }

// gain is the weight put on since the last session, where both weights are
// known; without the one after that session it is said why it is not.
func (l startLine) gain(v *verdict) {
	w, e := lastBy[WeighIn](l.s, l.at)
	if w == nil || e.Missing["weight_kg"] != "" {
		return
	}
	if l.h.LastPost == nil {
		if l.h.Treated > 0 {
			v.ready("gain_unknown").always = true
		}
		return
	}
	gain := GainOf(w, l.h.LastPost)
	words := gainText(gain, l.rx.DryWeight)
	if l.rx.DryWeight > 0 && 100*int64(gain) >= GainLook*int64(l.rx.DryWeight) {
		v.look(e, "gain_large", words).against(fmt.Sprintf("%d %% of dry weight, %s", GainLook, ownDefault))
		return
	}
	v.ready("gain_so", words).always = true
}

// GainOf is the weight put on since the last session, without clothes.
func GainOf(before *WeighIn, after *WeighOut) unit.Mass {
	return before.Weight - before.Clothing - (after.Weight - after.Clothing)
}

// gainText writes a gain with its share of the dry weight: "2.1 kg, 3.6 %".
func gainText(gain, dry unit.Mass) string {
	text := gain.Text()
	if dry > 0 {
		text += fmt.Sprintf(", %.1f\u00a0%%", 100*gain.Float()/dry.Float())
	}
	return strings.ReplaceAll(text, "-", "−")
}
