package session

import (
	"slices"
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
	"venous_fall": TroubleBlood, "venous_rise": TroubleAlarm, "arterial_fall": TroubleAlarm, "arterial_low": TroubleAlarm,
	"tmp_high": TroubleClotting, "conductivity_out": TroubleFluid, "temperature_out": TroubleFluid,
}

// Standing lists the remarks of level look that stand at a moment: those made
// from the last reading on, and the last low pressure until a reading is inside.
// The last made comes first.
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
	lowAt := lastLow(w.out)
	for _, r := range w.out {
		isLow := w.bp.low && r.Code == "low_pressure" && r.At.Equal(lowAt)
		if r.Level == LevelLook && (isLow || !r.At.Before(read)) {
			list = append(list, r)
		}
	}
	slices.SortStableFunc(list, func(a, b Remark) int { return b.At.Compare(a.At) })
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
		for _, f := range feelings {
			if r.Felt == f.Words {
				return f.Trouble
			}
		}
		return ""
	}
	return troubleOf[r.Code]
}

// A Feeling is something that can be felt, in the words that one press writes, and
// the trouble that it leads to.
type Feeling struct{ Words, Trouble string }

// Feelings lists what one press writes as "feeling unwell".
func Feelings() []Feeling { return slices.Clone(feelings) }
