//go:build browser

package browsertest

import (
	"testing"

	"github.com/chromedp/cdproto/emulation"
)

// On the printed cards no telephone number is parted over two lines.
func TestPrintedNumbersStandOnOneLine(t *testing.T) {
	t.Parallel()
	h := home(t, 1, false)
	s := newScreen(t, h, "numbers", 680, 960) // what A4 leaves between its margins
	for _, page := range []string{"/card", "/needlestick"} {
		s.open(vida + page)
		call(s, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Media: "print"})
		numbers := eval[int](s, `document.querySelectorAll(".phones b").length`)
		parted := eval[int](s, `[...document.querySelectorAll(".phones b")].filter(b => {
			const r = document.createRange();
			r.selectNodeContents(b);
			return r.getClientRects().length > 1;
		}).length`)
		if numbers == 0 || parted != 0 {
			t.Errorf("%s: of %d numbers %d are parted", page, numbers, parted)
		}
	}
}
