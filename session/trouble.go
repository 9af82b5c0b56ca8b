package session

import (
	"slices"
	"strings"
	"time"
)

// A Trouble is something that goes wrong in a session, as the person says it: one
// of [Troubles], that it is there or that it is over.
type Trouble struct {
	Trouble string `json:"trouble"`         // a code of [Troubles]
	State   string `json:"state"`           // TroubleOpen or TroubleOver
	Said    string `json:"said,omitempty"`  // who of the unit said what; needed for one to be over in which the blood stays out
	Words   string `json:"words,omitempty"` // what happened, in own words
}

// The states of a [Trouble].
const (
	TroubleOpen = "open"
	TroubleOver = "over"
)

// A BloodRule says whether the blood in the lines may be given back.
type BloodRule string

// The three rules.
const (
	BloodNever    BloodRule = "never"
	BloodUnitWord BloodRule = "unit_word" // only on the unit's word
	BloodAsSteps  BloodRule = "steps"     // as the unit's steps say
)

// A TroubleType is one kind of trouble: what everybody is told of it, whatever the
// unit has written.
type TroubleType struct {
	Code  string
	Title string
	First bool      // among the eight that are seen at once
	Ring  string    // whom first, where the unit set nobody: RingAmbulance or RingUnit
	Blood BloodRule // in the lines
	Acts  []string  // what no unit differs on, without amounts
}

// Whom a trouble is rung about first.
const (
	RingAmbulance  = "ambulance"
	RingUnit       = "unit"
	RingTechnician = "technician"
)

// The codes of [Troubles].
const (
	TroubleLow      = "low_pressure"
	TroubleBlood    = "blood_out"
	TroubleAir      = "air"
	TroubleHeart    = "heart"
	TroubleFever    = "fever"
	TroubleReaction = "reaction"
	TroubleDark     = "dark_blood"
	TroubleAlarm    = "alarm"
	TroubleFluid    = "fluid"
	TroubleConfused = "confused"
	TroubleWeak     = "weak"
	TroubleClotting = "clotting"
	TroubleLeak     = "blood_leak"
	TroubleArm      = "arm_swells"
	TroublePower    = "power"
	TroubleBleeding = "bleeding"
	TroubleFire     = "fire"
)

// Troubles lists every kind of trouble in the order in which they are shown.
//
// The acts are those of the order of thought that is common to all (pump off,
// clamp, then the person, then the telephone; common practice), and only those
// that no unit differs on. Whether the blood is given back is common practice
// too: never with air, with blood that is broken up or met a hot or wrong fluid,
// in a reaction, or from a line that was apart.
func Troubles() []TroubleType { return slices.Clone(troubles) }

// TroubleOf gives a kind of trouble by its code.
func TroubleOf(code string) (TroubleType, bool) {
	for _, t := range troubles {
		if t.Code == code {
			return t, true
		}
	}
	return TroubleType{}, false
}

// StaysOut reports whether the blood is not given back while the trouble is open:
// by no step of a page, until the unit's word is written.
func (t TroubleType) StaysOut() bool { return t.Blood != BloodAsSteps }

// troubleOf gives the trouble that a remark of level look leads to; empty where
// it leads to none.
var troubleOf = map[string]string{
	"low_pressure": TroubleLow, "nadir": TroubleLow, "pulse_out": TroubleHeart, "fever": TroubleFever, "chlorine_out": TroubleFluid,
	"venous_fall": TroubleBlood, "venous_rise": TroubleAlarm, "arterial_rise": TroubleBlood, "arterial_fall": TroubleAlarm, "arterial_low": TroubleAlarm,
	"tmp_high": TroubleClotting, "sugar_low": TroubleConfused, "conductivity_out": TroubleFluid, "temperature_out": TroubleFluid,
	"batch_failed": TroubleFluid, "batch_range": TroubleFluid, "batch_wrong": TroubleFluid, "start_fluid_stops": TroubleFluid,
}

// feltTroubles are said as "unwell" when they are opened: what is felt in the body,
// with no value that says it.
var feltTroubles = []string{TroubleHeart, TroubleFever, TroubleReaction, TroubleConfused, TroubleWeak}

func felt(t TroubleType) bool { return slices.Contains(feltTroubles, t.Code) }

// ringsAmbulance reports whether a trouble is one for the ambulance where the unit
// set nobody.
func ringsAmbulance(code string) bool {
	t, ok := TroubleOf(code)
	return ok && t.Ring == RingAmbulance
}

// unanswered is how long a look for the ambulance stands with no answer. Ours.
const unanswered = time.Hour

