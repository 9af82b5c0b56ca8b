package main

import (
	"bufio"
	"bytes"
	"embed"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
)

//go:embed peers
var sources embed.FS

// A peer is a program that reads the problems, a method, a tolerance and a
// count of repeats, and answers as peers/cvode.c says.
type peer struct {
	route   string
	command []string
	repeats int
}

var errNotThere = errors.New("not there")

// cvodePeer compiles the CVODE program in dir. It is not there without a C
// compiler or the library.
func cvodePeer(dir string) (peer, error) {
	compiler, err := exec.LookPath("cc")
	if err != nil {
		return peer{}, fmt.Errorf("%w: no C compiler (cc) in the path", errNotThere)
	}
	source, program := filepath.Join(dir, "cvode.c"), filepath.Join(dir, "cvode")
	if err := unpack("peers/cvode.c", source); err != nil {
		return peer{}, err
	}
	out, err := exec.Command(compiler, "-O2", "-o", program, source,
		"-lsundials_cvode", "-lsundials_nvecserial", "-lsundials_sunmatrixdense", "-lsundials_sunlinsoldense", "-lm").CombinedOutput()
	if err != nil {
		line, _, _ := strings.Cut(string(out), "\n")
		return peer{}, fmt.Errorf("%w: it did not compile with the CVODE library (libsundials-dev): %s", errNotThere, line)
	}
	return peer{"CVODE (SUNDIALS), C", []string{program}, 25}, nil
}

// scipyPeer looks for a Python that has SciPy: the system's own first, which
// is where Debian's package puts it.
func scipyPeer(dir string) (peer, error) {
	script := filepath.Join(dir, "scipy_peer.py")
	if err := unpack("peers/scipy_peer.py", script); err != nil {
		return peer{}, err
	}
	for _, python := range []string{"/usr/bin/python3", "python3"} {
		if exec.Command(python, "-c", "import scipy.integrate").Run() == nil {
			return peer{"SciPy", []string{python, script}, 6}, nil
		}
	}
	return peer{}, fmt.Errorf("%w: no python3 with SciPy (python3-scipy)", errNotThere)
}

func unpack(name, to string) error {
	raw, err := sources.ReadFile(name)
	if err != nil {
		return err
	}
	return os.WriteFile(to, raw, 0o600)
}

// run lets the peer answer all problems with a method at a tolerance.
func (p peer) run(problems []problem, method string, tolerance float64) (result, error) {
	r := result{route: p.route + ", " + method, setting: fmt.Sprintf("rtol %.0e", tolerance)}
	args := append(p.command[1:len(p.command):len(p.command)], method, strconv.FormatFloat(tolerance, 'g', -1, 64), strconv.Itoa(p.repeats))
	cmd := exec.Command(p.command[0], args...)
	cmd.Stdin = strings.NewReader(write(problems))
	var complaint bytes.Buffer
	cmd.Stderr = &complaint
	out, err := cmd.Output()
	if err != nil {
		return r, fmt.Errorf("%s: %w: %s", r.route, err, strings.TrimSpace(complaint.String()))
	}
	var answers [][]float64
	for lines := bufio.NewScanner(bytes.NewReader(out)); lines.Scan(); {
		fields := strings.Fields(lines.Text())
		timed := len(fields) > 0 && fields[0] == "seconds"
		if timed {
			fields = fields[1:]
		}
		var row []float64
		for _, f := range fields {
			v, err := strconv.ParseFloat(f, 64)
			if err != nil {
				return r, fmt.Errorf("%s answered %q", r.route, f)
			}
			row = append(row, v)
		}
		if timed {
			r.seconds = row
		} else {
			answers = append(answers, row)
		}
	}
	if len(answers) != len(problems) || len(r.seconds) != len(problems) {
		return r, fmt.Errorf("%s answered %d of %d problems", r.route, len(answers), len(problems))
	}
	r.worst, err = worst(problems, answers)
	return r, err
}
