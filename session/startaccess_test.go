package session

import (
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/access"
	"ebbline/unit"
)

// Each sign of the rule comes out in a sentence, with the state its act asks
// for, and with what was found in it. The rule itself is tested in its room.
func TestAccessSigns(t *testing.T) {
	look := func(change func(*AccessCheck)) func(*Session) {
		return func(s *Session) { edit(s, change) }
	}
	for _, tt := range []struct {
		set   func(*Session)
		want  CheckState
		codes []string
		words string
	}{
		{func(*Session) {}, Ready, []string{"access_ready"}, "Thrill felt, bruit heard, skin clean."},
		{look(func(b *AccessCheck) { b.Bruit = "absent" }), Look, []string{"access_bruit_lost"}, "Thrill felt, bruit not heard."},
		{look(func(b *AccessCheck) { b.Bruit = "not_done" }), Ready, []string{"access_ready_unheard"}, "not listened"},
		{look(func(b *AccessCheck) { b.Bruit = "" }), Ready, []string{"access_ready_unheard"}, "not listened"},
		{look(func(b *AccessCheck) { b.Thrill = "weaker" }), Look, []string{"access_weaker"}, "weaker"},
		{look(func(b *AccessCheck) { b.Thrill = "beating" }), Look, []string{"access_beating"}, "beats like a pulse"},
		{look(func(b *AccessCheck) { b.Thrill = "absent" }), StopHere, []string{"access_thrill_lost"}, "No thrill; bruit heard. Do not needle; ring now."},
		{look(func(b *AccessCheck) { b.Thrill, b.Bruit = "absent", "absent" }), StopHere, []string{"access_no_flow"}, "No thrill, no bruit. Do not needle; ring now."},
		{look(func(b *AccessCheck) { b.Thrill, b.Bruit = "absent", "not_done" }), StopHere, []string{"access_no_thrill"}, "No thrill; not listened. Do not needle; ring now."},
		{look(func(b *AccessCheck) { b.Thrill, b.Bruit = "absent", "" }), StopHere, []string{"access_no_thrill"}, "not listened"},
		{look(func(b *AccessCheck) { b.Thrill = "not_applicable" }), OpenYet, []string{"access_not_felt"}, "Feel the access."},
		{look(func(b *AccessCheck) { b.Thrill, b.Bruit = "not_applicable", "absent" }), OpenYet, []string{"access_silent"}, "Bruit not heard"},
		{func(s *Session) {
			s.Rx.ListenEach = true
			edit(s, func(b *AccessCheck) { b.Bruit = "not_done" })
		}, OpenYet, []string{"access_listen"}, "Your unit asks for it each time."},
		{func(s *Session) {
			s.Rx.HeardNotFelt = true
			edit(s, func(b *AccessCheck) { b.Thrill = "absent" })
		}, Ready, []string{"access_heard_only"}, "Not felt, as your unit wrote; bruit heard"},
		{func(s *Session) {
			s.Rx.HeardNotFelt = true
			edit(s, func(b *AccessCheck) { b.Thrill, b.Bruit = "absent", "not_done" })
		}, StopHere, []string{"access_unheard"}, "Nothing heard: ring."},

		{look(func(b *AccessCheck) { b.Skin = "discharge" }), StopHere, []string{"access_pus"}, "Pus"},
		{look(func(b *AccessCheck) { b.Chills = true }), StopHere, []string{"access_chills"}, "Chills. Ring"},
		{look(func(b *AccessCheck) { b.Bulge = true }), StopHere, []string{"access_bulge"}, "ring now"},
		{look(func(b *AccessCheck) { b.Hand = true }), StopHere, []string{"access_hand"}, "Ring"},
		{look(func(b *AccessCheck) { b.Arm = true }), StopHere, []string{"access_arm"}, "Ring"},
		{look(func(b *AccessCheck) { b.Skin = "red" }), Look, []string{"access_one_sign"}, "Red: one sign."},
		{look(func(b *AccessCheck) { b.Skin = "swollen" }), Look, []string{"access_one_sign"}, "Swollen: one sign."},
		{look(func(b *AccessCheck) { b.Skin, b.Warm = "red", true }), StopHere, []string{"access_two_signs"}, "Red, warm: two signs in 7 days. Ring"},
		{look(func(b *AccessCheck) { b.Red, b.Warm, b.Tender, b.Swollen = true, true, true, true }), StopHere, []string{"access_two_signs"}, "Red, warm, tender, swollen:"},
		{look(func(b *AccessCheck) { b.Skin = "" }), OpenYet, []string{"access_not_looked"}, "Skin not looked at."},
		{func(s *Session) { edit(s, func(b *VitalsBefore) { b.Temperature = ref(unit.Temperature(377)) }) }, Ready, []string{"access_ready"}, ""},
		{func(s *Session) { edit(s, func(b *VitalsBefore) { b.Temperature = ref(unit.Temperature(378)) }) }, StopHere, []string{"access_fever"}, "Temperature 37.8\u00a0°C at 17:09. Ring your unit"},
		{func(s *Session) {
			s.Rx.TempHigh = ref(unit.Temperature(385))
			edit(s, func(b *VitalsBefore) { b.Temperature = ref(unit.Temperature(384)) })
		}, Ready, []string{"access_ready"}, ""},
		{func(s *Session) { edit(s, func(b *Fitness) { b.Fever = true }) }, StopHere, []string{"access_fever"}, "Fever told. Ring"},
		{func(s *Session) {
			edit(s, func(b *Fitness) { b.Fever, b.Rang = true, "Nurse Berg: go on, bloods today" })
		},
			Look, []string{"access_fever_rang"}, "Fever told. You rang: Nurse Berg: go on, bloods today."},
		{func(s *Session) {
			s.Rx.Technique = "buttonhole"
			edit(s, func(b *AccessCheck) { b.Skin = "discharge" })
		}, StopHere, []string{"access_pus", "access_buttonhole"}, "can reach the blood"},
		{func(s *Session) {
			s.Rx.Access, s.Rx.Technique = "catheter", "none"
			edit(s, func(b *AccessCheck) {
				*b = AccessCheck{Thrill: "not_applicable", Skin: "clean", Cuff: "hidden", Length: "as_before"}
			})
		}, Ready, []string{"access_catheter"}, "Exit site"},
		{func(s *Session) {
			s.Rx.Access, s.Rx.Technique = "catheter", "none"
			edit(s, func(b *AccessCheck) {
				*b = AccessCheck{Thrill: "not_applicable", Red: true, Tender: true, Cuff: "hidden", Length: "as_before"}
			})
		}, StopHere, []string{"access_two_signs"}, "Red, tender"},
		{look(func(b *AccessCheck) { b.Thrill, b.Bruit, b.Skin, b.Hand = "absent", "absent", "discharge", true }), StopHere,
			[]string{"access_no_flow", "access_pus", "access_hand"}, "No thrill, no bruit."},
	} {
		s := ready(t)
		tt.set(s)
		c := check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckAccess)
		if c.State != tt.want || !slices.Equal(c.Codes, tt.codes) || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%v: %s %v %q, want %s with %q", tt.codes, c.State, c.Codes, c.Words, tt.want, tt.words)
		}
		if c.State == StopHere && !strings.Contains(strings.ToLower(c.Words), "ring") {
			t.Errorf("a stop that does not say to ring: %q", c.Words)
		}
	}
}

