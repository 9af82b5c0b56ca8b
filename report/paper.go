package report

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"

	"ebbline/report/chart"
	"ebbline/report/fonts"
)

// A4 upright, in millimetres.
const (
	paperWidth  = 210.0
	paperHeight = 297.0
	marginSide  = 11.0
	marginTop   = 8.0
	footLine    = 287.6 // base line of the words at the foot of a page
)

const point = 25.4 / 72 // a point in millimetres

// paper is a PDF in the making. Lengths are millimetres, sizes of letters
// points.
type paper struct {
	pdf  *fpdf.Fpdf
	lost bool // a character could not be printed
}

// newPaper begins a document. made is the date that the file carries, so that
// the same record gives the same bytes.
func newPaper(title string, made time.Time) *paper {
	pdf := fpdf.New("P", "mm", "A4", "")
	pdf.SetMargins(0, 0, 0)
	pdf.SetAutoPageBreak(false, 0)
	pdf.SetCatalogSort(true)
	pdf.SetCreationDate(made.UTC())
	pdf.SetModificationDate(made.UTC())
	pdf.SetLang("en-GB")
	title, _ = fonts.Clean(title)
	pdf.SetTitle(title, true)
	pdf.SetCreator("Ebbline", true)
	pdf.SetProducer("Ebbline", true)
	fonts.Add(pdf)
	return &paper{pdf: pdf}
}

// finish writes the document.
func (p *paper) finish(w io.Writer) error {
	var b bytes.Buffer // nothing is written of a document that cannot be made
	if err := p.pdf.Output(&b); err != nil {
		return fmt.Errorf("making the PDF: %w", err)
	}
	_, err := w.Write(b.Bytes())
	return err
}

// style is how letters look.
type style struct {
	size float64
	bold bool
	tone chart.Tone
}

func (s style) face() fonts.Face {
	if s.bold {
		return fonts.Bold
	}
	return fonts.Regular
}

func (s style) in(t chart.Tone) style { s.tone = t; return s }
func (s style) strong() style         { s.bold = true; return s }
func (s style) times(f float64) style { s.size *= f; return s }
func (s style) width(t string) float64 {
	clean, _ := fonts.Clean(t)
	return s.face().Width(clean, s.size) * point
}

// put writes one line with its base line at y and returns where it ends.
func (p *paper) put(x, y float64, s style, text string) float64 {
	clean, lost := fonts.Clean(text)
	p.lost = p.lost || lost
	p.pdf.SetFont(fonts.Family, s.face().Style(), s.size)
	p.pdf.SetTextColor(s.tone.RGB())
	if clean != "" {
		p.pdf.Text(x, y, clean)
	}
	return x + s.face().Width(clean, s.size)*point
}

// putRight writes one line that ends at x.
func (p *paper) putRight(x, y float64, s style, text string) {
	p.put(x-s.width(text), y, s, text)
}

// rule draws a straight line.
func (p *paper) rule(x0, y0, x1, y1, width float64, tone chart.Tone, dash ...float64) {
	p.pdf.SetDrawColor(tone.RGB())
	p.pdf.SetLineWidth(width)
	p.pdf.SetDashPattern(dash, 0)
	p.pdf.Line(x0, y0, x1, y1)
	p.pdf.SetDashPattern(nil, 0)
}

// blank draws the rule on which something can be written by hand.
func (p *paper) blank(x0, x1, y float64) {
	p.rule(x0, y+0.6, x1, y+0.6, 0.15, chart.Soft, 0.3, 0.5)
}

// watermark says across the page that everything on it is invented.
func (p *paper) watermark() {
	const word = "DEMONSTRATION"
	s := style{size: 64, bold: true, tone: chart.Ink}
	cx, cy := paperWidth/2, paperHeight/2
	p.pdf.SetAlpha(0.09, "Normal")
	p.pdf.TransformBegin()
	p.pdf.TransformRotate(52, cx, cy)
	p.put(cx-s.width(word)/2, cy+s.size*point*0.35, s, word)
	p.pdf.TransformEnd()
	p.pdf.SetAlpha(1, "Normal")
}

