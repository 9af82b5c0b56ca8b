package web

import (
	"encoding/json"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// threeTicks is what is looked at before the pump starts to give the blood back.
var threeTicks = []string{"saline_on_arterial_line", "yes", "its_clamp_open", "yes", "venous_line_to_me", "yes"}

// lookedFirst ticks what is looked at before the pump gives the blood back.
func (h *house) lookedFirst(base string) {
	h.t.Helper()
	h.saved(base+"/washback_checked", threeTicks...)
}

// runs is a house with a session that runs, and its address.
func runs(t *testing.T) (*house, string) {
	h := home(t, 1, true)
	return h, vida + "/session/" + h.life.Open
}

// sentJSON posts a form as the page's script does.
func (h *house) sentJSON(path string, form url.Values) (status int, answer struct {
	Saved    bool
	Next     string
	Findings []struct{ Field, Words string }
}) {
	h.t.Helper()
	if form.Get("id") == "" {
		form.Set("id", newID())
	}
	req, err := http.NewRequest(http.MethodPost, h.http.URL+path, strings.NewReader(form.Encode()))
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
	if err := json.NewDecoder(res.Body).Decode(&answer); err != nil {
		h.t.Fatal(err)
	}
	return res.StatusCode, answer
}

// The way from running to the end: the question, three ticks of which none is set
// beforehand, and only then the pump and the form of the end (H-137).
func TestWashbackAsksBeforeThePumpStarts(t *testing.T) {
	h, base := runs(t)
	status, to, _ := h.followed(base + "/came_off")
	if status != http.StatusSeeOther || to != base+"/washback" {
		t.Errorf("the form of the end is there without a question: %d %s", status, to)
	}
	h.says(base+"/washback", "May the blood go back?", "Is any of these there?", "Air or foam", "None of these")
	h.silent(base+"/washback", "Start the pump", "Washback")
	ticks := h.see(base + "/washback?ticks=1")
	if n := strings.Count(ticks, `type="checkbox"`); n != 3 || strings.Contains(ticks, " checked") {
		t.Errorf("%d ticks, want three of which none is set", n)
	}
	h.says(base+"/washback?ticks=1", "Saline hangs on the arterial line", "Its clamp is open", "The venous line still runs to me", "the bag must get emptier")
	h.silent(base+"/washback?ticks=1", "Start the pump")
	for i := range 3 {
		left := append([]string{}, threeTicks[:2*i]...)
		h.refused(base+"/washback_checked", "is not ticked", append(left, threeTicks[2*i+2:]...)...)
	}
	if to := h.saved(base+"/washback_checked", append(threeTicks, "next", base+"/washback")...); to != base+"/washback" {
		t.Errorf("the ticks lead to %s", to)
	}
	h.says(base+"/washback", "Start the pump. Watch the bag: it must get emptier.", "It gets fuller, or red")
	h.later(6 * time.Minute)
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "all")
	if _, to, _ := h.followed(base + "/washback"); to != base {
		t.Errorf("after the end it leads to %q", to)
	}
	if !strings.Contains(h.see(base), "Coming off") {
		t.Error("it did not end")
	}
}

// followed asks for a page without following where it leads.
func (h *house) followed(path string) (status int, to, text string) {
	h.t.Helper()
	client := http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := client.Get(h.http.URL + path)
	if err != nil {
		h.t.Fatal(err)
	}
	defer res.Body.Close()
	return res.StatusCode, res.Header.Get("Location"), ""
}

