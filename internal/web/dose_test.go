package web

import (
	"fmt"
	"net/http"
	"net/url"
	"regexp"
	"strings"
	"testing"
	"time"

	"ebbline/internal/simulate"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// doseAddresses are all pages of the bloods and the dose of every person.
func (h *house) doseAddresses() []string {
	var list []string
	h.desk.View(func(s *record.Household) {
		for _, m := range s.People {
			p := "/p/" + m.ID + "/dose"
			for _, path := range []string{"", "/bloods", "/bloods/new", "/import", "/target", "/body", "/residual", "/week", "/week?length_min=300", "/week?every_hours=48&length_min=240",
				"/week?length_min=5", "/analyte/potassium", "/analyte/pth", "/range/potassium", "/range/urea"} {
				list = append(list, p+path)
			}
			if len(m.Bloods) < 100 { // weighing 196 weeks takes a moment; once is enough
				list = append(list, p+"/weeks?wish=evenings&no_gap=yes")
			}
			for i, b := range m.Bloods {
				if i < 4 || i > len(m.Bloods)-4 {
					list = append(list, p+"/bloods/"+b.ID)
					if b.Counts() {
						list = append(list, p+"/bloods/"+b.ID+"/correct", p+"/strike/"+b.ID)
					}
				}
			}
			for _, c := range m.CriticalOpen() {
				list = append(list, p+"/call/"+c.Blood.ID+"/"+c.Result.Analyte)
			}
		}
	})
	return list
}

// overfullBloods has ten years of bloods of every analyte, long names, odd
// values and critical ones about which nobody was rung.
func overfullBloods(t *testing.T) *house {
	h := home(t, 3, false)
	long := strings.Repeat("Laboratory ", 7)
	for i := range 130 {
		b := record.Bloods{Timing: record.Other, Laboratory: long[:70+i%8], Haemolysed: i%3 == 0, Note: strings.Repeat("</td><script>x ", 30)}
		for _, a := range unit.Analytes() {
			r := record.BloodResult{Analyte: a.Code, Value: unit.Printed(fmt.Sprintf("%.4f", (a.Low+a.High)/2)), Unit: a.Units[0].Symbol, Assay: strings.Repeat("a", 80)}
			if i%7 == 0 {
				r.Op = "<"
			}
			b.Results = append(b.Results, r)
		}
		h.apply(h.now.AddDate(0, -i, 0).Add(-time.Hour), &b)
	}
	h.apply(h.now, &record.BloodRange{Analyte: "potassium", Unit: "mmol/L", Low: "4.0", High: "5.5", CriticalHigh: "6.0", SetBy: strings.Repeat("<b>", 20), SetOn: unit.DateOf(h.now)})
	return h
}

// apply writes an entry straight into the record, past the checks, as an older
// version of the program might have.
func (h *house) apply(at time.Time, body any) string {
	h.t.Helper()
	id := newID()
	h.desk.View(func(s *record.Household) {
		kind := kindOf(h.t, body)
		if err := s.Apply(record.Entry{ID: id, Kind: kind, At: at, Zone: simulate.Zone().String(), Written: at.UTC(), Person: "p-vida-hribar", Body: body}); err != nil {
			h.t.Fatal(err)
		}
	})
	return id
}

// Every page of the dose is there for an empty, an ordinary and an overfull
// record; measured fields are empty and the browser is told to leave them so
// (CC4, CC19).
func TestDosePages(t *testing.T) {
	empty := home(t, 0, false)
	empty.keep("p-nobody-yet", &record.Person{Name: "Ida Brook", BirthYear: 1970, Colour: "reed", Adult: true})
	measured := regexp.MustCompile(`<input[^>]*name="(results\.[a-z0-9_]+|urine_ml|collection_min|urine_urea|mean_blood_urea|height_cm)"[^>]*>`)
	for name, h := range map[string]*house{"empty": empty, "ordinary": home(t, 4, false), "overfull": overfullBloods(t)} {
		list := h.doseAddresses()
		if len(list) < 15 {
			t.Fatalf("%s: only %d pages", name, len(list))
		}
		for _, path := range list {
			text, ok := h.sound(name, path, "<b><b>", 250_000)
			if !ok {
				continue
			}
			if strings.HasSuffix(path, "/correct") {
				continue // what is corrected was measured once
			}
			for _, field := range measured.FindAllString(text, -1) {
				if !strings.Contains(field, `value=""`) || !strings.Contains(field, `autocomplete="off"`) {
					t.Errorf("%s: %s fills in a measured value: %s", name, path, field)
				}
			}
		}
	}
}

// lastSession is the last ended session of the invented person.
func (h *house) lastSession() (id string, from, to time.Time) {
	h.t.Helper()
	h.member("p-vida-hribar", func(m *record.Member) {
		for _, s := range m.Sessions {
			if _, over := s.Ended(); over {
				id = s.ID
				from, _ = s.Began()
				to, _ = s.Ended()
			}
		}
	})
	return id, from.In(simulate.Zone()), to.In(simulate.Zone())
}

// drawn fills the form of a sample.
func drawnAt(timing string, at time.Time, pairs ...string) url.Values {
	f := url.Values{"timing": {timing}, "day": {at.Format(time.DateOnly)}, "clock": {at.Format("15:04")}, "laboratory": {"Laboratory by the weir (invented)"}}
	for i := 0; i+1 < len(pairs); i += 2 {
		f.Set(pairs[i], pairs[i+1])
	}
	return f
}

// A pair of samples by form: tied to its session, strange values typed again,
// what was typed kept on the page.
func TestBloodsByForm(t *testing.T) {
	h := home(t, 3, false)
	id, from, to := h.lastSession()
	path := vida + "/dose/bloods/new"

	status, _, text := h.post(path, drawnAt("pre", from, "results.urea", "18.2", "results.potassium", "5.1", "unit.potassium", "mmol/L"))
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, "has no unit") || !strings.Contains(text, `value="18.2"`) {
		t.Errorf("a urea without a unit: %d, %s", status, problems(text))
	}
	pre := drawnAt("pre", from, "results.urea", "18,2", "unit.urea", "mmol/L", "results.potassium", "6.2", "unit.potassium", "mmol/L", "results.crp", "<5", "unit.crp", "mg/L")
	pre.Set("id", newID())
	pre.Set("next", vida+"/dose")
	status, _, text = h.post(path, pre)
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, `name="again.results.potassium"`) || !strings.Contains(text, `value="&lt;5"`) {
		t.Errorf("potassium of 6.2: %d, %s", status, problems(text))
	}
	pre.Set("again.results.potassium", "6.2")
	if status, to, text := h.post(path, pre); status != http.StatusSeeOther || to != vida+"/dose" {
		t.Fatalf("typed again: %d, %s", status, problems(text))
	}
	status, _, text = h.post(path, drawnAt("post", to, "results.urea", "18.4", "unit.urea", "mmol/L", "sampling_method", "slow_flow"))
	if status != http.StatusUnprocessableEntity || !strings.Contains(text, "swapped") {
		t.Errorf("after not below before: %d, %s", status, problems(text))
	}
	if status, _, text := h.post(path, drawnAt("post", to, "results.urea", "5.2", "unit.urea", "mmol/L", "sampling_method", "slow_flow")); status != http.StatusSeeOther {
		t.Fatalf("the sample after: %d, %s", status, problems(text))
	}
	h.member("p-vida-hribar", func(m *record.Member) {
		a, b := m.SampleOf(id, record.Pre, "urea"), m.SampleOf(id, record.Post, "urea")
		if a == nil || b == nil || a.Value.Find("urea").Value != "18.2" || a.Value.Find("crp").Op != "<" || !a.At.Equal(from.Truncate(time.Minute)) {
			t.Errorf("kept are %+v and %+v", a, b)
		}
	})
	for name, f := range map[string]url.Values{
		"no time of drawing": {"timing": {"pre"}, "laboratory": {"L"}, "results.potassium": {"5"}, "unit.potassium": {"mmol/L"}},
		"no session near":    drawnAt("pre", from.AddDate(0, 0, -400), "results.potassium", "5", "unit.potassium", "mmol/L"),
	} {
		if status, _, text := h.post(path, f); status != http.StatusUnprocessableEntity || problems(text) == "" {
			t.Errorf("%s: %d, %s", name, status, problems(text))
		}
	}
	if text := h.see(vida + "/dose"); !strings.Contains(text, "Bloods of") || !strings.Contains(text, "6.2") {
		t.Error("the dose does not show the new bloods")
	}
}

