//go:build browser

package browsertest

import (
	"fmt"
	"testing"
	"time"
)

// unheard is the line under the bar that says how old the page is, in sight.
const unheard = `(e => !e.hidden && e.getBoundingClientRect().height > 0 && /^The program is not heard: as of \d\d:\d\d\.$/.test(e.innerText))(document.querySelector("#bar-old"))`

// A page says that its program is gone from the first request that fails, long before
// it greys, and until the program is heard again; nothing on it moves for that. One
// that the browser kept asks at once (H-42).
func TestUnheardIsSaidAtOnce(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "unheard", phoneW, phoneH)
	for _, path := range []string{base, vida + "/"} {
		s.open(path)
		s.current()
		if eval[bool](s, unheard) {
			t.Fatalf("%s: said of a page that is heard", path)
		}
		const top = `document.querySelector("main").getBoundingClientRect().top`
		before := eval[float64](s, top)
		h.wire.cut()
		took := s.untilWithin(2*time.Second, "how old it is", unheard)
		t.Logf("%s: said %v after the program went", path, took.Round(time.Millisecond))
		if eval[bool](s, `document.body.classList.contains("greyed")`) || !eval[bool](s, `document.querySelector("#fresh").innerText.includes("not heard since")`) {
			t.Errorf("%s: greyed at once, or the head does not say it", path)
		}
		if got := eval[float64](s, top); got != before {
			t.Errorf("%s: the page moved from %v to %v", path, before, got)
		}
		s.shot("said")
		s.tap(`.bar-wrong a`)
		s.until("the same over the troubles", `document.querySelector("#wrong-told").innerText.includes("The program is not heard: as of")`)
		s.tap(`#wrong .wrong-top a[href="#main"]`)
		h.wire.mend()
		s.until("heard again", `document.querySelector("#bar-old").hidden && !document.querySelector("#fresh").innerText.includes("not heard")`)
	}
	// A network that is dead breaks no line: what was not heard for eight seconds is said.
	h.wire.stall()
	eval[bool](s, fmt.Sprintf("sleptFor(%d), true", (9*time.Second).Milliseconds()))
	s.untilWithin(2*time.Second, "how old it is", unheard)
	h.wire.mend()
	s.until("heard again", `document.querySelector("#bar-old").hidden`)
	const asked = `(() => { const real = window.EventSource; let n = 0; window.EventSource = function (u) { n++; return new real(u); };
		window.dispatchEvent(new PageTransitionEvent("pageshow", { persisted: %v })); window.EventSource = real; return n; })()`
	if n := eval[int](s, fmt.Sprintf(asked, true)); n != 1 {
		t.Errorf("a page that the browser kept asked %d times", n)
	}
	if n := eval[int](s, fmt.Sprintf(asked, false)); n != 0 {
		t.Errorf("a page that was just loaded asked %d times more", n)
	}
}

// saidOn is what a button says of its last press.
func saidOn(button string) string {
	return `(b => b ? b.dataset.said || "" : "gone")([...document.querySelectorAll(".wrong:target button")].find(b => b.textContent.trim() === ` + quoted(button) + `))`
}

// A button says on itself what became of its press: at once, when it is written, and
// with the program gone that it is kept on this screen (H-44).
func TestAPressIsMarkedOnItsButton(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	base := h.running()
	s := newScreen(t, h, "marked", phoneW, phoneH)
	s.open(base + "#wrong-low_pressure")
	s.lies("wrong-low_pressure", true)
	s.current()
	h.wire.stall()
	s.tap(`#wrong-low_pressure button >> Lay back`)
	s.until("the press", saidOn("Lay back")+`.startsWith("pressed ")`)
	h.wire.mend()
	s.until("written", `/^written \d\d:\d\d$/.test(`+saidOn("Lay back")+`)`)
	s.until("no other button", saidOn("Removal off")+` === ""`)
	s.shot("written")
	h.wire.cut()
	eval[bool](s, `sleptFor(1100), true`)
	s.tap(`#wrong-low_pressure button >> Yes, this is happening`)
	s.until("kept", `/^kept on this screen \d\d:\d\d$/.test(`+saidOn("Yes, this is happening")+`)`)
	s.shot("kept")
	h.wire.mend()
	s.until("happening", `document.querySelector("#wrong-low_pressure .wrong-open").innerText.startsWith("Happening since")`)
	s.until("the button stays, marked, and no other is", saidOn("It is over")+` === "" && `+saidOn("Yes, this is happening")+`.startsWith("written ")`)
	if n := len(h.written(base, "trouble")); n != 1 {
		t.Errorf("%d troubles are written", n)
	}
	if said := eval[string](s, saidOn("Lay back")); said == "" {
		t.Error("the mark of what was written before is gone")
	}
}

// A form that is sent the plain way is held while the program is not heard: it stays
// with what was typed, and says why; going back asks then, and never else (H-46, H-118).
func TestAPlainFormIsHeldWhenTheProgramIsGone(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	h.running()
	s := newScreen(t, h, "form-held", phoneW, phoneH)
	path := vida + "/prescription/new"
	s.open(path)
	s.current()
	const asks = `!window.dispatchEvent(new Event("beforeunload", { cancelable: true }))`
	const field = `document.querySelector("form.order input[name='dry_weight_set_by']")`
	h.wire.cut()
	s.until("not heard", unheard)
	if eval[bool](s, asks) {
		t.Error("going back asks with nothing typed")
	}
	h.wire.mend()
	s.until("heard again", `document.querySelector("#bar-old").hidden`)
	s.into(`form.order input[name="dry_weight_set_by"]`)
	s.typed("Dr B")
	if eval[bool](s, asks) {
		t.Error("going back asks while the program is heard")
	}
	h.wire.cut()
	s.until("not heard", unheard)
	if !eval[bool](s, asks) {
		t.Error("going back does not ask")
	}
	typed := eval[string](s, field+".value")
	eval[bool](s, `document.querySelector("form.order").requestSubmit(), true`)
	s.shows("The program is not heard: NOT SAVED. Write it on paper, or try again later.")
	s.shot("held")
	if got := s.address(); got != path || typed == "" || eval[string](s, field+".value") != typed {
		t.Errorf("on %s with %q in the field, want %q", got, eval[string](s, field+".value"), typed)
	}
	if !eval[bool](s, `(b => b.innerText.startsWith("Send it all the same") && b.getBoundingClientRect().height >= 44)(document.querySelector(".form-held button"))`) {
		t.Error("no way to send it all the same")
	}
	h.wire.mend()
	s.until("heard again", `document.querySelector("#bar-old").hidden`)
	s.turns(func() { s.tap(".form-held button") })
	if got := s.address(); got == "" {
		t.Error("no page came")
	}
}
