package web

import (
	"html"
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

// mainOf is what a page holds of its own: without bar, troubles and parts.
func mainOf(text string) string {
	_, text, _ = strings.Cut(text, "<main ")
	text, _, _ = strings.Cut(text, "</main>")
	return text
}

// troubleOn is the part of a page about one trouble, as markup.
func (h *house) troubleOn(path, code string) string {
	h.t.Helper()
	return h.troubleIn(h.see(path), path, code)
}

// troubleIn is the same of a page that was asked for already.
func (h *house) troubleIn(page, path, code string) string {
	h.t.Helper()
	_, text, ok := strings.Cut(page, `<section id="wrong-`+code+`"`)
	if !ok {
		h.t.Fatalf("%s holds nothing about %s", path, code)
	}
	text, _, _ = strings.Cut(text, "</section>")
	return html.UnescapeString(text)
}

// stepsOf are invented steps of a unit for one trouble.
func (h *house) stepsOf(code, ring, words string) *record.TroubleSteps {
	day := unit.DateOf(h.now)
	return &record.TroubleSteps{Trouble: code, Words: words, Ring: ring, From: "Nurse K (invented)", GivenOn: day.Add(-3), ReviewBy: day.Add(300)}
}

var (
	tel     = regexp.MustCompile(`<a href="tel:([^"]*)"><span>([^<]*)</span>`)
	amounts = regexp.MustCompile(`[0-9]+\s*(mL|ml|min|IU|mg)\b`)
)

// Without a word of the unit every trouble leads with a number, says that there are
// no steps and whom to ring, holds only what no unit differs on, no amount, and
// whether the blood is given back (H-116).
func TestEveryTroubleWithoutSteps(t *testing.T) {
	h, ida := settled(t)
	for _, path := range []string{ida + "/", ida + "/card"} {
		for _, kind := range session.Troubles() {
			part := h.troubleOn(path, kind.Code)
			text := plainText(part)
			numbers := tel.FindAllStringSubmatch(part, -1)
			if first := map[string]string{session.RingAmbulance: "112", session.RingUnit: "+000199"}[kind.Ring]; len(numbers) != 3 || numbers[0][1] != first {
				t.Errorf("%s, %s: numbers %v, want %s first", path, kind.Code, numbers, first)
			}
			if !strings.Contains(text, "No steps from your unit yet: ring ") {
				t.Errorf("%s, %s does not say that there are no steps", path, kind.Code)
			}
			for _, act := range kind.Acts {
				if !strings.Contains(text, act) {
					t.Errorf("%s, %s does not say %q", path, kind.Code, act)
				}
			}
			if found := amounts.FindString(text); found != "" {
				t.Errorf("%s, %s names an amount: %s", path, kind.Code, found)
			}
			if strings.Count(text, kind.Blood.Words()) != 1 {
				t.Errorf("%s, %s does not say %q", path, kind.Code, kind.Blood.Words())
			}
			if strings.Contains(part, "<form") {
				t.Errorf("%s, %s: something can be written down with no session open", path, kind.Code)
			}
		}
	}
	h.says(ida+"/", "Your card: none yet", "No card from your unit.")
	if !strings.Contains(h.see(ida+"/"), `<a class="plain" href="#wrong">Something is wrong</a>`) {
		t.Error("with no session open Today has no way to the troubles")
	}
	h.says(ida+"/", "Still good here: the numbers . Do not reload this page and do not close it while the program is not heard.")
}

// Nobody's number is made up: without one each trouble says so.
func TestTroublesWithoutNumbers(t *testing.T) {
	h := home(t, 0, false)
	h.keep("person-ida", &record.Person{Name: "Ida Brook", BirthYear: 1971, Colour: "reed", Adult: true})
	for _, kind := range session.Troubles() {
		part := h.troubleOn("/p/person-ida/", kind.Code)
		if len(tel.FindAllString(part, -1)) != 0 || !strings.Contains(part, "No telephone number is written down. Ring the emergency number of your country.") {
			t.Errorf("%s: %s", kind.Code, plainText(part))
		}
		if !strings.Contains(part, kind.Blood.Words()) {
			t.Errorf("%s does not say whether the blood goes back", kind.Code)
		}
	}
	h.silent("/p/person-ida/", "Still good here")
	h.says("/p/person-ida/", "Do not reload this page and do not close it")
}

// The unit's own steps stand in place of the program's few words, with the number
// that it set first, who gave them, and called old past their day.
func TestStepsOfTheUnit(t *testing.T) {
	h, ida := settled(t)
	for _, kind := range session.Troubles() {
		h.keep("person-ida", h.stepsOf(kind.Code, session.RingUnit, "First act of "+kind.Code+"\nSecond act"))
	}
	for _, kind := range session.Troubles() {
		part := h.troubleOn(ida+"/", kind.Code)
		text := plainText(part)
		for _, words := range []string{"First act of " + kind.Code, "Second act", "Nurse K (invented), 8 June 2026", kind.Blood.Words()} {
			if !strings.Contains(text, words) {
				t.Errorf("%s does not say %q: %s", kind.Code, words, text)
			}
		}
		for _, act := range kind.Acts {
			if strings.Contains(text, act) && !strings.Contains(act, "Nothing watches") {
				t.Errorf("%s says %q beside the unit's own steps", kind.Code, act)
			}
		}
		if n := tel.FindAllStringSubmatch(part, -1); len(n) != 3 || n[0][2] != "Unit, at night" || n[2][2] != "Ambulance" {
			t.Errorf("%s rings %v", kind.Code, n)
		}
		if strings.Contains(text, "No steps") || strings.Contains(text, "OLD") {
			t.Errorf("%s: %s", kind.Code, text)
		}
	}
	if text := plainText(h.troubleOn(ida+"/", session.TroublePower)); !strings.Contains(text, "Nothing watches for air now.") || !strings.Contains(text, "No figure from your unit") {
		t.Errorf("a power cut: %s", text)
	}
	h.says(ida+"/", "Still good here: the numbers and your unit’s steps .")
	h.now = h.now.AddDate(1, 0, 0)
	if text := plainText(h.troubleOn(ida+"/", session.TroubleAir)); !strings.Contains(text, "OLD: to be looked at again since 7 April 2027. Ask your unit.") {
		t.Errorf("a year later: %s", text)
	}
}

// The list has the eight first, the rest under them, and is part of every page of a
// session; a page with nothing to write into has no tap.
func TestEightTroublesFirst(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	for _, path := range []string{base, base + "/drink", base + "/rang", vida + "/", vida + "/unit", vida + "/shelf"} {
		text := h.see(path)
		list := text[strings.Index(text, `<ul class="wrong-tiles">`):strings.Index(text, `<section id="wrong-card"`)]
		at := 0
		for i, kind := range append(firstTroubles(true), firstTroubles(false)...) {
			next := strings.Index(list[at:], `href="#wrong-`+kind.Code+`"`)
			if next < 0 {
				t.Fatalf("%s: tile %d is not %s", path, i, kind.Code)
			}
			at += next
			if i == 7 && strings.Contains(list[:at], "rest") || i == 8 && !strings.Contains(list[:at], "rest") {
				t.Errorf("%s: the first eight do not stand by themselves", path)
			}
		}
		if taps := strings.Contains(text, `<div class="wrong-taps">`); taps == (path == vida+"/unit" || path == vida+"/shelf") {
			t.Errorf("%s: taps %v", path, taps)
		}
	}
	if n := len(firstTroubles(true)); n != 8 {
		t.Errorf("%d are first", n)
	}
}

func firstTroubles(first bool) (list []session.TroubleType) {
	for _, kind := range session.Troubles() {
		if kind.First == first {
			list = append(list, kind)
		}
	}
	return list
}

// Under low pressure the last pressure stands large, with what looks like it and is
// worse one tap away, low sugar among it (H-143), and what was done is one tap each.
func TestLowPressureTile(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	h.later(time.Minute)
	h.saved(base+"/reading", "systolic_mmhg", "74", "diastolic_mmhg", "41", "again.systolic_mmhg", "74", "again.diastolic_mmhg", "41")
	clock := h.now.Format("15:04")
	part := h.troubleOn(base, session.TroubleLow)
	text := plainText(part)
	if !strings.Contains(text, "74/41 mmHg, "+clock) {
		t.Errorf("the last pressure is not there: %s", text)
	}
	for _, one := range [][2]string{{"blood_out", "Blood or wet anywhere?"}, {"heart", "Chest pain?"}, {"heart", "Breathless?"}, {"fever", "Shivering?"}, {"dark_blood", "Dark blood?"}, {"confused", "Sugar low?"}} {
		if !strings.Contains(part, `<a href="#wrong-`+one[0]+`">`+one[1]) {
			t.Errorf("%q does not lead to %s", one[1], one[0])
		}
	}
	h.later(time.Minute)
	press := func(code, tap string) {
		t.Helper()
		h.press(base, code, tap)
	}
	press(session.TroubleLow, "Yes, this is happening")
	press(session.TroubleLow, "Lay back")
	press(session.TroubleLow, "Removal off")
	press(session.TroubleLow, "Low, no figure")
	if text := plainText(h.troubleOn(base, session.TroubleLow)); !strings.Contains(text, "low without a figure, "+h.now.Format("15:04")) || !strings.Contains(text, "Happening since "+h.now.Format("15:04")) {
		t.Errorf("%s", text)
	}
	h.later(time.Minute)
	press(session.TroubleLow, "Removal on again")
	press(session.TroubleLow, "It is over")
	for _, kind := range []string{"trouble", "lie_back", "removal_off", "removal_on", "low_pressure"} {
		lastOf(h, kind)
	}
	if part := h.troubleOn(base, session.TroubleLow); tapButton.MatchString(buttonOf(part, "It is over")) ||
		!tapButton.MatchString(buttonOf(part, "Yes, this is happening")) || !tapButton.MatchString(buttonOf(part, "Removal off")) {
		t.Error("what is over can be ended again")
	}
}

// Saline has the amount of the unit's steps on its button; without them it is typed.
func TestSalineHasTheUnitsAmount(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	typed := func() {
		t.Helper()
		if part := h.troubleOn(base, session.TroubleClotting); !strings.Contains(part, "Saline: type the amount") || strings.Contains(part, "volume_ml") {
			t.Errorf("without an amount of the unit: %s", plainText(part))
		}
	}
	typed()
	ml := unit.Volume(150)
	steps := h.stepsOf(session.TroubleClotting, session.RingUnit, "Flush once, look")
	steps.Saline = &ml
	id := h.keep("p-vida-hribar", steps)[0]
	if part := h.troubleOn(base, session.TroubleClotting); strings.Contains(part, "type the amount") {
		t.Error("the amount is typed though the unit set one")
	}
	h.press(base, session.TroubleClotting, "Saline 150\u00a0mL")
	if got := lastOf(h, "saline").Body.(*session.Saline).Volume; got != 150 {
		t.Errorf("%d mL are written", got)
	}
	h.saved(vida+"/unit/strike/"+id, "reason", "copied from the wrong paper")
	typed()
}

// press presses one button under a trouble as a browser without script does, and
// wants to come back to that trouble.
func (h *house) press(page, code, words string) {
	h.t.Helper()
	part := h.troubleOn(page, code)
	action, form := h.pressed(part, words)
	status, to, text := h.post(action, form)
	if status != http.StatusSeeOther || to != page+"#wrong-"+code+"-taps" {
		h.t.Errorf("%q under %s: %d to %s\n%s", words, code, status, to, problems(text))
	}
}

// pressed gives what a browser without script sends for one button of a tap.
func (h *house) pressed(part, words string) (action string, form url.Values) {
	h.t.Helper()
	for _, one := range strings.Split(part, "<form ")[1:] {
		one, _, _ = strings.Cut(one, "</form>")
		button := tapButton.FindStringSubmatch(one)
		if button == nil || button[4] != words {
			continue
		}
		action = tapAction.FindStringSubmatch(one)[1]
		form = fieldsOf(h.t, "<form "+one+"</form>", action)
		if button[1] != "" {
			form.Set(button[1], button[2])
		}
		return action, form
	}
	h.t.Fatalf("there is no button %q: %s", words, plainText(part))
	return "", nil
}

var (
	tapButton = regexp.MustCompile(`<button(?: name="([^"]*)")?(?: value="([^"]*)")?(?: data-leads="[^"]*")?(?: aria-label="[^"]*")?(?: data-said="([^"]*)")?(?: data-saved="[^"]*")?>\s*([^<]*)<`)
	tapAction = regexp.MustCompile(`action="([^"]*)"`)
)

// A page that was not loaded again, as one gone back to, writes down every tap, each
// once: no tap is refused for the one before it.
func TestEachTapIsAnEntryOfItsOwn(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	tile, page := h.troubleOn(base, session.TroubleLow), html.UnescapeString(h.see(base))
	for _, tt := range []struct{ part, words, kind string }{
		{tile, "Lay back", "lie_back"}, {tile, "Removal off", "removal_off"}, {tile, "Low, no figure", "low_pressure"}, {tile, "Yes, this is happening", "trouble"},
		{page, "50", "drink"}, {page, "100", "drink"}, {page, "chest pain", "unwell"}, {page, "chills", "unwell"},
		{page, "arterial", "needle_adjusted"}, {page, "venous", "needle_adjusted"},
	} {
		_, part, _ := strings.Cut(tt.part, `data-kind="`+tt.kind+`"`)
		if tt.part == tile {
			part = tile
		}
		before := keptOf(h, base, tt.kind)
		action, form := h.pressed(part, tt.words)
		for range 2 { // a tap that bounces is one entry
			if status, to, text := h.post(action, form); status != http.StatusSeeOther {
				t.Errorf("%q: %d to %s: %s", tt.words, status, to, problems(text))
			}
		}
		if got := keptOf(h, base, tt.kind) - before; got != 1 {
			t.Errorf("%q writes %d entries", tt.words, got)
		}
	}
}

// keptOf counts the entries of one kind in a session.
func keptOf(h *house, base, kind string) (n int) {
	h.t.Helper()
	h.desk.View(func(rec *record.Household) {
		for _, e := range rec.Session(base[strings.LastIndex(base, "/")+1:]).Log {
			if e.Kind == kind {
				n++
			}
		}
	})
	return n
}

// Where the blood stays out, a trouble is over on the unit's word only; whom I rang
// is one tap each beside what was said.
func TestTroubleIsOverWithTheUnitsWord(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	h.press(base, session.TroubleAir, "Yes, this is happening")
	part := h.troubleOn(base, session.TroubleAir)
	if !strings.Contains(part, "It is over: who of your unit said what") || strings.Contains(part, `name="state" value="over">It is over<`) {
		t.Error("it is over by one press")
	}
	list := h.see(base)
	if !regexp.MustCompile(`href="#wrong-air">Air or foam<span>happening since ` + h.now.Format("15:04")).MatchString(list) {
		t.Error("the list does not show what is there")
	}
	h.refused(base+"/trouble", "what your unit said", "trouble", "air", "state", "over", "said", "", "next", base+"#wrong-air")
	if to := h.saved(base+"/trouble", "trouble", "air", "state", "over", "said", "Sister Holm: it was outside", "next", base+"#wrong-air"); to != base+"#wrong-air" {
		t.Errorf("to %s", to)
	}
	form := fieldsOf(t, part, base+"/rang")
	if !strings.Contains(part, `<input type="hidden" name="whom" value="Ambulance, 112">`) {
		t.Error("the ambulance is no button of the call")
	}
	form.Set("whom", "Ambulance, 112")
	form.Set("said", "they are on the way")
	if status, to, text := h.post(base+"/rang", form); status != http.StatusSeeOther || to != base+"#wrong-air-taps" {
		t.Errorf("%d to %s\n%s", status, to, problems(text))
	}
}

// A power cut is counted beside the unit's own figure, and called past it.
func TestPowerCutIsCounted(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	steps := h.stepsOf(session.TroublePower, session.RingUnit, "Turn by hand")
	back := unit.Minutes(15)
	steps.BackIn = &back
	h.keep("p-vida-hribar", steps)
	h.press(base, session.TroublePower, "Yes, this is happening")
	since := h.now
	h.later(4 * time.Minute)
	part := h.troubleOn(base, session.TroublePower)
	text := plainText(part)
	for _, words := range []string{"Blood standing: since " + since.Format("15:04") + ", look at a clock", "Your unit: the blood goes back within 15 min, after that no longer.", "Nothing watches for air now.", "Turn by hand"} {
		if !strings.Contains(text, words) {
			t.Errorf("%q is not there: %s", words, text)
		}
	}
	if !strings.Contains(part, `data-since="`+since.Format(time.RFC3339)+`"`) || !strings.Contains(part, `id="power-past" class="wrong-old" hidden`) {
		t.Error("the clock does not go on by itself, or is past already")
	}
	h.later(11 * time.Minute)
	if part := h.troubleOn(base, session.TroublePower); !strings.Contains(part, `id="power-past" class="wrong-old">`) {
		t.Error("past the unit's figure nothing says so")
	}
}
