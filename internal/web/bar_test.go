package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// barOn cuts the bar out of a page; empty where the page has none, or one that is
// hidden.
func barOn(text string) string {
	i := strings.Index(text, `<aside id="bar"`)
	if i < 0 {
		return ""
	}
	bar, _, _ := strings.Cut(text[i:], "</aside>")
	if head, _, _ := strings.Cut(bar, ">"); strings.Contains(head, " hidden") {
		return ""
	}
	return bar
}

// barSays fails unless the bar of a page reads so, its marks and its way to the
// troubles left out, and leads there.
func (h *house) barSays(path, want, link string) {
	h.t.Helper()
	text := h.see(path)
	bar := barOn(text)
	_, words, _ := strings.Cut(bar, ">")
	if got := plainText(words); !strings.HasPrefix(got, want) {
		h.t.Errorf("%s: the bar reads %q, want %q", path, got, want)
	}
	if !strings.Contains(bar, `<a href="`+link+`">`) {
		h.t.Errorf("%s: the bar does not lead to %s: %s", path, link, bar)
	}
	if !strings.Contains(bar, `<a href="#wrong">Something is wrong</a>`) || !strings.Contains(text, `id="wrong"`) {
		h.t.Errorf("%s: no way to what to do when something is wrong", path)
	}
}

// tels are the numbers that the bar of a page dials, in their order.
func (h *house) tels(path string) (list []string) {
	h.t.Helper()
	for _, part := range strings.Split(barOn(h.see(path)), "<li>")[1:] {
		part, _, _ = strings.Cut(part, "</li>")
		list = append(list, strings.TrimSpace(plainText(part)))
	}
	return list
}

const (
	dayPhone   = "Unit, by day +000 1 555 01 10"
	nightPhone = "Unit, at night +000 1 555 01 99"
	techPhone  = "Technician +000 1 555 01 44"
	ambulance  = "Ambulance 112"
)

func inOrder(t *testing.T, what string, got []string, want ...string) {
	t.Helper()
	if strings.Join(got, "; ") != strings.Join(want, "; ") {
		t.Errorf("%s: %q, want %q", what, got, want)
	}
}

// The bar is there from the opening of a session to its closing, on every page of that
// person, and says the one thing to do now.
func TestBarThroughASession(t *testing.T) {
	h := home(t, 2, false)
	for _, path := range []string{vida + "/", vida + "/session", vida + "/round"} {
		if bar := barOn(h.see(path)); bar != "" {
			t.Errorf("%s has a bar with no session open: %s", path, bar)
		}
	}
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	for _, path := range []string{base, base + "/weigh_in", vida + "/", vida + "/session", vida + "/round", vida + "/unit", vida + "/card", vida + "/sessions"} {
		h.barSays(path, "Setting up How am I? Something is wrong", base+"/fitness")
		inOrder(t, path, h.tels(path))
	}
	h.saved(base+"/fitness", "none_of_these", "yes")
	h.barSays(base, "Setting up Water on Something is wrong", "#step-water_on")
	h.barSays(vida+"/", "Setting up Water on Something is wrong", base+"#step-water_on")

	base = h.beginIn(base)
	h.barSays(base, "Running since 19:32 Next check at 20:32 Something is wrong", "#reading-h")
	h.barSays(vida+"/", "Running since 19:32 Next check at 20:32 Something is wrong", base+"#reading-h")
	inOrder(t, "nothing stands", h.tels(base))
	h.later(61 * time.Minute)
	h.barSays(base, "Running since 19:32 Check due since 20:32 ( 1 min )", "#reading-h")
	h.saved(base+"/event/asleep", "for_min", "120")
	h.barSays(base, "Running since 19:32 Asleep by plan until 22:33", "#reading-h")
	h.saved(base + "/event/pause")
	h.barSays(base, "Running since 19:32 Paused for 0 min : blood stands in the lines", "#taps")
	h.saved(base + "/event/resume")
	h.later(150 * time.Minute)
	h.barSays(base, "Running since 19:32 Heparin off was due at 22:57", "#taps")
	h.saved(base + "/event/heparin_off")
	h.barSays(base, "Running since 19:32 Check due since", "#reading-h")

	h.saved(base+"/came_off", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "none")
	h.barSays(base, "Coming off Wash hands; gauze, tape … Something is wrong", "#step-lay_out")
	h.saved(base+"/closed", "machine_treated_min", "210", "again.machine_treated_min", "210")
	for _, path := range []string{base, vida + "/"} {
		if bar := barOn(h.see(path)); bar != "" {
			t.Errorf("%s has a bar once the session is closed: %s", path, bar)
		}
	}
}

