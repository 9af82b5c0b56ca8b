package main

import (
	"errors"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
)

func TestPassphraseIn(t *testing.T) {
	long := strings.Repeat("a", mostBytes)
	for _, tt := range []struct {
		held, want string
		bad        string
	}{
		{"five words\n", "five words", ""},
		{"five words", "five words", ""},
		{"five words\r\n", "five words", ""},
		{" with  spaces \n", " with  spaces ", ""},
		{"fünf Wörter\n", "fünf Wörter", ""},
		{long + "\n", long, ""},
		{long + "a\n", "", "more than 1000 bytes"},
		{long + long, "", "more than 1000 bytes"},
		{"", "", "is empty"},
		{"\n", "", "is empty"},
		{"one\ntwo\n", "", "more than one line"},
		{"one\n\n", "", "more than one line"},
	} {
		name := filepath.Join(t.TempDir(), "passphrase")
		if err := os.WriteFile(name, []byte(tt.held), 0o600); err != nil {
			t.Fatal(err)
		}
		got, err := passphraseIn(name)
		if string(got) != tt.want || (err == nil) != (tt.bad == "") || err != nil && !strings.Contains(err.Error(), tt.bad) {
			t.Errorf("%.20q: %.20q, %v; want %.20q, %q", tt.held, got, err, tt.want, tt.bad)
		}
	}
	if _, err := passphraseIn(filepath.Join(t.TempDir(), "none")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("no file: %v", err)
	}
	if runtime.GOOS == "windows" {
		return // rights are kept otherwise there
	}
	for _, mode := range []os.FileMode{0o604, 0o644, 0o606} {
		name := filepath.Join(t.TempDir(), "passphrase")
		if err := errors.Join(os.WriteFile(name, []byte("five words\n"), 0o600), os.Chmod(name, mode)); err != nil {
			t.Fatal(err)
		}
		if _, err := passphraseIn(name); err == nil || !strings.Contains(err.Error(), "every user of this computer") {
			t.Errorf("rights %o: %v, want a refusal", mode, err)
		}
	}
}

func TestFit(t *testing.T) {
	for passphrase, ok := range map[string]bool{
		"elf letters":                      false,
		"twelve signs":                     true,
		"zwölf Zeiche":                     true, // 12 letters in 13 bytes
		"tab\tin the middle":               false,
		"not \xff UTF-8 at all":            false,
		strings.Repeat("a", mostBytes):     true,
		strings.Repeat("a", mostBytes+1):   false,
		"":                                 false,
		"five words taken by chance":       true,
		"cinq mots tirés au sort, et plus": true,
	} {
		if err := fit([]byte(passphrase)); (err == nil) != ok {
			t.Errorf("%.40q: %v", passphrase, err)
		}
	}
}
