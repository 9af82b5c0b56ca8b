package household

import (
	"errors"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"
)

func screens(t *testing.T, path string, c *clock) *Screens {
	t.Helper()
	s, err := OpenScreens(path, c.now)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// paired has a code made and typed.
func paired(t *testing.T, s *Screens, name string) (token string) {
	t.Helper()
	code, _, err := s.NewCode()
	if err != nil {
		t.Fatal(err)
	}
	if token, err = s.Pair(code, name); err != nil {
		t.Fatal(err)
	}
	return token
}

// A code pairs one screen, once; the screen is known after a restart, until it
// is removed; and neither code nor token stands on the disk.
func TestPairOneScreen(t *testing.T) {
	c := &clock{at: time.Date(2026, 6, 10, 19, 30, 0, 0, time.UTC)}
	path := filepath.Join(t.TempDir(), "house.ebb")
	s := screens(t, path, c)
	code, until, err := s.NewCode()
	if err != nil || !regexp.MustCompile(`^\d{6}$`).MatchString(code) || !until.Equal(c.at.Add(CodeHolds)) {
		t.Fatalf("code %q until %v, %v", code, until, err)
	}
	if shown, _, ok := s.Code(); !ok || shown != code {
		t.Errorf("it shows %q, %v", shown, ok)
	}
	token, err := s.Pair(code, "tablet at the chair")
	if err != nil || len(token) < 40 {
		t.Fatalf("token %q, %v", token, err)
	}
	if _, err := s.Pair(code, "another"); !errors.As(err, new(*PairError)) {
		t.Errorf("the code again: %v, want a PairError", err)
	}
	if _, _, ok := s.Code(); ok {
		t.Error("a used code is shown still")
	}
	file, err := os.ReadFile(path + "-screens")
	if err != nil || strings.Contains(string(file), token) || strings.Contains(string(file), code) || !strings.Contains(string(file), "tablet at the chair") {
		t.Errorf("the file holds\n%s, %v", file, err)
	}
	if info, err := os.Stat(path + "-screens"); err != nil || info.Mode().Perm()&0o077 != 0 && os.PathSeparator == '/' {
		t.Errorf("rights %v, %v", info.Mode(), err)
	}

	c.set(c.at.Add(48 * time.Hour))
	s = screens(t, path, c) // the program starts anew
	was, ok := s.Known(token)
	if !ok || was.Name != "tablet at the chair" || c.at.Sub(was.Seen) != 48*time.Hour {
		t.Errorf("%+v, %v", was, ok)
	}
	if list := screens(t, path, c).List(); len(list) != 1 || !list[0].Seen.Equal(c.at) {
		t.Errorf("that it was seen is not kept: %+v", list)
	}
	for _, not := range []string{"", token + "A", token[1:], strings.ToUpper(token), was.SHA256, was.ID} {
		if _, ok := s.Known(not); ok {
			t.Errorf("%q is known", not)
		}
	}
	other := paired(t, s, "telephone")
	if err := s.Remove(was.ID); err != nil {
		t.Fatal(err)
	}
	for _, now := range []*Screens{s, screens(t, path, c)} {
		if _, ok := now.Known(token); ok {
			t.Error("removed, and known")
		}
		if _, ok := now.Known(other); !ok {
			t.Error("the other one is forgotten too")
		}
	}
	if left, err := filepath.Glob(path + "-screens-*"); err != nil || len(left) > 0 {
		t.Errorf("left over: %q, %v", left, err)
	}
}

// A code runs out, and after some wrong ones it is void, even typed right.
func TestCodeRunsOutAndIsVoid(t *testing.T) {
	c := &clock{at: time.Date(2026, 6, 10, 19, 30, 0, 0, time.UTC)}
	s := screens(t, filepath.Join(t.TempDir(), "house.ebb"), c)
	refused := func(code, words string) {
		t.Helper()
		var e *PairError
		if token, err := s.Pair(code, "x"); !errors.As(err, &e) || token != "" || !strings.Contains(e.Words, words) {
			t.Errorf("%q: %q, %v; want a PairError that says %q", code, token, err, words)
		}
	}
	refused("123456", "No code is shown")
	refused("", "No code is shown")

	code, until, err := s.NewCode()
	if err != nil {
		t.Fatal(err)
	}
	c.set(until.Add(-time.Second))
	if _, _, ok := s.Code(); !ok {
		t.Error("a second before, it is gone")
	}
	c.set(until)
	refused(code, "has run out")

	if code, _, err = s.NewCode(); err != nil {
		t.Fatal(err)
	}
	for range CodeTries - 1 {
		refused("x"+code[1:], "not the code")
	}
	refused("", "Too many wrong codes")
	refused(code, "Too many wrong codes")

	old, _, err := s.NewCode()
	if err != nil {
		t.Fatal(err)
	}
	if code, _, err = s.NewCode(); err != nil {
		t.Fatal(err)
	}
	if old != code {
		refused(old, "not the code")
	}
	if _, err := s.Pair(code, "x"); err != nil {
		t.Errorf("the new one after a wrong one: %v", err)
	}
	if len(s.List()) != 1 {
		t.Errorf("%d screens, want 1", len(s.List()))
	}
}

// A list that cannot be understood or written is said, and nobody is let in.
func TestScreensFileIsBad(t *testing.T) {
	c := &clock{at: time.Date(2026, 6, 10, 19, 30, 0, 0, time.UTC)}
	path := filepath.Join(t.TempDir(), "house.ebb")
	if err := os.WriteFile(path+"-screens", []byte("[{"), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenScreens(path, c.now); err == nil || !strings.Contains(err.Error(), "pair the screens anew") {
		t.Errorf("%v", err)
	}
	s := screens(t, filepath.Join(t.TempDir(), "none", "house.ebb"), c)
	code, _, err := s.NewCode()
	if err != nil {
		t.Fatal(err)
	}
	if token, err := s.Pair(code, "x"); err == nil || errors.As(err, new(*PairError)) || token != "" || len(s.List()) != 0 {
		t.Errorf("no folder to write in: %q, %v", token, err)
	}
}
