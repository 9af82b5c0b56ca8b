//go:build browser

package browsertest

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
)

// browser is the one browser of all tests; each screen is a profile of its own
// in it.
var browser context.Context

func TestMain(m *testing.M) { os.Exit(run(m)) }

func run(m *testing.M) int {
	path, err := exec.LookPath("chromium")
	if err != nil {
		fmt.Fprintln(os.Stderr, "There is no chromium on this machine, and without one nothing here can be shown. On Debian: apt-get install chromium")
		return 1
	}
	profile, err := os.MkdirTemp("", "ebbline-browser-")
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		return 1
	}
	defer os.RemoveAll(profile)
	options := []chromedp.ExecAllocatorOption{chromedp.ExecPath(path), chromedp.UserDataDir(profile), chromedp.Headless, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.NoFirstRun}
	for _, flag := range []string{
		"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync", "disable-dev-shm-usage",
		"disable-background-timer-throttling", "disable-renderer-backgrounding", "hide-scrollbars",
	} {
		options = append(options, chromedp.Flag(flag, true))
	}
	options = append(options, chromedp.Flag("force-color-profile", "srgb"))
	allocated, stop := chromedp.NewExecAllocator(context.Background(), options...)
	defer stop()
	ctx, cancel := chromedp.NewContext(allocated)
	defer cancel()
	if err := chromedp.Do(ctx); err != nil {
		fmt.Fprintln(os.Stderr, "chromium does not start:", err)
		return 1
	}
	browser = ctx
	code := m.Run()
	// Ask it to end, so that it does not write into a profile that is going.
	if err := chromedp.Cancel(ctx); err != nil {
		fmt.Fprintln(os.Stderr, "chromium does not end:", err)
	}
	return code
}

// axe is the checker of accessibility, read once.
var axe = sync.OnceValues(func() (string, error) {
	b, err := os.ReadFile("testdata/axe.min.js")
	return string(b), err
})
