//go:build browser

package browsertest

import (
	"io"
	"log"
	"net/http"
	"net/http/httptest"
	"net/url"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/invented"
	"ebbline/internal/simulate"
	"ebbline/internal/web"
	"ebbline/record"
	"ebbline/session"
)

// A house is an invented household with its pages. Its clock runs, and the test
// moves it on.
type house struct {
	t     *testing.T
	desk  *household.Desk
	life  *simulate.Life
	start time.Time
	began time.Time
	moved atomic.Int64
	wire  *wire
	forms atomic.Int64
}

// empty opens a household in which nothing is written yet.
func empty(t *testing.T) *house { return home(t, 0, false) }

// home opens a household of so many months, with a session running when open
// is set.
func home(t *testing.T, months int, open bool) *house {
	t.Helper()
	h := &house{t: t, start: time.Date(2026, 6, 11, 19, 30, 0, 0, simulate.Zone()), began: time.Now()}
	path := filepath.Join(t.TempDir(), "house.ebb")
	if months > 0 {
		h.life = invented.MoveIn(t, path, h.start, months, open)
	}
	desk, err := household.Open(t.Context(), path, household.Options{Now: h.now, Zone: simulate.Zone()})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { desk.Close() })
	h.desk = desk
	screens, err := household.OpenScreens(desk.Path(), h.now)
	if err != nil {
		t.Fatal(err)
	}
	pages, err := web.New(desk, web.Options{Version: "browsertest", Hosts: []string{otherName}, Screens: screens})
	if err != nil {
		t.Fatal(err)
	}
	server := httptest.NewUnstartedServer(nil)
	h.wire = newWire(t, server.Listener.Addr().String())
	server.Config.Handler = h.wire.losing(pages)
	server.Config.ErrorLog = log.New(io.Discard, "", 0) // a cut line is no news here
	server.Start()
	t.Cleanup(func() { h.wire.cut(); server.CloseClientConnections(); server.Close() })
	return h
}

func (h *house) now() time.Time {
	return h.start.Add(time.Since(h.began) + time.Duration(h.moved.Load()))
}

// later moves the clock on.
func (h *house) later(d time.Duration) { h.moved.Add(int64(d)) }

// otherName is the name by which another screen of the house asks. Every browser
// finds names that end so on its own computer.
const otherName = "kitchen.localhost"

const vida = "/p/p-vida-hribar"

// id makes an id for an entry that the test itself writes.
func (h *house) id(kind string) string {
	return kind + "-test-" + strconv.FormatInt(h.forms.Add(1), 10)
}

// saved writes an entry by the same form that the pages send.
func (h *house) saved(path string, pairs ...string) {
	h.t.Helper()
	h.send(h.wire.url(), path, pairs...)
}

// aside writes an entry past the wire, as a screen does whose network stands.
func (h *house) aside(path string, pairs ...string) {
	h.t.Helper()
	h.send("http://"+h.wire.to, path, pairs...)
}

func (h *house) send(server, path string, pairs ...string) {
	h.t.Helper()
	form := url.Values{"id": {h.id("e")}}
	for i := 0; i+1 < len(pairs); i += 2 {
		form.Add(pairs[i], pairs[i+1])
	}
	req, err := http.NewRequestWithContext(h.t.Context(), http.MethodPost, server+path, strings.NewReader(form.Encode()))
	if err != nil {
		h.t.Fatal(err)
	}
	req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	req.Header.Set("Accept", "application/json")
	res, err := http.DefaultClient.Do(req)
	if err != nil {
		h.t.Fatal(err)
	}
	defer res.Body.Close()
	if b, _ := io.ReadAll(res.Body); res.StatusCode != http.StatusOK {
		h.t.Fatalf("POST %s %v: %d %s", path, pairs, res.StatusCode, b)
	}
}

// begun opens a session and returns its address.
func (h *house) begun() (base string) {
	h.t.Helper()
	id := h.id("s")
	h.saved(vida+"/session", "place", "home", "source", "live", "session", id)
	h.later(time.Minute)
	return vida + "/session/" + id
}

