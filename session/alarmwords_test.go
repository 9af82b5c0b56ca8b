package session

import "testing"

// An alarm in own words leads to the trouble that they name, and opens none.
func TestAlarmLeads(t *testing.T) {
	for words, want := range map[string]string{
		"air": TroubleAir, "Air in line": TroubleAir, "air detector": TroubleAir, "foam!": TroubleAir, "bubbles in the chamber": TroubleAir,
		"blood leak": TroubleLeak, "Blood-leak alarm": TroubleLeak, "leaking blood": TroubleLeak, "bloodleak": TroubleLeak,
		"conductivity": TroubleFluid, "temperature": TroubleFluid, "fluid too hot": TroubleFluid, "Temp. high": TroubleFluid,
		"clotting": TroubleClotting, "a clot": TroubleClotting, "dialyser clotted": TroubleClotting,
		"venous": TroubleAlarm, "": TroubleAlarm, "leak sensor": TroubleAlarm, "repair needed": TroubleAlarm, "blood pump": TroubleAlarm,
		"no air, venous": TroubleAlarm, "not hot, arterial": TroubleAlarm, "water tap": TroubleAlarm,
		"clots, and air": TroubleAir, "temperature after the blood leak": TroubleLeak,
	} {
		if got := AlarmLeads(words); got != want {
			t.Errorf("%q leads to %s, want %s", words, got, want)
		}
	}
	s := connected(t)
	put(s, on(30), &Reading{Systolic: mm(130)})
	put(s, on(31), &Alarm{Words: "air", Looked: true})
	if got := Remarks(s, on(32)); len(got) != 0 {
		t.Errorf("remarked on: %+v", got)
	}
	if got := OpenTroubles(s, on(32)); len(got) != 0 {
		t.Errorf("opened: %+v", got)
	}
}
