//go:build browser

package browsertest

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/chromedp"
)

// measure is the script that lists what is wrong with the targets of a page:
// each at least 44 pixels high and wide, and 8 from the next. A link in the
// middle of a sentence is as high as its line; it is counted among the targets
// only where it stands alone.
const measure = `(() => {
	const faults = [];
	const inSentence = e => e.tagName === "A" && getComputedStyle(e).display === "inline" && e.parentElement.textContent.trim() !== e.textContent.trim();
	const shown = e => e.checkVisibility({visibilityProperty: true}) && e.getBoundingClientRect().right > 0;
	const targets = [...document.querySelectorAll("a[href], button, input:not([type=hidden]):not([type=radio]):not([type=checkbox]), select, textarea, summary, label:has(input[type=radio]), label:has(input[type=checkbox])")]
		.filter(e => shown(e) && !inSentence(e) && !e.closest(".foot, svg, .unseen") && !(e.tagName === "A" && e.closest("td, th")));
	const name = e => e.tagName.toLowerCase() + " “" + (e.textContent.trim() || e.name || "").slice(0, 40) + "”";
	// What stays in sight lies over what is scrolled under it.
	const stays = e => e.closest(".bar") !== null && getComputedStyle(e.closest(".bar")).position === "sticky";
	const boxes = targets.map(e => ({e, r: e.getBoundingClientRect(), fixed: e.closest(".parts, .pad, .top") !== null || stays(e)}));
	for (const {e, r} of boxes) {
		if (r.height < 43.9 || r.width < 43.9) faults.push(name(e) + " is " + Math.round(r.width) + " by " + Math.round(r.height));
	}
	for (let i = 0; i < boxes.length; i++) for (let j = i + 1; j < boxes.length; j++) {
		const a = boxes[i], b = boxes[j];
		if (a.e.contains(b.e) || b.e.contains(a.e) || a.fixed || b.fixed) continue;
		const gap = Math.max(b.r.left - a.r.right, a.r.left - b.r.right, b.r.top - a.r.bottom, a.r.top - b.r.bottom);
		if (gap < 7.9) faults.push(name(a.e) + " and " + name(b.e) + " are " + gap.toFixed(1) + " apart");
	}
	return faults;
})()`

// wide is the script that tells what reaches beyond the screen.
const wide = `(() => {
	const over = document.documentElement.scrollWidth - window.innerWidth;
	if (over <= 0) return "";
	const e = [...document.querySelectorAll("body *")].filter(e => e.getBoundingClientRect().right > window.innerWidth + 1 && !e.closest(".scroll"))[0];
	return over + " pixels too wide" + (e ? ", by " + e.outerHTML.slice(0, 120) : "");
})()`

// sideways is the script that lists what scrolls or is cut off sideways: only a
// table may, in a box of its own that has a name and that a keyboard reaches.
const sideways = `(() => {
	const faults = [];
	for (const e of document.querySelectorAll("body, body *")) {
		if (e.scrollWidth <= e.clientWidth + 1 || e.clientWidth === 0 || e.closest(".unseen, .sheet-unseen, svg")) continue;
		if (getComputedStyle(e).overflowX === "visible") continue;
		const box = e.getAttribute("role") === "region" && e.getAttribute("aria-label") && e.tabIndex === 0 && e.querySelector("table");
		if (!box || window.innerWidth >= 820 && e.querySelector("table.grid, table.sheet-grid, table.sessions, table.terms"))
			faults.push(e.outerHTML.slice(0, 90) + " is " + e.scrollWidth + " wide in " + e.clientWidth);
	}
	return faults;
})()`

// squeezed is the script that lists words that stand in a column too narrow for
// them: more lines than words, a letter or two each.
const squeezed = `(() => [...document.querySelectorAll("main *")]
	.filter(e => e.children.length === 0 && e.textContent.trim().length > 12 && e.getClientRects().length > 0 && !e.closest(".unseen, svg"))
	.filter(e => { const r = e.getBoundingClientRect(); return r.height > 0 && r.width < 30 && r.height > 4 * r.width; })
	.map(e => "“" + e.textContent.trim().slice(0, 40) + "” has " + Math.round(e.getBoundingClientRect().width) + " pixels"))()`

// On every page of a session the targets can be hit with a thumb, nothing
// reaches beyond the screen, not on a telephone and not with the letters twice
// as large, and the figures that matter are large.
func TestLayout(t *testing.T) {
	t.Parallel()
	h := home(t, 2, false)
	s := newScreen(t, h, "layout", tabletW, tabletH)
	smallest := map[string]float64{}
	stages(s, func(name string) { laidOut(s, name, smallest) })
	for figure, least := range map[string]float64{".across": 100, ".second": 56, ".tiles .figure": 40} {
		got, ok := smallest[figure]
		t.Logf("smallest %s on a tablet: %.0f pixels", figure, got)
		if !ok || got < least {
			t.Errorf("the smallest %s on a tablet is %.0f pixels, want %.0f", figure, got, least)
		}
	}
}