// A sample is corrected and struck out like any entry, and stays in sight.
func TestSampleIsCorrected(t *testing.T) {
	h := home(t, 3, false)
	var old *record.Blood
	h.member("p-vida-hribar", func(m *record.Member) { old = m.Bloods[0] })
	page := vida + "/dose/bloods/" + old.ID
	form := drawnAt("pre", old.At.In(simulate.Zone()))
	for _, r := range old.Value.Results {
		form.Set("results."+r.Analyte, strings.TrimSpace(r.Op+r.Value.String()))
		form.Set("unit."+r.Analyte, r.Unit)
		form.Set("upper."+r.Analyte, r.Upper.String())
		form.Set("assay."+r.Analyte, r.Assay)
	}
	form.Set("results.sodium", "137")
	form.Set("laboratory", old.Value.Laboratory)
	if status, _, text := h.post(page+"/correct", form); status != http.StatusUnprocessableEntity || !strings.Contains(text, "why it is corrected") {
		t.Errorf("without a reason: %d, %s", status, problems(text))
	}
	form.Set("reason", "sodium misread")
	if status, _, text := h.post(page+"/correct", form); status != http.StatusSeeOther {
		t.Fatalf("corrected: %d, %s", status, problems(text))
	}
	if text := h.see(page); !strings.Contains(text, "Struck out or replaced") {
		t.Error("the first version is out of sight")
	}
	var now *record.Blood
	h.member("p-vida-hribar", func(m *record.Member) {
		for _, b := range m.Bloods {
			if b.Corrects == old.ID {
				now = b
			}
		}
	})
	if now == nil || now.Value.Find("sodium").Value != "137" || now.Value.Session != old.Value.Session {
		t.Fatalf("the corrected sample is %+v", now)
	}
	if status, to, text := h.post(vida+"/dose/strike/"+now.ID, url.Values{"reason": {"another person's tube"}, "next": {vida + "/dose/bloods"}}); status != http.StatusSeeOther {
		t.Fatalf("struck out: %d %s %s", status, to, problems(text))
	}
	h.member("p-vida-hribar", func(m *record.Member) {
		if m.Blood(now.ID).Counts() {
			t.Error("a struck-out sample counts")
		}
	})
}

