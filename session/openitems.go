package session

import (
	"maps"
	"slices"
)

// An OpenItem is something a session should hold and does not: still open, or
// written as missing for a reason.
type OpenItem struct {
	Kind  string // kind of the entry
	Key   string // its value, or empty when the whole entry is not there
	What  string // in words
	Why   Missing
	Entry string // id, where there is an entry with the value missing
}

// IsOpen reports whether nobody has said yet why it is not there.
func (o OpenItem) IsOpen() bool { return o.Why == "" }

// LockAfterItem is what a session by catheter lacks without the lock that was given.
const LockAfterItem = "Lock after"

// expected lists the entries that every session should hold, in the order of
// the sheet, and from which phase on they are looked for.
var expected = []struct {
	kind, what string
	from       Phase
	there      func(*Session) bool
}{
	{"fitness", "How am I", Running, has[Fitness]},
	{"access_check", "Access looked at", Running, has[AccessCheck]},
	{"weigh_in", "Weight before", Running, has[WeighIn]},
	{"vitals_before", "Blood pressure before", Running, has[VitalsBefore]},
	{"chlorine", "Total chlorine", Running, has[Chlorine]},
	{"self_test", "Self-test", Running, has[SelfTest]},
	{"fluid_check", "Conductivity", Running, has[FluidCheck]},
	{"bath_label", "Bath label", Running, has[BathLabel]},
	{"supply", "Lots", Running, has[Supply]},
	{"heparin_drawn", "Heparin", Running, func(s *Session) bool {
		return has[HeparinDrawn](s) || s.Rx == nil || s.Rx.Heparin == "" || s.Rx.Heparin == "none"
	}},
	{"catheter_lock", "Catheter lock", Running, func(s *Session) bool { return has[CatheterLock](s) || !s.Rx.ByCatheter() || s.Rx.OrderedLock.none() }},
	{"lock_drawn", "Old lock drawn", Running, func(s *Session) bool { return has[LockDrawn](s) || !s.Rx.ByCatheter() || !asksHeld(s) }},
	{"glucose", "Blood sugar before", Running, func(s *Session) bool { return !s.Rx.MarkedGlucose() || sugarBefore(s) }},
	{"plan", "Plan agreed", Running, func(s *Session) bool { return has[AgreedPlan](s) || has[PaperPlan](s) }},
	{"read_back", "Read-back", Running, has[ReadBack]},
	{"needling", "Needles", Running, func(s *Session) bool { return has[Needling](s) || s.Rx.ByCatheter() }},
	{"connected", "Start of treatment", ComingOff, has[Connected]},
	{"reading", "A reading", ComingOff, has[Reading]},
	{"came_off", "End of treatment", Done, has[CameOff]},
	{"holding", "Minutes of holding", Done, func(s *Session) bool { return has[Holding](s) || s.Rx.ByCatheter() }},
	{"catheter_lock", LockAfterItem, Done, func(s *Session) bool {
		b, _ := LockAfter(s)
		return b != nil || !s.Treated() || !s.Rx.ByCatheter() || s.Rx.OrderedLock.none()
	}},
	{"vitals_after", "Blood pressure after", Done, has[VitalsAfter]},
	{"glucose", "Blood sugar after", Done, func(s *Session) bool { return !s.Rx.MarkedGlucose() || sugarAfter(s) }},
	{"weigh_out", "Weight after", Done, has[WeighOut]},
	{"circuit", "Dialyser and lines after", Done, has[Circuit]},
	{"disinfection", "Disinfection", Done, func(s *Session) bool { b, _ := CleanedAfter(s); return b != nil }},
}

// asksHeld reports whether a session by catheter says where the catheter lies, so that
// its old lock is asked for too: sessions of before these had keys lack nothing.
func asksHeld(s *Session) bool {
	return slices.ContainsFunc(s.Log, func(e Event) bool { return e.Struck == nil && tellsHeld(e.Body) })
}

func has[T any](s *Session) bool { b, _ := First[T](s); return b != nil }

var phaseOrder = map[Phase]int{SettingUp: 0, Running: 1, ComingOff: 2, Done: 3}

// OpenItems lists what is not there though the session has come far enough, or
// is about to: entries nobody wrote, single values left out of entries that
// carry the session's arithmetic, and everything written as missing, with why.
// While coming off, what belongs to closing is listed too.
func OpenItems(s *Session) []OpenItem {
	phase := s.Phase()
	if phase == ComingOff {
		phase = Done
	}
	opened, _ := s.Opened()
	var out []OpenItem
	for _, x := range expected {
		if phaseOrder[phase] < phaseOrder[x.from] || x.there(s) {
			continue
		}
		if notOfFluid(s, x.kind) {
			continue
		}
		if opened.RemovalOnly && ofFluid[x.kind] {
			continue // no dialysis fluid passes
		}
		if opened.Place == "elsewhere" && (machineOf[x.kind] || x.kind == "catheter_lock" || x.kind == "lock_drawn") {
			continue // the other place keeps the log of its own machine, and closes the catheter
		}
		out = append(out, OpenItem{Kind: x.kind, What: x.what})
	}
	if b, e := Last[CameOff](s); b != nil {
		if b.Removed == nil && e.Missing["removed_ml"] == "" {
			out = append(out, OpenItem{Kind: "came_off", Key: "removed_ml", What: "The machine's total removed", Entry: e.ID})
		}
		if b.Removed != nil && s.RemovedShows() == RemovedGross && b.Given == nil && e.Missing["substitution_l"] == "" {
			out = append(out, OpenItem{Kind: "came_off", Key: "substitution_l", What: "The substitution fluid in all", Entry: e.ID})
		}
		if b.Washback == nil && b.Returned != "none" && e.Missing["washback_ml"] == "" {
			out = append(out, OpenItem{Kind: "came_off", Key: "washback_ml", What: "Washback", Entry: e.ID})
		}
		if b.Why == "" && shortened(s) {
			out = append(out, OpenItem{Kind: "came_off", Key: "why", What: "Why it ended early", Entry: e.ID})
		}
	}
	if s.Rx.ByCatheter() && s.Treated() && phase == Done && opened.Place != "elsewhere" {
		for _, one := range closedOff {
			if !stepDone(s, TakeOff, one.step) {
				out = append(out, OpenItem{Kind: "step", Key: one.step, What: one.what})
			}
		}
	}
	if b, e := CleanedAfter(s); b != nil && b.Result == "running" {
		out = append(out, OpenItem{Kind: "disinfection", Key: "result", What: "How the disinfection ended", Entry: e.ID})
	}
	for i := range s.Log {
		e := &s.Log[i]
		if e.Struck != nil {
			continue
		}
		for _, key := range slices.Sorted(maps.Keys(e.Missing)) {
			if key == "heparin_so_far_iu" && s.Rx.NoHeparin() {
				continue // there is none to read
			}
			out = append(out, OpenItem{Kind: e.Kind, Key: key, What: e.Kind + " " + key, Why: e.Missing[key], Entry: e.ID})
		}
	}
	return out
}

// ofFluid marks what belongs to the dialysis fluid.
var ofFluid = map[string]bool{"chlorine": true, "fluid_check": true, "bath_label": true}

// machineOf marks what belongs to the machine and its water, not to the person.
var machineOf = map[string]bool{
	"chlorine": true, "self_test": true, "fluid_check": true, "bath_label": true, "supply": true,
	"read_back": true, "disinfection": true, "plan": true,
}