// laidOut looks at the page that is open in every width, and keeps the size of its
// smallest large figures on a tablet.
func laidOut(s *screen, name string, smallest map[string]float64) {
	t := s.t
	t.Helper()
	for _, width := range []int64{320, phoneW, tabletW, deskW} {
		s.size(width, tabletH)
		if what := eval[string](s, wide); what != "" {
			t.Errorf("%s, %d wide: %s", name, width, what)
		}
		for _, what := range eval[[]string](s, sideways) {
			t.Errorf("%s, %d wide: %s", name, width, what)
		}
		for _, what := range eval[[]string](s, squeezed) {
			t.Errorf("%s, %d wide: %s", name, width, what)
		}
		if width == 320 {
			continue
		}
		for _, fault := range eval[[]string](s, measure) {
			t.Errorf("%s, %d wide: %s", name, width, fault)
		}
	}
	for _, width := range []int64{phoneW, tabletW} {
		s.size(width, tabletH)
		eval[bool](s, `document.documentElement.style.fontSize = "225%", true`)
		if what := eval[string](s, wide); what != "" {
			t.Errorf("%s, %d wide, letters twice as large: %s", name, width, what)
		}
		eval[bool](s, `document.documentElement.style.fontSize = "", true`)
	}
	s.size(tabletW, tabletH)
	for _, figure := range []string{".across", ".second", ".tiles .figure"} {
		size := eval[float64](s, fmt.Sprintf(`Math.min(...[...document.querySelectorAll(%q)].filter(e => e.getClientRects().length > 0).map(e => parseFloat(getComputedStyle(e).fontSize)), 1e6)`, figure))
		if size < 1e6 {
			if was, ok := smallest[figure]; !ok || size < was {
				smallest[figure] = size
			}
		}
	}
}

// luminance is the mean relative luminance of a picture, as WCAG defines it: 0
// is black, 1 is white.
func luminance(t *testing.T, b []byte) float64 {
	t.Helper()
	img, err := png.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatal(err)
	}
	return meanLuminance(img)
}

func meanLuminance(img image.Image) float64 {
	linear := func(v uint32) float64 {
		c := float64(v) / 0xffff
		if c <= 0.04045 {
			return c / 12.92
		}
		return math.Pow((c+0.055)/1.055, 2.4)
	}
	bounds := img.Bounds()
	sum := 0.0
	for y := bounds.Min.Y; y < bounds.Max.Y; y++ {
		for x := bounds.Min.X; x < bounds.Max.X; x++ {
			r, g, b, _ := img.At(x, y).RGBA()
			sum += 0.2126*linear(r) + 0.7152*linear(g) + 0.0722*linear(b)
		}
	}
	return sum / float64(bounds.Dx()*bounds.Dy())
}

// At night no page lights up the bedroom, and none flashes white on the way from
// one page to the next.
func TestNight(t *testing.T) {
	t.Parallel()
	h := home(t, 2, true)
	s := newScreen(t, h, "night", tabletW, tabletH)
	s.theme("night")
	base := vida + "/session/" + h.life.Open
	paths := []string{base, vida + "/", vida + "/card", vida + "/sessions", base + "/sheet", base + "/reading"}
	s.open(base)
	if got := eval[string](s, `document.documentElement.dataset.theme`); got != "night" {
		t.Fatalf("the server sets the theme %q", got)
	}
	for _, path := range paths {
		s.open(path)
		b, err := chromedp.Run(s.ctx, chromedp.CaptureScreenshot())
		if err != nil {
			t.Fatal(err)
		}
		got := luminance(t, b)
		t.Logf("%s: mean luminance %.4f", path, got)
		if got > 0.05 {
			t.Errorf("%s at night has a mean luminance of %.3f, want 0.05 at most", path, got)
		}
	}

	// Every frame that is shown while pages change.
	frames := chromedp.Events(s.ctx, page.ScreencastFrame)
	call(s, page.StartScreencast, page.StartScreencastParams{Format: page.StartScreencastFormatPng, EveryNthFrame: 1})
	var seen atomic.Int64
	brightest := 0.0
	done := make(chan struct{})
	go func() {
		defer close(done)
		for f, err := range frames {
			if err != nil {
				return
			}
			seen.Add(1)
			brightest = max(brightest, luminance(t, f.Data))
			if _, err := chromedp.Call(s.ctx, page.ScreencastFrameAck, page.ScreencastFrameAckParams{SessionID: f.SessionID}); err != nil {
				return
			}
		}
	}()
	for range 2 {
		for _, path := range paths {
			before := seen.Load()
			s.open(path)
			for from := time.Now(); seen.Load() == before && time.Since(from) < patience; time.Sleep(5 * time.Millisecond) {
			}
			if seen.Load() == before {
				t.Errorf("no frame of %s was seen", path)
			}
		}
	}
	call(s, page.StopScreencast, struct{}{})
	if err := chromedp.Cancel(s.ctx); err != nil {
		t.Fatal(err)
	}
	<-done
	t.Logf("%d frames between the pages, the brightest with a mean luminance of %.4f", seen.Load(), brightest)
	if brightest > 0.05 {
		t.Errorf("of %d frames the brightest has %.3f, want none above 0.05", seen.Load(), brightest)
	}
}
