package session

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

type mS = unit.Conductivity

// fluidOf judges the fluid of a ready session with these readings.
func fluidOf(t *testing.T, h History, set func(*Session, *FluidCheck)) Check {
	t.Helper()
	s := ready(t)
	edit(s, func(b *FluidCheck) { set(s, b) })
	return atALook(t, check(t, StartLine(s, h, evening.Add(mins(40))), CheckConduct))
}

// atALook holds a check to sentences that are read at one look.
func atALook(t *testing.T, c Check) Check {
	t.Helper()
	for _, sentence := range strings.SplitAfter(c.Words, ". ") {
		if n := len(strings.Fields(strings.ReplaceAll(sentence, "\u00a0", ""))); n > 14 {
			t.Errorf("%s: %d words take too long to read: %q", c.ID, n, sentence)
		}
	}
	return c
}

// Agreement and distance from the set value are two figures; a value on a bound
// and the next hundredth beyond it.
func TestConductivityAgainstTheSetValue(t *testing.T) {
	for _, tt := range []struct {
		machine, meter mS
		tolerance      *mS
		want           CheckState
		words, limit   string
	}{
		{1400, 1400, nil, Ready, "Machine 14.00, meter 14.00.", "±0.4\u00a0mS/cm, " + ownDefault},
		{1400, 1360, nil, Ready, "", ""},
		{1400, 1440, nil, Ready, "", ""},
		{1415, 1375, nil, Ready, "", ""}, // 0.4 apart
		{1415, 1374, nil, StopHere, "Machine 14.15, meter 13.74. They disagree; ring.", "±0.4\u00a0mS/cm, " + ownDefault},
		{1374, 1415, nil, StopHere, "They disagree", ""},
		{1400, 1380, ref(mS(20)), Ready, "", "±0.2\u00a0mS/cm, set by Dr Lind on 3 March 2026"},
		{1400, 1379, ref(mS(20)), StopHere, "They disagree", "±0.2\u00a0mS/cm, set by Dr Lind on 3 March 2026"},
		{1430, 1380, ref(mS(50)), Ready, "", ""}, // the unit's, wider than ours

		{1441, 1420, nil, Look, "Machine 14.41, set is 14.00. Look at the bath and the setting.", "13.60 to 14.40\u00a0mS/cm, around the set value, " + ownDefault},
		{1420, 1441, nil, Look, "Meter 14.41, set is 14.00.", ""},
		{1359, 1360, nil, Look, "Machine 13.59, set is 14.00.", ""},
		{1470, 1470, nil, Look, "Machine 14.70, set is 14.00. Look at the bath and the setting. Meter 14.70, set is 14.00.", ""},
		{1471, 1470, nil, StopHere, "Machine 14.71, set is 14.00. Wrong bath? Ring.", "13.30 to 14.70\u00a0mS/cm, around the set value, " + ownDefault},
		{1330, 1330, nil, Look, "", ""},
		{1340, 1329, nil, StopHere, "Meter 13.29, set is 14.00. Wrong bath? Ring.", ""},
		{1260, 1280, nil, StopHere, "Machine 12.60, set is 14.00. Wrong bath? Ring. Meter 12.80, set is 14.00. Wrong bath? Ring.", ""},
	} {
		far := History{Fluids: slices.Repeat([]FluidSeen{{1300, 1300}}, 6), FluidOn: newSession(t).Machine} // says nothing where a value is set
		c := fluidOf(t, far, func(s *Session, b *FluidCheck) {
			b.MachineConduct, b.MeterConduct, s.Rx.ConductTol = tt.machine, tt.meter, tt.tolerance
		})
		if c.State != tt.want || !strings.Contains(c.Words, tt.words) || tt.limit != "" && c.Limit != tt.limit {
			t.Errorf("%s and %s: %s %q, limit %q", tt.machine, tt.meter, c.State, c.Words, c.Limit)
		}
	}
}

