package main

import (
	"errors"
	"io"
	"strings"
	"testing"
)

const casesPath = "../../kinetics/testdata/week-cases.json"

func someProblems(t *testing.T) []problem {
	t.Helper()
	list, err := readProblems(casesPath)
	if err != nil {
		t.Fatal(err)
	}
	return []problem{list[0], list[len(list)-1]}
}

func TestReadProblems(t *testing.T) {
	list, err := readProblems(casesPath)
	if err != nil || len(list) < 10 {
		t.Fatalf("%d problems, %v", len(list), err)
	}
	last := list[len(list)-1]
	if last.reference != nil || last.pools.Fluid == list[0].pools.Fluid || len(last.cycle.Sessions) != 3 {
		t.Errorf("the last problem is %+v; want the first by the other rule", last)
	}
	if want := 1 + 3*len(list[0].cycle.Sessions); len(list[0].reference) != want {
		t.Errorf("%d reference figures, want %d", len(list[0].reference), want)
	}
	if _, err := readProblems("main.go"); err == nil {
		t.Error("a file without cases was read")
	}
}

// The plain integrator is right too, to what its step allows; and it is the
// check that the comparison compares the same thing.
func TestRK4AgreesWithTheReference(t *testing.T) {
	problems := someProblems(t)
	r, err := rk4(problems, 1)
	if err != nil || r.worst > 1e-7 || r.seconds[0] <= 0 {
		t.Errorf("%+v, %v", r, err)
	}
	own, err := ours(problems)
	if err != nil || own.worst > 1e-10 || own.seconds[0] <= 0 {
		t.Errorf("%+v, %v", own, err)
	}
	// The case without a reference: both ways agree.
	s, err := problems[1].pools.Steady(problems[1].cycle, nil)
	if err != nil {
		t.Fatal(err)
	}
	if got := rk4Steady(problems[1], 1)[0]; got/s.TimeAveraged-1 > 1e-7 || s.TimeAveraged/got-1 > 1e-7 {
		t.Errorf("time-averaged %v by steps, %v by the package", got, s.TimeAveraged)
	}
}

// A peer either answers rightly or is said to be missing.
func TestPeersAnswerOrAreMissing(t *testing.T) {
	problems := someProblems(t)
	for _, c := range []struct {
		find   func(string) (peer, error)
		method string
	}{{cvodePeer, "bdf"}, {cvodePeer, "adams"}, {scipyPeer, "odeint"}} {
		p, err := c.find(t.TempDir())
		if err != nil {
			if !errors.Is(err, errNotThere) {
				t.Errorf("%s: %v", c.method, err)
			}
			continue
		}
		r, err := p.run(problems, c.method, 1e-9)
		if err != nil || r.worst > 1e-6 || len(r.seconds) != 2 || !(r.seconds[1] > 0) {
			t.Errorf("%s: %+v, %v", c.method, r, err)
		}
		if _, err := p.run(problems, c.method, -1); err == nil {
			t.Errorf("%s took a tolerance of −1", c.method)
		}
	}
	t.Setenv("PATH", "")
	if _, err := cvodePeer(t.TempDir()); !errors.Is(err, errNotThere) {
		t.Errorf("without a compiler: %v", err)
	}
}

func TestTable(t *testing.T) {
	problems := someProblems(t)
	var b strings.Builder
	table(&b, problems, []result{
		{"ours", "", []float64{2e-6, 1e-6}, 1e-12},
		{"theirs", "rtol 1e-10", []float64{2e-3, 1.5e-3}, 1e-7},
	})
	for _, want := range []string{"| ours |", "| 2.00 | 1.00 | 2.00 | 1.00 | 1.00 | 1.00 |", "does not reach 1e-8", "| 2000 | 1000 | 2000 | 1000 | 1500 | 1500 |"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the table lacks %q:\n%s", want, b.String())
		}
	}
	if code := run([]string{"-cases", "nowhere.json"}, io.Discard, io.Discard); code != 1 {
		t.Errorf("exit status %d without cases, want 1", code)
	}
	if code := run([]string{"-nonsense"}, io.Discard, io.Discard); code != 2 {
		t.Errorf("exit status %d with a wrong flag, want 2", code)
	}
}
