package session

import (
	"slices"
	"strings"
)

// What a person can say of a bag: a word, so that "not looked at" is another thing
// than "no".
const (
	Yes = "yes"
	No  = "no"
)

// bagSeen is what a bag and its label show beside potassium, calcium and expiry, on a
// machine with ready bags: the lot, the seal whole, the fluid clear. A bag that leaks or
// is cloudy is not used (common practice); a better answer later keeps both in sight.
func bagSeen(v *verdict, b *BathLabel, e *Event) {
	if b.Seal == No {
		v.stop(e, "bag_seal").stays(looked)
	}
	if b.Clear == No {
		v.stop(e, "bag_cloudy").stays(looked)
	}
	if b.Lot == "" {
		v.open(e, "bag_no_lot")
	}
	if b.Seal == "" || b.Clear == "" {
		v.open(e, "bag_not_seen")
	}
}

// otherBags finds what is still open of the bags before the one that was written last:
// of each lot the last entry counts, and what it stopped is kept by [judged]. An entry
// without a lot is made whole by the next one.
func (l startLine) otherBags(v *verdict) {
	var labels []*Event
	Each(l.s, func(b *BathLabel, e *Event) {
		if e.At.After(l.at) {
			return
		}
		labels = slices.DeleteFunc(labels, func(one *Event) bool {
			before := one.Body.(*BathLabel)
			return before.Lot == "" || sameLot(before.Lot, b.Lot)
		})
		labels = append(labels, e)
	})
	if len(labels) == 0 {
		return
	}
	for _, e := range labels[:len(labels)-1] {
		var was verdict
		l.bathLabel(&was, e.Body.(*BathLabel), e)
		for _, f := range was.findings {
			if f.state == OpenYet {
				f.when = clock(e.At)
				v.add(f)
			}
		}
	}
}

func sameLot(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), ""), strings.Join(strings.Fields(b), ""))
}

// notOfFluid reports whether a kind of entry is not looked for in a session because of
// where its fluid comes from: bags are not tested, and a batch may have been tested and
// its label read when it was made, or in the session before.
func notOfFluid(s *Session, kind string) bool {
	switch s.Machine.Fluid() {
	case FluidBags:
		return kind == "chlorine" || kind == "fluid_check"
	case FluidBatch:
		return has[BatchUsed](s) && (kind == "chlorine" || kind == "fluid_check" || kind == "bath_label")
	}
	return false
}

// bag remarks on a bag that is hung while the treatment runs. The start line asks the
// same of the first one.
func (w *watch) bag(b *BathLabel, e *Event) {
	if !w.connected || w.s.Machine.Fluid() != FluidBags {
		return
	}
	l := startLine{s: w.s, rx: w.s.Rx, at: e.At}
	if l.rx == nil {
		return
	}
	var v verdict
	l.bathLabel(&v, b, e)
	for _, code := range []CheckState{StopHere, OpenYet} {
		i := slices.IndexFunc(v.findings, func(f finding) bool { return f.state == code })
		if i < 0 {
			continue
		}
		f := facts{value: v.findings[i].words()}
		if code == StopHere {
			w.say(LevelLook, "bag_wrong", e, f)
		} else {
			w.say(LevelNote, "bag_open", e, f)
		}
		return
	}
}
