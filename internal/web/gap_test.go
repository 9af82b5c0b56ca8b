package web

import (
	"net/http"
	"strconv"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// openAfter is Ida's household with a session behind it that ended so many days
// ago, and one being set up.
func openAfter(t *testing.T, days int) (h *house, ida, base string) {
	t.Helper()
	h, ida = settled(t)
	h.holdSession("person-ida", "session-before", h.now.AddDate(0, 0, -days).Add(-285*time.Minute), 63_700)
	return h, ida, h.saved(ida+"/session", "place", "home", "source", "live", "session", newID(), "person_confirmed", "yes")
}

// The hours and the missed sessions stand on Today, on How am I? and on the plan,
// in the words of the start line.
func TestGapOnThePages(t *testing.T) {
	h, ida, base := openAfter(t, 2) // Tuesday evening to Thursday evening
	const well = "48 h since the last session ended, none missed."
	h.says(ida+"/", well)
	h.says(base+"/fitness", well)
	h.says(base, "Since last time ready "+well)
	h.saved(base+"/weigh_in", "weight_kg", "65.7", "again.weight_kg", "65.7", "clothing_kg", "0", "scale", "bathroom", "read_in", "kg")
	h.says(base+"/plan", "Since the last session ended 48 h none missed; 9 June 2026, 19:30", "Gain since the last session 2 kg, 3.1 %")
	h.says(base, well+" Gain 2 kg, 3.1 %.")
	h.silent(ida+"/", "Ring now", "Overdue")

	h, ida, base = openAfter(t, 6) // from Friday, which stands for Saturday, to Thursday: Monday and Tuesday
	const long = "144 h since the last session ended, 2 sessions missed. Ring about potassium before you start. Weak, or an odd pulse: the ambulance."
	for _, page := range []string{ida + "/", base + "/fitness", base} {
		h.says(page, long)
		if text := h.see(page); !strings.Contains(text, `class="look">144`) && page != base {
			t.Errorf("%s does not say it as something to look at", page)
		}
	}
	h.says(base, "Since last time STOP "+long)
}

// With no session open Today counts to the present.
func TestGapOnTodayBetweenSessions(t *testing.T) {
	h, ida := settled(t)
	h.silent(ida+"/", "since the last session ended")
	h.holdSession("person-ida", "session-before", h.now.AddDate(0, 0, -2).Add(-285*time.Minute), 63_700)
	h.says(ida+"/", "48 h since the last session ended, none missed.")
	h.later(48 * time.Hour)
	h.says(ida+"/", "96 h since the last session ended, 1 session missed. Ring about potassium before you start.")
}

// What may be potassium leads with the ambulance, on the page of the session and
// on Today, until somebody was rung.
func TestAmbulanceFirstOnThePages(t *testing.T) {
	h, ida, base := openAfter(t, 2)
	h.saved(base+"/fitness", "heavy_legs", "yes", "palpitations", "yes")
	const words = "Heavy legs, heart racing. Ring the ambulance first, then your unit; do not wait for the session."
	for _, page := range []string{base, ida + "/"} {
		text := h.see(page)
		plain := plainText(text)
		at := strings.Index(plain, words)
		if at < 0 {
			t.Fatalf("%s does not say %q", page, words)
		}
		ambulance, unit := strings.Index(plain, "Ambulance 112"), strings.Index(plain, "Unit, by day +000 1 23")
		if ambulance < 0 || unit < 0 || ambulance > unit {
			t.Errorf("%s: the ambulance at %d, the unit at %d", page, ambulance, unit)
		}
		if first := strings.Index(plain, "Go on with the session"); first >= 0 && first < at {
			t.Errorf("%s: the way on comes before it", page)
		}
	}
	h.says(ida+"/", "Ring now "+words)
	h.says(base, "Something stands at STOP. First the ambulance, then your unit. Ambulance 112 Unit, by day")
	h.later(time.Minute)
	h.saved(base+"/rang", "whom", "the ambulance", "said", "they came and measured: go on")
	h.silent(ida+"/", "Ring now", "do not wait for the session")
	h.says(base, "You rang the ambulance at 19:31: they came and measured: go on.")
	h.silent(base, "First the ambulance")
}

// Pain in the chest shows the ambulance's number beside the unit's; a fever does not.
func TestChestPainShowsTheAmbulance(t *testing.T) {
	h, _, base := openAfter(t, 2)
	h.saved(base+"/fitness", "fever", "yes")
	h.says(base, "Ring your unit first: fever.", "Something stands at STOP. Unit, by day")
	h.later(time.Minute)
	h.saved(base+"/fitness", "chest_pain", "yes")
	h.says(base, "Something stands at STOP. Ambulance 112 Unit, by day")
}

// The form of the access asks in a few taps, for the access that there is; what an
// older entry says is still to be seen where it is corrected.
func TestAccessForm(t *testing.T) {
	h, _, base := openAfter(t, 2)
	text := h.see(base + "/access_check")
	for _, part := range []string{`name="thrill" value="weaker"`, `name="thrill" value="beating"`, `name="bruit" value="not_done"`, `name="red" value="yes"`, `name="arm" value="yes"`, "<legend>At the access</legend>"} {
		if !strings.Contains(text, part) {
			t.Errorf("the form lacks %s", part)
		}
	}
	for _, part := range []string{`name="skin" value="red"`, `name="skin" value="swollen"`, `name="thrill" value="not_applicable"`} {
		if strings.Contains(text, part) {
			t.Errorf("the form still offers %s", part)
		}
	}
	h.saved(base+"/access_check", "thrill", "present", "skin", "red") // as an older page sends it
	h.says(base, "Access look Red: one sign.")
	id := ""
	h.member("person-ida", func(m *record.Member) {
		_, e := session.Last[session.AccessCheck](m.Open())
		id = e.ID
	})
	if text := h.see(base + "/entry/" + id); !strings.Contains(text, `name="skin" value="red" checked`) || strings.Contains(text, `name="skin" value="swollen"`) {
		t.Error("the entry does not show what it says where it is corrected")
	}
	h.later(time.Minute)
	h.saved(base+"/access_check", "thrill", "present", "bruit", "present", "warm", "yes")
	h.says(base, "Access STOP Red, warm: two signs in 7 days. Ring your unit before you start.")
	if status, _, _ := h.post(base+"/access_check", formOf("bruit", "present")); status != http.StatusUnprocessableEntity {
		t.Errorf("without a thrill: %d", status)
	}

	rx := *mustRx(t, h)
	rx.Access, rx.AccessSide, rx.Technique, rx.GaugeA, rx.GaugeV = "catheter", "neck_or_chest", "none", 0, 0
	h.keep("person-ida", &rx)
	text = h.see(base + "/access_check")
	if !strings.Contains(text, `name="thrill" value="not_applicable"`) || strings.Contains(text, `name="thrill" value="absent"`) {
		t.Error("the form for a catheter asks for a thrill")
	}
}

// The complaints of potassium are read together.
func TestFitnessForm(t *testing.T) {
	h, _, base := openAfter(t, 2)
	text := h.see(base + "/fitness")
	_, group, found := strings.Cut(text, "<legend>New: ambulance first</legend>")
	group, _, _ = strings.Cut(group, "</fieldset>")
	if !found || strings.Count(group, `type="checkbox"`) != 6 {
		t.Errorf("the group holds %d ticks", strings.Count(group, `type="checkbox"`))
	}
	for _, key := range []string{"weakness", "heavy_legs", "tingling", "faint", "palpitations", "odd_pulse"} {
		if !strings.Contains(group, `name="`+key+`"`) {
			t.Errorf("%s stands elsewhere", key)
		}
	}
	if strings.Contains(text, " checked") {
		t.Error("something is ticked beforehand")
	}
}

// Whether an access is heard and not felt is asked for on the prescription.
func TestHeardNotFeltOnThePrescription(t *testing.T) {
	h, ida := settled(t)
	text := h.see(ida + "/prescription/new")
	for _, key := range []string{"access_heard_not_felt", "listen_each_time"} {
		if !strings.Contains(text, `name="`+key+`"`) {
			t.Errorf("the form lacks %s", key)
		}
	}
	rx := *mustRx(t, h)
	rx.HeardNotFelt = true
	h.keep("person-ida", &rx)
	h.says(ida+"/prescription", "This access is heard, not felt yes")
	base := h.saved(ida+"/session", "place", "home", "source", "live", "session", newID(), "person_confirmed", "yes")
	h.saved(base+"/access_check", "thrill", "absent", "bruit", "present", "skin", "clean")
	h.says(base, "Access ready Not felt, as your unit wrote; bruit heard, skin clean.")
}

// However long the gap, its hours and the sessions missed stand on Today, on How am
// I? and on the plan, a complaint beside it or not.
func TestEveryGapHasItsNumbers(t *testing.T) {
	for _, days := range []int{1, 3, 4, 5, 9} {
		for _, pairs := range [][]string{{"none_of_these", "yes"}, {"heavy_legs", "yes"}} {
			h, ida, base := openAfter(t, days)
			missed := ""
			h.member("person-ida", func(m *record.Member) {
				g := session.SinceLast(m.Open(), m.History(m.Open()), h.now)
				missed = strings.TrimPrefix(g.Words(), g.Hours()+" since the last session ended, ")
			})
			hours := strconv.Itoa(24*days) + " h"
			h.saved(base+"/weigh_in", "weight_kg", "65.7", "again.weight_kg", "65.7", "clothing_kg", "0", "scale", "bathroom", "read_in", "kg")
			h.saved(base+"/fitness", pairs...)
			for _, page := range []string{ida + "/", base + "/fitness", base} {
				h.says(page, hours+" since the last session ended, "+missed)
			}
			h.says(base+"/plan", "Since the last session ended "+hours+" "+missed)
		}
	}
}
