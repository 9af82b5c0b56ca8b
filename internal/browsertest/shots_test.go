//go:build browser

package browsertest

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// shot takes a picture of the whole page for the folder that EBBLINE_SHOTS
// names, when it names one. The pictures are written at the end of the test,
// since the disk may be full in the middle of it.
func (s *screen) shot(name string) {
	s.t.Helper()
	if os.Getenv("EBBLINE_SHOTS") == "" {
		return
	}
	// The bar at the foot of the screen would lie across a picture of the whole.
	const bar = `document.querySelectorAll(".parts, .saved").forEach(e => { e.style.position = %q })`
	_ = chromedp.Do(s.ctx, chromedp.Evaluate[chromedp.Void](fmt.Sprintf(bar, "static")))
	b, err := chromedp.Run(s.ctx, chromedp.FullScreenshot(100))
	_ = chromedp.Do(s.ctx, chromedp.Evaluate[chromedp.Void](fmt.Sprintf(bar, "")))
	if err != nil {
		s.t.Errorf("%s: no picture of %s: %v", s.name, name, err)
		return
	}
	if s.pictures == nil {
		s.pictures = map[string][]byte{}
	}
	s.pictures[name] = b
}

// hang writes the pictures.
func (s *screen) hang() {
	folder := os.Getenv("EBBLINE_SHOTS")
	for name, b := range s.pictures {
		err := os.MkdirAll(folder, 0o755)
		if err == nil {
			err = os.WriteFile(filepath.Join(folder, s.name+"-"+name+".png"), b, 0o644)
		}
		if err != nil {
			s.t.Error(err)
		}
	}
}

func setCookie(ctx context.Context, t *chromedp.Target, url, name, value string) error {
	_, err := cdp.Call(ctx, t, network.SetCookie, network.SetCookieParams{URL: url, Name: name, Value: value})
	return err
}
