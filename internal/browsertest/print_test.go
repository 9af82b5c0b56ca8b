//go:build browser

package browsertest

import (
	"bytes"
	"io"
	"net/http"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// onOneSheet prints the sheet of a session from the page, and fetches the same
// as PDF: both are one side of A4 and say the same.
func onOneSheet(s *screen, base string) {
	s.t.Helper()
	s.open(base + "/sheet")
	printed, err := chromedp.Run(s.ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		s.t.Fatal(err)
	}
	for name, b := range map[string][]byte{"the page as printed": printed, "the PDF": s.house.fetch(base + "/sheet.pdf")} {
		text := pdfText(s.t, s.name+"-"+strings.ReplaceAll(name, " ", "-"), b)
		for _, want := range []string{
			"Vida Hribar", "1969", "DEMONSTRATION", "64.6", "2.15", "132/76", "124/72", "A3", "V3", "310",
			"line kinked under the blanket", "63.4", "10, 12", "Lay back", "L1", "250",
		} {
			if !strings.Contains(text, want) {
				s.t.Errorf("%s: %s does not hold %q", s.name, name, want)
			}
		}
	}
}

// fetch gets a file of the house.
func (h *house) fetch(path string) []byte {
	h.t.Helper()
	res, err := http.Get(h.wire.url() + path)
	if err != nil {
		h.t.Fatal(err)
	}
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil || res.StatusCode != http.StatusOK {
		h.t.Fatalf("GET %s: %d %v", path, res.StatusCode, err)
	}
	return b
}

var (
	pageCount = regexp.MustCompile(`(?m)^Pages:\s+1$`)
	pageSize  = regexp.MustCompile(`(?m)^Page size:.*\(A4\)$`)
)

// pdfText gives the text of a PDF, which must be one side of A4.
func pdfText(t *testing.T, name string, b []byte) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), "sheet.pdf")
	if err := os.WriteFile(path, b, 0o644); err != nil {
		t.Fatal(err)
	}
	if folder := os.Getenv("EBBLINE_SHOTS"); folder != "" {
		if err := os.WriteFile(filepath.Join(folder, name+".pdf"), b, 0o644); err != nil {
			t.Error(err)
		}
	}
	about := output(t, "pdfinfo", path)
	if !pageCount.MatchString(about) || !pageSize.MatchString(about) {
		t.Errorf("%s is not one side of A4:\n%s", name, about)
	}
	return output(t, "pdftotext", "-layout", path, "-")
}

func output(t *testing.T, command string, args ...string) string {
	t.Helper()
	var said bytes.Buffer
	c := exec.Command(command, args...)
	c.Stderr = &said
	b, err := c.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", command, err, said.String())
	}
	return string(b)
}
