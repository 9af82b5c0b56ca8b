package web

import (
	"fmt"
	"net/http"
	"regexp"
	"strings"
	"testing"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// overfull is a household with more of everything than fits: long names, many
// versions, questions and stays, a sheet of sixty steps, and a session open.
func overfull(t *testing.T) *house {
	h := home(t, 3, true)
	long := strings.Repeat("Ottoline-", 6)[:54] + "Brook"
	h.keep("person-long", &record.Person{Name: long, BirthYear: 1932, Colour: "ink", Number: strings.Repeat("7", 40), Allergies: strings.Repeat("iodine, latex, ", 30), Carer: long})
	h.keep("", &record.KidneyUnit{Name: strings.Repeat("<b>Unit</b> ", 6), Day: "+000 1234 5678 9012 3456", Night: strings.Repeat("9", 40), Technician: "7", Ambulance: "112"})
	h.keep("p-vida-hribar", &record.Card{Words: strings.Repeat("word ", 40) + "\n" + actsOfUnit + "\n" + actsOfUnit, From: "Nurse K", GivenOn: unit.DateOf(h.now).Add(-900), ReviewBy: unit.DateOf(h.now).Add(-400)})
	many := session.RunSheet{Phase: session.TakeOff, Marked: strings.Repeat("m", 120)}
	for i := range 60 {
		st := session.Step{ID: fmt.Sprintf("s%d", i), Words: strings.Repeat("w", 160), Lane: session.LaneMachine, Usual: 240, Tick: session.TickDone, Caution: strings.Repeat("c", 160), Stop: strings.Repeat("s", 160)}
		if i > 0 {
			st.After = []string{fmt.Sprintf("s%d", i-1)}
		}
		many.Steps = append(many.Steps, st)
	}
	h.keep("p-vida-hribar", &record.SheetEdited{RunSheet: many})
	for i := range 30 {
		h.keep("p-vida-hribar", &record.Question{Words: fmt.Sprintf("Question %d: %s", i, strings.Repeat("why ", 60))})
		h.keep("p-vida-hribar", &record.HospitalStay{From: unit.DateOf(h.now).Add(-i - 2), To: unit.DateOf(h.now).Add(-i - 1), Why: "</section><script>"})
	}
	for i := range 25 {
		rx := simulate.Prescription(unit.DateOf(h.now).Add(-100 - i))
		rx.Dialyser = strings.Repeat("d", 60)
		rx.How, rx.ReadBack = "phone", true
		h.keep("p-vida-hribar", &rx)
	}
	return h
}

// addresses are all pages of a household: those of each person, of the newest
// and the open session, of each version and each kind of entry.
func (h *house) addresses() []string {
	list := []string{"/", "/first", "/card", "/guide", "/screens", "/machine", "/kidney-unit", "/people/new"}
	h.desk.View(func(s *record.Household) {
		for _, m := range s.People {
			p := "/p/" + m.ID
			for _, path := range []string{"/", "/card", "/card/edit", "/guide", "/unit", "/person", "/machine", "/kidney-unit", "/question", "/stay", "/prescription", "/prescription/new",
				"/run-sheet/set_up", "/run-sheet/take_off", "/run-sheet/set_up/new", "/run-sheet/set_up/weigh", "/session", "/sessions"} {
				list = append(list, p+path)
			}
			for _, rx := range m.Prescriptions {
				list = append(list, p+"/prescription/"+rx.ID, p+"/prescription/"+rx.ID+"/correct")
				if rx.Value.How == "phone" {
					list = append(list, p+"/prescription/"+rx.ID+"/paper")
				}
				if rx.Struck == nil {
					list = append(list, p+"/prescription/"+rx.ID+"/strike")
				}
			}
			if len(m.Questions) > 0 {
				list = append(list, p+"/unit/strike/"+m.Questions[0].ID)
			}
			for _, one := range []*session.Session{m.Open(), m.Before(h.now)} {
				if one == nil {
					continue
				}
				base := p + "/session/" + one.ID
				list = append(list, base, base+"/sheet", base+"/labels")
				for _, k := range record.Kinds() {
					if k.Session && k.Name != "session_opened" {
						list = append(list, base+"/"+k.Name)
					}
				}
			}
		}
	})
	return list
}

// said are words that no page may hold: promises, and what a template leaves
// behind when a value is not there. Each expression is in small letters, and looked
// for only where the letters before it stand, which are part of all that it finds.
var said = []struct {
	letters string
	words   *regexp.Regexp
}{
	{"safe", regexp.MustCompile(`\b(is|are|now|perfectly|completely) safe\b|\bsafe (to|for you|level|dose|rate|limit)`)},
	{"ok", regexp.MustCompile(`\bok(ay)? to (dialyse|start|go on|needle)`)},
	{" dose", regexp.MustCompile(`\b(recommended|suggested|normal|usual) doses?\b`)},
	{"we ", regexp.MustCompile(`\bwe (recommend|advise|suggest)\b`)},
	{"nothing to worry", regexp.MustCompile(`\bnothing to worry\b`)},
	{"all ", regexp.MustCompile(`\ball (is )?well\b(, )?!`)},
	{"well done", regexp.MustCompile(`well done`)},
	{"congratulations", regexp.MustCompile(`congratulations`)},
	{"streak", regexp.MustCompile(`\bstreak\b`)},
	{"<n", regexp.MustCompile(`<nil>|<no value>`)},
	{"%!", regexp.MustCompile(`%!`)},
	{"zgotmplz", regexp.MustCompile(`zgotmplz`)},
	{"nan", regexp.MustCompile(`\bnan\b`)},
	{"todo", regexp.MustCompile(`\btodo\b`)},
	{"0001", regexp.MustCompile(`0001-01-01`)},
	{"1 january 0001", regexp.MustCompile(`1 january 0001`)},
}

// saysNever gives the first of the words that no page may hold; empty where there
// is none.
func saysNever(text string) string {
	text = strings.ToLower(text)
	for _, one := range said {
		if strings.Contains(text, one.letters) {
			if words := one.words.FindString(text); words != "" {
				return words
			}
		}
	}
	return ""
}

func TestWhatNoPageSays(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"That is safe", "Completely SAFE", "safe to start", "a safe dose", "OK to needle", "okay to go on", "the recommended dose", "Usual doses of", "we advise",
		"nothing to worry about", "All is well!", "all well, !", "Well done", "Congratulations", "a streak of", "is <nil>", "<no value>", "%!d(string=a)", "ZgotmplZ",
		"about NaN L", "TODO", "0001-01-01", "1 January 0001",
	} {
		if saysNever("Some words, "+text+" more.") == "" {
			t.Errorf("%q is not found", text)
		}
	}
	for _, text := range []string{"an unsafe tool", "look to start", "the dose", "we go on", "all well", "streaks", "banana", "2001-01-01"} {
		if words := saysNever(text); words != "" {
			t.Errorf("%q of %q is found", words, text)
		}
	}
}