// Every sign of the room has its sentence.
func TestEverySignIsWorded(t *testing.T) {
	for sign, code := range accessCodes {
		if says[code] == "" {
			t.Errorf("%s is worded by %q, which is no sentence", sign, code)
		}
	}
	for _, thrill := range []access.Thrill{access.NotFeltFor, access.Felt, access.Weaker, access.Beating, access.NoThrill} {
		for _, bruit := range []access.Bruit{access.NotListened, access.Heard, access.NoBruit} {
			for n := range 16 {
				x := access.Exam{Thrill: thrill, Bruit: bruit, HeardNotFelt: n&1 > 0, Listen: n&2 > 0, Skin: n&4 > 0, Pus: n&8 > 0, At: evening}
				for _, f := range x.Judge() {
					if accessCodes[f.Sign] == "" || accessStates[f.Act] == "" {
						t.Errorf("%+v finds %v, which nothing says", x, f)
					}
				}
			}
		}
	}
}

// Signs add up over the sessions of seven days, each with its day.
func TestAccessSignsAddUpOverDays(t *testing.T) {
	before := func(days int, b AccessCheck) History {
		s := newSession(t)
		put(s, evening.AddDate(0, 0, -days), &Opened{Place: "home", Source: "live"})
		put(s, evening.AddDate(0, 0, -days).Add(mins(2)), &b)
		return HistoryOf([]*Session{s})
	}
	for _, tt := range []struct {
		h     History
		today AccessCheck
		want  CheckState
		words string
	}{
		{before(2, AccessCheck{Thrill: "present", Red: true}), AccessCheck{Thrill: "present", Warm: true, Skin: "clean"}, StopHere, "Red (10\u00a0March), warm: two signs in 7 days."},
		{before(2, AccessCheck{Thrill: "present", Skin: "red"}), AccessCheck{Thrill: "present", Red: true}, Look, "Red: one sign."},
		{before(7, AccessCheck{Thrill: "present", Skin: "swollen"}), AccessCheck{Thrill: "present", Tender: true}, StopHere, "Tender, swollen (5\u00a0March)"},
		{before(8, AccessCheck{Thrill: "present", Skin: "swollen"}), AccessCheck{Thrill: "present", Tender: true}, Look, "Tender: one sign."},
		{before(2, AccessCheck{Thrill: "present", Skin: "red"}), AccessCheck{Thrill: "present", Skin: "clean"}, Ready, "skin clean"},
		{before(2, AccessCheck{Thrill: "present", Red: true, Warm: true}), AccessCheck{Thrill: "present", Skin: "clean"}, Look, "Clean now; before, red (10\u00a0March), warm (10\u00a0March)."},
		{before(2, AccessCheck{Thrill: "present", Skin: "discharge"}), AccessCheck{Thrill: "present", Skin: "clean"}, Look, "Pus on 10\u00a0March, none now. Look closely; tell your unit."},
		{before(8, AccessCheck{Thrill: "present", Skin: "discharge"}), AccessCheck{Thrill: "present", Skin: "clean"}, Ready, "skin clean"},
	} {
		s := ready(t)
		edit(s, func(b *AccessCheck) { *b = tt.today })
		if c := check(t, StartLine(s, tt.h, evening.Add(mins(40))), CheckAccess); c.State != tt.want || !strings.Contains(c.Words, tt.words) {
			t.Errorf("%+v: %s %q, want %s %q", tt.today, c.State, c.Words, tt.want, tt.words)
		}
	}
	// A sign that was struck out, or of a session begun by mistake, counts no more.
	struck := newSession(t)
	put(struck, evening.AddDate(0, 0, -2), &Opened{Place: "home"})
	put(struck, evening.AddDate(0, 0, -2), &AccessCheck{Thrill: "present", Red: true}).Struck = &Strike{}
	if h := HistoryOf([]*Session{struck}); h.Signs != (access.Seen{}) {
		t.Errorf("struck out: %+v", h.Signs)
	}
}

