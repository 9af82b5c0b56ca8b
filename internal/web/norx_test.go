package web

import (
	"context"
	"net/http"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
)

// A session whose prescription was struck out while setting up has none: each
// of its pages still opens, and none makes a plan.
func TestPagesOfASessionWithoutPrescription(t *testing.T) {
	h := home(t, 1, false)
	id := "session-norx"
	put := func(kind, of string, body any) {
		t.Helper()
		h.now = h.now.Add(time.Minute)
		out, err := h.desk.Record(context.Background(), record.Entry{ID: newID(), Kind: kind, Person: h.life.Person, Session: of, Body: body})
		if err != nil || !out.Clear() {
			t.Fatalf("%s: %v %v", kind, err, firstFinding(out))
		}
	}
	put("session_opened", id, &session.Opened{Place: "home", Source: "live", Confirmed: true})
	var versions []string
	h.desk.View(func(house *record.Household) {
		for _, rx := range house.Member(h.life.Person).Prescriptions {
			versions = append(versions, rx.ID)
		}
	})
	for _, version := range versions {
		put("struck", "", &record.Struck{Entry: version, Reason: "somebody else’s"})
	}
	h.desk.View(func(house *record.Household) {
		if s := house.Session(id); s.Rx != nil {
			t.Errorf("the session rests on %s, which was struck out", s.PrescriptionID)
		}
	})
	base := "/p/" + h.life.Person + "/session/" + id
	paths := []string{"/p/" + h.life.Person + "/", base, base + "/plan", base + "/read_back", base + "/heparin_drawn?strength_iu_ml=1000", base + "/sheet"}
	for _, k := range record.Kinds() {
		if k.Session && k.Name != "session_opened" && k.Name != "plan" {
			paths = append(paths, base+"/"+k.Name)
		}
	}
	for _, path := range paths {
		if status, text := h.get(path); status != http.StatusOK {
			t.Errorf("%s answers %d: %.200s", path, status, text)
		}
	}
}
