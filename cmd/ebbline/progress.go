package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"time"

	"golang.org/x/term"
)

// A progress shows how far a long reckoning has come, on a terminal and only
// when it takes longer than a second.
type progress struct {
	out   io.Writer // nil where nothing is shown
	total int
	now   func() time.Time
	began time.Time
	shown bool
}

func newProgress(out io.Writer, total int, now func() time.Time) *progress {
	f, ok := out.(*os.File)
	if !ok || !term.IsTerminal(int(f.Fd())) {
		out = nil
	}
	return &progress{out: out, total: total, now: now, began: now()}
}

const progressWidth = 30

// done says that n of all are done.
func (p *progress) done(n int) {
	if p.out == nil || p.now().Sub(p.began) < time.Second {
		return
	}
	p.shown = true
	full := n * progressWidth / max(p.total, 1)
	fmt.Fprintf(p.out, "\r[%s%s] %3d %%", strings.Repeat("#", full), strings.Repeat(" ", progressWidth-full), 100*n/max(p.total, 1))
}

// end wipes the line.
func (p *progress) end() {
	if p.shown {
		fmt.Fprintf(p.out, "\r%s\r", strings.Repeat(" ", progressWidth+8))
	}
}
