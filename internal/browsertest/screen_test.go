//go:build browser

package browsertest

import (
	"context"
	"encoding/json"
	"fmt"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

// A screen is one tablet, telephone or desk: a profile of its own with one page.
type screen struct {
	t     *testing.T
	ctx   context.Context
	house *house
	name  string

	taps, keys int // how often a finger came down, how many signs were typed
	looked     int // how many pages axe looked at
	pictures   map[string][]byte

	mu   sync.Mutex
	said []string // what the page complained of to itself
}

const (
	phoneW, phoneH   = 360, 740
	tabletW, tabletH = 820, 1180
	deskW, deskH     = 1440, 900
)

// newScreen opens a fresh screen of a size.
func newScreen(t *testing.T, h *house, name string, width, height int64) *screen {
	t.Helper()
	s := &screen{t: t, house: h, name: name}
	ctx, cancel := chromedp.NewContext(browser, chromedp.WithNewBrowserContext(), chromedp.WithListener(s.hear))
	t.Cleanup(func() {
		cancel()
		s.hang()
		s.mu.Lock()
		defer s.mu.Unlock()
		for _, words := range s.said {
			t.Errorf("%s: the page complained: %s", name, words)
		}
	})
	s.ctx = ctx
	if err := chromedp.Do(ctx); err != nil { // opens the page, with no limit of time upon it
		t.Fatalf("%s: %v", name, err)
	}
	s.do(chromedp.EmulateViewport(width, height, chromedp.EmulateTouch))
	// Nothing fades, so that what is measured is what stays.
	call(s, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: []*emulation.MediaFeature{{Name: "prefers-reduced-motion", Value: "reduce"}}})
	// A clock that a test can put forward, as a screen's is when it slept.
	s.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{
			Source: `(() => { const real = Date.now; let ahead = 0; Date.now = () => real() + ahead; window.sleptFor = ms => { ahead += ms; }; })()`,
		})
		return err
	}))
	return s
}

// plain switches the page's script off.
func (s *screen) plain() {
	s.t.Helper()
	call(s, emulation.SetScriptExecutionDisabled, emulation.SetScriptExecutionDisabledParams{Value: true})
}

