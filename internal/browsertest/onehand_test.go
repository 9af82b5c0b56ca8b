//go:build browser

package browsertest

import (
	"fmt"
	"testing"
	"time"

	"ebbline/session"
)

// tileSays is what the opened tile shows of a value that is typed and not saved.
const tileSays = `(e => e ? e.innerText.replace(/\s+/g, " ").trim() : "")(document.querySelector(".wrong:target [data-typed]"))`

// A low pressure that stands typed is not lost while its steps lie over the page: the
// tile shows it, taps there and news from elsewhere leave it, and one button saves it.
func TestATypedPressureStaysWhileItsStepsAreOpen(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "typed-stays", phoneW, phoneH)
	s.open(base)
	s.fill("/reading", "systolic_mmhg", "51")
	s.fill("/reading", "diastolic_mmhg", "30")
	s.turns(func() { s.tap(`#pad [data-pad="save"]`) })
	s.tap(`main .low-asked a[href="#wrong-low_pressure"]`)
	s.lies("wrong-low_pressure", true)
	const typed = `51/30 typed, not saved yet Yes, 51/30: save it`
	s.until("what is typed, in the tile", tileSays+` === `+quoted(typed))
	s.shot("tile")
	s.saves("lay back", func() { s.tap(`#wrong-low_pressure button >> Lay back`) })
	s.until("the mark on the button", `/^written/.test(`+saidOn("Lay back")+`)`)
	h.aside(base+"/drink", "volume_ml", "100")
	age, _ := h.desk.Watch()
	s.until("the news", fmt.Sprintf(`document.body.dataset.state === "%d"`, age))
	if got := eval[string](s, tileSays); got != typed {
		t.Errorf("after a tap and news the tile says %q", got)
	}
	if got := s.address(); got != base+"/reading" || eval[string](s, fieldOf("/reading", "systolic_mmhg")+".value") != "51" {
		t.Errorf("on %s", got)
	}
	s.saves("the pressure", func() { s.tap(`#wrong-low_pressure [data-typed] button`) })
	s.until("the steps on the page of the session", `location.pathname === "`+base+`" && location.hash === "#wrong-low_pressure"`)
	if list := h.written(base, "reading"); len(list) != 1 || list[0].Body.(*session.Reading).Systolic.String() != "51" {
		t.Errorf("%d readings are written", len(list))
	}
	if got := eval[string](s, tileSays); got != "" {
		t.Errorf("saved, the tile says %q", got)
	}
}

// With the program gone a value that leads to help opens its steps on the page. When the
// program is back and asks about it, "look at it" opens the questions with what was typed
// and when; one yes saves it. To take one off the screen asks first.
func TestADangerousReadingLeadsToHelpWithoutTheProgram(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "gone-danger", phoneW, phoneH)
	s.open(base)
	s.current()
	h.wire.cut()
	back := func() {
		s.tap(`section.wrong:target .wrong-top a[href="#main"]`)
		s.until("the page again", `!document.querySelector("section.wrong:target")`)
	}
	typed := h.now()
	s.fill("/reading", "systolic_mmhg", "71")
	s.fill("/reading", "diastolic_mmhg", "39")
	s.tap(`#pad [data-pad="save"]`)
	s.until("low pressure", `location.hash === "#wrong-low_pressure"`)
	s.until("that it is kept, over the steps", `document.querySelector("#wrong-told").innerText.includes("1 entry is kept on this screen, NOT SAVED")`)
	if got := eval[string](s, tileSays); got != "71/39 kept on this screen, not saved yet" {
		t.Errorf("the tile says %q", got)
	}
	s.shot("low")
	back()
	s.fill("/reading", "dialysate_temp_c", "39.5")
	s.tap(`#pad [data-pad="save"]`)
	s.until("the fluid", `location.hash === "#wrong-fluid"`)
	back()
	s.tap(`.taps.feelings button >> chest pain`)
	s.until("the heart", `location.hash === "#wrong-heart"`)
	back()
	s.fill("/reading", "venous_mmhg", "135")
	s.tap(`#pad [data-pad="save"]`)
	s.shows("4 entries are NOT SAVED YET")
	if at := eval[string](s, `location.hash`); at != "#main" {
		t.Errorf("a pressure in its bounds leads to %s", at)
	}
	s.into(`form[action$="/reading"] [name="venous_mmhg"]`)
	s.until("the keys are free", `(r => [...document.querySelectorAll("#pad button")].filter(b => b.style.visibility !== "hidden").every(b => { const k = b.getBoundingClientRect();
		return b.contains(document.elementFromPoint(k.x + k.width / 2, k.y + k.height / 2)) }) && document.elementFromPoint(r.x + 9, r.y + r.height / 2) === document.activeElement)(document.activeElement.getBoundingClientRect())`)
	s.shot("pad")
	s.tap(`#pad [data-pad="close"]`)

	h.later(20 * time.Minute)
	eval[bool](s, fmt.Sprintf("sleptFor(%d), true", (20*time.Minute).Milliseconds()))
	h.wire.mend()
	s.shows("2 entries are NOT SAVED YET")
	s.shows("One was not taken")
	s.shot("refused")
	s.turns(func() { s.tap(`#waiting button >> look at it`) })
	s.until("the one tap", find+`(`+quoted(`button >> yes, 71/39`)+`)`)
	s.until("the way to its steps", `document.querySelector('main .low-asked a[href="#wrong-low_pressure"]')`)
	if got, want := eval[string](s, fieldOf("/reading", "clock")+".value"), typed.Format("15:04"); got != want {
		t.Errorf("the time is %s, want %s", got, want)
	}
	s.shot("looked-at")
	s.saves("the pressure", func() { s.tap(`button >> yes, 71/39`) })
	for _, e := range h.written(base, "reading") {
		if b := e.Body.(*session.Reading); b.Systolic != nil && (b.Systolic.String() != "71" || e.At.Sub(typed).Abs() > time.Minute) {
			t.Errorf("%s at %s, typed at %s", b.Systolic, e.At.Format(time.TimeOnly), typed.Format(time.TimeOnly))
		}
	}
	s.open(base)
	s.shows("1 entry is NOT SAVED YET")
	s.tap(`#waiting button >> take it off this screen`)
	s.shows("Throw away what was typed?")
	s.tap(`#waiting button >> keep it`)
	s.shows("look at it")
	s.tap(`#waiting button >> take it off this screen`)
	s.tap(`#waiting button >> throw it away`)
	s.until("nothing waits any more", `!document.querySelector("#waiting")`)
}