// A critical value stands on Today and on Dose, and only the words of a call
// put it away (H-94).
func TestCriticalPage(t *testing.T) {
	h := home(t, 2, false)
	f := drawnAt("other", h.now.Add(-3*time.Hour), "results.potassium", "6.8", "unit.potassium", "mmol/L", "haemolysed", "yes")
	f.Set("again.results.potassium", "6.8")
	if status, _, text := h.post(vida+"/dose/bloods/new", f); status != http.StatusSeeOther {
		t.Fatalf("potassium of 6.8: %d, %s", status, problems(text))
	}
	for _, page := range []string{"/dose", "/"} {
		if text := plainText(h.see(vida + page)); !strings.Contains(text, "Ring now") || !strings.Contains(text, "6.8") || !strings.Contains(text, "haemolysed") || !strings.Contains(text, "not the laboratory’s alarm") {
			t.Errorf("%s does not hold on to it", page)
		}
	}
	var call string
	h.member("p-vida-hribar", func(m *record.Member) {
		call = vida + "/dose/call/" + m.CriticalOpen()[0].Blood.ID + "/potassium"
	})
	if status, _, text := h.post(call, url.Values{"rang": {""}, "said": {""}}); status != http.StatusUnprocessableEntity || !strings.Contains(h.see(vida+"/dose"), "Ring now") {
		t.Errorf("a call without words: %d, %s", status, problems(text))
	}
	if status, _, text := h.post(call, url.Values{"rang": {"night nurse"}, "said": {"come in at once"}}); status != http.StatusSeeOther {
		t.Fatalf("the call: %d, %s", status, problems(text))
	}
	for _, page := range []string{"/dose", "/"} {
		if strings.Contains(h.see(vida+page), "Ring now") {
			t.Errorf("%s still says to ring", page)
		}
	}
}