// hear keeps what a page says goes wrong in it. That the network does not
// answer is no fault of the page.
func (s *screen) hear(ev any) {
	var words string
	switch ev := ev.(type) {
	case *runtime.EventExceptionThrown:
		words = ev.ExceptionDetails.Text
		if e := ev.ExceptionDetails.Exception; e != nil {
			words += " " + e.Description
		}
	case *runtime.EventConsoleAPICalled:
		if ev.Type != "error" && ev.Type != "warning" {
			return
		}
		for _, a := range ev.Args {
			words += string(a.Value) + " "
		}
	default:
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.said = append(s.said, words)
}

func (s *screen) do(steps ...chromedp.Action[chromedp.Void]) {
	s.t.Helper()
	ctx, cancel := context.WithTimeout(s.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		s.t.Fatalf("%s: %v", s.name, err)
	}
}

// call sends one command of the browser's protocol.
func call[P, R any](s *screen, command cdp.Command[P, R], params P) R {
	s.t.Helper()
	r, err := chromedp.Run(s.ctx, func(ctx context.Context, t *chromedp.Target) (R, error) { return cdp.Call(ctx, t, command, params) })
	if err != nil {
		s.t.Fatalf("%s: %v", s.name, err)
	}
	return r
}

// eval asks the page.
func eval[T any](s *screen, js string) T {
	s.t.Helper()
	v, err := chromedp.Run(s.ctx, chromedp.Evaluate[T](js))
	if err != nil {
		s.t.Fatalf("%s: %s: %v", s.name, js, err)
	}
	return v
}

// whole is true of a page that has come to its last sign and whose script has run.
const whole = `document.readyState === "complete"`

// patience is how long a page may take to come to what a test waits for.
const patience = 15 * time.Second

// until asks the page again and again until the answer is true. A page of which
// only a part has come has no answer: what a test looks at next may be in the
// rest.
func (s *screen) until(what, js string) {
	s.t.Helper()
	s.untilWithin(patience, what, js)
}

// untilWithin returns how long it took.
func (s *screen) untilWithin(limit time.Duration, what, js string) time.Duration {
	s.t.Helper()
	from := time.Now()
	for {
		// While a page is on its way there is nobody to ask; that is no answer.
		if ok, err := chromedp.Run(s.ctx, chromedp.Evaluate[bool](whole+" && !!("+js+")")); err == nil && ok {
			return time.Since(from)
		}
		if time.Since(from) > limit {
			s.shot("failed")
			s.t.Fatalf("%s: after %v still not: %s\n%s\n%.1500s", s.name, limit, what, s.address(), s.words())
		}
		time.Sleep(15 * time.Millisecond)
	}
}

// open goes to an address of the house.
func (s *screen) open(path string) {
	s.t.Helper()
	err := chromedp.Do(s.ctx, navigate(s, path))
	for try := 0; err != nil && strings.Contains(err.Error(), "ERR_ABORTED") && try < 5; try++ {
		// The page was on its own way somewhere at that moment.
		err = chromedp.Do(s.ctx, navigate(s, path))
	}
	if err != nil {
		s.t.Fatalf("%s: %s: %v", s.name, path, err)
	}
	s.settled()
}

// navigate goes to an address of the house without waiting for its page.
func navigate(s *screen, path string) chromedp.Action[chromedp.Void] {
	return chromedp.Navigate(s.house.wire.url() + path)
}

func (s *screen) settled() {
	s.t.Helper()
	s.until("the page is loaded", `document.querySelector("h1")`)
}

// titled waits until the page with this heading is there.
func (s *screen) titled(heading string) {
	s.t.Helper()
	s.until("the page “"+heading+"”", fmt.Sprintf(`document.querySelector("h1") && document.querySelector("h1").textContent.trim().startsWith(%s)`, quoted(heading)))
}

// words are everything that the page shows.
func (s *screen) words() string {
	return eval[string](s, `document.querySelector("main") ? document.querySelector("main").innerText : document.body.innerText`)
}

func (s *screen) address() string { return eval[string](s, `location.pathname + location.search`) }

// turns does something that must lead to another page, if only to the same one
// come back, and waits until it is there.
func (s *screen) turns(act func()) {
	s.t.Helper()
	eval[bool](s, `window.turning = true`)
	act()
	s.until("another page", `!window.turning && document.querySelector("h1")`)
}

// shows waits until the page holds these words, upper case or lower.
func (s *screen) shows(words string) {
	s.t.Helper()
	s.until("the words “"+words+"”", fmt.Sprintf(`document.body.innerText.toLowerCase().includes(%s)`, quoted(strings.ToLower(words))))
}

func quoted(v any) string {
	b, err := json.Marshal(v)
	if err != nil {
		panic(err) // strings and lists of them only
	}
	return string(b)
}

// find is the script that finds what a finger aims at: "css" or "css >> words".
const find = `(aim => {
	const [css, words] = aim.split(" >> ");
	for (const e of document.querySelectorAll(css)) {
		if (words && !e.textContent.includes(words)) continue;
		if (!e.checkVisibility({visibilityProperty: true})) continue;
		return e;
	}
	return null;
})`

// A spot is where a finger comes down, or why it cannot.
type spot struct {
	X, Y float64
	Why  string
}

// tap brings a finger down on what the aim names, and fails when something else
// lies there.
func (s *screen) tap(aim string) {
	s.t.Helper()
	at := s.spot(aim)
	s.taps++
	s.do(chromedp.TapXY(at.X, at.Y))
}

func (s *screen) spot(aim string) spot {
	s.t.Helper()
	js := find + "(" + quoted(aim) + ")"
	js = `(() => { const e = ` + js + `;
		if (!(` + whole + `)) return {Why: "the page is still on its way"};
		if (!e) return {Why: "it is not there"};
		if (e.disabled) return {Why: "it is closed"};
		const seen = () => {
			const r = e.getClientRects()[0];
			const x = r.left + r.width / 2, y = r.top + r.height / 2;
			const hit = document.elementFromPoint(x, y);
			return {X: x, Y: y, ok: hit && (hit === e || e.contains(hit) || hit.contains(e) && hit.closest("label,button,a,summary")), by: hit && hit.outerHTML.slice(0, 80)};
		};
		let at = seen();
		if (!at.ok) { e.scrollIntoView({block: "center", behavior: "instant"}); at = seen(); }
		return at.ok ? {X: at.X, Y: at.Y} : {Why: "under " + at.by};
	})()`
	var last spot
	var err error
	for from := time.Now(); time.Since(from) < patience; time.Sleep(20 * time.Millisecond) {
		if last, err = chromedp.Run(s.ctx, chromedp.Evaluate[spot](js)); err == nil && last.Why == "" {
			return last
		}
	}
	s.shot("failed")
	s.t.Fatalf("%s: no finger gets at %q: %s %v\n%s\n%.1500s", s.name, aim, last.Why, err, s.address(), s.words())
	return spot{}
}

// typed types into the field that has the focus, as a keyboard does.
func (s *screen) typed(text string) {
	s.t.Helper()
	s.keys += len([]rune(text))
	call(s, input.InsertText, input.InsertTextParams{Text: text})
}

// field is the aim at a field of a form by its name.
func field(form, name string) string {
	return fmt.Sprintf(`form[action$="%s"] [name="%s"]`, form, name)
}

// fill puts a value into a field of a form: numbers through the pad on the page
// where there is one, the rest through the keyboard. It taps on the field only
// when the page has not gone there by itself.
func (s *screen) fill(form, name, value string) {
	s.t.Helper()
	if name == "expiry" || name == "again.expiry" {
		for i, part := range strings.Split(value, "-") {
			s.fill(form, name+[]string{".year", ".month", ".day"}[i], part)
		}
		return
	}
	aim := field(form, name)
	s.until("the field "+aim, find+"("+quoted(aim)+")")
	if !eval[bool](s, `document.activeElement === `+find+`(`+quoted(aim)+`)`) {
		s.into(aim)
	}
	if eval[bool](s, `!!document.querySelector("#pad:not([hidden])") && document.activeElement.classList.contains("number")`) {
		for _, digit := range value {
			s.tap(`#pad [data-pad="` + padKey(digit) + `"]`)
		}
	} else {
		s.typed(value)
	}
	// The page hears of the last touch a moment after the finger went up.
	s.until(aim+" holding "+value, find+`(`+quoted(aim)+`).value === `+quoted(value))
}

// into taps on a field and waits until what is typed goes there.
func (s *screen) into(aim string) {
	s.t.Helper()
	s.tap(aim)
	s.until("the focus in "+aim, `document.activeElement === `+find+`(`+quoted(aim)+`)`)
}

// padKey is what the pad calls a sign.
func padKey(sign rune) string {
	if sign == '-' {
		return "−"
	}
	return string(sign)
}

// choose taps the word of a closed list.
func (s *screen) choose(form, name, value string) {
	s.t.Helper()
	s.tap(fmt.Sprintf(`form[action$="%s"] label:has(input[name="%s"][value="%s"])`, form, name, value))
}

// send presses the button of a form.
func (s *screen) send(form string) {
	s.t.Helper()
	s.tap(fmt.Sprintf(`form[action$="%s"] button.main`, form))
}

// theme sets the person's choice of screen.
func (s *screen) theme(name string) {
	s.t.Helper()
	s.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		return setCookie(ctx, t, s.house.wire.url(), "theme", name)
	}))
}