func TestConductivityWithNothingSet(t *testing.T) {
	usual := slices.Repeat([]FluidSeen{{1350, 1340}}, 6)
	for _, tt := range []struct {
		machine, meter mS
		before         []FluidSeen
		want           CheckState
		words, limit   string
	}{
		{1260, 1280, nil, StopHere, "Machine 12.60, outside 13.0 to 15.0. Wrong bath? Ring. Meter 12.80, outside", "13.00 to 15.00\u00a0mS/cm, " + ownDefault},
		{1260, 1280, usual, StopHere, "Machine 12.60, outside 13.0 to 15.0.", ""},
		{1310, 1299, nil, StopHere, "Meter 12.99, outside 13.0 to 15.0.", ""},
		{1501, 1480, nil, StopHere, "Machine 15.01, outside 13.0 to 15.0.", ""},
		{1300, 1320, nil, Look, "Machine 13.00, outside 13.2 to 14.5. Look at the bath and the setting.", "13.20 to 14.50\u00a0mS/cm, " + ownDefault},
		{1320, 1319, nil, Look, "Meter 13.19, outside 13.2 to 14.5.", ""},
		{1320, 1320, nil, Ready, "", ""},
		{1450, 1450, usual[:5], Ready, "", ""},
		{1451, 1450, usual[:5], Look, "Machine 14.51, outside 13.2 to 14.5.", ""},
		// Each against its own: 13.80 is within 0.3 of the machine's 13.50, and not of the meter's 13.40.
		{1380, 1370, usual, Ready, "", ""},
		{1381, 1370, usual, Look, "Machine 13.81, usual is 13.50. Look at the bath and the setting.", "13.20 to 13.80\u00a0mS/cm, around your last six sessions, " + ownDefault},
		{1380, 1371, usual, Look, "Meter 13.71, usual is 13.40.", "13.10 to 13.70\u00a0mS/cm, around your last six sessions, " + ownDefault},
		{1320, 1310, usual, Ready, "", ""},
		{1400, 1359, usual, StopHere, "They disagree", ""},
	} {
		h := History{Fluids: tt.before, FluidOn: newSession(t).Machine}
		c := fluidOf(t, h, func(s *Session, b *FluidCheck) {
			b.MachineConduct, b.MeterConduct, s.Rx.SetConduct = tt.machine, tt.meter, nil
		})
		if c.State != tt.want || !strings.Contains(c.Words, tt.words) || tt.limit != "" && c.Limit != tt.limit {
			t.Errorf("%s and %s after %v: %s %q, limit %q", tt.machine, tt.meter, tt.before, c.State, c.Words, c.Limit)
		}
	}
}