// A run is a piece of a line in one style.
type run struct {
	text string
	style
	raised bool // written small and high: the letters of notes
	struck bool
	lost   bool // it had a character that cannot be printed
}

// lines breaks runs into lines of a width. It breaks at spaces only, wherever
// one run ends and the next begins, and inside a word that is longer than a
// line. Line ends that a person typed are kept.
func lines(runs []run, width float64) [][]run {
	b := breaker{width: width}
	for _, r := range runs {
		for i, typed := range strings.Split(strings.ReplaceAll(r.text, "\r\n", "\n"), "\n") {
			if i > 0 {
				b.word()
				b.end()
			}
			typed, r.lost = fonts.Clean(typed)
			for _, piece := range strings.SplitAfter(typed, " ") {
				if piece == "" {
					continue
				}
				r.text = piece
				b.held = append(b.held, r)
				if strings.HasSuffix(piece, " ") {
					b.word()
				}
			}
		}
	}
	b.word()
	if len(b.line) > 0 || len(b.out) == 0 {
		b.end()
	}
	return b.out
}

// breaker holds the pieces of a word until it ends, since a word can run
// over several styles: a figure, its unit, the letter of a note.
type breaker struct {
	width float64
	out   [][]run
	line  []run
	used  float64
	held  []run
}

func (b *breaker) end() { b.out, b.line, b.used = append(b.out, b.line), nil, 0 }

func (b *breaker) add(r run) {
	if len(b.line) == 0 && strings.Trim(r.text, " ") == "" {
		return // no line begins with the space between two things
	}
	if n := len(b.line); n > 0 && b.line[n-1].same(r) {
		b.line[n-1].text += r.text
		b.line[n-1].lost = b.line[n-1].lost || r.lost
	} else {
		b.line = append(b.line, r)
	}
	b.used += r.width(r.text)
}

// word puts the held pieces on this line or the next, or breaks them where a
// whole line is too short.
func (b *breaker) word() {
	wide := 0.0
	for i, r := range b.held {
		if i == len(b.held)-1 {
			r.text = strings.TrimRight(r.text, " ")
		}
		wide += r.width(r.text)
	}
	if b.used > 0 && b.used+wide > b.width {
		b.end()
	}
	for _, r := range b.held {
		for wide > b.width && r.text != "" && b.used+r.width(strings.TrimRight(r.text, " ")) > b.width {
			head := fitting(r, r.text, b.width-b.used)
			if head == "" && b.used > 0 {
				b.end()
				continue
			}
			whole := r.text
			if head == "" {
				head = whole[:len(string([]rune(whole)[:1]))]
			}
			r.text = head
			b.add(r)
			b.end()
			r.text = whole[len(head):]
		}
		if r.text != "" {
			b.add(r)
		}
	}
	b.held = nil
}

func (r run) same(o run) bool {
	return r.style == o.style && r.raised == o.raised && r.struck == o.struck
}

// fitting is the longest beginning of a word that fits.
func fitting(r run, word string, width float64) string {
	used := 0.0
	for i, c := range word {
		if used += r.width(string(c)); used > width {
			return word[:i]
		}
	}
	return word
}

// putRuns writes one broken line.
func (p *paper) putRuns(x, y float64, rs []run) float64 {
	for _, r := range rs {
		p.lost = p.lost || r.lost
		from, base := x, y
		if r.raised {
			base -= r.size * point * 0.25
		}
		x = p.put(x, base, r.style, r.text)
		if r.struck {
			p.rule(from, y-r.size*point*0.26, math.Max(x, from+1), y-r.size*point*0.26, 0.25, chart.Ink)
		}
	}
	return x
}
