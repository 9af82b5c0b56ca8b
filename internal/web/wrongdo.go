package web

import (
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"time"

	"ebbline/session"
)

// yesHappens are the words of the button that opens a trouble. To open its page writes
// nothing down: this does.
const yesHappens = "Yes, this is happening"

// wrongDo is what one tap each writes down under a trouble.
type wrongDo struct {
	Code       string // of the trouble
	Base, Next string
	Wrote      string     // what was written since it began, the newest first
	Quick      []wrongTap // what is done at once, before anything is asked
	Taps       []wrongTap
	Ends       []wrongTap // that it is over, away from what opens it
	Links      []wrongLink
	Rang       []wrongCall
	Measured   string // to the form of the reading, at its pressure, while that is low
	Mistake    string // to the entry that opened a trouble that only the unit's word ends
	Over       string // id of the form with the unit's word, where the trouble needs it to be over
}

// A wrongTap is one button: the kind of entry it writes, and a value. Its entry has an
// id of its own, so that two of them pressed on one page are two entries.
//
// A button that wrote what is so now stays in its place, marked with when, and takes no
// press: no other comes under the finger that pressed it.
type wrongTap struct {
	Do                           *wrongDo
	ID, Kind, Name, Value, Words string
	Said                         string // when it was written last in this session; empty where it was not
	Saved                        string // what the page says was saved, where the words do not
	Done                         bool   // it takes no press
	Free                         bool   // it is there only while no blood stays out
	Why                          string // it was done, where the entry has a place for that
}

// A wrongLink leads to a whole form.
type wrongLink struct{ Link, Words string }

// doing gives the taps of a trouble: what was done while the treatment runs, that
// it is there or over, and whom I rang. An amount of saline stands on a button only
// where the unit gave one. What stands behind another button comes after it, so that
// nothing moves that was there.
func (t tile) doing(v visit, one *session.Session, base string) *wrongDo {
	d := wrongDo{Code: t.Code, Base: base, Next: v.tilesOn(base) + "#" + tapsOf(t.Code), Wrote: v.wroteSince(one, t)}
	yes := wrongTap{Kind: "trouble", Name: "state", Value: session.TroubleOpen, Words: yesHappens, Saved: t.Title + ": happening"}
	if yes.Done = t.Open != nil; yes.Done {
		yes.Said = "written " + clockFace(t.Open.Since)
	}
	d.add(yes)
	felt := t.Open == nil && onlyFelt(v, one, t.Code)
	if one.Phase() == session.Running {
		d.running(t, v, one)
	}
	over := wrongTap{Kind: "trouble", Name: "state", Value: session.TroubleOver, Words: "It is over", Saved: t.Title + ": over"}
	over.Done = t.Open == nil && !felt
	switch {
	case !t.StaysOut():
		over.Do, over.ID = &d, newID()
		d.Ends = append(d.Ends, over)
	case !over.Done:
		d.Over = newID()
	}
	if one.Phase() == session.Running && slices.Contains(offTapped, t.Code) {
		// Last, where no button stood before: a second press of removal off is not this.
		w := wrongTap{Do: &d, Kind: "removal_on", Words: "Removal on again", Done: v.removalOff(one).IsZero()}
		if !w.Done || !w.last(v, one).IsZero() {
			d.add(w)
		}
	}
	d.link("/note", "What happened, in words")
	switch {
	case t.Open == nil:
	case t.StaysOut():
		d.Mistake = base + "/entry/" + t.Open.Entry + "#strike"
	default:
		d.Links = append(d.Links, wrongLink{base + "/entry/" + t.Open.Entry + "#strike", "Typed by mistake"})
	}
	for _, p := range t.Steps.Phones {
		call := callOf(wrongTap{Do: &d, ID: newID(), Kind: "rang", Name: "whom", Value: p.Who + ", " + p.Number, Words: p.Who}, one)
		call.wasWritten(v, one)
		d.Rang = append(d.Rang, call)
	}
	for _, list := range [][]wrongTap{d.Quick, d.Taps, d.Ends} {
		for i := range list {
			list[i].wasWritten(v, one)
		}
	}
	return &d
}

// tilesOn is the address that a tap in a tile comes back to: the page that it stands on,
// so that nothing moves under the finger, with what is left there of a reading.
func (v visit) tilesOn(base string) string {
	if v.Method != http.MethodGet && v.Method != http.MethodHead {
		return base
	}
	if q := v.URL.Query(); q.Has("rest") {
		return v.URL.Path + "?" + q.Encode()
	}
	return v.URL.Path
}

// tapsOf is the place of the taps in a trouble, to which each of them comes back.
func tapsOf(code string) string { return "wrong-" + code + "-taps" }

