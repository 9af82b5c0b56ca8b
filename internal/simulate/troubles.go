package simulate

import (
	"fmt"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// troubles writes down the unit's invented steps for most of what can go wrong;
// some are left out, as at home. They have ids of their own, and take nothing from
// the chance that the rest of the life is drawn from.
func (l *life) troubles(at time.Time) {
	day := unit.DateOf(at)
	saline, back := unit.Volume(100), unit.Minutes(15)
	for _, s := range []record.TroubleSteps{
		{Trouble: session.TroubleLow, Ring: session.RingUnit, Saline: &saline,
			Words: "Lie back, legs up\nRemoval off\nSaline once, the amount below\nMeasure again after 5 minutes\nStill under 90 after two tries: ring us\nChest pain or faint: ring the ambulance"},
		{Trouble: session.TroubleBlood, Ring: session.RingAmbulance,
			Words: "Pump off\nClamp both lines\nPress on the hole\nLie flat, legs up\nMore than a cup of blood, or faint: the ambulance"},
		{Trouble: session.TroubleAir, Ring: session.RingAmbulance,
			Words: "Clamp the venous line\nPump off\nLie on the left side, head down\nRing the ambulance, then us"},
		{Trouble: session.TroubleHeart, Ring: session.RingAmbulance,
			Words: "Removal off\nSit or lie as you breathe best\nRing the ambulance, then us\nCome off only when we say so"},
		{Trouble: session.TroubleFever, Ring: session.RingUnit,
			Words: "Pump off\nClamp both lines\nTake the temperature and write it down\nRing us before anything is taken off\nDialyser and lines are kept"},
		{Trouble: session.TroubleAlarm, Ring: session.RingTechnician,
			Words: "Look at both needles and all lines\nOnly then silence it, once\nThe same alarm again: ring"},
		{Trouble: session.TroublePower, Ring: session.RingTechnician, BackIn: &back,
			Words: "Open the venous clamp by hand\nTurn the pump by hand, slowly and evenly\nWatch the line for air all the time\nClamp when the line is clear"},
		{Trouble: session.TroubleBleeding, Ring: session.RingUnit,
			Words: "Press with two fingers on the hole itself\nHold the arm up\nAfter 30 minutes, or if it spurts: the ambulance"},
	} {
		s.From, s.GivenOn, s.ReviewBy = "Nurse A. Kos (invented)", day, day.Add(reviewDays)
		l.own("sim-steps-"+s.Trouble, at, "trouble_steps", &s)
	}
}

// own is entry with an id of its own.
func (l *life) own(id string, at time.Time, kind string, body any) {
	if l.err != nil {
		return
	}
	e := record.Entry{ID: id, Kind: kind, At: at.Truncate(time.Second).In(l.zone), Zone: zoneName, Written: at.Add(time.Minute).UTC().Truncate(time.Second),
		By: personName, Device: "simulated", Person: personID, Body: body}
	if found := record.Check(l.house, e); len(found) > 0 {
		l.err = fmt.Errorf("simulate: %s: %w", id, found)
		return
	}
	if l.err = l.house.Apply(e); l.err == nil {
		l.Entries = append(l.Entries, e)
	}
}
