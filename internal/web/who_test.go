package web

import (
	"net/http"
	"strings"
	"testing"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/unit"
)

// couple adds somebody to a settled household.
func couple(t *testing.T) *house {
	h, _ := settled(t)
	to := h.saved("/people/new", "person", "person-jon", "name", "Jon Brook", "birth_year", "1969", "colour", "plum", "adult", "yes")
	if to != "/p/person-jon/prescription/new" {
		t.Fatalf("after adding somebody: %s", to)
	}
	rx := simulate.Prescription(unit.DateOf(h.now).Add(-20))
	rx.DryWeight = 82_000
	h.keep("person-jon", &rx)
	return h
}

func TestWho(t *testing.T) {
	h, ida := settled(t)
	if text := h.see("/"); !strings.Contains(text, "Start setting up") {
		t.Error("one person is asked who it is")
	}
	if status, _ := h.get("/p/nobody-here/"); status != http.StatusNotFound {
		t.Errorf("somebody unknown: %d", status)
	}
	h.silent(ida+"/", "someone else")

	h = couple(t)
	h.says("/", "Who is it?", "Ida Brook", "born 1971 · reed", "Jon Brook", "born 1969 · plum", "Numbers to ring")
}

// Two people need two colours.
func TestColoursDiffer(t *testing.T) {
	h, _ := settled(t)
	h.refused("/people/new", "is Ida Brook’s already", "person", "person-jon", "name", "Jon Brook", "birth_year", "1969", "colour", "reed", "adult", "yes")
}

// Every page of a person carries the name, the birth year and the colour, and
// no page of one says anything of the other.
func TestNameOnEveryPage(t *testing.T) {
	h := couple(t)
	for _, path := range []string{"/", "/unit", "/card", "/guide", "/prescription", "/prescription/new", "/session", "/sessions", "/run-sheet/set_up", "/question"} {
		text := h.see("/p/person-ida" + path)
		if !strings.Contains(text, "<b>Ida Brook</b> <span class=\"who-rest\">1971 · reed</span>") || !strings.Contains(text, `class="who colour-reed"`) {
			t.Errorf("%s does not say whose it is", path)
		}
		if !strings.Contains(text, "Ida Brook, born 1971 ·") {
			t.Errorf("a print of %s does not say whose it is", path)
		}
		if path != "/unit" && strings.Contains(text, "Jon Brook") {
			t.Errorf("%s of Ida names Jon", path)
		}
		if strings.Contains(text, "82 kg") || strings.Contains(text, "82\u00a0kg") {
			t.Errorf("%s of Ida shows Jon's dry weight", path)
		}
	}
}

// With two people a session begins only when the name is confirmed.
func TestTwoProfilesConfirm(t *testing.T) {
	h := couple(t)
	if text := h.see("/p/person-jon/session"); !strings.Contains(text, `name="person_confirmed"`) {
		t.Error("nobody asks whose session it is")
	}
	h.refused("/p/person-jon/session", "say that this is your page", "place", "home", "source", "live", "session", "session-jon-1")
	if to := h.saved("/p/person-jon/session", "place", "home", "source", "live", "session", "session-jon-1", "person_confirmed", "yes"); !strings.HasPrefix(to, "/p/person-jon/session/session-jon-1") {
		t.Errorf("to %s", to)
	}
	h.says("/", "a session is open since Thu 11 Jun, 19:30")
	if _, wrong, _ := strings.Cut(h.see("/"), "Who is it?"); strings.Contains(wrong, "✕") {
		t.Error("something is wrong where nothing is")
	}
	h.says("/p/person-jon/", "Go on with the session", "Setting up")
	h.says("/p/person-ida/", "Start setting up")
	h.desk.View(func(s *record.Household) {
		if s.Member("person-ida").Open() != nil {
			t.Error("the session opened for the other one too")
		}
	})
}
