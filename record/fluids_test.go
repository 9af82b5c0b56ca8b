package record

import (
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// The description of a machine that is corrected moves the sessions that rest on
// it, and what was gathered from them.
func TestFluidsFollowTheMachine(t *testing.T) {
	b := newBook(t)
	treated := func(id string, ms unit.Conductivity) {
		b.now = b.now.Add(40 * time.Hour)
		b.must("session_opened", id, &session.Opened{Place: "home", Source: "paper", Confirmed: true})
		b.must("weigh_in", id, &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
		b.must("fluid_check", id, &session.FluidCheck{MachineConduct: ms, MeterConduct: ms})
		b.must("connected", id, &session.Connected{})
		b.now = b.now.Add(4 * time.Hour)
		b.must("came_off", id, &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2000))})
	}
	on := func(name string) *session.Machine {
		return &session.Machine{Name: name, GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"}
	}
	treated("session-01", 1401)
	treated("session-02", 1402)
	second := b.must("machine", "", on("the second"))
	treated("session-03", 1403)
	treated("session-04", 1404)
	history := func() session.History { m := b.h.Member("person-one"); return m.History(nil) }
	if h := history(); len(h.Fluids) != 2 || h.FluidOn.Name != "the second" || h.Fluids[0].Machine != 1403 {
		t.Errorf("on the second machine: %+v", h.Fluids)
	}
	b.now = b.now.Add(time.Hour)
	strike := b.entry("struck", "", &Struck{Entry: second.ID, Reason: "it is the same one"})
	strike.Person = ""
	if found := b.try(strike); len(found) > 0 {
		t.Fatal(found)
	}
	if h := history(); len(h.Fluids) != 4 || h.FluidOn.Name != "the machine" {
		t.Errorf("the second machine struck out: %+v on %s", h.Fluids, h.FluidOn.Name)
	}
	treated("session-05", 1405)
	if h := history(); len(h.Fluids) != 5 || h.Fluids[4].Machine != 1405 {
		t.Errorf("one session on: %+v", h.Fluids)
	}
}