var idOf = regexp.MustCompile(`\sid="([^"]+)"`)

// sound asks for a page and holds it to what every page keeps: it is there, says
// nothing it must not say, lets no typed text into its markup, has one heading,
// no name for two things, and at most so many bytes. It gives false when there is no page.
func (h *house) sound(of, path, typed string, most int) (text string, ok bool) {
	h.t.Helper()
	status, text := h.get(path)
	if status != http.StatusOK {
		h.t.Errorf("%s: %s is %d\n%s", of, path, status, problems(text))
		return text, false
	}
	if words := saysNever(plainText(text)); words != "" {
		h.t.Errorf("%s: %s says %q", of, path, words)
	}
	for _, bad := range []string{"<script>", typed, "style=", "onclick", "javascript:"} {
		if strings.Contains(text, bad) {
			h.t.Errorf("%s: %s holds %s", of, path, bad)
		}
	}
	if n := strings.Count(text, "<h1"); n != 1 {
		h.t.Errorf("%s: %s has %d headings of its own", of, path, n)
	}
	named := map[string]bool{}
	for _, m := range idOf.FindAllStringSubmatch(text, -1) {
		if named[m[1]] {
			h.t.Errorf("%s: two things on %s are called %s: a label names one of them only", of, path, m[1])
		}
		named[m[1]] = true
	}
	if n := len(text); n > most {
		h.t.Errorf("%s: %s has %d bytes", of, path, n)
	}
	return text, true
}