// onlyFelt reports whether what a trouble is about was felt, and stands, and nobody said
// since that it is over.
func onlyFelt(v visit, one *session.Session, code string) bool {
	felt := false
	for i := range one.Log {
		e := &one.Log[i]
		if b, is := e.Body.(*session.Trouble); is && b.Trouble == code && e.Struck == nil && !e.At.After(v.now) {
			felt = false
		}
		felt = felt || slices.ContainsFunc(v.standing(one), func(r session.Remark) bool {
			return r.Entry == e.ID && r.Code == "unwell" && r.Trouble() == code
		})
	}
	return felt
}

// add puts a button at the end.
func (d *wrongDo) add(w wrongTap) {
	w.Do, w.ID = d, newID()
	d.Taps = append(d.Taps, w)
}

func (d *wrongDo) tap(kind, name, value, words string) {
	d.add(wrongTap{Kind: kind, Name: name, Value: value, Words: words})
}

func (d *wrongDo) link(path, words string) {
	d.Links = append(d.Links, wrongLink{d.Base + path + "?next=" + url.QueryEscape(d.Base+"#"+tapsOf(d.Code)), words})
}

// What can be tapped under which trouble, by the acts of that trouble.
var (
	offTapped    = []string{session.TroubleLow, session.TroubleHeart, session.TroubleConfused, session.TroublePower}
	stoppedBy    = []string{session.TroubleBlood, session.TroubleAir, session.TroubleFever, session.TroubleReaction, session.TroubleDark, session.TroubleAlarm, session.TroubleFluid, session.TroubleLeak, session.TroubleArm, session.TroublePower, session.TroubleFire}
	needleMoved  = []string{session.TroubleBlood, session.TroubleAlarm, session.TroubleArm}
	measuredThen = []string{session.TroubleLow, session.TroubleHeart, session.TroubleFever, session.TroubleFluid}
)

func (d *wrongDo) running(t tile, v visit, one *session.Session) {
	low := t.Code == session.TroubleLow
	if low {
		d.tap("lie_back", "", "", "Lay back")
	}
	if slices.Contains(offTapped, t.Code) {
		w := wrongTap{Kind: "removal_off", Words: "Removal off"}
		if since := v.removalOff(one); !since.IsZero() {
			w.Done, w.Said = true, "off since "+clockFace(since)
		}
		d.add(w)
	}
	if slices.Contains(ofSaline, t.Code) {
		if steps := v.member.StepsFor(t.Code); steps != nil && steps.Value.Saline != nil {
			ml := *steps.Value.Saline
			w := wrongTap{Kind: "saline", Name: "volume_ml", Value: strconv.Itoa(int(ml)), Words: "Saline " + ml.Text()}
			if low { // so that it is not in the goal, whatever else was written
				w.Why = "low pressure"
			}
			d.add(w)
		} else {
			d.link("/saline", "Saline: type the amount")
		}
	}
	if low {
		d.tap("low_pressure", "", "", "Low, no figure")
		d.Quick, d.Taps = d.Taps[1:], d.Taps[:1:1]
	}
	paused := v.follow(one).Paused
	if slices.Contains(stoppedBy, t.Code) {
		d.add(wrongTap{Kind: "pause", Words: "Pump off", Done: paused})
	}
	if slices.Contains(needleMoved, t.Code) && !one.Rx.ByCatheter() {
		d.tap("needle_adjusted", "which", "arterial", "Arterial needle adjusted")
		d.tap("needle_adjusted", "which", "venous", "Venous needle adjusted")
	}
	for _, felt := range session.Feelings() {
		if felt.Trouble == t.Code {
			w := wrongTap{Do: d, Kind: "unwell", Name: "words", Value: felt.Words, Words: "Felt " + felt.Words}
			at := w.last(v, one)
			w.Done = !at.IsZero() && v.now.Sub(at) < justFelt
			d.add(w)
		}
	}
	// Going on is offered while no blood stays out; see [bloodStaysOut].
	if slices.Contains(stoppedBy, t.Code) && !(paused && bloodStaysOut(v, one)) {
		d.add(wrongTap{Kind: "resume", Words: "Going on", Done: !paused, Free: true})
	}
	switch there := v.onSession(d.Base); {
	case low && v.pressure(one).Low:
		d.Measured = there + "#at-reading-systolic_mmhg"
	case low:
		d.Measured = there + "#reading-h"
	case slices.Contains(measuredThen, t.Code):
		d.Links = append(d.Links, wrongLink{there + "#reading-h", "Measured: type it in"})
	}
	if t.Code == session.TroubleAlarm {
		d.link("/alarm", "The alarm, in words")
	}
}

// justFelt is for how long what was felt is shown as written, and takes no press. Ours.
const justFelt = 5 * time.Minute

// bloodStaysOut reports whether a trouble is open in which the blood stays out: then the
// pump is not started by one press.
func bloodStaysOut(v visit, one *session.Session) bool {
	return slices.ContainsFunc(v.troubles(one), session.OpenTrouble.StaysOut)
}