// beginIn brings an opened session to treatment, a minute later.
func (h *house) beginIn(base string) string {
	h.t.Helper()
	h.saved(base+"/entry/"+h.latest(base, "session_opened")+"/strike", "reason", "begun by mistake")
	return h.begin()
}

// noSteps strikes out what the unit wrote of each trouble, so that only what no unit
// differs on is left.
func (h *house) noSteps() {
	h.t.Helper()
	var ids []string
	h.member("p-vida-hribar", func(m *record.Member) {
		for _, t := range m.TroubleSteps {
			ids = append(ids, t.ID)
		}
	})
	for _, id := range ids {
		h.keep("p-vida-hribar", &record.Struck{Entry: id, Reason: "for the test"})
	}
}

// Every open trouble stands in the bar until it is over: its name, what no unit
// differs on, the way to its steps, and whom to ring, the ambulance before the unit.
func TestBarSaysEveryTrouble(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	h.noSteps()
	base := h.begin()
	rings := map[string]string{session.RingAmbulance: ambulance, session.RingTechnician: techPhone}
	for _, tt := range session.Troubles() {
		h.later(time.Minute)
		h.saved(base+"/trouble", "trouble", tt.Code, "state", "open")
		for _, path := range []string{base, vida + "/", base + "/reading"} {
			bar := barOn(h.see(path))
			words := plainText(bar)
			for _, want := range append([]string{tt.Title + ", since " + h.now.Format("15:04"), "What to do"}, strings.Join(tt.Acts, " ")) {
				if !strings.Contains(words, want) {
					t.Errorf("%s, %s: the bar does not say %q: %s", tt.Code, path, want, words)
				}
			}
			if !strings.Contains(bar, `class="bar is-open"`) || !strings.Contains(bar, `href="#wrong-`+tt.Code+`"`) {
				t.Errorf("%s, %s: %s", tt.Code, path, bar)
			}
			want := []string{nightPhone, dayPhone}
			if first := rings[tt.Ring]; first != "" {
				want = append([]string{first}, want...)
			}
			inOrder(t, tt.Code, h.tels(path), want...)
		}
		h.saved(base+"/trouble", "trouble", tt.Code, "state", "over", "said", "Nurse R at the unit: go on, all is well")
		if bar := barOn(h.see(base)); strings.Contains(bar, "is-open") {
			t.Errorf("%s stands after it is over: %s", tt.Code, plainText(bar))
		}
		h.later(time.Minute) // what was felt and low stands until a reading
		h.saved(base+"/reading", "systolic_mmhg", "132", "diastolic_mmhg", "76", "body_temperature_c", "36.6")
	}
	// Of several the one for the ambulance comes first, and the others are named.
	h.saved(base+"/trouble", "trouble", session.TroubleClotting, "state", "open")
	h.later(time.Minute)
	h.saved(base+"/trouble", "trouble", session.TroubleAir, "state", "open")
	if words := plainText(barOn(h.see(base))); !strings.Contains(words, "Air or foam, since "+h.now.Format("15:04")+" and clotting") {
		t.Errorf("two troubles: %s", words)
	}
	h.saved(base+"/came_off", "removed_ml", "0", "returned", "none")
	if words := plainText(barOn(h.see(base))); !strings.Contains(words, "Coming off ✕ Air or foam") {
		t.Errorf("coming off with air: %s", words)
	}
}

