package web

import (
	"net/http"
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// wrongLinks are the ways from a check to what was typed wrong.
func (h *house) wrongLinks(base, check string) (list []string) {
	h.t.Helper()
	_, text, _ := strings.Cut(h.see(base), `<li class="check is-`)
	_, text, there := strings.Cut(text, `id="check-`+check+`"`)
	if !there {
		h.t.Fatalf("there is no check %s", check)
	}
	text, _, _ = strings.Cut(text, `<li class="check`)
	for _, m := range regexp.MustCompile(`<a class="wrong" href="([^"]*)">([^<]*)`).FindAllStringSubmatch(text, -1) {
		list = append(list, m[2]+" "+m[1])
	}
	return list
}

// A slip of a finger is found from the stop that it made, not only among all entries
// of the session.
func TestAStopLeadsToWhatWasTypedWrong(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	if got := h.wrongLinks(base, session.CheckFit); len(got) != 0 {
		t.Errorf("before anything was typed: %v", got)
	}
	h.saved(base+"/fitness", "fever", "yes")
	h.saved(base+"/bath_label", "label_k_mmol_l", "3", "label_ca_mmol_l", "1.5", "lot", "B1", "expiry", "2027-01-31")
	for check, kind := range map[string]string{session.CheckFit: "fitness", session.CheckBath: "bath_label"} {
		page := base + "/entry/" + h.latest(base, kind)
		if got := h.wrongLinks(base, check); len(got) != 1 || got[0] != "Typed wrong? Correct it "+page {
			t.Errorf("%s: %v", check, got)
		}
		if text := h.see(page); !strings.Contains(text, `name="corrects"`) {
			t.Errorf("%s: nothing is corrected there", page)
		}
	}
	page := base + "/entry/" + h.latest(base, "bath_label")
	form := fieldsOf(t, h.see(page), page)
	form.Set("label_k_mmol_l", "2")
	form.Set("reason", "a slip of the finger, the label says 2")
	if status, _, text := h.post(page, form); status != http.StatusSeeOther {
		t.Fatalf("%d %s", status, problems(text))
	}
	if got := h.wrongLinks(base, session.CheckBath); len(got) != 0 {
		t.Errorf("put right: %v", got)
	}
}

// What the shelf has of a lot may be the slip: the stop leads to the delivery too.
func TestAStopOfTheShelfLeadsToTheDelivery(t *testing.T) {
	h := home(t, 1, false)
	h.keep("", &record.StockItem{Item: "heparin vial", PerSession: pieces(1), Pack: unit.Piece, Storage: "room"})
	page := vida + "/shelf/delivery"
	form := fieldsOf(t, h.see(page), page)
	for key, value := range map[string]string{
		"item.0": "heparin vial", "lot.0": "H-70", "expires.0.year": "2027", "expires.0.month": "8", "pieces.0": "10", "strength_iu_ml.0": "5000",
	} {
		form.Set(key, value)
	}
	if status, _, text := h.post(page, form); status != http.StatusSeeOther {
		t.Fatalf("not taken: %d %s", status, problems(text))
	}
	id := ""
	h.desk.View(func(r *record.Household) { id = r.Upkeep.Deliveries[len(r.Upkeep.Deliveries)-1].ID })
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.later(time.Minute)
	h.saved(base+"/heparin_drawn", "strength_iu_ml", "1000", "bolus_iu", "2000", "line_iu", "2050", "bolus_ml", "2", "line_ml", "2.05", "lot", "H-70", "expiry", "2027-08-31")
	want := []string{
		"Typed wrong? Correct it " + base + "/entry/" + h.latest(base, "heparin_drawn"),
		"Wrong on the shelf? The delivery " + vida + "/kept/" + id,
	}
	if got := h.wrongLinks(base, session.CheckHeparin); strings.Join(got, "; ") != strings.Join(want, "; ") {
		t.Errorf("%v, want %v", got, want)
	}
	h.says(vida+"/kept/"+id, "H-70", "Strike it out")
}

// A check of the plan leads to the page on which it is answered: what the machine
// shows to the reading back, all else to the plan.
func TestAStopOfThePlanLeadsToTheReadingBack(t *testing.T) {
	const back, plan = "Read it back /s/read_back", "Write it down /s/plan"
	for _, tt := range []struct {
		codes, want []string
	}{
		{[]string{"plan_goal"}, []string{back}},
		{[]string{"plan_goal", "plan_length"}, []string{back}},
		{[]string{"plan_not_read"}, []string{back}},
		{[]string{"plan_rate_stop", "plan_goal"}, []string{back, plan}},
		{[]string{"plan_weight"}, []string{plan}},
		{[]string{"plan_open"}, []string{plan}},
		{nil, []string{plan}},
	} {
		var got []string
		for _, l := range planLinks(session.Check{ID: session.CheckPlan, Codes: tt.codes}, "/s") {
			got = append(got, l.Words+" "+l.Link)
		}
		if strings.Join(got, "; ") != strings.Join(tt.want, "; ") {
			t.Errorf("%v: %v, want %v", tt.codes, got, tt.want)
		}
	}
	h := home(t, 2, false)
	base := h.setUp()
	agreed := h.plan(base)
	if status, _, text := h.post(base+"/plan", agreed); status != http.StatusSeeOther {
		t.Fatalf("the plan was not taken: %s", problems(text))
	}
	h.later(time.Minute)
	h.saved(base+"/read_back", "shown", h.dialled(base, "1500"), "machine_length_min", agreed.Get("length_min"))
	_, check, _ := strings.Cut(h.see(base), `id="check-plan"`)
	check, _, _ = strings.Cut(check, `<li class="check`)
	if !strings.Contains(check, "Set the machine again.") || !strings.Contains(check, `href="`+base+`/read_back">Read it back</a>`) || strings.Contains(check, `href="`+base+`/plan"`) {
		t.Errorf("on the page: %s", plainText(check))
	}
}

// Told to ring the technician one finds the number, or that none is written.
func TestNoNumberOfATechnicianIsSaid(t *testing.T) {
	const words = "No number of a technician is written on Unit"
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	h.saved(base+"/self_test", "tries", "2")
	h.says(base, "Ring the technician")
	h.silent(base, words)
	h.later(time.Minute)
	h.keep("", &record.KidneyUnit{Name: "Unit by the mill (invented)", Day: "+000 1 23", Night: "+000 1 99", Ambulance: "112"})
	h.says(base, words)
	if text := h.see(base); !strings.Contains(text, `written on <a href="`+vida+`/unit">Unit</a>`) {
		t.Error("no way to where it is written")
	}
}

// The residue test is asked for while setting up: left alone it leads back there.
func TestResidueTestLeadsBackToTheSession(t *testing.T) {
	h := home(t, 2, false)
	base := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	page := vida + "/round/residual"
	back := func(text string) string {
		_, text, _ = strings.Cut(text, `<a class="quiet" href="`)
		to, rest, _ := strings.Cut(text, `"`)
		if !strings.HasPrefix(rest, ">not now") {
			return "nowhere"
		}
		return to
	}
	if got := back(h.see(page + "?next=" + base)); got != base {
		t.Errorf("it leads to %s", got)
	}
	if _, _, text := h.post(page, formOf("looked_for", "chlorine", "next", base)); back(text) != base {
		t.Errorf("refused it leads to %s", back(text))
	}
	if got := back(h.see(page)); got != vida+"/round/water" {
		t.Errorf("from the round it leads to %s", got)
	}
	if got := back(h.see(page + "?next=https://elsewhere.example/")); got != vida+"/round/water" {
		t.Errorf("it leads to %s", got)
	}
}
