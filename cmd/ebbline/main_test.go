package main

import (
	"errors"
	"flag"
	"io"
	"net"
	"net/http"
	"os"
	"os/exec"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/testscript"
)

// TestMain lets the scripts run this program as the command "ebbline".
func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"ebbline": main})
}

// TestScripts runs every script of testdata, each in a folder of its own with
// the example entries of the documentation, no record, and a zone that is known.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "testdata",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error {
			env.Setenv("TZ", "Europe/Lisbon")
			env.Setenv("XDG_CONFIG_HOME", env.WorkDir+"/config")
			env.Setenv("EBBLINE_FILE", "")
			return os.CopyFS(env.WorkDir, os.DirFS("../../docs/examples"))
		},
		Cmds: map[string]func(ts *testscript.TestScript, neg bool, args []string){
			"refused": func(ts *testscript.TestScript, neg bool, args []string) { ends(ts, neg, args, exitRefused) },
			"failed":  func(ts *testscript.TestScript, neg bool, args []string) { ends(ts, neg, args, exitFailed) },
			"served":  served,
		},
	})
}

// ends runs a command of a script that must end with this status, some words
// on standard error and nothing on standard output.
func ends(ts *testscript.TestScript, neg bool, args []string, status int) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: refused|failed COMMAND ...")
	}
	err := ts.Exec(args[0], args[1:]...)
	var exit *exec.ExitError
	if !errors.As(err, &exit) || exit.ExitCode() != status {
		ts.Fatalf("%s ended with %v; want exit status %d", strings.Join(args, " "), err, status)
	}
	if out := ts.ReadFile("stdout"); out != "" {
		ts.Fatalf("%s failed, and yet it printed %q", strings.Join(args, " "), out)
	}
	if ts.ReadFile("stderr") == "" {
		ts.Fatalf("%s failed without a word", strings.Join(args, " "))
	}
}

var pagesAt = regexp.MustCompile(`The pages are at http://(\S+):(\d+)/\n`)

// served waits until a file holds the address that a program in the background
// printed, and asks for its first page under the name that was printed.
func served(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 1 {
		ts.Fatalf("usage: served FILE")
	}
	var at []string
	for began := time.Now(); at == nil; time.Sleep(20 * time.Millisecond) {
		text, err := os.ReadFile(ts.MkAbs(args[0]))
		if err != nil && !errors.Is(err, os.ErrNotExist) {
			ts.Fatalf("%v", err)
		}
		if at = pagesAt.FindStringSubmatch(string(text)); at == nil && time.Since(began) > 20*time.Second {
			ts.Fatalf("no address in %q", text)
		}
	}
	ask, err := http.NewRequest("GET", "http://127.0.0.1:"+at[2]+"/", nil)
	ts.Check(err)
	ask.Host = net.JoinHostPort(at[1], at[2])
	answer, err := http.DefaultClient.Do(ask)
	ts.Check(err)
	defer answer.Body.Close()
	page, err := io.ReadAll(answer.Body)
	ts.Check(err)
	if answer.StatusCode != http.StatusOK || !strings.Contains(string(page), "Ebbline") {
		ts.Fatalf("the first page: %s\n%s", answer.Status, page)
	}
}

// TestEveryVerbHasAScript keeps a verb from being added without one.
func TestEveryVerbHasAScript(t *testing.T) {
	for _, v := range verbs {
		script, err := os.ReadFile("testdata/" + v.name + ".txtar")
		if err != nil {
			t.Errorf("the command %s has no script: %v", v.name, err)
			continue
		}
		if !strings.Contains(string(script), "exec ebbline "+v.name) {
			t.Errorf("testdata/%s.txtar does not run it", v.name)
		}
	}
}

// TestHelpOfEveryVerb: the list and each verb's help name what there is.
func TestHelpOfEveryVerb(t *testing.T) {
	_, list, _ := ran(t, "", "help")
	for _, v := range verbs {
		if !strings.Contains(list, "\n  "+v.name+" ") || !strings.Contains(list, v.short) {
			t.Errorf("the list of commands leaves out %s", v.name)
		}
		for _, args := range [][]string{{"help", v.name}, {v.name, "-h"}, {v.name, "--help"}} {
			code, help, complaint := ran(t, "", args...)
			if code != exitDone || complaint != "" || !strings.Contains(help, "Usage: ebbline "+v.name) {
				t.Errorf("ebbline %s: exit %d, %q, %q", strings.Join(args, " "), code, help, complaint)
			}
		}
	}
}

// TestFlagsAnywhere: a flag behind a word is a flag, and words after "--" are
// words.
func TestFlagsAnywhere(t *testing.T) {
	for _, tt := range []struct {
		args  string
		words string
		on    bool
	}{
		{"a b", "a b", false},
		{"-x a b", "a b", true},
		{"a -x b", "a b", true},
		{"a b --x", "a b", true},
		{"a -- -x b", "a -x b", false},
		{"-- a", "a", false},
		{"- -x", "-", true},
		{"-x -- --", "--", true},
		{"", "", false},
	} {
		fs := flag.NewFlagSet("t", flag.ContinueOnError)
		on := fs.Bool("x", false, "")
		words, err := parse(fs, strings.Fields(tt.args))
		if err != nil || !slices.Equal(words, strings.Fields(tt.words)) || *on != tt.on {
			t.Errorf("parse(%q) = %q, %v, x = %v; want %q, x = %v", tt.args, words, err, *on, tt.words, tt.on)
		}
	}
}

// ran runs a command line inside the test.
func ran(t *testing.T, stdin string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, complaint strings.Builder
	code = run(args, strings.NewReader(stdin), &out, &complaint)
	return code, out.String(), complaint.String()
}
