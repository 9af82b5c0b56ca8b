package web

import (
	"fmt"
	"strings"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// wroteBefore is how long before a trouble was said, or was not said at all, what was
// done belongs to it: who lies back first says afterwards why. Ours.
const wroteBefore = 30 * time.Minute

// A wrote is one thing that was done, as a tile lists it.
type wrote struct {
	at     time.Time
	words  string
	saline unit.Volume
}

// wroteSince lists in one line what was done since a trouble began, the newest first,
// with the saline of that time in all; empty where nothing was.
func (v visit) wroteSince(one *session.Session, t tile) string {
	from := v.now.Add(-wroteBefore)
	if t.Open != nil && t.Open.Since.Add(-wroteBefore).Before(from) {
		from = t.Open.Since.Add(-wroteBefore)
	}
	var parts []string
	var saline unit.Volume
	newest := -1
	list := v.wrote(one)
	for i := len(list) - 1; i >= 0; i-- {
		w := list[i]
		if w.at.Before(from) {
			continue
		}
		if w.saline > 0 && newest < 0 {
			newest = len(parts)
		}
		saline += w.saline
		parts = append(parts, w.words+" "+clockFace(w.at))
	}
	if newest >= 0 {
		parts[newest] += fmt.Sprintf(" (%d in all)", saline)
	}
	return strings.Join(parts, " · ")
}

// wrote gives what was done in a session, in order of time.
func (v visit) wrote(one *session.Session) []wrote {
	return kept(v, "wrote", one, func() (list []wrote) {
		for i := range one.Log {
			e := &one.Log[i]
			if e.Struck != nil || e.At.After(v.now) {
				continue
			}
			if words, saline := doneWords(one.Rx, e.Body); words != "" {
				list = append(list, wrote{e.At, words, saline})
			}
		}
		return list
	})
}

// doneWords names what an entry says was done or felt; empty of all other entries.
func doneWords(rx *session.Prescription, body any) (words string, saline unit.Volume) {
	switch b := body.(type) {
	case *session.Saline:
		if b.Flush {
			return "flush " + b.Volume.Text(), 0
		}
		return "saline " + b.Volume.Text(), b.Volume
	case *session.LieBack:
		return "lay back", 0
	case *session.RemovalOff:
		return "removal off", 0
	case *session.RemovalOn:
		return "removal on", 0
	case *session.Pause:
		return "pump off", 0
	case *session.Resume:
		return "going on", 0
	case *session.NeedleAdjusted:
		return b.Which + " needle adjusted", 0
	case *session.LowPressure:
		if b.Systolic != nil {
			return "low pressure " + b.Systolic.String(), 0
		}
		return "low, no figure", 0
	case *session.Unwell:
		return "felt " + shortened(b.Words, stepLetters), 0
	case *session.Glucose:
		return "blood sugar " + b.Text(), 0
	case *session.FlushLeftOut:
		return "flush left out", 0
	case *session.HeparinOff:
		return "heparin off", 0
	case *session.Medicine:
		return shortened(b.Name, stepLetters), 0
	case *session.Rang:
		who, _, _ := strings.Cut(b.Whom, ",")
		return "rang " + shortened(who, stepLetters), 0
	case *session.Trouble:
		if b.State == session.TroubleOver {
			return "over: " + rx.InWords(shortNames[b.Trouble]), 0
		}
		return "happening: " + rx.InWords(shortNames[b.Trouble]), 0
	}
	return "", 0
}