// One tap says what is there: it is written, and comes back here, where the blood
// stays out, with the number to ring and the way to the steps (H-138).
func TestWashbackSignIsOneTap(t *testing.T) {
	for _, x := range signs {
		h, base := runs(t)
		page := h.see(base + "/washback")
		form := ""
		for _, one := range formsIn(page) {
			if strings.Contains(one, `name="trouble" value="`+x.trouble+`"`) && strings.Contains(one, `action="`+base+`/trouble"`) {
				form += one
			}
		}
		if !strings.Contains(form, `name="state" value="open"`) || !strings.Contains(form, `name="next" value="`+base+`/washback"`) || strings.Count(form, "<button") < 1 {
			t.Errorf("%s has no button of its own:\n%s", x.trouble, form)
		}
		if to := h.saved(base+"/trouble", "trouble", x.trouble, "state", "open", "next", base+"/washback"); to != base+"/washback" {
			t.Errorf("%s leads to %s", x.trouble, to)
		}
		one, _ := session.TroubleOf(x.trouble)
		h.says(base+"/washback", "The blood stays out", one.Title, one.Blood.Words(), "Come off without giving the blood back")
		if text := h.see(base + "/washback"); !strings.Contains(text, `href="#wrong-`+x.trouble+`"`) || !strings.Contains(text, `href="tel:`) {
			t.Errorf("%s: no way to its steps, or no number to ring", x.trouble)
		}
		h.saved(base+"/came_off", "returned", "none", "removed_ml", "1900", "again.removed_ml", "1900", "why", "air in the line")
		if off, _ := session.Last[session.CameOff](h.open(base)); off == nil || off.GivesBack() {
			t.Errorf("%s: %+v", x.trouble, off)
		}
	}
	if len(signs) != 7 {
		t.Errorf("%d signs", len(signs))
	}
	asked := map[string]bool{}
	for _, x := range signs {
		asked[x.trouble] = true
	}
	for _, one := range session.Troubles() {
		if one.StaysOut() != asked[one.Code] && one.Code != session.TroubleFire {
			t.Errorf("%s: asked about %t, the blood stays out %t", one.Code, asked[one.Code], one.StaysOut())
		}
	}
}

// open is the session of an address, to be read at once.
func (h *house) open(base string) (s *session.Session) {
	h.desk.View(func(r *record.Household) { s = r.Session(base[strings.LastIndex(base, "/")+1:]) })
	return s
}

// The number that leads is the one of the unit's steps, else the trouble's own.
func TestWashbackRingsWhomTheUnitSet(t *testing.T) {
	h, base := runs(t)
	h.keep("p-vida-hribar", &record.TroubleSteps{Trouble: session.TroubleAir, Words: "Clamp.", Ring: session.RingUnit,
		From: "Sister Holm (invented)", GivenOn: unit.DateOf(h.now), ReviewBy: unit.DateOf(h.now).Add(200)})
	h.saved(base+"/trouble", "trouble", "air", "state", "open")
	h.saved(base+"/trouble", "trouble", "dark_blood", "state", "open")
	numbers := regexp.MustCompile(`(?s)id="out-(\w+)".*?<ul class="phones"><li><a href="[^"]*"><span>([^<]*)</span>`)
	first := map[string]string{}
	for _, m := range numbers.FindAllStringSubmatch(h.see(base+"/washback"), -1) {
		first[m[1]] = m[2]
	}
	if first["air"] != "Unit, at night" || // it is evening
		first["dark_blood"] != "Ambulance" {
		t.Errorf("first numbers: %v", first)
	}
}

// An older page that sends the end without the ticks loses nothing that was typed:
// it is saved when the three are ticked, or when the blood is back already.
func TestEndOfAnOlderPageKeepsWhatWasTyped(t *testing.T) {
	for _, how := range []struct {
		name  string
		more  []string
		ticks bool
	}{{"ticked", append([]string{"look_id", "look-" + newID()}, threeTicks...), true}, {"back already", []string{"washed", "yes"}, false}} {
		h, base := runs(t)
		end := []string{"washback_ml", "245", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "all", "why", "cramp in the calf"}
		before := entries(h)
		status, _, text := h.post(base+"/came_off", formOf(end...))
		if status != http.StatusUnprocessableEntity || entries(h) != before {
			t.Fatalf("it was taken without a look: %d", status)
		}
		for _, kept := range []string{`value="245"`, `value="1900"`, `value="all" checked`, "cramp in the calf", "Tick the three things below", "It is back already"} {
			if !strings.Contains(text, kept) {
				t.Errorf("%s is not in what comes back", kept)
			}
		}
		if strings.Count(text, `type="checkbox"`) != 3 || startsPump(text) {
			t.Error("it does not ask for three ticks, or starts the pump")
		}
		if status, answer := h.sentJSON(base+"/came_off", formOf(end...)); status != http.StatusUnprocessableEntity || answer.Saved || len(answer.Findings) != 1 {
			t.Errorf("by script: %d %+v", status, answer)
		}
		h.saved(base+"/came_off", append(end, how.more...)...)
		s := h.open(base)
		if s.Has("washback_checked") != how.ticks || !s.Has("came_off") {
			t.Errorf("%s: ticks %t, end %t", how.name, s.Has("washback_checked"), s.Has("came_off"))
		}
	}
}

