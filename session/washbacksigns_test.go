package session

import (
	"testing"

	"ebbline/unit"
)

// What was felt or measured and speaks against giving the blood back is listed until
// something was written of its trouble (H-138).
func TestBloodSigns(t *testing.T) {
	fever := unit.Temperature(3880)
	for _, tt := range []struct {
		name string
		body any
		want string // the trouble; empty for none
	}{
		{"itch", &Unwell{Words: "itch or wheeze"}, TroubleReaction},
		{"back pain", &Unwell{Words: "Back pain"}, TroubleDark},
		{"chills", &Unwell{Words: "chills"}, TroubleFever},
		{"a temperature", &Reading{BodyTemp: &fever}, TroubleFever},
		{"chlorine", &Chlorine{Result: 3 * ChlorineLimit}, TroubleFluid},
		{"chest pain goes by the unit's steps", &Unwell{Words: "chest pain"}, ""},
		{"a low pressure goes by the unit's steps", &Reading{Systolic: mm(70)}, ""},
		{"an alarm in words", &Alarm{Words: "air detector, foam in the chamber"}, TroubleAir},
		{"a note", &Note{Words: "needle came out, blood everywhere"}, TroubleBlood},
		{"a note of nothing", &Note{Words: "new cushion"}, ""},
		{"an alarm of the steps' own", &Alarm{Words: "arterial pressure"}, ""},
		{"own words that name nothing", &Unwell{Words: "tired"}, ""},
	} {
		s := connected(t)
		put(s, on(20), tt.body)
		list := BloodSigns(s, on(40))
		switch {
		case tt.want == "" && len(list) != 0:
			t.Errorf("%s: %+v", tt.name, list)
		case tt.want == "":
		case len(list) == 0 || list[0].Code != tt.want:
			t.Errorf("%s: %+v, want %s", tt.name, list, tt.want)
		default:
			if before := BloodSigns(s, on(19)); len(before) != 0 {
				t.Errorf("%s: said before it was felt: %+v", tt.name, before)
			}
			put(s, on(25), &Trouble{Trouble: tt.want, State: TroubleOpen})
			if list = BloodSigns(s, on(40)); len(list) != 0 {
				t.Errorf("%s: still asked about when it is said to be there: %+v", tt.name, list)
			}
		}
	}
}

// Of a trouble that is over it is said who said what; of one that came again nothing,
// since it is open (H-138).
func TestTroublesOver(t *testing.T) {
	s := connected(t)
	if list := TroublesOver(s, on(5)); len(list) != 0 {
		t.Errorf("%+v", list)
	}
	put(s, on(20), &Trouble{Trouble: TroubleAir, State: TroubleOpen})
	put(s, on(30), &Trouble{Trouble: TroubleAir, State: TroubleOver, Said: "Sister Holm: stop"})
	list := TroublesOver(s, on(40))
	if len(list) != 1 || list[0].Code != TroubleAir || list[0].Said != "Sister Holm: stop" || !list[0].Since.Equal(on(20)) || !list[0].Over.Equal(on(30)) {
		t.Errorf("%+v", list)
	}
	if list := TroublesOver(s, on(25)); len(list) != 0 {
		t.Errorf("over before it was: %+v", list)
	}
	put(s, on(35), &Trouble{Trouble: TroubleAir, State: TroubleOpen})
	if list := TroublesOver(s, on(40)); len(list) != 0 {
		t.Errorf("it is there again: %+v", list)
	}
}

// What was looked at before the washback no longer counts when something is felt that
// speaks against it (H-137, H-138).
func TestFeltAfterTheLook(t *testing.T) {
	s := connected(t)
	put(s, on(10), &Unwell{Words: "itch or wheeze"})
	put(s, on(200), &WashbackChecked{Saline: true, Clamp: true, Venous: true})
	if !WashbackReady(s, on(205)) {
		t.Error("what was felt before the look, and asked about then, closes the way")
	}
	put(s, on(203), &Unwell{Words: "tired"})
	if !WashbackReady(s, on(205)) {
		t.Error("being tired closes the way")
	}
	put(s, on(204), &Unwell{Words: "back pain"})
	if WashbackReady(s, on(205)) {
		t.Error("back pain after the look leaves the pump to be started")
	}
}

// What is written down after the look counts after it, whatever time is typed for it.
func TestFeltWrittenAfterTheLook(t *testing.T) {
	s := connected(t)
	wrote(s, 12_000, 12_000, &WashbackChecked{Saline: true, Clamp: true, Venous: true})
	if !WashbackReady(s, on(205)) {
		t.Fatal("the look does not stand")
	}
	wrote(s, 11_700, 12_060, &Unwell{Words: "itch or wheeze"})
	if WashbackReady(s, on(205)) {
		t.Error("an itch dated before the look leaves the pump to be started")
	}
}
