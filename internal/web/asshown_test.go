package web

import (
	"net/http"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// goalNow is the goal of the session as it counts now.
func (h *house) goalNow(base string) (ml string) {
	h.t.Helper()
	h.desk.View(func(rec *record.Household) {
		if b, _ := session.Last[session.GoalChanged](rec.Session(base[strings.LastIndex(base, "/")+1:])); b != nil {
			ml = b.Goal.String()
		}
	})
	return ml
}

// A goal changed on a machine that shows litres is typed as it stands there,
// at a field that says so; it comes back, and is asked about, in litres.
func TestGoalChangedInLitres(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	h.saved(base+"/reading", "removed_ml", "300")

	_, text := h.get(base + "/goal_changed")
	if plain := plainText(text); !strings.Contains(plain, "Goal now, as the machine shows it L") || strings.Contains(plain, "Goal now, as the machine shows it mL") {
		t.Errorf("the field does not name litres")
	}
	for _, want := range []string{`name="shown.goal_ml"`, `data-pad="2"`, `data-hi="10"`} {
		if !strings.Contains(text, want) {
			t.Errorf("the field lacks %s", want)
		}
	}

	// A slip of unit, scale or finger, and the words that answer it.
	for _, tt := range []struct{ typed, words string }{
		{"2400", "“2400” litres is not accepted: needs what the machine shows, in litres. If that was millilitres, it is 2.40 L"},
		{"10.5", "“10.5” litres is not accepted"},
		{"2..4", "“2..4” is not accepted"},
		{"2.40001", "at most 3 decimals"},
		{"0.25", "0.25 L is less than the 0.30 L removed already. If the machine shows it, type it again"},
		{"4.2", "4.20 L is outside 0.10 to 4.00 L. If it is right, type it again"},
		{"", "is still blank"},
	} {
		status, _, text := h.post(base+"/goal_changed", formOf("shown.goal_ml", tt.typed))
		if status != http.StatusUnprocessableEntity || !strings.Contains(plainText(text), tt.words) {
			t.Errorf("%q: %d, want it back with %q\n%s", tt.typed, status, tt.words, problems(text))
		}
		if tt.typed != "" && !strings.Contains(text, `value="`+tt.typed+`"`) {
			t.Errorf("%q does not stand in the field any more", tt.typed)
		}
		if tt.typed != "" && strings.Contains(problems(text), "blank") {
			t.Errorf("%q is called blank as well", tt.typed)
		}
	}
	h.refused(base+"/goal_changed", "was typed as 4.20 and then as 2.40 L", "shown.goal_ml", "4.2", "again.shown.goal_ml", "2.40")
	if ml := h.goalNow(base); ml != "" {
		t.Fatalf("one of them was taken: %s mL", ml)
	}

	h.saved(base+"/goal_changed", "shown.goal_ml", "2,10")
	if ml := h.goalNow(base); ml != "2100" {
		t.Fatalf("2,10 on the machine is kept as %s mL", ml)
	}
	h.says(base, "Goal now 2.10 L")
	h.says(base+"/sheet", "now 2.10 L")

	// To be corrected it stands there as the machine showed it.
	var id string
	h.desk.View(func(rec *record.Household) {
		_, e := session.Last[session.GoalChanged](rec.Session(base[strings.LastIndex(base, "/")+1:]))
		id = e.ID
	})
	if _, text := h.get(base + "/entry/" + id); !strings.Contains(text, `name="shown.goal_ml" type="text" inputmode="decimal" class="number" value="2.10"`) {
		t.Errorf("the correction does not begin with 2.10")
	}
	h.saved(base+"/entry/"+id, "shown.goal_ml", "2.20", "reason", "misread")
	if ml := h.goalNow(base); ml != "2200" {
		t.Errorf("corrected to 2.20 it is kept as %s mL", ml)
	}
}

// On a machine that shows millilitres nothing is turned, and the field says mL.
func TestGoalChangedInMillilitres(t *testing.T) {
	h := home(t, 2, false)
	h.keep("", &session.Machine{Name: "the machine", GoalUnit: "mL", Kind: "single_pass"})
	base := h.begin()
	h.later(30 * time.Minute)
	_, text := h.get(base + "/goal_changed")
	if !strings.Contains(plainText(text), "Goal now, as the machine shows it mL") || !strings.Contains(text, `name="goal_ml"`) {
		t.Errorf("the field does not name millilitres")
	}
	h.refused(base+"/goal_changed", "2.4 L is 2400 mL", "goal_ml", "2.4")
	h.saved(base+"/goal_changed", "goal_ml", "2130")
	h.says(base, "Goal now 2130 mL")
	h.says(base+"/sheet", "now 2130 mL")
}

// A volume or a rate that is written in millilitres says so at its field, and
// one typed in litres comes back with its millilitres.
func TestLitresInMillilitreFields(t *testing.T) {
	h := home(t, 2, false)
	base := h.begin()
	h.later(30 * time.Minute)
	_, text := h.get(base)
	for _, label := range []string{"Removal rate mL/h", "Removed so far mL"} {
		if !strings.Contains(plainText(text), label) {
			t.Errorf("the reading has no field %q", label)
		}
	}
	h.refused(base+"/reading", "“1.24” is not accepted: type it in mL, a whole number. 1.24 L is 1240 mL", "removed_ml", "1.24")
	h.refused(base+"/reading", "“0,6” is not accepted: type it in mL/h, a whole number. 0,6 L/h is 600 mL/h", "removal_rate_ml_h", "0,6")
	h.refused(base+"/drink", "0.15 L is 150 mL", "volume_ml", "0.15")
	h.refused(base+"/came_off", "2.4 L is 2400 mL", "removed_ml", "2.4", "washback_ml", "250", "returned", "all")
	h.lookedFirst(base)
	h.says(base+"/came_off", "Removed, from the machine mL")
}
