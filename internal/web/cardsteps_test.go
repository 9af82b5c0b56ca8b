package web

import (
	"net/http"
	"strings"
	"testing"

	"ebbline/record"
	"ebbline/session"
)

// The unit's steps for a trouble are typed in beside the card, a version each; the
// newest counts, and one that is struck out stays in sight and gives its place back
// to the one before it.
func TestUnitsStepsAreTypedIn(t *testing.T) {
	h, ida := settled(t)
	h.says(ida+"/card/steps", "Your unit’s own steps for 0 of 17 things", "No steps from your unit yet.")
	h.says(ida+"/unit", "No steps from your unit yet for what can go wrong. Type them in")
	h.says(ida+"/card", "Type in your unit’s steps")
	page := ida + "/card/steps/power"
	h.says(page, "Power or water cut", "word for word, one act a line", "After a power cut: the blood goes back within min")
	h.silent(page, "Saline each time")
	h.silent(ida+"/card/steps/air", "the blood goes back within")
	h.says(ida+"/card/steps/low_pressure", "Saline each time")
	h.refused(page, "is still blank", "words", "Turn by hand", "ring", "technician", "from", "Nurse K", "given_on", "2026-06-01")
	old := []string{"words", "Turn by hand", "ring", "technician", "blood_back_within_min", "20", "from", "Nurse K", "given_on", "2026-06-01", "review_by", "2027-06-01"}
	if to := h.saved(page, append(old, "next", ida+"/card/steps")...); to != ida+"/card/steps" {
		t.Errorf("it leads to %s", to)
	}
	// The address says which trouble, whatever the form says.
	h.saved(page, "trouble", "air", "words", "Open the clamp\r\nTurn by hand, steadily", "ring", "unit", "blood_back_within_min", "15", "from", "Dr B", "given_on", "2026-06-08", "review_by", "2027-06-08")
	h.says(ida+"/card/steps", "steps for 1 of 17 things", "Ring first: the unit . From Dr B, 8 June 2026", "Open the clamp Turn by hand, steadily", "within 15 min; after that no longer", "Before (1)", "from Nurse K, 1 June 2026")
	h.says(page, "What stood there before stays in the record.")
	if text := h.see(page); !strings.Contains(text, "Open the clamp\nTurn by hand, steadily</textarea>") {
		t.Error("the form does not begin with what counts now")
	}
	h.says(ida+"/unit", "Its steps for 1 of 17 things that go wrong.")
	h.says(ida+"/card", "Your unit’s steps: 1 of 17")
	var newest string
	h.member("person-ida", func(m *record.Member) { newest = m.StepsFor(session.TroublePower).ID })
	strike := ida + "/unit/strike/" + newest
	if text := h.see(ida + "/card/steps"); !strings.Contains(text, strike+"?next="+ida+"/card/steps") {
		t.Error("no way to strike it out")
	}
	h.says(strike, "Open the clamp")
	h.saved(strike, "reason", "another person's paper")
	h.says(ida+"/card/steps", "From Nurse K, 1 June 2026", "struck out: another person's paper")
	if status, _ := h.get(ida + "/card/steps/earthquake"); status != http.StatusNotFound {
		t.Errorf("steps for what is no trouble: %d", status)
	}
}

// The card as it prints has a side for each trouble with steps, and none for the rest.
func TestCardPrintsTheSteps(t *testing.T) {
	h, ida := settled(t)
	without := len(h.see(ida + "/card.pdf"))
	h.keep("person-ida", h.stepsOf(session.TroubleAir, session.RingUnit, "Clamp the venous line"))
	h.keep("person-ida", h.stepsOf(session.TroubleFire, session.RingUnit, "Clamp, unscrew, leave"))
	text := h.see(ida + "/card.pdf")
	if sides := strings.Count(text, "/Type /Page\n"); sides != 3 || len(text) <= without {
		t.Errorf("%d sides, %d bytes; %d before", sides, len(text), without)
	}
}

