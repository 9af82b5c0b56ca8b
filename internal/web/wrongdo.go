package web

import (
	"net/url"
	"slices"
	"strconv"

	"ebbline/session"
)

// yesHappens are the words of the button that opens a trouble. To open its page writes
// nothing down: this does.
const yesHappens = "Yes, this is happening"

// wrongDo is what one tap each writes down under a trouble.
type wrongDo struct {
	Code       string // of the trouble
	isOff      bool   // removal, and it may be switched on again here
	Base, Next string
	Quick      []wrongTap // what is done at once, before anything is asked
	Taps       []wrongTap
	Links      []wrongLink
	Rang       []wrongCall
	Measured   string // to the form of the reading, at its pressure, while that is low
	Mistake    string // to the entry that opened a trouble that only the unit's word ends
	Over       string // id of the form with the unit's word, where the trouble needs it to be over
}

// A wrongTap is one button: the kind of entry it writes, and a value. Its entry has an
// id of its own, so that two of them pressed on one page are two entries.
type wrongTap struct {
	Do                           *wrongDo
	ID, Kind, Name, Value, Words string
	Said                         string // when it was written last in this session; empty where it was not
}

// A wrongLink leads to a whole form.
type wrongLink struct{ Link, Words string }

// doing gives the taps of a trouble: what was done while the treatment runs, that
// it is there or over, and whom I rang. An amount of saline stands on a button only
// where the unit gave one.
func (t tile) doing(v visit, one *session.Session, base string) *wrongDo {
	d := wrongDo{Code: t.Code, Base: base, Next: base + "#wrong-" + t.Code}
	if t.Open == nil {
		d.tap("trouble", "state", session.TroubleOpen, yesHappens)
	}
	if one.Phase() == session.Running {
		d.running(t, v, one)
	}
	switch {
	case t.Open == nil:
	case t.StaysOut():
		d.Over, d.Mistake = newID(), base+"/entry/"+t.Open.Entry+"#strike"
	default:
		d.tap("trouble", "state", session.TroubleOver, "It is over")
		d.Links = append(d.Links, wrongLink{base + "/entry/" + t.Open.Entry + "#strike", "Typed by mistake"})
	}
	d.on()
	d.link("/note", "What happened, in words")
	for _, p := range t.Steps.Phones {
		call := callOf(wrongTap{Do: &d, ID: newID(), Kind: "rang", Name: "whom", Value: p.Who + ", " + p.Number, Words: p.Who}, one)
		call.wasWritten(v, one)
		d.Rang = append(d.Rang, call)
	}
	for _, list := range [][]wrongTap{d.Quick, d.Taps} {
		for i := range list {
			list[i].wasWritten(v, one)
		}
	}
	return &d
}

// on puts the way back to removal at the end, where no button stood before: who presses
// twice where it was switched off does not switch it on.
func (d *wrongDo) on() {
	if d.isOff {
		d.tap("removal_on", "", "", "Removal on again")
	}
}

func (d *wrongDo) tap(kind, name, value, words string) {
	d.Taps = append(d.Taps, wrongTap{Do: d, ID: newID(), Kind: kind, Name: name, Value: value, Words: words})
}

func (d *wrongDo) link(path, words string) {
	d.Links = append(d.Links, wrongLink{d.Base + path + "?next=" + url.QueryEscape(d.Next), words})
}

// What can be tapped under which trouble, by the acts of that trouble.
var (
	offTapped    = []string{session.TroubleLow, session.TroubleHeart, session.TroubleConfused, session.TroublePower}
	stoppedBy    = []string{session.TroubleBlood, session.TroubleAir, session.TroubleFever, session.TroubleReaction, session.TroubleDark, session.TroubleAlarm, session.TroubleFluid, session.TroubleLeak, session.TroubleArm, session.TroublePower, session.TroubleFire}
	needleMoved  = []string{session.TroubleBlood, session.TroubleAlarm, session.TroubleArm}
	measuredThen = []string{session.TroubleLow, session.TroubleHeart, session.TroubleFever, session.TroubleFluid}
)

func (d *wrongDo) running(t tile, v visit, one *session.Session) {
	if t.Code == session.TroubleLow {
		d.tap("lie_back", "", "", "Lay back")
	}
	off := !v.removalOff(one).IsZero()
	d.isOff = off && slices.Contains(offTapped, t.Code)
	if !off && slices.Contains(offTapped, t.Code) {
		d.tap("removal_off", "", "", "Removal off")
	}
	if slices.Contains(ofSaline, t.Code) {
		if steps := v.member.StepsFor(t.Code); steps != nil && steps.Value.Saline != nil {
			ml := *steps.Value.Saline
			d.tap("saline", "volume_ml", strconv.Itoa(int(ml)), "Saline "+ml.Text())
		} else {
			d.link("/saline", "Saline: type the amount")
		}
	}
	if t.Code == session.TroubleLow {
		d.tap("low_pressure", "", "", "Low, no figure")
	}
	if t.Code == session.TroubleLow {
		d.Quick = slices.DeleteFunc(slices.Clone(d.Taps), func(w wrongTap) bool { return w.Kind == "trouble" })
		d.Taps = slices.DeleteFunc(d.Taps, func(w wrongTap) bool { return w.Kind != "trouble" })
	}
	if slices.Contains(stoppedBy, t.Code) {
		if v.follow(one).Paused {
			d.tap("resume", "", "", "Going on")
		} else {
			d.tap("pause", "", "", "Pump off")
		}
	}
	if slices.Contains(needleMoved, t.Code) {
		d.tap("needle_adjusted", "which", "arterial", "Arterial needle adjusted")
		d.tap("needle_adjusted", "which", "venous", "Venous needle adjusted")
	}
	for _, felt := range session.Feelings() {
		if felt.Trouble == t.Code {
			d.tap("unwell", "words", felt.Words, "Felt "+felt.Words)
		}
	}
	switch there := v.onSession(d.Base); {
	case t.Code == session.TroubleLow && v.pressure(one).Low:
		d.Measured = there + "#at-reading-systolic_mmhg"
	case slices.Contains(measuredThen, t.Code):
		d.Links = append(d.Links, wrongLink{there + "#reading-h", "Measured: type it in"})
	}
	if t.Code == session.TroubleAlarm {
		d.link("/alarm", "The alarm, in words")
	}
}