// What a file holds is shown beside the record and kept only when it is
// accepted; somebody else's stays out (CC16, H-102).
func TestImportQuarantine(t *testing.T) {
	h := home(t, 2, false)
	_, from, to := h.lastSession()
	count := func() (n int) {
		h.member("p-vida-hribar", func(m *record.Member) { n = len(m.Bloods) })
		return n
	}
	before := count()
	head := "name,birth_date,drawn,timing,analyte,value,unit,laboratory\n"
	row := func(name, at, timing, rest string) string {
		return name + ",1969-04-02," + at + "," + timing + "," + rest + ",Laboratory by the weir (invented)\n"
	}
	pre, post := from.Format("2006-01-02 15:04"), to.Format("2006-01-02 15:04")
	file := head + row("Vida Hribar", pre, "pre", "BUN,51,mg/dL") + row("Vida Hribar", pre, "pre", "Potassium,6.2,mmol/L") +
		row("Vida Hribar", pre, "pre", "Urea,150,mg/dL") + row("Vera Hribar", pre, "pre", "Sodium,138,mmol/L") + row("Vida Hribar", post, "post", "BUN,15,mg/dL")
	form := url.Values{"text": {file}, "dates": {"year"}}
	status, _, text := h.post(vida+"/dose/import", form)
	if status != http.StatusOK || count() != before {
		t.Fatalf("shown: %d; %d samples kept", status, count()-before)
	}
	for _, words := range []string{"BUN · 51 · mg/dL", "51&nbsp;mg/dL", "named for Vera Hribar", "two things", "Nothing is kept yet", "Your last", "&nbsp;mmol/L, "} {
		if !strings.Contains(strings.ReplaceAll(text, "\u00a0", "&nbsp;"), words) {
			t.Errorf("the page lacks %q", words)
		}
	}
	ids := regexp.MustCompile(`name="take\.(bloods-[0-9a-f]+)"`).FindAllStringSubmatch(text, -1)
	if len(ids) != 2 {
		t.Fatalf("%d samples offered", len(ids))
	}
	accept := func() (int, string) {
		status, _, text := h.post(vida+"/dose/import/accept", form)
		return status, text
	}
	if status, text := accept(); status != http.StatusUnprocessableEntity || !strings.Contains(text, "No sample is ticked") {
		t.Errorf("nothing ticked: %d, %s", status, problems(text))
	}
	for _, id := range ids {
		form.Set("take."+id[1], "yes")
		form.Set("method."+id[1], "slow_flow")
	}
	if status, text := accept(); status != http.StatusUnprocessableEntity || count() != before || !strings.Contains(text, ", typed again") {
		t.Errorf("a strange potassium went through: %d, %s", status, problems(text))
	}
	for _, id := range ids {
		form.Set("again."+id[1]+".potassium", "6.2")
	}
	if status, text := accept(); status != http.StatusSeeOther || count() != before+2 {
		t.Fatalf("accepted: %d, %d kept, %s", status, count()-before, problems(text))
	}
	if status, _ := accept(); status != http.StatusUnprocessableEntity || count() != before+2 {
		t.Errorf("accepted twice: %d, %d kept", status, count()-before)
	}

	// A file that names nobody needs the name typed; one without timing needs it said.
	bare := url.Values{"text": {"analyte,value,unit,drawn\nPhosphate,1.61,mmol/L," + h.now.AddDate(0, 0, -1).Format("2006-01-02") + " 09:00\n"}, "dates": {"year"}}
	_, _, text = h.post(vida+"/dose/import", bare)
	id := regexp.MustCompile(`name="take\.(bloods-[0-9a-f]+)"`).FindStringSubmatch(text)
	if id == nil {
		t.Fatal(problems(text))
	}
	bare.Set("take."+id[1], "yes")
	bare.Set("timing."+id[1], "other")
	bare.Set("lab."+id[1], "L")
	bare.Set("whose", "Vera Hribar")
	if status, _, text := h.post(vida+"/dose/import/accept", bare); status != http.StatusUnprocessableEntity || !strings.Contains(text, "Type the name") {
		t.Errorf("with another name: %d, %s", status, problems(text))
	}
	bare.Set("whose", "vida  hribar")
	bare.Del("timing." + id[1])
	if status, _, text := h.post(vida+"/dose/import/accept", bare); status != http.StatusUnprocessableEntity || !strings.Contains(text, "was it drawn before a session") {
		t.Errorf("without a timing: %d, %s", status, problems(text))
	}
	bare.Set("timing."+id[1], "other")
	if status, _, text := h.post(vida+"/dose/import/accept", bare); status != http.StatusSeeOther {
		t.Errorf("with the name and the timing: %d, %s", status, problems(text))
	}
	if status, _, text := h.post(vida+"/dose/import", url.Values{"text": {"<html>log in</html>"}}); status != http.StatusUnprocessableEntity || problems(text) == "" {
		t.Errorf("no table: %d", status)
	}
}

