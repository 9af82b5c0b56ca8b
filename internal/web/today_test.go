package web

import (
	"strings"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

func TestTodayBeforeTheFirstSession(t *testing.T) {
	h, ida := settled(t)
	h.says(ida+"/", "Thursday 11 June", "Next session Today", "By your prescription: Monday, Tuesday, Thursday, Saturday", "Start setting up", "No session is written down yet", "No weight is written down yet")
	h.silent(ida+"/", "Overdue", "stands in its way", "Left open", "a day")
}

// The ordinary day of the invented household.
func TestTodayOrdinary(t *testing.T) {
	h := home(t, 2, false)
	h.now = time.Date(2026, 6, 11, 9, 0, 0, 0, h.now.Location())
	h.says(vida+"/", "Next session Today, about", "To drink until then", "a day", "in all, from the end of the last session", "inside the limits set by Dr B. Zupan", "Sweat and breath are taken to cancel", "At the last weight", "would come off", "Not a plan: you weigh again first")
	h.silent(vida+"/", "Overdue", "The long gap")
	if text := h.see(vida + "/"); strings.Count(text, `class="main huge"`) != 1 {
		t.Error("there is not one large button")
	}
}

// A session that nobody held is said, with whom to ring; the program rings
// nobody.
func TestTodayOverdue(t *testing.T) {
	h := home(t, 2, false)
	h.now = h.now.AddDate(0, 0, 5)
	h.says(vida+"/", "Overdue", "sessions of your prescription have gone by without one here", "ring your unit now; Ebbline can ring nobody", "+000 1 555 01 10", "It was worked out until the session that is overdue")
	h.silent(vida+"/", "a day in all", "The long gap")
}

func TestTodayLongGap(t *testing.T) {
	h, ida := settled(t)
	rx := *mustRx(t, h)
	rx.Days = []string{"tue", "sat"}
	h.keep("person-ida", &rx)
	h.holdSession("person-ida", "session-of-tue", time.Date(2026, 6, 9, 17, 0, 0, 0, h.now.Location()), 63_700)
	h.says(ida+"/", "Saturday 13 June, about 17:00", "The long gap. More than two days without treatment", "3 days and 19 hours after the last one ended")
}

func mustRx(t *testing.T, h *house) *session.Prescription {
	t.Helper()
	var rx *session.Prescription
	h.desk.View(func(s *record.Household) { rx = &s.People[0].Prescriptions[0].Value })
	return rx
}

// holdSession types in a short session from paper.
func (h *house) holdSession(person, id string, at time.Time, post unit.Mass) {
	h.t.Helper()
	entry := func(minutes int, kind string, body any) record.Entry {
		return record.Entry{ID: newID(), Kind: kind, At: at.Add(time.Duration(minutes) * time.Minute), Person: person, Session: id, Body: body, Zone: h.desk.Zone().String()}
	}
	flow, back, off := unit.Flow(300), unit.Volume(250), unit.Volume(1800)
	list := []record.Entry{
		entry(0, "session_opened", &session.Opened{Place: "home", Source: "paper", Confirmed: true}),
		entry(45, "connected", &session.Connected{BloodFlow: &flow}),
		entry(285, "came_off", &session.CameOff{Washback: &back, Removed: &off, Returned: "all"}),
		entry(305, "weigh_out", &session.WeighOut{Weight: post, Scale: "bathroom"}),
		entry(310, "closed", &session.Closed{}),
	}
	for _, e := range list {
		out, err := h.desk.Record(h.t.Context(), e)
		if err == nil && !out.Clear() {
			// A value that is asked about is typed again.
			e.Again = map[string]string{}
			k, _ := record.Find(e.Kind)
			for _, f := range out.Findings[0] {
				field, _ := k.Field(f.Field)
				e.Again[f.Field] = field.Text(e.Body)
			}
			out, err = h.desk.Record(h.t.Context(), e)
		}
		if err != nil || !out.Clear() {
			h.t.Fatalf("%s: %v %v", e.Kind, err, firstFinding(out))
		}
	}
}

// What the last session left open leads to the form that closes it.
func TestTodayLeftOpen(t *testing.T) {
	h, ida := settled(t)
	h.holdSession("person-ida", "session-of-tue", time.Date(2026, 6, 9, 17, 0, 0, 0, h.now.Location()), 63_700)
	text := h.see(ida + "/")
	for words, link := range map[string]string{"Weight before": "/session/session-of-tue/weigh_in", "Disinfection": "/session/session-of-tue/disinfection"} {
		if !strings.Contains(text, `href="`+ida+link+`">`+words) {
			t.Errorf("%s does not lead to %s", words, link)
		}
		h.see(ida + link)
	}
	if !strings.Contains(plainText(text), "Left open on Tue 9 Jun") {
		t.Error("it does not say of which session")
	}
	if strings.Contains(text, ">Weight after<") {
		t.Error("what is there is called open")
	}
}

func TestTodayWithAnOpenSession(t *testing.T) {
	h := home(t, 1, true)
	var began time.Time
	h.member("p-vida-hribar", func(m *record.Member) { began, _ = m.Open().Began() })
	h.says(vida+"/", "A session is open", "Running since "+began.In(h.now.Location()).Format("15:04"), "Go on with the session")
	h.silent(vida+"/", "Start setting up", "To drink until then", "never closed")
	h.now = h.now.AddDate(0, 0, 2)
	h.says(vida+"/", "The session begun on Thursday 11 June was never closed", "Go on with the session")
}

func TestDueWords(t *testing.T) {
	zone := time.UTC
	now := time.Date(2026, 6, 11, 9, 0, 0, 0, zone)
	for days, want := range map[int]string{-2: "Tuesday 9 June", -1: "Yesterday", 0: "Today", 1: "Tomorrow", 2: "Saturday 13 June"} {
		d := household.Due{Day: unit.DateOf(now).Add(days)}
		if got := dueWords(d, now); got != want {
			t.Errorf("in %d days: %q", days, got)
		}
		d.At, d.Timed = now.AddDate(0, 0, days).Add(7*time.Hour+38*time.Minute), true
		if got := dueWords(d, now); got != want+", about 16:40" {
			t.Errorf("in %d days: %q", days, got)
		}
	}
}

func TestGapWords(t *testing.T) {
	for d, want := range map[time.Duration]string{0: "", 43*time.Hour + 40*time.Minute: "44 hours", 47 * time.Hour: "47 hours", 48 * time.Hour: "2 days", 67 * time.Hour: "2 days and 19 hours", -time.Hour: ""} {
		if got := gapWords(d); got != want {
			t.Errorf("%s: %q, want %q", d, got, want)
		}
	}
}

// An allowance is written down to the next 50 mL, never up.
func TestLitres(t *testing.T) {
	for ml, want := range map[float64]string{1249.9: "1.2\u00a0L", 1250: "1.25\u00a0L", 49: "0\u00a0L", 2000: "2\u00a0L"} {
		if got := litres(ml); got != want {
			t.Errorf("%g mL: %q, want %q", ml, got, want)
		}
	}
}
