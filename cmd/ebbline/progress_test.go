package main

import (
	"bytes"
	"strings"
	"testing"
	"time"
)

// The line is shown only after a second, and wiped at the end; to a file or a
// pipe nothing is written.
func TestProgress(t *testing.T) {
	at := time.Date(2026, 6, 10, 9, 0, 0, 0, time.UTC)
	var out bytes.Buffer
	p := &progress{out: &out, total: 200, now: func() time.Time { return at }, began: at}
	p.done(20)
	if out.Len() != 0 {
		t.Errorf("at once: %q", out.String())
	}
	at = at.Add(1100 * time.Millisecond)
	p.done(100)
	if !strings.HasSuffix(out.String(), "[###############               ]  50 %") {
		t.Errorf("half way: %q", out.String())
	}
	p.done(200)
	if !strings.Contains(out.String(), "] 100 %") {
		t.Errorf("at the end: %q", out.String())
	}
	p.end()
	if !strings.HasSuffix(out.String(), "\r") || strings.TrimSpace(out.String()[strings.LastIndex(out.String(), "%")+1:]) != "" {
		t.Errorf("the line is not wiped: %q", out.String())
	}
	pipe := newProgress(&out, 10, func() time.Time { return at })
	before := out.Len()
	pipe.began = at.Add(-time.Hour)
	pipe.done(5)
	pipe.end()
	if out.Len() != before {
		t.Error("a pipe is written to")
	}
}