// The last six that were treated, at home, on this machine.
func TestFluidOfEarlierSessions(t *testing.T) {
	at := func(machine mS, set func(*Session)) *Session {
		s := newSession(t)
		put(s, evening, &Opened{Place: "home"})
		put(s, evening.Add(mins(1)), &FluidCheck{MachineConduct: machine - 50, MeterConduct: machine - 50}) // mixed again since
		put(s, evening.Add(mins(2)), &FluidCheck{MachineConduct: machine, MeterConduct: machine - 10})
		put(s, evening.Add(mins(3)), &Connected{})
		if set != nil {
			set(s)
		}
		return s
	}
	gone := func(kind string) func(*Session) {
		return func(s *Session) { s.Log = slices.DeleteFunc(s.Log, func(e Event) bool { return e.Kind == kind }) }
	}
	list := []*Session{at(1301, nil), at(1302, nil), at(1303, nil)}
	list = append(list,
		at(1390, func(s *Session) { edit(s, func(b *Opened) { b.Place = "elsewhere" }) }),
		at(1391, gone("connected")),
		at(1392, gone("fluid_check")),
		at(1304, nil), at(1305, nil), at(1306, nil), at(1307, nil))
	h := HistoryOf(list)
	want := []FluidSeen{{1302, 1292}, {1303, 1293}, {1304, 1294}, {1305, 1295}, {1306, 1296}, {1307, 1297}}
	if !slices.Equal(h.Fluids, want) {
		t.Errorf("%v", h.Fluids)
	}
	set := func(on Machine) func(*Session, *FluidCheck) {
		return func(s *Session, b *FluidCheck) {
			b.MachineConduct, b.MeterConduct, s.Rx.SetConduct, s.Machine = 1305, 1305, nil, on
		}
	}
	mine := newSession(t).Machine
	another := Machine{Name: "the new one", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"}
	renamed := mine
	renamed.Name, renamed.GoalDecimals = " The Machine ", 1
	for on, state := range map[Machine]CheckState{mine: Ready, renamed: Ready, another: Look} {
		if c := fluidOf(t, h, set(on)); c.State != state {
			t.Errorf("on %q: %s %q", on.Name, c.State, c.Words)
		}
	}
	away := func(s *Session, b *FluidCheck) {
		set(mine)(s, b)
		edit(s, func(o *Opened) { o.Place = "elsewhere" })
	}
	if c := fluidOf(t, h, away); c.State != Look || !strings.Contains(c.Words, "outside 13.2 to 14.5") {
		t.Errorf("on a machine elsewhere: %s %q", c.State, c.Words)
	}
	// A new machine begins again, and what was copied stays as it was.
	copied := h
	copied.Add(at(1405, func(s *Session) { s.Machine = another }))
	if !slices.Equal(copied.Fluids, []FluidSeen{{1405, 1395}}) || !copied.FluidOn.same(another) || !slices.Equal(h.Fluids, want) {
		t.Errorf("after a session on another machine: %v, before it %v", copied.Fluids, h.Fluids)
	}
	bags := another
	bags.Kind = "low_volume"
	if bags.same(another) {
		t.Error("a machine of another kind is the same")
	}
}

func TestHotFluidAndPH(t *testing.T) {
	type set = func(*Session, *FluidCheck)
	temp := func(machine, meter int) set {
		return func(_ *Session, b *FluidCheck) {
			b.MachineTemp, b.MeterTemp = ref(unit.Temperature(machine)), ref(unit.Temperature(meter))
		}
	}
	ph := func(kind string, v int) set {
		return func(s *Session, b *FluidCheck) { s.Machine.Kind, b.PH = kind, ref(unit.PH(v)) }
	}
	for _, tt := range []struct {
		name  string
		set   set
		want  CheckState
		words string
	}{
		{"38.5 °C", temp(385, 385), Ready, ""},
		{"38.6 °C on the machine", temp(386, 380), StopHere, "Fluid 38.6\u00a0°C: too warm. Do not connect."},
		{"38.6 °C on the meter", temp(370, 386), StopHere, "Fluid 38.6\u00a0°C"},
		{"pH 6.89", ph("single_pass", 689), StopHere, "pH 6.89, outside 6.9 to 7.6. Do not connect; ring."},
		{"pH 6.90", ph("single_pass", 690), Ready, ""},
		{"pH 7.60", ph("single_pass", 760), Ready, ""},
		{"pH 7.61", ph("single_pass", 761), StopHere, "pH 7.61"},
		{"pH 5.4 of a bag", ph("low_volume", 540), Ready, ""},
		{"no pH", func(*Session, *FluidCheck) {}, Ready, ""},
	} {
		c := fluidOf(t, History{}, tt.set)
		if c.State != tt.want || !strings.Contains(c.Words, tt.words) || c.State == StopHere && !strings.HasSuffix(c.Limit, ownDefault) {
			t.Errorf("%s: %s %q, limit %q", tt.name, c.State, c.Words, c.Limit)
		}
	}
}

// A call answers what the unit is rung about; fluid that is too warm has to be
// put right.
func TestRangAboutTheFluid(t *testing.T) {
	for _, tt := range []struct {
		set  func(*FluidCheck)
		want CheckState
	}{
		{func(b *FluidCheck) { b.MeterConduct = 1340 }, Look},
		{func(b *FluidCheck) { b.MachineConduct, b.MeterConduct = 1480, 1480 }, Look},
		{func(b *FluidCheck) { b.PH = ref(unit.PH(680)) }, Look},
		{func(b *FluidCheck) { b.MachineTemp = ref(unit.Temperature(390)) }, StopHere},
	} {
		s := ready(t)
		edit(s, tt.set)
		put(s, evening.Add(mins(38)), &Rang{Whom: "the technician", Said: "mix it again"})
		if c := check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckConduct); c.State != tt.want {
			t.Errorf("%s %q", c.State, c.Words)
		}
	}
}

// Nothing in the words is a sodium: makers differ in how they come from the one
// to the other.
func TestNoSodiumFromConductivity(t *testing.T) {
	for _, machine := range []mS{1260, 1320, 1400, 1460, 1510} {
		for _, withSet := range []bool{true, false} {
			c := fluidOf(t, History{}, func(s *Session, b *FluidCheck) {
				if b.MachineConduct, b.MeterConduct = machine, machine; !withSet {
					s.Rx.SetConduct = nil
				}
			})
			if said := strings.ToLower(fmt.Sprint(c.Words, c.Limit)); strings.Contains(said, "sodium") || strings.Contains(said, "mmol") {
				t.Errorf("%s: %q, %q", machine, c.Words, c.Limit)
			}
		}
	}
}
