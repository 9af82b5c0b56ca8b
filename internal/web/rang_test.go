package web

import (
	"context"
	"encoding/json"
	"fmt"
	"html"
	"maps"
	"net/http"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
)

// Beside a stop that asks to ring stands a form with the unit's numbers; what is
// written there answers it, and stands on the sheet (H-140, H-69).
func TestCallIsWrittenDownBesideTheStop(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	form := `action="` + base + `/rang"`
	if text := mainOf(h.see(base)); strings.Contains(text, form) {
		t.Error("a call is asked for before anything stopped")
	}
	h.saved(base+"/fitness", "fever", "yes")
	text := h.see(base)
	check := text[strings.Index(text, `id="check-fit"`):]
	check = html.UnescapeString(check[:strings.Index(check, "</li>")])
	if !strings.Contains(check, form) || !strings.Contains(check, "I rang: write it down") || !strings.Contains(check, "Nobody reached?") {
		t.Fatalf("no form for the call beside the stop:\n%s", check)
	}
	numbers := []string{"Unit, by day, +000 1 555 01 10", "Unit, at night, +000 1 555 01 99", "Technician, +000 1 555 01 44", "Ambulance, 112"}
	at := 0
	for _, number := range numbers {
		i := strings.Index(check[at:], `value="`+number+`"`)
		if i < 0 {
			t.Errorf("%q is not offered, or not in this order", number)
			continue
		}
		at += i
	}
	h.refused(base+"/rang", "whom", "said", "come in slowly")
	h.refused(base+"/rang", "too short", "whom", numbers[0], "said", "ok")
	h.refused(base+"/rang", "Nobody was reached: that is a reason to go past it", "whom", numbers[0], "said", "no answer, tried twice")
	const both = "night number engaged, the nurse: come in"
	h.refused(base+"/rang", "Was somebody reached?", "whom", numbers[0], "said", both)
	h.refused(base+"/rang", "typed again", "whom", numbers[0], "said", both)
	h.refused(base+"/fitness", "Nobody was reached", "chest_pain", "yes", "rang", "nobody")
	if to := h.saved(base+"/rang", "whom", numbers[0], "whom", "Nurse Kos", "said", "come in slowly", "next", base+"#start-line"); to != base+"#start-line" {
		t.Errorf("it leads to %s", to)
	}
	h.says(base, "You rang Unit, by day, +000 1 555 01 10 Nurse Kos at 19:30: come in slowly.")
	if text := mainOf(h.see(base)); strings.Contains(text, form) {
		t.Error("rung about, the form is still there")
	}
	h.says(base+"/sheet", "Rang Unit, by day, +000 1 555 01 10 Nurse Kos: come in slowly")
	// A stop that has to be put right has no such form.
	h.saved(base+"/bath_label", "label_k_mmol_l", "3", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31")
	if text := mainOf(h.see(base)); strings.Contains(text, form) {
		t.Error("a wrong label is answered by a call")
	}
}

// What stopped and is undone asks for a sentence, and stands on the sheet.
func TestUndoneStopStandsOnTheSheet(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.saved(base+"/bath_label", "label_k_mmol_l", "3", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31")
	entry := base + "/entry/" + h.latest(base, "bath_label")
	h.refused(entry+"/strike", "this stopped the start (Label K 3, prescribed 2", "reason", "oops")
	h.refused(entry, "this stopped the start", "label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31", "reason", "typo")
	h.saved(entry+"/strike", "reason", "that was the canister for the neighbour")
	h.says(base+"/sheet", "Undone after it stopped the start (bath, 19:30):", "Label K 3, prescribed 2. Do not use it. Struck out by", "Reason: that was the canister for the neighbour")
}

// The first carbon fails, the second holds: the start line says it, and it is a
// task on Today, Water and Round until the carbon is changed.
func TestFailedFirstCarbonOnThePages(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	sample := func(mgL, point string) {
		h.saved(base+"/chlorine", "total_chlorine_mg_l", mgL, "again.total_chlorine_mg_l", mgL, "method", "photometer", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2026-12", "sample_point", point)
		h.later(time.Minute)
	}
	sample("0.15", "first_carbon")
	h.says(base, "0.15 mg/L, limit 0.1, after the first carbon. Test after the second.")
	sample("0.03", "second_carbon")
	h.says(base, "At 19:30: First carbon: 0.15 mg/L, limit 0.1. Have it changed. At 19:31: 0.03 mg/L")
	for _, page := range []string{vida + "/", vida + "/round", vida + "/round/water"} {
		h.says(page, "The first carbon let chlorine through: 0.15 mg/L on 11 June 2026, limit 0.1.", "14 June 2026", "+000 1 555 01 44")
	}
	h.says(vida+"/round/task/"+firstOver(h), "The first carbon let chlorine through", "It is seen to")
	h.saved(vida+"/round/done/carbon", "item", "carbon", "outcome", "done", "lot", "F9")
	for _, page := range []string{vida + "/", vida + "/round", vida + "/round/water"} {
		if strings.Contains(h.see(page), "first carbon let chlorine through") {
			t.Errorf("%s: the carbon is changed, and its failing waits", page)
		}
	}
}

func firstOver(h *house) (id string) {
	h.desk.View(func(r *record.Household) {
		for _, f := range r.CarbonFailures(h.now) {
			id = f.ID
		}
	})
	return id
}

// A disinfection while setting up: refused with the lines on, taken when they are
// off again; what it undoes is open again, steps too, and a chemical one waits for
// its residue test (H-78, H-79).
func TestDisinfectionWhileSettingUpByForms(t *testing.T) {
	h := home(t, 2, false)
	base := h.setUp()
	h.later(time.Minute)
	h.refused(base+"/disinfection", "take the lines off first", "programme", "chemical", "result", "passed")
	if text := h.see(base + "/disinfection"); !strings.Contains(text, "Lines are off again") {
		t.Error("the page of the disinfection does not say how they come off")
	}
	h.says(base, "lines are off again")
	h.saved(base+"/step", "phase", "set_up", "step", "lines", "state", "undone")
	h.later(time.Minute)
	h.saved(base+"/disinfection", "programme", "chemical", "result", "passed")
	h.says(base, "Chemical disinfection, 19:33. Test for residue; write the result.", "Done before the disinfection at 19:33: do it again.")
	if text := h.see(base); strings.Count(text, "Done before the disinfection at 19:33") != 3 || !strings.Contains(text, `href="`+vida+`/round/residual?next=`+base) {
		t.Error("not each of the three checks is open again, or nothing leads to the test")
	}
	h.later(time.Minute)
	if to := h.saved(vida+"/round/residual", "looked_for", "chlorine", "value_mg_l", "0.05", "below", "yes", "lot", "R1", "expiry", "2026-12", "next", base); to != base {
		t.Errorf("the test leads to %s", to)
	}
	h.says(base, "Residue test 19:34: less than 0.05 mg/L chlorine.")
	h.saved(base+"/self_test", "passed", "yes", "tries", "1")
	h.saved(base+"/bath_label", "label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31")
	h.saved(base+"/fluid_check", "machine_conductivity_ms_cm", "13.9", "meter_conductivity_ms_cm", "13.95", "machine_temperature_c", "36", "meter_temperature_c", "36.1")
	if text := h.see(base); strings.Contains(text, "Done before the disinfection") {
		t.Error("done again, a check is still open")
	}
	h.says(base+"/sheet", "Disinfected chemical, passed · 19:33")
}

// The same evening by forms, as entries of a file, and typed in from paper: the
// start lines are the same, key by key.
func TestStopsByThreeRoads(t *testing.T) {
	type step struct {
		after time.Duration
		path  string // of the session's page, or of the person's with a slash before it
		pairs []string
	}
	evening := []step{
		{0, "fitness", []string{"fever", "yes"}},
		{time.Minute, "chlorine", []string{"total_chlorine_mg_l", "0.15", "again.total_chlorine_mg_l", "0.15", "method", "photometer", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2026-12-31", "sample_point", "product"}},
		{time.Minute, "self_test", []string{"passed", "", "tries", "1"}},
		{time.Minute, "rang", []string{"whom", "Unit, at night, +000 1 555 01 99", "said", "test again, come in slowly"}},
		{time.Minute, "fitness", []string{"none_of_these", "yes"}},
		{time.Minute, "self_test", []string{"passed", "yes", "tries", "1"}},
		{time.Minute, "chlorine", []string{"total_chlorine_mg_l", "0.02", "method", "photometer", "reads_down_to_mg_l", "0.02", "lot", "C1", "expiry", "2026-12-31", "sample_point", "product"}},
		{time.Minute, "bath_label", []string{"label_k_mmol_l", "2", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31"}},
		{time.Minute, "disinfection", []string{"programme", "chemical", "result", "passed"}},
		{time.Minute, "/round/residual", []string{"looked_for", "chlorine", "value_mg_l", "0.5", "lot", "R1", "expiry", "2026-12-31"}},
		{time.Minute, "/round/residual", []string{"looked_for", "chlorine", "value_mg_l", "0.05", "lot", "R1", "expiry", "2026-12-31"}},
	}
	// what is known of a check, without what differs by road
	type said struct {
		State session.CheckState
		Codes []string
		Words string
		Limit string
	}
	lines := map[string][]map[string]said{}
	for _, road := range []string{"forms", "file", "paper"} {
		h := home(t, 2, false)
		id := newID()
		base := vida + "/session/" + id
		source, start := "live", h.now
		if road == "paper" {
			source = "paper"
		}
		switch road {
		case "forms":
			h.saved(vida+"/session", "place", "home", "source", source, "session", id)
		default:
			h.sends(fileLine("session_opened", h.now, id, `{"place":"home","source":"`+source+`","person_confirmed":true}`, ""))
		}
		for i, one := range evening {
			h.later(one.after)
			kind, house := one.path, strings.HasPrefix(one.path, "/")
			path := base + "/" + one.path
			if house {
				kind, path = "residual_test", vida+one.path
			}
			if road == "forms" {
				h.saved(path, one.pairs...)
			} else {
				k, _ := record.Find(kind)
				form := formOf(one.pairs...)
				body, found := k.FromForm(func(key string) []string { return form[key] })
				if len(found) > 0 {
					t.Fatal(found)
				}
				values, err := json.Marshal(body)
				if err != nil {
					t.Fatal(err)
				}
				again := form.Get("again.total_chlorine_mg_l")
				raw := fileLine(kind, h.now, id, string(values), again)
				if house {
					raw = strings.NewReplacer(`"session":"`+id+`",`, "", `"person":"p-vida-hribar",`, "").Replace(raw)
				}
				h.sends(raw)
			}
			h.desk.View(func(r *record.Household) {
				s := r.Session(id)
				line := map[string]said{}
				for _, c := range session.StartLine(s, r.Member("p-vida-hribar").History(s), h.now) {
					line[c.ID] = said{c.State, c.Codes, c.Words, c.Limit}
				}
				lines[road] = append(lines[road], line)
			})
			if i == 0 && !h.now.Equal(start) {
				t.Fatal("the clock runs ahead")
			}
		}
		// At the end, in words.
		last := lines[road][len(evening)-1]
		for check, want := range map[string]session.CheckState{
			session.CheckFit: session.Look, session.CheckChlorine: session.StopHere, session.CheckSelfTest: session.OpenYet,
			session.CheckBath: session.OpenYet, session.CheckCleaned: session.Look,
		} {
			if last[check].State != want {
				t.Errorf("%s, %s: %s %q, want %s", road, check, last[check].State, last[check].Words, want)
			}
		}
	}
	for _, road := range []string{"file", "paper"} {
		for i := range evening {
			for _, check := range slices.Sorted(maps.Keys(lines["forms"][i])) {
				if got, want := lines[road][i][check], lines["forms"][i][check]; !reflect.DeepEqual(got, want) {
					t.Errorf("after %s, %s by %s is\n%+v\nand by forms\n%+v", evening[i].path, check, road, got, want)
				}
			}
			if len(lines[road][i]) != len(lines["forms"][i]) {
				t.Errorf("after %s, by %s there are %d checks, by forms %d", evening[i].path, road, len(lines[road][i]), len(lines["forms"][i]))
			}
		}
	}
}

// latest is the id of a session's last entry of a kind.
func (h *house) latest(base, kind string) (id string) {
	h.desk.View(func(r *record.Household) {
		for _, e := range r.Session(base[strings.LastIndex(base, "/")+1:]).Log {
			if e.Kind == kind {
				id = e.ID
			}
		}
	})
	return id
}

// fileLine is one line of a file of entries.
func fileLine(kind string, at time.Time, session, values, again string) string {
	if again != "" {
		again = fmt.Sprintf(`"again":{"total_chlorine_mg_l":%q},`, again)
	}
	return fmt.Sprintf(`{"id":%q,"kind":%q,"at":%q,"zone":%q,"person":"p-vida-hribar","session":%q,%s"values":%s}`,
		newID(), kind, at.UTC().Format(time.RFC3339), simulate.Zone(), session, again, values)
}

// sends records a line as the command does.
func (h *house) sends(raw string) {
	h.t.Helper()
	e, err := record.ReadEntry([]byte(raw))
	if err != nil {
		h.t.Fatalf("%s: %v", raw, err)
	}
	if out, err := h.desk.Record(context.Background(), e); err != nil || !out.Clear() {
		h.t.Fatalf("%s: %v %v", raw, err, firstFinding(out))
	}
}

// A first session of a machine waits for its rinse and residue test, and both are
// one tap from the start line.
func TestFirstSessionWaitsForResidue(t *testing.T) {
	h := nobodyIn(t, "Europe/London", time.Date(2026, 3, 12, 17, 0, 0, 0, time.UTC))
	h.keep("p-vida-hribar", &record.Person{Name: "Vida Hribar", BirthYear: 1969, Colour: "fern", Adult: true})
	rx := simulate.Prescription(h.desk.Today().Add(-20))
	h.keep("p-vida-hribar", &rx)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.says(base, "New here: no session was treated on it. Rinse; residue test.")
	text := h.see(base)
	for _, link := range []string{vida + "/round/residual?next=" + base, vida + "/round/done/rinse?next=" + base} {
		if !strings.Contains(text, `href="`+link+`"`) {
			t.Errorf("nothing leads to %s", link)
		}
		if status, _ := h.get(link); status != http.StatusOK {
			t.Errorf("%s: %d", link, status)
		}
	}
	residue := []string{"looked_for", "peracetic", "value_mg_l", "0.5", "below", "yes", "lot", "R1", "expiry", "2026-12-31", "next", base}
	h.saved(vida+"/round/residual", residue...)
	h.says(base, "No rinse is written since. Rinse; write when.", "Residue test 17:00: less than 0.5 mg/L peracetic acid or peroxide.")
	if text := h.see(base); !strings.Contains(text, `href="`+vida+"/round/done/rinse?next="+base+`"`) {
		t.Error("nothing leads from the stop to the rinse")
	}
	h.saved(vida+"/round/done/rinse", "item", "rinse", "outcome", "done", "note", "twenty minutes", "next", base)
	h.says(base, "New here, rinsed and tested, 17:00: less than 0.5 mg/L peracetic acid or peroxide.")
	if text := h.see(base); strings.Contains(text, "No rinse is written") {
		t.Error("the rinse was written, and the start line does not know it")
	}
}