// ready writes everything up to the plan, which is still to be agreed.
func (h *house) ready() (base string) {
	h.t.Helper()
	base = h.begun()
	h.saved(base+"/fitness", "none_of_these", "yes")
	h.saved(base+"/access_check", "thrill", "present", "bruit", "present", "skin", "clean")
	h.saved(base+"/weigh_in", "weight_kg", "64.6", "clothing_kg", "0", "scale", "bathroom scale", "read_in", "kg")
	h.saved(base+"/vitals_before", "sitting_systolic_mmhg", "138", "sitting_diastolic_mmhg", "80", "standing_systolic_mmhg", "130", "standing_diastolic_mmhg", "78", "pulse_per_min", "70", "temperature_c", "36.5")
	h.saved(base+"/chlorine", "total_chlorine_mg_l", "0.02", "below", "yes", "method", "reagent", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2026-12", "sample_point", "first_carbon")
	h.saved(base+"/self_test", "passed", "yes", "tries", "1")
	h.saved(base+"/fluid_check", "machine_conductivity_ms_cm", "13.9", "meter_conductivity_ms_cm", "13.95", "machine_temperature_c", "36", "meter_temperature_c", "36.1")
	h.saved(base+"/bath_label", "label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31")
	for _, item := range []string{"dialyser", "lines", "needles", "saline", "bicarbonate cartridge"} {
		h.saved(base+"/supply", "item", item, "lot", "L1", "expiry", "2027-01-31")
	}
	h.saved(base+"/flush_drawn", "count", "2", "each_ml", "10", "lot", "F1", "expiry", "2027-01-31")
	h.saved(base+"/heparin_drawn", "strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "2050", "bolus_ml", "2", "line_ml", "2.05", "lot", "H1", "expiry", "2027-01-31")
	return base
}

// agreed writes everything up to the read-back.
func (h *house) agreed() (base string) {
	h.t.Helper()
	base = h.ready()
	h.agree(base)
	h.saved(base+"/read_back", "shown", h.goal(base), "machine_length_min", "250")
	return base
}

// agree agrees to the plan that the page would show.
func (h *house) agree(base string) {
	h.t.Helper()
	var pairs []string
	h.see(base, func(m *record.Member, s *session.Session) {
		made, err := session.MakePlan(s, session.Choices{}, m.History(s), h.now())
		if err != nil {
			h.t.Fatal(err)
		}
		kind, _ := record.Find("plan")
		for _, f := range kind.Fields {
			pairs = append(pairs, f.Key, f.Text(&made.AgreedPlan))
		}
	})
	h.saved(base+"/plan", pairs...)
}

// goal is the fluid goal of the agreed plan as the machine shows it.
func (h *house) goal(base string) (shown string) {
	h.t.Helper()
	h.see(base, func(_ *record.Member, s *session.Session) {
		if plan, _ := session.Last[session.AgreedPlan](s); plan != nil {
			shown, _ = s.Machine.ShowGoal(plan.SetGoal)
		}
	})
	digits, _, _ := strings.Cut(shown, " ")
	return strings.TrimSuffix(digits, "\u00a0L")
}

// running brings a session to treatment.
func (h *house) running() (base string) {
	h.t.Helper()
	base = h.agreed()
	h.saved(base+"/needling", "arterial_site", "A1", "venous_site", "V1", "arterial_gauge", "16", "venous_gauge", "16", "arterial_tries", "1", "venous_tries", "1")
	h.later(time.Minute)
	h.saved(base+"/connected", "blood_flow_ml_min", "310")
	h.later(5 * time.Minute)
	return base
}

// see lets f read the session of an address.
func (h *house) see(base string, f func(m *record.Member, s *session.Session)) {
	h.t.Helper()
	h.desk.View(func(rec *record.Household) {
		s := rec.Session(base[strings.LastIndex(base, "/")+1:])
		if s == nil {
			h.t.Fatalf("there is no session %s", base)
		}
		f(rec.Member("p-vida-hribar"), s)
	})
}

// written returns the entries of a kind in a session, those struck out left out.
func (h *house) written(base, kind string) (list []session.Event) {
	h.t.Helper()
	h.see(base, func(_ *record.Member, s *session.Session) {
		for _, e := range s.Log {
			if e.Kind == kind && e.Struck == nil {
				list = append(list, e)
			}
		}
	})
	return list
}

func (h *house) entries() (n int) {
	h.desk.View(func(r *record.Household) { n = r.Entries() })
	return n
}