// The end that is sent twice with its ticks is two entries, not four.
func TestEndWithTicksSentTwice(t *testing.T) {
	h, base := runs(t)
	end := append([]string{"id", newID(), "look_id", newID(), "washback_ml", "250", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "all"}, threeTicks...)
	before := entries(h)
	for range 2 {
		if status, answer := h.sentJSON(base+"/came_off", formOf(end...)); status != http.StatusOK || !answer.Saved {
			t.Errorf("%d %+v", status, answer)
		}
	}
	if got := entries(h) - before; got != 2 {
		t.Errorf("%d entries, want the ticks and the end", got)
	}
}

// What happened is recordable while the blood stays out: asked about once, with the
// trouble, what was typed kept, and taken when it is chosen again.
func TestBloodGivenBackAllTheSameIsWrittenDown(t *testing.T) {
	h, base := runs(t)
	h.saved(base+"/trouble", "trouble", "air", "state", "open")
	end := []string{"washback_ml", "245", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "all"}
	status, _, text := h.post(base+"/came_off", formOf(end...))
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, `value="245"`) || !strings.Contains(text, `name="again.returned" value="all"`) {
		t.Fatalf("%d: what was typed is not kept, or is not asked about\n%s", status, problems(text))
	}
	form := ""
	for _, one := range formsIn(text) {
		if strings.Contains(one, `value="245"`) {
			form += one
		}
	}
	if strings.Count(form, `name="returned"`) != 1 || strings.Count(form, `name="again.returned"`) != 1 || strings.Contains(form, "The blood was returned") ||
		!regexp.MustCompile(`<button class="main">It is back already: say it again</button>`).MatchString(form) {
		t.Errorf("what was typed is offered as something to do:\n%s", form)
	}
	if said := problems(text); !strings.Contains(said, "Air or foam") || !strings.Contains(said, "Give the blood back: never.") {
		t.Errorf("the question does not name the trouble: %s", said)
	}
	h.saved(base+"/came_off", append(end, "again.returned", "all")...)
	if off, e := session.Last[session.CameOff](h.open(base)); off == nil || off.Returned != "all" {
		t.Errorf("it is not written down: %+v", off)
	} else {
		h.saved(base+"/entry/"+e.ID, "washback_ml", "200", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "part", "reason", "part of it")
	}
}

// The ticks of half an hour ago start no pump; the end is written down all the same.
func TestWashbackOfHalfAnHourAgo(t *testing.T) {
	h, base := runs(t)
	h.lookedFirst(base)
	h.later(31 * time.Minute)
	h.silent(base+"/washback", "Start the pump")
	h.says(base+"/washback", "Has the pump not started yet?", "Treatment ended")
	h.says(base+"/washback?ticks=1", "Saline hangs on the arterial line")
	h.saved(base+"/came_off", "washback_ml", "250", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "all")
}

// Something wrong, or a treatment that went on, wants the ticks again.
func TestWashbackTicksAreOfOneAttempt(t *testing.T) {
	h, base := runs(t)
	h.lookedFirst(base)
	h.later(time.Minute)
	h.saved(base + "/event/pause")
	h.says(base+"/washback", "no longer count", "Is any of these there?")
	h.silent(base+"/washback", "Start the pump")
}

// The bag that gets fuller opens the trouble of a needle out, and leads to its steps.
func TestBagThatGetsFuller(t *testing.T) {
	h, base := runs(t)
	h.lookedFirst(base)
	form := regexp.MustCompile(`(?s)<form[^>]*action="` + base + `/trouble".*?</form>`).FindString(h.see(base + "/washback"))
	values := url.Values{}
	for _, m := range regexp.MustCompile(`name="([^"]*)" value="([^"]*)"`).FindAllStringSubmatch(form, -1) {
		values.Set(m[1], m[2])
	}
	status, answer := h.sentJSON(base+"/trouble", values)
	if status != http.StatusOK || answer.Next != base+"#wrong-blood_out" {
		t.Errorf("%d %+v", status, answer)
	}
	b, _ := session.Last[session.Trouble](h.open(base))
	if b == nil || b.Trouble != session.TroubleBlood || b.State != session.TroubleOpen || b.Words != fuller {
		t.Errorf("%+v", b)
	}
	h.says(base+"/washback", "The blood stays out")
}

