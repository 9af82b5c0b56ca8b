package fonts

import (
	"math"
	"strings"
	"testing"
	"unicode/utf8"

	"codeberg.org/go-pdf/fpdf"
)

// What the sheets, labels and charts print besides letters and figures.
const signs = "½⅓¼ ≤≥±µμ²³°−–—…×÷·•→←↑↓✓✗✔✘□■▲▼△▽●○◆◇☐☑☒⚠☎№℃ΔΩβ€£“”‘’«»₂⁻"

func TestFacesHaveTheSigns(t *testing.T) {
	for _, r := range signs + "ÄÖÜäöüßÅåØøÆæÞðĄąŁłŻżČčŘřŠšŽžŐőȘșȚțÇçİıĞğÑñ ΑΩαω АЯая ẾạỆ" {
		if !Regular.Has(r) || !Bold.Has(r) {
			t.Errorf("%q U+%04X cannot be printed (regular %v, bold %v)", r, r, Regular.Has(r), Bold.Has(r))
		}
	}
	for _, r := range "你あ🩸א" {
		if Regular.Has(r) {
			t.Errorf("%q is said to be in the font", r)
		}
	}
}

func TestWidthIsThePDFWritersWidth(t *testing.T) {
	pdf := fpdf.New("P", "pt", "A4", "")
	Add(pdf)
	for _, face := range []Face{Regular, Bold} {
		pdf.SetFont(Family, face.Style(), 10)
		for _, s := range []string{"", "0123456789", "removal 740 mL/h", "Ærøskøbing ≤ ½ −120", signs} {
			if got, want := face.Width(s, 10), pdf.GetStringWidth(s); math.Abs(got-want) > 0.01*float64(utf8.RuneCountInString(s)) {
				t.Errorf("Width(%q) = %.3f, the writer says %.3f", s, got, want)
			}
		}
	}
	if err := pdf.Error(); err != nil {
		t.Fatal(err)
	}
}

func TestFiguresAreTabular(t *testing.T) {
	for _, face := range []Face{Regular, Bold} {
		for _, d := range "0123456789" {
			if got, want := face.Width(string(d), 10), face.Width("0", 10); got != want {
				t.Errorf("figure %c is %.2f wide, 0 is %.2f", d, got, want)
			}
		}
	}
}

func TestClean(t *testing.T) {
	for _, tt := range []struct {
		in, want string
		lost     bool
	}{
		{"", "", false},
		{"plain words", "plain words", false},
		{"72,5 kg ± 0,1", "72,5 kg ± 0,1", false},
		{"740\u00a0mL/h", "740\u00a0mL/h", false},
		{"740\u202fmL/h", "740\u00a0mL/h", false},
		{"two\nlines\tand a tab\r\n", "two lines and a tab  ", false},
		{"blood 🩸 drop", "blood □ drop", true},
		{"\u202eright to left\u202c", "right to left", false},
		{"עברית", "□□□□□", true},
		{"bad \xff byte", "bad □ byte", true},
		{"a\x00b\x1bc", "abc", false},
		{"heart ❤\ufe0f", "heart □", true},
		{"e\u0301", "e\u0301", false},
		{"\ufeffmark", "mark", false},
	} {
		got, lost := Clean(tt.in)
		if got != tt.want || lost != tt.lost {
			t.Errorf("Clean(%q) = %q, %v; want %q, %v", tt.in, got, lost, tt.want, tt.lost)
		}
	}
}

func TestReadMetricsRefusesACutFile(t *testing.T) {
	for _, n := range []int{0, 4, 100, len(regularFile) / 2} {
		if _, err := readMetrics(regularFile[:n]); err == nil {
			t.Errorf("a font cut after %d bytes was read", n)
		}
	}
}

// FuzzClean proves that whatever is cleaned can be printed: one line, only
// characters of both faces, and nothing that was printable is lost.
//
//fuzz:runs 80000
func FuzzClean(f *testing.F) {
	for _, s := range []string{"", "a\xf0\x9f\xa9\xb8b", signs, "\u202e\u200d\ufe0f", "日本\n語"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got, lost := Clean(s)
		for _, r := range got {
			if !Regular.Has(r) || !Bold.Has(r) {
				t.Fatalf("Clean(%q) leaves U+%04X, which cannot be printed", s, r)
			}
		}
		if again, _ := Clean(got); again != got {
			t.Fatalf("Clean is not settled: %q then %q", got, again)
		}
		if !lost && strings.Count(got, string(Lost)) != strings.Count(s, string(Lost)) {
			t.Fatalf("Clean(%q) = %q lost something and does not say so", s, got)
		}
		for _, r := range s {
			if r == utf8.RuneError { // what a bad byte reads as
				continue
			}
			if r > ' ' && Regular.Has(r) && Bold.Has(r) && !strings.ContainsRune(got, r) && !shapeless(r) {
				t.Fatalf("Clean(%q) = %q dropped %q", s, got, r)
			}
		}
	})
}