// The unit's own steps decide whom to ring first and what to do first.
func TestBarGoesByTheUnitsSteps(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	day := unit.DateOf(h.now)
	h.keep("p-vida-hribar", &record.TroubleSteps{Trouble: session.TroubleLow, Words: "Legs up, head down\nRemoval off", Ring: session.RingUnit,
		From: "Nurse R (invented)", GivenOn: day, ReviewBy: day.Add(300)})
	h.keep("p-vida-hribar", &record.TroubleSteps{Trouble: session.TroublePower, Words: "Light on", Ring: session.RingTechnician,
		From: "Nurse R (invented)", GivenOn: day, ReviewBy: day.Add(300)})
	h.saved(base + "/event/low_pressure")
	if words := plainText(barOn(h.see(base))); !strings.Contains(words, "Legs up, head down. Removal off. What to do") || strings.Contains(words, "Lie back") {
		t.Errorf("the bar: %s", words)
	}
	inOrder(t, "the unit is rung first", h.tels(base), nightPhone, dayPhone)
	for _, tt := range []struct {
		after time.Duration
		first string
	}{{11*time.Hour + 27*time.Minute, nightPhone}, {time.Minute, dayPhone}, {11*time.Hour + 59*time.Minute, dayPhone}, {time.Minute, nightPhone}} {
		if h.later(tt.after); h.tels(base)[0] != tt.first {
			t.Errorf("at %s %s does not come first", h.now.Format("15:04"), tt.first)
		}
	}
	h.saved(base+"/trouble", "trouble", session.TroublePower, "state", "open")
	inOrder(t, "the technician first", h.tels(base), techPhone, nightPhone, dayPhone)
}

// Every remark of level look stands in the bar from the save that made it: its first
// sentence, with a number, and the way to its steps where it has any.
func TestBarSaysEveryLook(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name, path string
		send       []string
		says       string
		trouble    string
		first      string // of the numbers
	}{
		{"fall", "/reading", []string{"systolic_mmhg", "74", "again.systolic_mmhg", "74", "diastolic_mmhg", "41"}, "Low pressure 74/41, ", session.TroubleLow, ambulance},
		{"low, no figure", "/event/low_pressure", nil, "Low pressure, no figure, ", session.TroubleLow, ambulance},
		{"venous fall", "/reading", []string{"venous_mmhg", "100", "blood_flow_ml_min", "310"}, "Venous 100, was 135 at the same flow.", session.TroubleBlood, ambulance},
		{"venous rise", "/reading", []string{"venous_mmhg", "170", "blood_flow_ml_min", "310"}, "Venous 170, was 135 at the same flow.", session.TroubleAlarm, nightPhone},
		{"arterial fall", "/reading", []string{"arterial_mmhg", "-200", "venous_mmhg", "135", "blood_flow_ml_min", "310"}, "Arterial -200, was -150 at the same flow.", session.TroubleAlarm, nightPhone},
		{"arterial", "/reading", []string{"arterial_mmhg", "-260", "again.arterial_mmhg", "-260", "blood_flow_ml_min", "350"}, "Arterial -260 mmHg, under -250 mmHg.", session.TroubleAlarm, nightPhone},
		{"pulse", "/reading", []string{"pulse_per_min", "140", "again.pulse_per_min", "140"}, "Pulse 140, over 120.", session.TroubleHeart, ambulance},
		{"conductivity", "/reading", []string{"conductivity_ms_cm", "14.4"}, "Conductivity 14.4", session.TroubleFluid, nightPhone},
		{"tmp", "/reading", []string{"tmp_mmhg", "320", "again.tmp_mmhg", "320"}, "TMP 320", session.TroubleClotting, nightPhone},
		{"fever", "/reading", []string{"body_temperature_c", "38.4", "again.body_temperature_c", "38.4"}, "Body temperature 38.4", session.TroubleFever, ambulance},
		{"unwell", "/event/unwell", []string{"words", "chest pain"}, "Feeling unwell: “chest pain”.", session.TroubleHeart, ambulance},
		{"unwell in own words", "/unwell", []string{"words", "tired to the bone"}, "Feeling unwell: “tired to the bone”.", "", nightPhone},
		{"over the goal", "/reading", []string{"removed_ml", "2300", "again.removed_ml", "2300"}, "Removed 2300 mL, goal", "", nightPhone},
	} {
		h := home(t, 2, false)
		h.noSteps()
		base := h.begin()
		h.later(5 * time.Minute)
		h.saved(base+"/reading", "systolic_mmhg", "132", "diastolic_mmhg", "76", "blood_flow_ml_min", "310", "arterial_mmhg", "-150", "venous_mmhg", "135")
		h.later(30 * time.Minute)
		h.saved(base+tt.path, tt.send...)
		for _, path := range []string{base, vida + "/", base + "/note"} {
			bar := barOn(h.see(path))
			if !strings.Contains(plainText(bar), tt.says) || !strings.Contains(bar, `class="bar is-look"`) {
				t.Errorf("%s, %s: the bar does not say %q: %s", tt.name, path, tt.says, plainText(bar))
			}
			if got := strings.Contains(bar, `href="#wrong-`+tt.trouble+`"`); got != (tt.trouble != "") {
				t.Errorf("%s, %s: a way to the steps of %q: %v", tt.name, path, tt.trouble, got)
			}
			// A value that asks to look does not begin with the pump off.
			if asks := strings.HasPrefix(tt.name, "venous") || strings.HasPrefix(tt.name, "arterial") || tt.name == "tmp" || tt.name == "conductivity" || tt.name == "over the goal"; asks != strings.Contains(plainText(bar), "Look at") {
				t.Errorf("%s, %s: what to look at first: %s", tt.name, path, plainText(bar))
			}
			tels := h.tels(path)
			if len(tels) == 0 || tels[0] != tt.first {
				t.Errorf("%s, %s: rung are %q, want %s first", tt.name, path, tels, tt.first)
			}
		}
	}
}