// Every page is there for an empty, an ordinary and an overfull record, says
// nothing it must not say, and lets no typed text into its markup.
func TestEveryPage(t *testing.T) {
	t.Parallel()
	for name, h := range map[string]*house{"empty": home(t, 0, false), "ordinary": home(t, 2, true), "overfull": overfull(t)} {
		list := h.addresses()
		if name != "empty" && len(list) < 80 {
			t.Fatalf("%s: only %d pages", name, len(list))
		}
		for _, path := range list {
			h.sound(name, path, "<b>Unit</b>", 250_000)
		}
	}
}

var (
	fieldStart = regexp.MustCompile(`<div class="field[^"]*\bmeasured\b[^"]*"[^>]* data-key="([^"]*)">`)
	anyValue   = regexp.MustCompile(`<input[^>]*type="text"[^>]*>`)
	noFilling  = regexp.MustCompile(`autocomplete="off"`)
)

// No measured value is there before it is measured: neither from the record
// nor from the browser's memory. It looks at every form of every kind.
func TestMeasuredInputsOfEveryKind(t *testing.T) {
	h := home(t, 2, true)
	h.lookedFirst(vida + "/session/" + h.life.Open) // its end is asked for after that
	other, ran := filtered(t, session.RemovedGross) // some are asked for in haemodiafiltration alone
	seen := map[string]bool{}
	bags := home(t, 2, false) // its label asks more
	bags.described("bags")
	label := bags.saved(vida+"/session", "place", "home", "source", "live", "session", newID()) + "/bath_label"
	pages := map[string]*house{ran + "/reading": other, ran: other, label: bags}
	other.lookedFirst(ran)
	pages[ran+"/washback"] = other
	for _, path := range h.addresses() {
		pages[path] = h
	}
	for path, at := range pages {
		_, text := at.get(path)
		starts := fieldStart.FindAllStringSubmatchIndex(text, -1)
		for i, at := range starts {
			end := len(text)
			if i+1 < len(starts) {
				end = starts[i+1][0]
			}
			if next := strings.Index(text[at[1]:end], `<div class="field`); next >= 0 {
				end = at[1] + next
			}
			if form := strings.Index(text[at[1]:end], "</form>"); form >= 0 {
				end = at[1] + form
			}
			field, key := text[at[1]:end], text[at[2]:at[3]]
			seen[key] = true
			for _, in := range anyValue.FindAllString(field, -1) {
				if !strings.Contains(in, `value=""`) {
					t.Errorf("%s: %s begins with a value: %s", path, key, in)
				}
				if !noFilling.MatchString(in) {
					t.Errorf("%s: the browser may fill in %s", path, key)
				}
			}
			if strings.Contains(field, " checked") {
				t.Errorf("%s: %s begins with a choice", path, key)
			}
		}
	}
	// Values that the page reckons and the person agrees to have no field.
	reckoned := map[string]bool{"plan": true, "read_back": true, "heparin_drawn": true}
	for _, k := range record.Kinds() {
		for _, f := range k.Fields {
			if k.Session && f.Measured && !reckoned[k.Name] && !seen[f.Key] {
				t.Errorf("no form was found that asks for %s of %s", f.Key, k.Name)
			}
			if !k.Session && f.Measured {
				t.Logf("%s of %s is measured outside a session", f.Key, k.Name)
			}
		}
	}
	if len(seen) < 30 {
		t.Errorf("only %d measured values were seen", len(seen))
	}
}