// The card is open to screens that are not paired: they read the steps there, and
// nothing of a session that runs.
func TestCardShowsNothingOfTheSession(t *testing.T) {
	h := home(t, 2, true)
	base := vida + "/session/" + h.life.Open
	h.saved(base+"/reading", "systolic_mmhg", "131", "diastolic_mmhg", "71")
	h.press(base, session.TroubleAir, "Yes, this is happening")
	text := h.see(vida + "/card")
	_, troubles, _ := strings.Cut(text, `<section id="wrong"`)
	troubles, _, _ = strings.Cut(troubles, `<nav class="parts"`)
	for _, words := range []string{"131/71", "happening since", "<form", "/session/"} {
		if strings.Contains(troubles, words) {
			t.Errorf("the card's troubles hold %q", words)
		}
	}
	if !strings.Contains(troubles, "Clamp the venous line") || !strings.Contains(mainOf(text), `href="#wrong-air"`) {
		t.Error("the card has no way to the steps")
	}
}

// A screen that is not paired sees nothing of the session in the bar over the card;
// one of the house does.
func TestCardOfAStrangerHasNoBar(t *testing.T) {
	h, _ := shared(t, true)
	status, text, _ := h.away(http.MethodGet, vida+"/card", "", nil)
	if status != http.StatusOK || strings.Contains(text, "bar-phase") || !strings.Contains(text, `<section id="wrong-air"`) {
		t.Errorf("%d: a stranger sees the bar (%v), or no steps", status, strings.Contains(text, "bar-phase"))
	}
	if !strings.Contains(h.see(vida+"/card"), "bar-phase") {
		t.Error("the house's own card has no bar")
	}
}

// While a trouble is open in which the blood stays out, the card says it above its steps
// and leaves out those of a hand return, on a screen that is not paired too, which is
// told no more of the session than that (H-138).
func TestCardHoldsTheBloodBack(t *testing.T) {
	h, _ := shared(t, true)
	base := vida + "/session/" + h.life.Open
	const byHand = "Turn the pump by hand"
	h.keep("p-vida-hribar", h.stepsOf(session.TroublePower, session.RingUnit, byHand))
	card := func(paired bool) string {
		t.Helper()
		if paired {
			return h.see(vida + "/card")
		}
		status, text, _ := h.away(http.MethodGet, vida+"/card", "", nil)
		if status != http.StatusOK {
			t.Fatalf("the card: %d", status)
		}
		return text
	}
	for _, paired := range []bool{true, false} {
		if text := card(paired); !strings.Contains(text, byHand) || strings.Contains(text, "is not over") {
			t.Errorf("paired %v: with nothing open the steps are not there, or something is held", paired)
		}
	}
	h.says(vida+"/card/steps", byHand)
	h.saved(base+"/trouble", "trouble", session.TroubleAir, "state", session.TroubleOpen)
	since := h.now.Format("15:04")
	for paired, want := range map[bool]string{
		true:  "Give the blood back: never – “Air or foam” is not over (since " + since + ").",
		false: "Give the blood back: never – something that went wrong in this session is not over.",
	} {
		text := card(paired)
		article := plainText(mainOf(text))
		rule, steps := strings.Index(article, want), strings.Index(article, "Steps for each thing")
		if rule < 0 || steps < rule {
			t.Errorf("paired %v: the card does not say %q above the steps: %s", paired, want, article)
		}
		if strings.Contains(text, byHand) {
			t.Errorf("paired %v: the steps of the hand return are there", paired)
		}
		_, overlays, _ := strings.Cut(text, `<section id="wrong-power"`)
		overlays, _, _ = strings.Cut(overlays, "</section>")
		if power := plainText(overlays); !strings.Contains(power, want) || !strings.Contains(power, "are left out while") {
			t.Errorf("paired %v: a power cut: %s", paired, power)
		}
		if !paired && (strings.Contains(text, "is not over (since") || strings.Contains(text, "“Air or foam” is not over")) {
			t.Error("a stranger is told what is open")
		}
	}
	h.says(vida+"/card/steps", "Give the blood back: never – “Air or foam” is not over (since "+since+").", "are left out while “Air or foam” is not over.")
	h.silent(vida+"/card/steps", byHand)
	h.saved(base+"/trouble", "trouble", session.TroubleAir, "state", session.TroubleOver, "said", "Nurse R at the unit: go on")
	for _, paired := range []bool{true, false} {
		if text := card(paired); !strings.Contains(text, byHand) || strings.Contains(text, "is not over") {
			t.Errorf("paired %v: it is over and still held", paired)
		}
	}
}
