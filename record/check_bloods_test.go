package record

import (
	"strconv"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// treated puts a session of 240 minutes into the book and returns when it
// began and ended.
func (b *book) treated(id string) (from, to time.Time) {
	b.t.Helper()
	b.must("session_opened", id, &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.must("weigh_in", id, &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	b.must("connected", id, &session.Connected{})
	from = b.now
	b.now = b.now.Add(239 * time.Minute)
	b.must("came_off", id, &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(2400))})
	to = b.now
	b.now = b.now.Add(48 * time.Hour)
	return from, to
}

// sample makes an entry of a sample drawn at a moment; results are written as
// "potassium 5.4 mmol/L".
func (b *book) sample(at time.Time, timing, sessionID string, results ...string) Entry {
	b.t.Helper()
	body := &Bloods{Timing: timing, Session: sessionID, Laboratory: "lab by the bridge (invented)"}
	if timing == Post {
		body.Method = "slow_flow"
	}
	for _, r := range results {
		part := strings.SplitN(r, " ", 3)
		op := strings.TrimRight(part[1], "0123456789.")
		body.Results = append(body.Results, BloodResult{Analyte: part[0], Op: op, Value: unit.Printed(strings.TrimPrefix(part[1], op)), Unit: part[2]})
	}
	e := b.entry("bloods", "", body)
	e.At = at
	return e
}

// Every analyte in every unit it is known in: what another unit would mean is
// refused or asked about, and what cannot be blood is refused (H-91, H-92, L:
// each unit pair).
func TestEveryAnalyteInEveryUnit(t *testing.T) {
	b := newBook(t)
	pairs := 0
	for _, a := range unit.Analytes() {
		for _, u := range a.Units {
			// A value in the middle of what blood can hold is taken, or asked
			// about, in its own unit; ten times the upper bound never is.
			in := func(v float64) string { return a.Code + " " + plainDigits((v-u.Offset)/u.Factor) + " " + u.Symbol }
			if found := Check(b.h, b.sample(b.now, Other, "", in(a.High*10))); !found.Refused() {
				t.Errorf("%s was not refused: %v", in(a.High*10), found)
			}
			if found := Check(b.h, b.sample(b.now, Other, "", in((a.Low+a.High)/2))); found.Refused() {
				t.Errorf("%s was refused: %v", in((a.Low+a.High)/2), found)
			}
			pairs++
		}
	}
	if pairs < 70 {
		t.Errorf("only %d pairs of analyte and unit were tried", pairs)
	}
}

func plainDigits(v float64) string { return strconv.FormatFloat(v, 'f', 4, 64) }

// The published pairs: BUN 70 mg/dL and urea 150 mg/dL are both 25 mmol/L.
func TestUreaUnitsAgree(t *testing.T) {
	for text, want := range map[string]float64{"urea 70 mg/dL": 25.0, "urea 150 mg/dL urea": 25.0, "urea 25.0 mmol/L": 25.0} {
		part := strings.SplitN(text, " ", 3)
		u, ok := (&Bloods{Results: []BloodResult{{Analyte: part[0], Value: unit.Printed(part[1]), Unit: part[2]}}}).Urea()
		if !ok || u.MmolPerL() < want-0.05 || u.MmolPerL() > want+0.05 {
			t.Errorf("%s is %.3f mmol/L, want %v", text, u.MmolPerL(), want)
		}
	}
}

func TestResultsWithoutOrInWrongUnit(t *testing.T) {
	b := newBook(t)
	from, _ := b.treated("session-1")
	for _, tt := range []struct{ results, field, words string }{
		{"potassium 5.4 ", "results.potassium", "has no unit"},
		{"potassium 5.4 mg/dL", "results.potassium", "mmol/L"},
		{"urea 12 mg/L", "results.urea", "mmol/L"},
		{"phosphate 5.5 mmol/L", "results.phosphate", "mg/dL"},
		{"haemoglobin 11.2 g/L", "results.haemoglobin", "g/dL"},
		{"calcium 9.4 mmol/L", "results.calcium", "mg/dL"},
		{"potassium  mmol/L", "results.potassium", "still blank"},
		{"unobtainium 5 mmol/L", "results", "no analyte"},
		{"potassium ≥5.4 mmol/L", "results.potassium", "needs <, >"},
	} {
		e := b.sample(from, Pre, "session-1", tt.results)
		if found := Check(b.h, e); !found.Refused() || !strings.Contains(found.On(tt.field), tt.words) {
			t.Errorf("%q: %v, want %s refused with %q", tt.results, found, tt.field, tt.words)
		}
	}
	e := b.sample(from, Pre, "session-1", "potassium 5.4 mmol/L", "potassium 5.4 mmol/L")
	if found := Check(b.h, e); !found.Refused() {
		t.Error("one analyte twice in one sample was taken")
	}
	e = b.sample(from, Pre, "session-1")
	if found := Check(b.h, e); !found.Refused() {
		t.Error("a sample without a result was taken")
	}
	e = b.sample(from, Pre, "session-1", "potassium 5.4 mmol/L")
	e.Body.(*Bloods).Results[0].Assay = "bad\x00text"
	if found := Check(b.h, e); !found.Refused() {
		t.Error("an assay with a control character was taken")
	}
}

// A strange value is taken when it is typed again, by the key of its analyte.
func TestStrangeResultsAreTypedAgain(t *testing.T) {
	b := newBook(t)
	from, _ := b.treated("session-1")
	e := b.sample(from, Pre, "session-1", "potassium 6.2 mmol/L", "sodium 138 mmol/L")
	found := Check(b.h, e)
	if len(found) != 1 || found[0].Field != "results.potassium" || found[0].Step != Ask {
		t.Fatalf("potassium 6.2: %v, want one question", found)
	}
	e.Again = map[string]string{"results.potassium": "6.3"}
	if found := Check(b.h, e); len(found) != 1 || !strings.Contains(found[0].Words, "6.2 and then as 6.3") {
		t.Errorf("typed 6.2, then 6.3: %v", found)
	}
	e.Again = map[string]string{"results.chloride": "100"}
	if found := Check(b.h, e); !found.Refused() {
		t.Errorf("an analyte typed again that is not there: %v", found)
	}
	e.Again = map[string]string{"results.potassium": "6,20"}
	if found := b.try(e); len(found) != 0 {
		t.Errorf("typed again with a comma: %v", found)
	}
	for _, tt := range []string{"phosphate 2.6 mmol/L", "potassium 3.4 mmol/L", "haemoglobin 160 g/L", "ferritin 1.234 µg/L"} {
		if found := Check(b.h, b.sample(b.now, Other, "", tt)); len(found) != 1 || found[0].Step != Ask {
			t.Errorf("%s: %v, want a question", tt, found)
		}
	}
	for _, tt := range []string{"phosphate 2.5 mmol/L", "potassium 3.5 mmol/L", "potassium 6.0 mmol/L"} {
		if found := Check(b.h, b.sample(b.now, Other, "", tt)); len(found) != 0 {
			t.Errorf("%s: %v, want it taken", tt, found)
		}
	}
}

// A value that would fit the last one in another unit is asked about (H-91):
// creatinine of 8.1 mg/dL typed as µmol/L is refused already, vitamin D is not.
func TestUnitOfTheLastValue(t *testing.T) {
	b := newBook(t)
	b.must2(b.sample(b.now.Add(-time.Hour), Other, "", "vitamin_d 30 ng/mL"))
	found := Check(b.h, b.sample(b.now, Other, "", "vitamin_d 31 nmol/L"))
	if len(found) != 1 || found[0].Step != Ask || !strings.Contains(found[0].Words, "ng/mL") {
		t.Errorf("31 nmol/L after 30 ng/mL: %v, want the unit asked about", found)
	}
	if found := Check(b.h, b.sample(b.now, Other, "", "vitamin_d 78 nmol/L")); len(found) != 0 {
		t.Errorf("78 nmol/L after 30 ng/mL (75 nmol/L): %v, want it taken", found)
	}
}

func (b *book) must2(e Entry) Entry {
	b.t.Helper()
	if found := b.try(e); len(found) > 0 {
		b.t.Fatalf("%s: %v", e.Kind, found)
	}
	return e
}

// Post at or above pre is refused, an odd fall is asked about, unlike units
// are refused, and none of it is averaged (H-93).
func TestPairOfUreas(t *testing.T) {
	pair := func(pre, post string) Findings {
		b := newBook(t)
		from, to := b.treated("session-1")
		b.must2(b.sample(from, Pre, "session-1", pre))
		return Check(b.h, b.sample(to, Post, "session-1", post))
	}
	for _, tt := range []struct {
		pre, post string
		step      Step // empty is taken
	}{
		{"urea 22.4 mmol/L", "urea 7.1 mmol/L", ""},
		{"urea 22.4 mmol/L", "urea 22.4 mmol/L", Refuse},
		{"urea 7.1 mmol/L", "urea 22.4 mmol/L", Refuse},
		{"urea 62 mg/dL", "urea 7.1 mmol/L", Refuse},
		{"urea 62 mg/dL", "urea 21 mg/dL urea", Refuse},
		{"urea 20.0 mmol/L", "urea 12.0 mmol/L", ""},  // 40 %
		{"urea 20.0 mmol/L", "urea 12.1 mmol/L", Ask}, // 39.5 %
		{"urea 30.0 mmol/L", "urea 3.0 mmol/L", ""},   // 90 %
		{"urea 30.0 mmol/L", "urea 2.9 mmol/L", Ask},
	} {
		found := pair(tt.pre, tt.post)
		if tt.step == "" && len(found) != 0 || tt.step != "" && (len(found) != 1 || found[0].Step != tt.step) {
			t.Errorf("%s, then %s: %v, want %q", tt.pre, tt.post, found, tt.step)
		}
	}
	// The same in the other order of typing: the sample after first.
	b := newBook(t)
	from, to := b.treated("session-1")
	b.must2(b.sample(to, Post, "session-1", "urea 22.4 mmol/L"))
	if found := Check(b.h, b.sample(from, Pre, "session-1", "urea 7.1 mmol/L")); !found.Refused() || !strings.Contains(found.Error(), "swapped") {
		t.Errorf("the sample after typed first: %v", found)
	}
	noMethod := b.sample(to, Post, "session-1", "urea 7 mmol/L")
	noMethod.Body.(*Bloods).Method = ""
	if found := Check(b.h, noMethod); found.On("sampling_method") == "" {
		t.Errorf("a urea after the session without its way of sampling: %v", found)
	}
	if found := Check(b.h, b.sample(to.Add(time.Minute), Post, "session-1", "urea 7 mmol/L")); !found.Refused() {
		t.Errorf("a second urea after one session: %v, want it refused", found)
	}
}

// A sample before or after a session names it and lies within twelve hours of
// it; a reported date in the place of the drawn one is refused (H-97).
func TestDrawnAtMatchesASession(t *testing.T) {
	b := newBook(t)
	from, to := b.treated("session-1")
	for name, e := range map[string]Entry{
		"before, named nothing":     b.sample(from, Pre, "", "urea 20 mmol/L"),
		"before, of no session":     b.sample(from, Pre, "no-session", "urea 20 mmol/L"),
		"before, 12 h 1 min early":  b.sample(from.Add(-12*time.Hour-time.Minute), Pre, "session-1", "urea 20 mmol/L"),
		"after, 12 h 1 min late":    b.sample(to.Add(12*time.Hour+time.Minute), Post, "session-1", "urea 7 mmol/L"),
		"before, drawn at the end":  b.sample(to.Add(time.Minute), Pre, "session-1", "urea 20 mmol/L"),
		"after, drawn at the start": b.sample(from.Add(-time.Minute), Post, "session-1", "urea 7 mmol/L"),
		"other, with a session":     b.sample(from, Other, "session-1", "urea 20 mmol/L"),
	} {
		if found := Check(b.h, e); !found.Refused() {
			t.Errorf("%s: %v, want it refused", name, found)
		}
	}
	reported := b.sample(from, Pre, "session-1", "urea 20 mmol/L")
	reported.Body.(*Bloods).ReportedOn = unit.DateOf(from).Add(-1)
	if found := Check(b.h, reported); found.On("reported_on") == "" {
		t.Errorf("reported the day before it was drawn: %v", found)
	}
	if found := b.try(b.sample(from.Add(-12*time.Hour), Pre, "session-1", "urea 20 mmol/L")); len(found) != 0 {
		t.Errorf("twelve hours before: %v, want it taken", found)
	}
	m := b.h.Member("person-one")
	if s := m.SessionNear(from.Add(-30*time.Minute), Pre); s == nil || s.ID != "session-1" {
		t.Errorf("half an hour before the session lies near %v", s)
	}
	if s := m.SessionNear(to.Add(13*time.Hour), Post); s != nil {
		t.Errorf("thirteen hours after the session lies near %s", s.ID)
	}
}

// A bound stays a bound: it is kept as printed and judged only as far as it
// goes (H-96).
func TestBoundsOfTheLaboratoryAreKept(t *testing.T) {
	b := newBook(t)
	e := b.must2(b.sample(b.now, Other, "", "crp <5 mg/L", "ferritin >2000 µg/L", "phosphate <0.30 mmol/L"))
	m := b.h.Member("person-one")
	got := m.Blood(e.ID).Value
	if r := got.Find("crp"); r.Op != "<" || r.Value != "5" || r.Exact() || r.Text() != "<\u00a05\u00a0mg/L" {
		t.Errorf("“<5” is kept as %+v", r)
	}
	for code, want := range map[string]string{"ferritin": Above, "phosphate": Below, "crp": NoLimits} {
		if j := m.LimitsAt(code, b.now).Judge(*got.Find(code), Pre); j.Verdict != want {
			t.Errorf("%s is %q, want %q", got.Find(code), j.Verdict, want)
		}
	}
	if j := ownLimits("bicarbonate").Judge(BloodResult{Analyte: "bicarbonate", Op: ">", Value: "20", Unit: "mmol/L"}, Pre); j.Verdict != CannotTell {
		t.Errorf("> 20 against 22 to 26 is %q, want that it cannot be told", j.Verdict)
	}
}

// A report that is read in twice is one report.
func TestSameSampleTwice(t *testing.T) {
	b := newBook(t)
	at := b.now.Add(-time.Hour)
	first := b.must2(b.sample(at, Other, "", "sodium 138 mmol/L"))
	if found := Check(b.h, b.sample(at, Other, "", "sodium 138 mmol/L")); !found.Refused() {
		t.Errorf("the same moment and analyte again: %v", found)
	}
	if found := Check(b.h, b.sample(at, Other, "", "chloride 101 mmol/L")); len(found) != 0 {
		t.Errorf("a second report of the same sample with another analyte: %v", found)
	}
	mend := b.sample(at, Other, "", "sodium 139 mmol/L")
	mend.Corrects, mend.Reason = first.ID, "I misread it"
	if found := b.try(mend); len(found) != 0 {
		t.Errorf("a correction: %v", found)
	}
	m := b.h.Member("person-one")
	if m.Blood(first.ID).Counts() || !m.Blood(mend.ID).Counts() {
		t.Error("after a correction both count, or neither")
	}
}

func TestResidualIsChecked(t *testing.T) {
	b := newBook(t)
	good := Residual{Volume: 900, Length: 1440, UrineUrea: "250", UrineUnit: "mmol/L"}
	b.must("residual", "", &good)
	bad := good
	bad.MeanUrea = "18"
	if found := b.try(b.entry("residual", "", &bad)); found.On("mean_blood_urea_unit") == "" {
		t.Errorf("a mean without its unit: %v", found)
	}
	bad.MeanUnit, bad.UrineUrea = "mmol/L", "99999"
	if found := b.try(b.entry("residual", "", &bad)); found.On("urine_urea") == "" {
		t.Errorf("a urine of 99999 mmol/L: %v", found)
	}
}

// A collection counts for 90 days and then no more (H-99).
func TestResidualGrowsOld(t *testing.T) {
	b := newBook(t)
	e := b.must("residual", "", &Residual{Volume: 900, Length: 1440, UrineUrea: "250", UrineUnit: "mmol/L"})
	m := b.h.Member("person-one")
	for days, counts := range map[int]bool{0: true, 1: true, 89: true, 90: true, 91: false, 400: false} {
		counted, old := m.Residual(e.At.AddDate(0, 0, days))
		if (counted != nil) != counts || (old != nil) == counts {
			t.Errorf("after %d days: counted %v, old %v; want it counted: %v", days, counted != nil, old != nil, counts)
		}
	}
	if counted, old := m.Residual(e.At.Add(-time.Hour)); counted != nil || old != nil {
		t.Error("a collection counts before it was made")
	}
}
