package session

import (
	"strings"
	"time"

	"ebbline/access"
	"ebbline/unit"
)

// access is the access looked at, felt and listened to.
func (l startLine) access(v *verdict) {
	switch {
	case judged(l, v, startLine.accessCheck) != nil:
	case l.rx.ByCatheter():
		v.open(nil, "access_exit_open")
	default:
		v.open(nil, "access_open")
	}
}

// accessCodes are the codes of the sentences for what [access.Exam.Judge] finds.
var accessCodes = map[access.Sign]string{
	access.NoFlow:        "access_no_flow",
	access.NoThrillAlone: "access_no_thrill",
	access.ThrillLost:    "access_thrill_lost",
	access.Unheard:       "access_unheard",
	access.HeardOnly:     "access_heard_only",
	access.Unfelt:        "access_not_felt",
	access.Silent:        "access_silent",
	access.BruitLost:     "access_bruit_lost",
	access.Unlistened:    "access_listen",
	access.ThrillWeaker:  "access_weaker",
	access.ThrillBeating: "access_beating",
	access.Discharge:     "access_pus",
	access.Febrile:       "access_fever",
	access.Rigor:         "access_chills",
	access.BulgeGrew:     "access_bulge",
	access.HandPale:      "access_hand",
	access.ArmSwollen:    "access_arm",
	access.TwoSigns:      "access_two_signs",
	access.OneSign:       "access_one_sign",
	access.TwoBefore:     "access_two_before",
	access.PusBefore:     "access_pus_before",
	access.InButtonhole:  "access_buttonhole",
	access.SkinUnseen:    "access_not_looked",
	access.Well:          "access_ready",
	access.WellUnheard:   "access_ready_unheard",
	access.WellExit:      "access_catheter",
	access.WellSkin:      "access_exit_seen",
	access.CuffShows:     "access_cuff",
	access.Longer:        "access_longer",
	access.HeldUnseen:    "access_held_unseen",
}

var accessStates = map[access.Act]CheckState{access.Go: Ready, access.Watch: Look, access.Answer: OpenYet, access.Ring: StopHere}

// accessCheck puts one look at the access, with what else the session knows of
// infection by then, to the rule of the room access, and words what it finds.
func (l startLine) accessCheck(v *verdict, b *AccessCheck, e *Event) {
	if !l.rx.ByCatheter() {
		v.blank(e, "thrill")
	}
	x, local := l.exam(b, e)
	felt, fever := l.fever(&x)
	if told, at := l.feverTold(); told != nil && told.Rang != "" {
		v.look(at, "access_fever_rang", sentence(told.Rang))
	} else if told != nil {
		if x.Fever = true; !x.Hot() {
			felt, fever = at, "Fever told"
		}
	}
	for _, found := range x.Judge() {
		f := about(accessCodes[found.Sign], e)
		f.state = accessStates[found.Act]
		switch found.Sign {
		case access.Febrile:
			f.by(felt)
			f.args, f.limit = []any{fever}, feverLimit(l.rx)
		case access.HeardOnly, access.Unheard, access.Unlistened:
			f.limit = setByUnit(l.rx)
		case access.TwoSigns, access.OneSign:
			f.at, f.args = local, []any{capital(seenText(found.Seen, e.At))}
		case access.TwoBefore:
			f.args = []any{seenText(found.Seen, e.At)}
		case access.PusBefore:
			f.args = []any{found.Seen.Pus.Format("2\u00a0January")}
		}
		switch {
		case f.state != StopHere:
		case found.Lasts:
			f.asks, f.kept = true, keptAsStop
		default:
			f.asks, f.kept = true, looked
		}
		v.add(f)
	}
}

// exam gathers what the rule goes by, and when a sign at the access was last
// seen in this session.
func (l startLine) exam(b *AccessCheck, e *Event) (x access.Exam, local time.Time) {
	rx := l.rx
	x = access.Exam{
		Kind: access.Kind(rx.Access), Technique: access.Technique(rx.Technique),
		Thrill: access.Thrill(b.Thrill), Bruit: access.Bruit(b.Bruit), Skin: b.Skin != "", At: e.At, Before: l.h.Signs,
		Pus: b.Skin == "discharge", Chills: b.Chills, Bulge: b.Bulge, Hand: b.Hand, Arm: b.Arm,
		HeardNotFelt: rx.HeardNotFelt, Listen: rx.ListenEach, FeverLimit: rx.TempHigh,
	}
	if l.rx.ByCatheter() {
		x.Cuff, x.Outside, x.Held = access.Cuff(b.Cuff), access.Outside(b.Length), l.catheterAsked()
	}
	if b.Thrill == "not_applicable" || e.Missing["thrill"] != "" {
		x.Thrill = access.NotFeltFor
	}
	if b.Bruit == "not_done" {
		x.Bruit = access.NotListened
	}
	local = e.At
	Each(l.s, func(one *AccessCheck, at *Event) {
		if at.At.After(e.At) {
			return
		}
		if seen := one.local(); seen != (access.Local{}) {
			x.Now.Put(seen, at.At)
			local = at.At
		}
	})
	return x, local
}

// local are the signs at the access that one look wrote.
func (b *AccessCheck) local() access.Local {
	return access.Local{Red: b.Red || b.Skin == "red", Warm: b.Warm, Tender: b.Tender, Swollen: b.Swollen || b.Skin == "swollen"}
}

// fever puts the highest body temperature of the session into the exam: a fever
// that a tablet took away was a fever. It returns the entry that holds it, with
// what it says.
func (l startLine) fever(x *access.Exam) (from *Event, words string) {
	Each(l.s, func(b *VitalsBefore, e *Event) {
		if b.Temperature != nil && !e.At.After(l.at) && *b.Temperature > x.Highest {
			x.Highest, from, words = *b.Temperature, e, worded("access_fever_at", b.Temperature.Text(), clock(e.At))
		}
	})
	return from, words
}

// feverLimit is from when a temperature is a fever, and whose figure that is.
func feverLimit(rx *Prescription) string {
	if rx.TempHigh != nil {
		return rx.TempHigh.Text() + ", " + setByUnit(rx)
	}
	return access.FeverFrom.Text() + ", " + ownDefault
}

// feverTold is the last answer to "how am I?" that told of a fever, or nil.
func (l startLine) feverTold() (told *Fitness, at *Event) {
	Each(l.s, func(b *Fitness, e *Event) {
		if b.Fever && !e.At.After(l.at) {
			told, at = b, e
		}
	})
	return told, at
}

// seenText lists signs at the access; one of another day has its day beside it.
func seenText(s access.Seen, now time.Time) string {
	var list []string
	for _, one := range []struct {
		what string
		at   time.Time
	}{{"red", s.Red}, {"warm", s.Warm}, {"tender", s.Tender}, {"swollen", s.Swollen}} {
		switch {
		case one.at.IsZero():
		case unit.DateOf(one.at) == unit.DateOf(now):
			list = append(list, one.what)
		default:
			list = append(list, one.what+" ("+one.at.Format("2\u00a0January")+")")
		}
	}
	return strings.Join(list, ", ")
}
