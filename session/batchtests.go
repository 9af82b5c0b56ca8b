package session

import (
	"time"

	"ebbline/unit"
)

// TestsUntil words what was tested of a batch up to a moment, oldest first, outside the
// session that it is looked at from: "Mon 20:30: total chlorine less than 0.02 mg/L".
func (b *Batch) TestsUntil(until time.Time) (list []string) {
	for i := range b.Log {
		e := &b.Log[i]
		if e.At.After(until) {
			continue
		}
		if words := testWords(e); words != "" {
			list = append(list, dayClock(e.At.In(b.At.Location()))+": "+words)
		}
	}
	return list
}

// testWords word one test of the water or the fluid; empty where nothing was measured.
func testWords(e *Event) string {
	switch test := e.Body.(type) {
	case *Chlorine:
		if e.Missing["total_chlorine_mg_l"] != "" {
			return ""
		}
		if test.Below {
			return worded("tested_chlorine_less", test.Result.Text())
		}
		return worded("tested_chlorine", test.Result.Text())
	case *FluidCheck:
		shown := func(v unit.Conductivity) string { return v.Digits(2) + "\u00a0" + v.Symbol() }
		switch machine, meter := test.MachineConduct, test.MeterConduct; {
		case machine != 0 && meter != 0:
			return worded("tested_fluid", shown(machine), shown(meter))
		case machine != 0:
			return worded("tested_machine", shown(machine))
		case meter != 0:
			return worded("tested_meter", shown(meter))
		}
	}
	return ""
}
