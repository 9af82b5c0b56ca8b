package report

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// The PDFs are looked at with tools that did not make them: qpdf for the
// file, poppler's for the words and the look. ./check installs them; a test
// that does not find one fails.

type pdfFile struct {
	t    testing.TB
	path string
}

func written(t testing.TB, write func(*bytes.Buffer) error) pdfFile {
	t.Helper()
	var b bytes.Buffer
	if err := write(&b); err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "made.pdf")
	if err := os.WriteFile(path, b.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	return pdfFile{t, path}
}

func tool(t testing.TB, name string, args ...string) string {
	t.Helper()
	out, err := exec.Command(name, args...).Output()
	if err != nil {
		var said []byte
		if exit, ok := err.(*exec.ExitError); ok {
			said = exit.Stderr
		}
		t.Fatalf("%s %s: %v %s", name, strings.Join(args, " "), err, said)
	}
	return string(out)
}

// sound lets qpdf read every object of the file.
func (f pdfFile) sound() {
	f.t.Helper()
	if out := tool(f.t, "qpdf", "--check", f.path); !strings.Contains(out, "No syntax or stream encoding errors found") {
		f.t.Errorf("qpdf --check: %s", out)
	}
}

// words are the words as they lie on the paper, side by side; spaces that do
// not break are plain.
func (f pdfFile) words() string {
	return strings.ReplaceAll(tool(f.t, "pdftotext", "-layout", f.path, "-"), "\u00a0", " ")
}

// flow is text with every run of white space as one space.
func flow(s string) string { return strings.Join(strings.Fields(s), " ") }

// sides are the words of each side.
func (f pdfFile) sides() []string {
	return strings.Split(strings.TrimSuffix(f.words(), "\f"), "\f")
}

func (f pdfFile) pages() int {
	n, err := strconv.Atoi(strings.TrimSpace(tool(f.t, "qpdf", "--show-npages", f.path)))
	if err != nil {
		f.t.Fatal(err)
	}
	return n
}

var fontSize = regexp.MustCompile(`/F\S+ (\d+\.\d+) Tf`)

// smallest is the smallest size of letters in points.
func (f pdfFile) smallest() float64 {
	f.t.Helper()
	least := 1e9
	sizes := fontSize.FindAllStringSubmatch(tool(f.t, "qpdf", "--qdf", "--object-streams=disable", f.path, "-"), -1)
	for _, m := range sizes {
		v, err := strconv.ParseFloat(m[1], 64)
		if err != nil {
			f.t.Fatal(err)
		}
		least = min(least, v)
	}
	if len(sizes) == 0 {
		f.t.Fatal("no size of letters found")
	}
	return least
}

var apart = regexp.MustCompile(`\s{2,}`)

// columns are the words with what stands apart on a line kept apart, however
// far: how many spaces that makes differs between versions of the tool.
func (f pdfFile) columns() string {
	var out []string
	for _, l := range strings.Split(f.words(), "\n") {
		if l = apart.ReplaceAllString(strings.TrimSpace(l), "  "); l != "" {
			out = append(out, l)
		}
	}
	return strings.Join(out, "\n") + "\n"
}

func sheetFile(t testing.TB, s Sheet, p Printing) pdfFile {
	t.Helper()
	return written(t, func(b *bytes.Buffer) error { return s.PDF(b, p, made) })
}

func has(t testing.TB, where, text string, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(text, w) && !strings.Contains(flow(text), flow(w)) {
			t.Errorf("%s does not show %q", where, w)
		}
	}
}