// On a catheter there are no needles; what is looked at is the same.
func TestWashbackByCatheter(t *testing.T) {
	h, base := runs(t)
	h.desk.View(func(r *record.Household) {
		one := r.Session(h.life.Open)
		rx := *one.Rx
		rx.Access, rx.AccessSide, rx.Technique = "catheter", "neck_or_chest", "none"
		one.Rx = &rx
	})
	h.says(base+"/washback", "off the catheter")
	page, _, _ := strings.Cut(h.see(base+"/washback"), "</main>") // what is wrong is listed after it, for every access
	if strings.Contains(plainText(page), "needle") {
		t.Error("a catheter is asked about a needle")
	}
	h.says(base+"/washback?ticks=1", "Saline hangs on the arterial line", "The venous line still runs to my catheter")
}

// A session typed in from paper is asked nothing, and none that has not begun has
// an end.
func TestWashbackOfAPaperSession(t *testing.T) {
	h := home(t, 1, false)
	base := h.saved(vida+"/session", "place", "home", "source", "paper", "session", newID(), "day", "2026-06-10", "clock", "18:00")
	h.saved(base+"/connected", "clock", "18:40")
	if _, to, _ := h.followed(base + "/washback"); to != base+"/came_off" {
		t.Errorf("from paper: %s", to)
	}
	h.says(base+"/came_off", "Washback")
	// When something was wrong stands on the paper, as when it was paused does.
	h.refused(base+"/trouble", "type when it happened, as it stands on the paper", "trouble", "air", "state", "open")
	h.saved(base+"/trouble", "trouble", "air", "state", "open", "clock", "19:00")
	end := []string{"washback_ml", "250", "removed_ml", "1900", "returned", "all", "clock", "22:40"}
	h.refused(base+"/came_off", "“Air or foam” is open since 19:00", end...)
	h.saved(base+"/came_off", append(end, "again.returned", "all")...)
	h.saved(base + "/closed")
	up := h.saved(vida+"/session", "place", "home", "source", "live", "session", newID())
	if _, to, _ := h.followed(up + "/washback"); to != up {
		t.Errorf("before it began: %s", to)
	}
	h.refused(up+"/came_off", "has not begun", "returned", "none")
}

// While coming off the page says what was open when blood was given back, that the
// blood was not given back when it was not, and what was never over (H-138).
func TestComingOffSaysWhereTheBloodIs(t *testing.T) {
	const past, never, mark = "Blood was given back while “Air or foam” was open since ", "was never over", "Give the blood back with saline"
	for _, returned := range []string{"all", "none"} {
		h, base := runs(t)
		h.saved(base+"/trouble", "trouble", "air", "state", "open")
		end := []string{"removed_ml", "1900", "again.removed_ml", "1900", "returned", returned}
		if returned == "all" {
			end = append(end, "washback_ml", "250", "again.returned", "all")
		}
		h.saved(base+"/came_off", end...)
		text := plainText(h.see(base))
		if strings.Contains(text, past) != (returned == "all") || !strings.Contains(text, never) {
			t.Errorf("%s: open when it was given back, or never over, is not said as it is", returned)
		}
		_, after, _ := strings.Cut(text, mark)
		if after = after[:min(60, len(after))]; strings.Contains(after, "not given back") != (returned == "none") || strings.Contains(text, "✓ "+mark) == (returned == "none") {
			t.Errorf("%s: the step says %q", returned, after)
		}
		h.saved(base + "/closed")
		h.says(base+"/sheet", "“Air or foam”, since ", never)
	}
}

