package web

import (
	"testing"
	"time"

	"ebbline/session"
)

// The answer to a save that said something to look at leads to what to do about it,
// with and without script; any other stays where it was.
func TestSavingLeadsToWhatToDo(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name, path string
		send       []string
		to         string // after the address of the session
	}{
		{"nothing to say", "/reading", []string{"systolic_mmhg", "130", "venous_mmhg", "135"}, ""},
		{"a drink", "/event/drink", []string{"volume_ml", "100"}, ""},
		{"a fall that nobody asks about", "/reading", []string{"systolic_mmhg", "101"}, "#wrong-low_pressure"},
		{"low pressure, one press", "/event/low_pressure", nil, "#wrong-low_pressure"},
		{"low pressure, with a figure", "/low_pressure", []string{"systolic_mmhg", "82"}, "#wrong-low_pressure"},
		{"hot fluid", "/reading", []string{"dialysate_temp_c", "38.9", "again.dialysate_temp_c", "38.9"}, "#wrong-fluid"},
		{"wrong fluid", "/reading", []string{"conductivity_ms_cm", "12.2", "again.conductivity_ms_cm", "12.2"}, "#wrong-fluid"},
		{"hot fluid and a fall", "/reading", []string{"dialysate_temp_c", "38.9", "again.dialysate_temp_c", "38.9", "systolic_mmhg", "101"}, "#wrong-fluid"},
		{"fluid a little off", "/reading", []string{"conductivity_ms_cm", "14.4"}, "#said"},
		{"venous fall", "/reading", []string{"venous_mmhg", "100", "blood_flow_ml_min", "310"}, "#said"},
		{"a fall beside it", "/reading", []string{"venous_mmhg", "100", "blood_flow_ml_min", "310", "systolic_mmhg", "101"}, "#wrong-low_pressure"},
		{"chest pain", "/event/unwell", []string{"words", "chest pain"}, "#wrong-heart"},
		{"chills", "/event/unwell", []string{"words", "chills"}, "#wrong-fever"},
		{"itch or wheeze", "/event/unwell", []string{"words", "itch or wheeze"}, "#wrong-reaction"},
		{"faint", "/event/unwell", []string{"words", "faint"}, "#wrong-low_pressure"},
		{"an alarm: air", "/alarm", []string{"words", "Air in the line", "looked_first", "true"}, "#wrong-air"},
		{"an alarm: blood leak", "/alarm", []string{"words", "blood leak"}, "#wrong-blood_leak"},
		{"an alarm: another", "/alarm", []string{"words", "venous low"}, "#wrong-alarm"},
		{"own words", "/unwell", []string{"words", "not quite myself"}, "#said"},
	} {
		for _, script := range []bool{false, true} {
			h := home(t, 2, false)
			base := h.begin()
			h.later(5 * time.Minute)
			h.saved(base+"/reading", "systolic_mmhg", "132", "blood_flow_ml_min", "310", "venous_mmhg", "135")
			h.later(30 * time.Minute)
			to := ""
			if script {
				form := formOf(tt.send...)
				form.Set("id", newID())
				to = h.postJSON(base+tt.path, form).Next
			} else {
				to = h.saved(base+tt.path, tt.send...)
			}
			if to != base+tt.to {
				t.Errorf("%s, script %v: leads to %s, want %s", tt.name, script, to, base+tt.to)
			}
		}
	}
}

// Said already, a look leads nowhere again, but for a reading that is low: a value typed
// late that no longer stands, and a session from paper.
func TestSavingLeadsOnlyToWhatItSaid(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "101")
	h.later(5 * time.Minute)
	if to := h.saved(base+"/reading", "systolic_mmhg", "102"); to != base+"#wrong-low_pressure" {
		t.Errorf("a low reading that is no new fall leads to %s", to)
	}
	h.later(5 * time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "130")
	ago := h.now.Add(-20 * time.Minute).Format("15:04")
	if to := h.saved(base+"/unwell", "words", "sick", "clock", ago); to != base {
		t.Errorf("what no longer stands leads to %s", to)
	}
	if to := h.saved(base+"/unwell", "words", "chills", "clock", ago); to != base+"#wrong-fever" {
		t.Errorf("what is one for the ambulance and not answered leads to %s", to)
	}
	if to := h.saved(base+"/trouble", "trouble", session.TroubleFluid, "state", "open"); to != base {
		t.Errorf("a trouble that the person opened leads to %s", to)
	}
	paper := home(t, 2, false)
	id := newID()
	paper.saved(vida+"/session", "place", "home", "source", "paper", "session", id, "day", "2026-06-10", "clock", "18:00")
	on := vida + "/session/" + id
	paper.saved(on+"/connected", "clock", "18:40")
	if to := paper.saved(on+"/low_pressure", "systolic_mmhg", "74", "clock", "19:30"); to != on {
		t.Errorf("from paper it leads to %s", to)
	}
}
