package session

import (
	"slices"
	"strings"
	"testing"
	"time"
)

// One wording of what was tested of a batch, up to a moment.
func TestTestsOfABatch(t *testing.T) {
	b := aBatch(func(b *Batch) { b.Log = nil })
	day := func(at time.Duration) string { return dayClock(evening.Add(at)) + ": " }
	b.tested(-45*time.Hour, &Chlorine{Below: true, Result: 20})
	b.tested(-44*time.Hour, &Chlorine{Result: 150})
	b.tested(-43*time.Hour, &FluidCheck{MachineConduct: 1390, MeterConduct: 1395})
	b.tested(-42*time.Hour, &FluidCheck{MachineConduct: 1390})
	b.tested(-41*time.Hour, &FluidCheck{MeterConduct: 1395})
	b.tested(-40*time.Hour, &FluidCheck{})
	b.tested(-39*time.Hour, &Chlorine{})
	b.Log[len(b.Log)-1].Missing = map[string]Missing{"total_chlorine_mg_l": NotDone}
	b.tested(-38*time.Hour, &Rang{Whom: "Nurse Berg", Said: "use it"})
	b.tested(2*time.Hour, &Chlorine{Result: 150})
	want := []string{
		day(-45*time.Hour) + "total chlorine less than 0.02 mg/L", day(-44*time.Hour) + "total chlorine 0.15 mg/L",
		day(-43*time.Hour) + "conductivity: machine 13.90 mS/cm, own meter 13.95 mS/cm",
		day(-42*time.Hour) + "conductivity: machine 13.90 mS/cm", day(-41*time.Hour) + "conductivity: own meter 13.95 mS/cm",
	}
	var got []string
	for _, one := range b.TestsUntil(evening) {
		got = append(got, strings.ReplaceAll(one, "\u00a0", " "))
	}
	if !slices.Equal(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}