// An end dated before the trouble is asked about by the page too, with the ticks of
// before or without them; a correction to "all of it" warns, and asks (H-138).
func TestEndDatedBeforeTheTrouble(t *testing.T) {
	h, base := runs(t)
	h.lookedFirst(base)
	h.later(5 * time.Minute)
	at := h.now
	h.later(2 * time.Minute)
	h.saved(base+"/trouble", "trouble", "air", "state", "open")
	h.later(time.Minute)
	end := []string{"washback_ml", "250", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "all", "clock", at.Format("15:04"), "day", at.Format(time.DateOnly)}
	status, _, text := h.post(base+"/came_off", formOf(end...))
	if said := problems(text); status != http.StatusUnprocessableEntity || !strings.Contains(said, "“Air or foam” is open since") {
		t.Fatalf("%d: %s", status, said)
	}
	h.saved(base+"/came_off", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "none")
	entry := base + "/entry/" + lastOf(h, "came_off").ID
	h.says(entry, "“Air or foam” is open since", "Give the blood back: never.")
	put := []string{"washback_ml", "250", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "all", "reason", "the wrong box"}
	h.refused(entry, "“Air or foam” is open since", put...)
	h.saved(entry, append(put, "again.returned", "all")...)
	if off, _ := session.Last[session.CameOff](h.open(base)); off == nil || off.Returned != "all" {
		t.Errorf("the truth is not written down: %+v", off)
	}
}

// A low pressure that is written after coming off is said on the page of coming off,
// with the unit's number; one that is inside is not.
func TestLowPressureAfterComingOff(t *testing.T) {
	h, base := runs(t)
	h.saved(base+"/came_off", append([]string{"look_id", newID(), "washback_ml", "250", "removed_ml", "1900", "again.removed_ml", "1900", "returned", "all"}, threeTicks...)...)
	h.later(15 * time.Minute)
	h.saved(base+"/vitals_after", "lying_systolic_mmhg", "124", "lying_diastolic_mmhg", "70", "standing_systolic_mmhg", "118", "standing_diastolic_mmhg", "66")
	h.silent(base, "Upper pressure after coming off")
	h.later(5 * time.Minute)
	h.saved(base+"/vitals_after", "lying_systolic_mmhg", "102", "lying_diastolic_mmhg", "60", "standing_systolic_mmhg", "74", "standing_diastolic_mmhg", "48",
		"again.standing_systolic_mmhg", "74", "again.standing_diastolic_mmhg", "48", "again.lying_systolic_mmhg", "102")
	page := h.see(base)
	_, low, _ := strings.Cut(page, `id="after-low"`)
	low, _, _ = strings.Cut(low, `id="off-numbers"`)
	if text := plainText(low); !strings.Contains(text, "standing 74; you started at") || !strings.Contains(text, "Follow your unit’s plan for low pressure") && !strings.Contains(text, "Follow your unit's plan for low pressure") || !strings.Contains(low, `href="tel:`) {
		t.Errorf("%s", low)
	}
}

// What was felt and never said to be a trouble stands where it is asked whether the
// blood may go back, before the way on; what is over stands with the word that ended
// it, up to the pump (H-138).
func TestWashbackSaysWhatWasFeltAndWhatIsOver(t *testing.T) {
	h, base := runs(t)
	h.saved(base+"/unwell", "words", "itch or wheeze")
	h.says(base+"/washback", "you felt “itch or wheeze”", "Is “Itch, wheeze, swelling in the first minutes” there?", "None of these is there now")
	if page := h.see(base + "/washback"); strings.Index(page, `id="felt-reaction"`) > strings.Index(page, "ticks=1") {
		t.Error("what was felt stands under the way on")
	}
	h.saved(base+"/trouble", "trouble", "reaction", "state", "open")
	h.later(5 * time.Minute)
	h.saved(base+"/trouble", "trouble", "reaction", "state", "over", "said", "Sister Holm: it was the tape")
	for _, place := range []string{"/washback", "/washback?ticks=1"} {
		h.says(base+place, "Over by: “Sister Holm: it was the tape”", "Does that say that the blood may go back?")
	}
	h.silent(base+"/washback", "Is “Itch", "is there now")
	h.lookedFirst(base)
	h.says(base+"/washback", "Start the pump", "Over by: “Sister Holm: it was the tape”")
}

// In a power cut there is no pump to start (H-137).
func TestWashbackByHand(t *testing.T) {
	h, base := runs(t)
	h.saved(base+"/trouble", "trouble", "power", "state", "open")
	h.lookedFirst(base)
	h.says(base+"/washback", "By hand, as your unit’s steps say. Nothing watches for air now", "It gets fuller, or red")
	h.silent(base+"/washback", "Start the pump.")
	if page := h.see(base + "/washback"); strings.Index(page, `id="pump"`) > strings.Index(page, "The steps</a>") {
		t.Error("the one thing to press stands under what is open")
	}
}
