// Package fonts holds the letters that go on paper: DejaVu Sans, regular and
// bold, cut down to the characters of European languages and the signs of the
// trade; which characters they have, how wide a line of them is, and how a
// text is made fit to print.
//
// The PDF writer prints a character that the font lacks as nothing, and fails
// on one outside the basic plane. Every text therefore goes through [Clean]
// on its way to paper.
package fonts

import (
	_ "embed"
	"sync"

	"codeberg.org/go-pdf/fpdf"
)

// A Face is one of the two weights.
type Face int

// The faces there are.
const (
	Regular Face = iota
	Bold
)

// Family is the name under which [Add] registers both faces.
const Family = "dejavu"

//go:embed DejaVuSans.ttf
var regularFile []byte

//go:embed DejaVuSans-Bold.ttf
var boldFile []byte

var tables = [...]func() *metrics{
	Regular: sync.OnceValue(func() *metrics { return mustRead(regularFile) }),
	Bold:    sync.OnceValue(func() *metrics { return mustRead(boldFile) }),
}

// Add makes both faces known to a document.
func Add(pdf *fpdf.Fpdf) {
	pdf.AddUTF8FontFromBytes(Family, "", regularFile)
	pdf.AddUTF8FontFromBytes(Family, "B", boldFile)
}

// Style is the face in the PDF writer's words.
func (f Face) Style() string {
	if f == Bold {
		return "B"
	}
	return ""
}

// Has reports whether the face can print the character.
func (f Face) Has(r rune) bool {
	_, ok := tables[f]().advance[r]
	return ok
}

// Width is how wide a line of text is, in the unit of size: points when size
// is in points. Characters the face lacks count as wide as [Lost].
func (f Face) Width(s string, size float64) float64 {
	m := tables[f]()
	sum := 0
	for _, r := range s {
		a, ok := m.advance[r]
		if !ok {
			a = m.advance[Lost]
		}
		sum += a
	}
	return float64(sum) * size / float64(m.unitsPerEm)
}