// size gives the screen another size.
func (s *screen) size(width, height int64) {
	s.t.Helper()
	call(s, emulation.SetDeviceMetricsOverride, emulation.SetDeviceMetricsOverrideParams{Width: width, Height: height, DeviceScaleFactor: 1})
}

// saves does something that must write an entry, and waits until the page shows
// the state that came of it.
func (s *screen) saves(what string, act func()) {
	s.t.Helper()
	before := s.house.entries()
	act()
	from := time.Now()
	for s.house.entries() == before {
		if time.Since(from) > patience {
			s.shot("failed")
			s.t.Fatalf("%s: %s wrote nothing\n%s\n%.1500s", s.name, what, s.address(), s.words())
		}
		time.Sleep(10 * time.Millisecond)
	}
	s.current()
}

// current waits until the page shows the newest state.
func (s *screen) current() {
	s.t.Helper()
	state, _ := s.house.desk.Watch()
	s.until("the newest state", fmt.Sprintf(`Number(document.body.dataset.state) >= %d`, state))
}

// write fills in a form and sends it. Of each pair the first is the name of the
// field; a value that begins with = is one of a closed list.
func (s *screen) write(form string, pairs ...string) {
	s.t.Helper()
	s.saves(form, func() {
		for i := 0; i+1 < len(pairs); i += 2 {
			switch name, value := pairs[i], pairs[i+1]; {
			case strings.HasPrefix(value, "="):
				s.choose(form, name, value[1:])
			default:
				s.fill(form, name, value)
			}
		}
		s.send(form)
	})
}

// awaited asks the page for something that it takes its time over.
func awaited[T any](s *screen, js string) T {
	s.t.Helper()
	v, err := chromedp.Run(s.ctx, chromedp.Evaluate[T](js, chromedp.EvalAwaitPromise))
	if err != nil {
		s.t.Fatalf("%s: %s: %v", s.name, js, err)
	}
	return v
}