// A session typed in from paper has no bar, and nobody sees that of another.
func TestBarIsOfOnePerson(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	other := ""
	h.desk.View(func(rec *record.Household) {
		for _, m := range rec.People {
			if m.ID != "p-vida-hribar" {
				other = "/p/" + m.ID
			}
		}
	})
	if other == "" {
		h.keep("person-two", &record.Person{Name: "Ota Two (invented)", BirthYear: 1960, Colour: "plum", Adult: true})
		other = "/p/person-two"
	}
	if barOn(h.see(base)) == "" || barOn(h.see(other+"/")) != "" || barOn(h.see("/")) != "" {
		t.Error("the bar stands on the page of another, or of nobody")
	}
	h.saved(base+"/trouble", "trouble", session.TroubleAir, "state", "open")
	if text := h.see(other + "/"); strings.Contains(text, "is-open") {
		t.Error("the trouble of one stands on the page of another")
	}
	paper := home(t, 2, false)
	id := newID()
	paper.saved(vida+"/session", "place", "home", "source", "paper", "session", id, "day", "2026-06-10", "clock", "18:00")
	for _, path := range []string{vida + "/session/" + id, vida + "/"} {
		if bar := barOn(paper.see(path)); bar != "" {
			t.Errorf("%s: a bar for a session from paper: %s", path, bar)
		}
	}
}

func TestFirstSentence(t *testing.T) {
	for _, tt := range []struct{ words, want string }{
		{"Upper pressure 74; you started at 138. Low by ours.", "Upper pressure 74; you started at 138."},
		{"Pulse 44, under 50 (set by Dr B. Zupan (invented)). Measure it.", "Pulse 44, under 50 (set by Dr B. Zupan (invented))."},
		{"Dialysis fluid 38.9 °C, over 38.5 °C. Is it?", "Dialysis fluid 38.9 °C, over 38.5 °C."},
		{"How am I? Fever", "How am I?"},
		{"no end", "no end"},
		{"", ""},
	} {
		if got := firstSentence(tt.words); got != tt.want {
			t.Errorf("%q gives %q", tt.words, got)
		}
	}
	for _, tt := range []struct{ words, want string }{
		{"Pulse 44, under 50 (set by Dr B. Zupan (invented)).", "Pulse 44, under 50."},
		{"TMP 320 mmHg, over 300 mmHg (ours).", "TMP 320 mmHg, over 300 mmHg."},
		{"Low (by far) now.", "Low (by far) now."},
		{"odd).", "odd)."},
	} {
		if got := noBrackets(tt.words); got != tt.want {
			t.Errorf("%q gives %q", tt.words, got)
		}
	}
	if got := firstLines("Pump off\n\nClamp both lines.\nRing the ambulance, and then the unit, whichever hour it is", 30); got != "Pump off. Clamp both lines." {
		t.Errorf("first lines: %q", got)
	}
	if got := firstLines("One\nTwo\nThree", 30); got != "One. Two." {
		t.Errorf("first lines: %q", got)
	}
	if got := firstLines("Pump off\nClamp both lines", 12); got != "Pump off." {
		t.Errorf("first lines: %q", got)
	}
	if got := shortened("Wash hands; gauze, tape, sharps bin within reach", 30); got != "Wash hands; gauze, tape …" {
		t.Errorf("shortened: %q", got)
	}
	if got := shortened("as it is", 8); got != "as it is" {
		t.Errorf("shortened: %q", got)
	}
}