// waits reports whether a remark is not answered ([Remark.isUnanswered]) and not older
// than an hour.
func (r Remark) waits(s *Session, now time.Time) bool {
	return now.Sub(r.At) < unanswered && r.isUnanswered(s, now)
}

// isUnanswered reports whether a remark is what is felt, or a fever, that is one for
// the ambulance and not answered: by a call in which somebody was reached, or by its
// trouble, there or over, written after it.
func (r Remark) isUnanswered(s *Session, now time.Time) bool {
	code := r.Trouble()
	if r.Code != "unwell" && r.Code != "fever" || !ringsAmbulance(code) {
		return false
	}
	return !r.followedBy(s, now, func(e *Event) bool {
		switch b := e.Body.(type) {
		case *Rang:
			return ReachedBy(b.Said) != Nobody
		case *Trouble:
			return b.Trouble == code
		}
		return false
	})
}

// isOver reports whether what was felt was said to be over after it.
func (r Remark) isOver(s *Session, now time.Time) bool {
	return r.followedBy(s, now, func(e *Event) bool {
		b, is := e.Body.(*Trouble)
		return is && b.Trouble == r.Trouble() && b.State == TroubleOver && !e.At.Before(r.At)
	})
}

// followedBy reports whether one of the entries up to now that stand after that of the
// remark in the log answers it.
func (r Remark) followedBy(s *Session, now time.Time, answers func(*Event) bool) bool {
	after := false
	for i := range s.Log {
		e := &s.Log[i]
		if after && e.Struck == nil && !e.At.After(now) && answers(e) {
			return true
		}
		after = after || e.ID == r.Entry
	}
	return false
}

// Unanswered lists what was felt in a session, or a fever, that is one for the
// ambulance and that nobody answered, however long ago: neither a call in which somebody
// was reached nor its trouble was written after it.
func Unanswered(s *Session, now time.Time) []Remark {
	return slices.DeleteFunc(Remarks(s, now), func(r Remark) bool { return !r.isUnanswered(s, now) })
}

// Standing lists the remarks of level look that stand at a moment: those made
// from the last reading on, the last low pressure until a reading is inside, what
// was last read out of its bounds until it is read inside, and what is felt, or a
// fever, that is one for the ambulance until it is answered, or for an hour. Those last
// ones come first; else the last made does. What was felt and is said to be over does
// not stand.
func Standing(s *Session, now time.Time) []Remark {
	w, ok := watchRun(s, now)
	if !ok {
		return nil
	}
	var read time.Time
	Each(s, func(_ *Reading, e *Event) {
		if !e.At.After(now) {
			read = e.At
		}
	})
	var list []Remark
	first := map[string]bool{}
	lowAt := lastLow(w.out)
	for i, r := range w.out {
		isLow := w.bp.low && r.Code == "low_pressure" && r.At.Equal(lowAt)
		waits := r.waits(s, now)
		if r.Code == "unwell" && r.isOver(s, now) {
			continue
		}
		if r.Level != LevelLook || !waits && !isLow && !w.stillOut(i) && r.At.Before(read) {
			continue
		}
		if list = append(list, r); waits {
			first[r.Entry+r.Code] = true
		}
	}
	slices.SortStableFunc(list, func(a, b Remark) int {
		if x, y := first[a.Entry+a.Code], first[b.Entry+b.Code]; x != y {
			if x {
				return -1
			}
			return 1
		}
		return b.At.Compare(a.At)
	})
	return list
}

// lastLow gives when a low pressure was last said.
func lastLow(said []Remark) (at time.Time) {
	for _, r := range said {
		if r.Code == "low_pressure" {
			at = r.At
		}
	}
	return at
}

// Trouble gives the code of the trouble whose steps a remark leads to; empty where
// it leads to none.
func (r Remark) Trouble() string {
	if r.Code == "unwell" {
		return unwellLeads(r.Felt)
	}
	return troubleOf[r.Code]
}

// unwellLeads gives the trouble that a feeling leads to: that of a press, whatever
// its capitals, or of a title; else what a word of one's own names (see [feltWords]).
func unwellLeads(words string) string {
	words = strings.TrimSpace(words)
	for _, f := range feelings {
		if strings.EqualFold(words, f.Words) {
			return f.Trouble
		}
	}
	for _, t := range troubles {
		if felt(t) && strings.EqualFold(words, t.Title) {
			return t.Code
		}
	}
	return feltLeads(words)
}

// A Feeling is something that can be felt, in the words that one press writes, and
// the trouble that it leads to.
type Feeling struct{ Words, Trouble string }

// Feelings lists what one press writes as "feeling unwell".
func Feelings() []Feeling { return slices.Clone(feelings) }