// Another week stands beside today's, passes a limit in words, is refused in a
// sentence, and becomes a question only when it is sent.
func TestAnotherWeekPage(t *testing.T) {
	h := home(t, 4, false)
	text := plainText(h.see(vida + "/dose/week?day=mon&day=wed&day=fri&length_min=180"))
	for _, words := range []string{"Side by side", "Standard Kt/V a week", "over the removal rate of", "your unit set", "It changes no prescription", "Phosphate", "Longest time without", "Dialysate", "Sets of supplies"} {
		if !strings.Contains(text, words) {
			t.Errorf("the page lacks %q", words)
		}
	}
	if text := plainText(h.see(vida + "/dose/week?length_min=9")); !strings.Contains(text, "Length: 9 is not accepted: needs 30 to 720") {
		t.Error("a session of nine minutes is not refused in words")
	}
	if text := plainText(h.see(vida + "/dose/week?day=noday")); !strings.Contains(text, "Days: noday is not accepted") {
		t.Error("a day that is none is not refused in words")
	}
	questions := func() (n int) {
		h.member("p-vida-hribar", func(m *record.Member) { n = len(m.Questions) })
		return n
	}
	before := questions()
	if status, _, text := h.post(vida+"/dose/week/question", url.Values{"words": {"Would this week fit me?"}}); status != http.StatusSeeOther || questions() != before+1 {
		t.Errorf("kept as a question: %d, %s", status, problems(text))
	}
	if text := plainText(h.see(vida + "/dose/weeks?wish=gentle&no_gap=yes")); !strings.Contains(text, "weeks reach what is wanted") || !strings.Contains(text, "Today’s") {
		t.Error("the weeks that meet the target are not there")
	}
	h.member("p-vida-hribar", func(m *record.Member) {
		if n := len(m.Prescriptions); n != 2 {
			t.Errorf("looking at weeks made %d prescriptions of two", n)
		}
	})
}

// The dose goes by what was done: a session held is in it at once.
func TestDoseFollowsTheRecord(t *testing.T) {
	h := home(t, 3, false)
	first := h.see(vida + "/dose")
	h.member("p-vida-hribar", func(m *record.Member) {
		s := m.Sessions[len(m.Sessions)-1]
		if s.Phase() != session.Done {
			t.Fatal("the last session is not closed")
		}
	})
	h.now = h.now.AddDate(0, 0, 9) // nothing held for nine days
	if later := h.see(vida + "/dose"); later == first || !strings.Contains(plainText(later), "missed or cut short") {
		t.Error("nine days without a session change nothing on the page")
	}
}