// What stopped is not wiped out by a better look: no thrill stays a stop, other
// signs a look, until it was rung about.
func TestAccessAfterABetterLook(t *testing.T) {
	again := func(first AccessCheck, more ...any) Check {
		s := ready(t)
		edit(s, func(b *AccessCheck) { *b = first })
		put(s, evening.Add(mins(15)), &AccessCheck{Thrill: "present", Bruit: "present", Skin: "clean"})
		for i, body := range more {
			put(s, evening.Add(mins(20+i)), body)
		}
		return check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckAccess)
	}
	rang := &Rang{Whom: "the unit", Said: "go on, we listen tomorrow"}
	none := AccessCheck{Thrill: "absent", Bruit: "not_done", Skin: "clean"}
	if c := again(none); c.State != StopHere || !strings.Contains(c.Words, "At 17:02: No thrill; not listened.") || !strings.Contains(c.Words, "At 17:15: Thrill felt") {
		t.Errorf("thrill felt again: %s %q", c.State, c.Words)
	}
	if c := again(none, rang); c.State != Look || !strings.Contains(c.Words, "You rang the unit at 17:20: go on, we listen tomorrow.") {
		t.Errorf("and rung about: %s %q", c.State, c.Words)
	}
	if c := again(AccessCheck{Thrill: "present", Skin: "discharge"}); c.State != Look || !strings.Contains(c.Words, "At 17:02: Pus") {
		t.Errorf("pus wiped away: %s %q", c.State, c.Words)
	}
	// An access that is heard and not felt has lost nothing by it.
	s := ready(t)
	s.Rx.HeardNotFelt = true
	edit(s, func(b *AccessCheck) { *b = none })
	put(s, evening.Add(mins(15)), &AccessCheck{Thrill: "absent", Bruit: "present", Skin: "clean"})
	if c := check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckAccess); c.State != Look {
		t.Errorf("listened to after all: %s %q", c.State, c.Words)
	}

	// Two signs add up within the session too, and a clean look does not take them
	// back; a call answers what was there, not what came after it.
	two := func(order ...any) Check {
		s := ready(t)
		edit(s, func(b *AccessCheck) { *b = AccessCheck{Thrill: "present", Red: true} })
		for i, body := range order {
			put(s, evening.Add(mins(15+i)), body)
		}
		return check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckAccess)
	}
	warm, clean := &AccessCheck{Thrill: "present", Warm: true}, &AccessCheck{Thrill: "present", Bruit: "present", Skin: "clean"}
	for name, tt := range map[string]struct {
		c    Check
		want CheckState
	}{
		"red, then warm":             {two(warm), StopHere},
		"red, warm, clean":           {two(warm, clean), StopHere},
		"red, warm, rang":            {two(warm, rang), Look},
		"red, warm, rang, clean":     {two(warm, rang, clean), Look},
		"red, rang, warm":            {two(rang, warm), StopHere},
		"red, warm, rang, then warm": {two(warm, rang, warm), StopHere},
	} {
		if tt.c.State != tt.want {
			t.Errorf("%s: %s %q, want %s", name, tt.c.State, tt.c.Words, tt.want)
		}
	}
}

