//go:build browser

package browsertest

import (
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// This computer shows a code; another screen, without script, opens the address,
// types it, and sees the day. Both pages are looked at by day and at night.
func TestPairAnotherScreen(t *testing.T) {
	t.Parallel()
	h := home(t, 1, false)
	here := newScreen(t, h, "the computer", deskW, deskH)
	here.open("/screens")
	here.turns(func() { here.tap(`form[action="/screens/code"] button`) })
	code := strings.ReplaceAll(eval[string](here, `document.querySelector(".pair-code").textContent`), " ", "")
	if !regexp.MustCompile(`^\d{6}$`).MatchString(code) {
		t.Fatalf("the code is %q", code)
	}
	here.sees("screens")

	away := newScreen(t, h, "the tablet", phoneW, phoneH)
	address := strings.Replace(h.wire.url(), "127.0.0.1", otherName, 1)
	away.do(chromedp.Navigate(address + "/pair"))
	away.titled("Pair this screen")
	away.sees("pair")
	away.size(phoneW, phoneH)
	away.plain()
	away.do(chromedp.Navigate(address + "/pair?code=" + code))
	away.titled("Pair this screen")
	if got := eval[string](away, `document.getElementById("code").value`); got != code {
		t.Errorf("the address fills in %q, want %q", got, code)
	}
	away.fill("/pair", "name", "Tablet")
	away.turns(func() { away.send("/pair") })
	if got := away.address(); got != vida+"/" {
		t.Errorf("paired, it stands at %s", got)
	}
	here.open("/screens")
	here.shows("Tablet")
	if n := eval[int](here, `document.querySelectorAll(".pair-code").length`); n != 0 {
		t.Error("the used code is shown still")
	}
}