// A low pressure that is typed and not even sent stands in its tile too, and is saved
// there; the page stays where it is.
func TestWhatIsTypedStandsInItsTile(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "typed-tile", phoneW, phoneH)
	s.open(base)
	s.fill("/reading", "systolic_mmhg", "51")
	s.fill("/reading", "diastolic_mmhg", "30")
	s.tap(`#pad [data-pad="close"]`)
	s.tap(`.bar-wrong a`)
	s.lies("wrong", true)
	s.tap(`#wrong a[href="#wrong-air"]`)
	s.lies("wrong-air", true)
	if got := eval[string](s, tileSays); got != "" {
		t.Errorf("under air stands %q", got)
	}
	s.tap(`section.wrong:target a[href="#wrong"]`)
	s.tap(`#wrong a[href="#wrong-low_pressure"]`)
	s.until("what is typed, in the tile", tileSays+` === "51/30 typed, not saved yet Yes, 51/30: save it"`)
	s.saves("the pressure", func() { s.tap(`#wrong-low_pressure [data-typed] button`) })
	s.until("what is saved, in the tile", `document.querySelector("#wrong-low_pressure .wrong-bp").innerText.includes("51/30") && !document.querySelector("[data-typed]")`)
	if list := h.written(base, "reading"); len(list) != 1 || eval[string](s, fieldOf("/reading", "systolic_mmhg")+".value") != "" {
		t.Errorf("%d readings are written, or the form still holds it", len(list))
	}
}

// One yes pressed while the program is gone is saved once it is back; what else was asked
// about waits on the screen to be looked at, with what was typed.
func TestOneYesThatWaitedLeavesTheRest(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "yes-waited", phoneW, phoneH)
	s.open(base)
	s.fill("/reading", "systolic_mmhg", "74")
	s.fill("/reading", "diastolic_mmhg", "41")
	s.fill("/reading", "tmp_mmhg", "340")
	s.turns(func() { s.tap(`#pad [data-pad="save"]`) })
	s.current()
	h.wire.cut()
	s.tap(`button >> yes, 74/41`)
	s.until("low pressure", `location.hash === "#wrong-low_pressure"`)
	s.until("it is kept", tileSays+` === "74/41 kept on this screen, not saved yet"`)
	if eval[string](s, fieldOf("/reading", "systolic_mmhg")+".value") != "" {
		t.Error("what is kept stands in the form, to be sent twice")
	}
	s.tap(`section.wrong:target .wrong-top a[href="#main"]`)
	h.wire.mend()
	s.shows("1 entry is NOT SAVED YET")
	s.shows("One was not taken: 340")
	if list := h.written(base, "reading"); len(list) != 1 || list[0].Body.(*session.Reading).TMP != nil {
		t.Fatalf("%d readings are written", len(list))
	}
	s.turns(func() { s.tap(`#waiting button >> look at it`) })
	s.until("the rest in the form", fieldOf("/reading", "tmp_mmhg")+`.value === "340" && `+fieldOf("/reading", "systolic_mmhg")+`.value === ""`)
	s.fill("/reading", "again.tmp_mmhg", "340")
	s.saves("the rest", func() { s.tap(`form[action$="/reading"] .send button.main`) })
	s.until("nothing waits any more", `!document.querySelector("#waiting")`)
	if list := h.written(base, "reading"); len(list) != 2 || list[1].Body.(*session.Reading).TMP.String() != "340" {
		t.Errorf("%d readings are written", len(list))
	}
}