// A fever is not gone when a tablet took it away, and a call before it did not
// know of it.
func TestAccessFever(t *testing.T) {
	temp := func(tenths int64) *VitalsBefore {
		return &VitalsBefore{SitSystolic: ref(unit.Pressure(130)), Pulse: ref(unit.Pulse(70)), Temperature: ref(unit.Temperature(tenths))}
	}
	rang := &Rang{Whom: "the unit", Said: "come in"}
	for name, tt := range map[string]struct {
		bodies []any
		want   CheckState
	}{
		"38.2 then 36.9":       {[]any{temp(382), temp(369)}, StopHere},
		"38.2, rang, 36.9":     {[]any{temp(382), rang, temp(369)}, Look},
		"rang, 38.2":           {[]any{rang, temp(382)}, StopHere},
		"37.7 twice":           {[]any{temp(377), temp(377)}, Ready},
		"told, then not":       {[]any{&Fitness{Fever: true}, &Fitness{}}, StopHere},
		"told, rang, then not": {[]any{&Fitness{Fever: true}, rang, &Fitness{}}, Look},
		"told, rang, 38.2":     {[]any{&Fitness{Fever: true}, rang, temp(382)}, StopHere},
	} {
		s := ready(t)
		for i, body := range tt.bodies {
			put(s, evening.Add(mins(15+i)), body)
		}
		if c := check(t, StartLine(s, History{}, evening.Add(mins(40))), CheckAccess); c.State != tt.want {
			t.Errorf("%s: %s %q, want %s", name, c.State, c.Words, tt.want)
		}
	}
	// What comes after the moment asked for does not count.
	s := ready(t)
	put(s, evening.Add(mins(30)), temp(390))
	if c := check(t, StartLine(s, History{}, evening.Add(mins(30)-time.Second)), CheckAccess); c.State != Ready {
		t.Errorf("before it was measured: %s %q", c.State, c.Words)
	}
}
