package web

import (
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// The page that begins a session counts the steps that the session then asks for, of
// every kind of treatment.
func TestStartPageCountsTheSessionsSteps(t *testing.T) {
	h := home(t, 1, false)
	counted := func(removal bool) (ids []string) {
		asks := httptest.NewRequest(http.MethodGet, vida+"/session", nil)
		if removal { // the form came back
			asks = httptest.NewRequest(http.MethodPost, vida+"/session", strings.NewReader("removal_only=yes"))
			asks.Header.Set("Content-Type", "application/x-www-form-urlencoded")
		}
		h.desk.View(func(r *record.Household) {
			made, err := new(server).startPage(visit{Request: asks, house: r, now: h.now, member: r.Member("p-vida-hribar")}, func(f form) form { return f })
			if err != nil {
				t.Fatal(err)
			}
			ids = steps(made.body.(startBody).Sheet)
		})
		return ids
	}
	seen := map[string]bool{}
	for _, tt := range []struct {
		name, machine string
		order         func(rx *session.Prescription)
		removal       bool
	}{
		{"tap water", "single_pass", nil, false},
		{"a batch", "batch", nil, false},
		{"bags", "bags", nil, false},
		{"bags or a batch", "low_volume", nil, false},
		{"removal only", "single_pass", nil, true},
		{"no heparin", "single_pass", noHeparin, false},
		{"bags, no heparin", "bags", noHeparin, false},
		{"one needle", "single_pass", func(rx *session.Prescription) { rx.SingleNeedle = true }, false},
		{"haemodiafiltration", "single_pass", func(rx *session.Prescription) {
			litres := unit.Litres(23_000)
			rx.Filtration, rx.Substitution, rx.SubstitutionPlace = true, &litres, session.SubstitutedAfter
		}, false},
		{"a night", "single_pass", func(rx *session.Prescription) { night := unit.Minutes(480); rx.Length = &night }, false},
		{"a catheter", "single_pass", func(rx *session.Prescription) {
			rx.Access, rx.AccessSide, rx.Technique, rx.GaugeA, rx.GaugeV = "catheter", "neck_or_chest", "none", 0, 0
			rx.OrderedLock = citrate()
		}, false},
	} {
		h.later(time.Minute)
		h.described(tt.machine)
		was := h.order()
		if tt.order != nil {
			h.ordersAnew(tt.order)
		}
		pairs := []string{"place", "home", "source", "live", "session", newID()}
		before := counted(tt.removal)
		if tt.removal {
			pairs = append(pairs, "removal_only", "yes")
		}
		base := h.saved(vida+"/session", pairs...)
		h.desk.View(func(r *record.Household) {
			one := r.Session(base[strings.LastIndex(base, "/")+1:])
			now := steps(r.Member(one.Person).SetUpFor(one, h.now))
			if !slices.Equal(before, now) {
				t.Errorf("%s: counted are\n%v\nand the session asks for\n%v", tt.name, before, now)
			}
			seen[strings.Join(now, " ")] = true
		})
		h.later(time.Minute)
		h.strikeSession(base)
		if tt.order != nil {
			h.later(time.Minute)
			h.ordersAnew(func(rx *session.Prescription) { *rx = was })
		}
	}
	if len(seen) < 8 {
		t.Errorf("only %d sheets differ", len(seen))
	}
}

// steps are the ids of the steps of a sheet, with what each waits for.
func steps(sheet session.RunSheet) (ids []string) {
	for _, st := range sheet.Steps {
		ids = append(ids, st.ID+strings.Join(st.After, ","))
	}
	return ids
}

// order is the prescription of Vida that is in force.
func (h *house) order() (rx session.Prescription) {
	h.desk.View(func(r *record.Household) { rx = r.Member("p-vida-hribar").Prescription(unit.DateOf(h.now)).Value })
	return rx
}
