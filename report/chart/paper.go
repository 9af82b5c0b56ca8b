package chart

import (
	"codeberg.org/go-pdf/fpdf"

	"ebbline/report/fonts"
)

// Paper draws onto the current page of a PDF with its top left corner at x, y
// in the document's unit; one unit of the frame is one point. The document
// must know the fonts ([fonts.Add]). Colours, line width and font are left as
// the last mark needed them.
func (d *Drawing) Paper(pdf *fpdf.Fpdf, x, y float64) {
	w := &paperPen{pdf: pdf, x: x, y: y, k: 1 / pdf.GetConversionRatio()}
	for _, m := range d.marks {
		m.draw(w)
	}
	pdf.SetDashPattern(nil, 0)
	pdf.SetAlpha(1, "Normal")
}

type paperPen struct {
	pdf  *fpdf.Fpdf
	x, y float64
	k    float64 // document units in a point
}

func (w *paperPen) at(p place) (x, y float64) { return w.x + p.x*w.k, w.y + p.y*w.k }

func (w *paperPen) draw(through []place, closed bool, style string) {
	if len(through) < 2 {
		return
	}
	for i, p := range through {
		x, y := w.at(p)
		if i == 0 {
			w.pdf.MoveTo(x, y)
		} else {
			w.pdf.LineTo(x, y)
		}
	}
	if closed {
		w.pdf.ClosePath()
	}
	w.pdf.DrawPath(style)
}

func (w *paperPen) ink(tone Tone, width float64) {
	w.pdf.SetDrawColor(tone.RGB())
	w.pdf.SetLineWidth(width * w.k)
	w.pdf.SetLineJoinStyle("round")
}

func (w *paperPen) stroke(m stroke) {
	w.ink(m.tone, m.width)
	if len(m.dash) > 0 {
		dash := make([]float64, len(m.dash))
		for i, v := range m.dash {
			dash[i] = v * w.k
		}
		w.pdf.SetDashPattern(dash, 0)
		defer w.pdf.SetDashPattern(nil, 0)
	}
	for _, through := range m.through {
		w.draw(through, false, "D")
	}
}

func (w *paperPen) fill(m fill) {
	w.pdf.SetFillColor(m.tone.RGB())
	if m.alpha < 1 {
		w.pdf.SetAlpha(m.alpha, "Normal")
		defer w.pdf.SetAlpha(1, "Normal")
	}
	w.draw(m.around, true, "F")
}

func (w *paperPen) dot(m dot) {
	style := "F"
	w.pdf.SetFillColor(m.tone.RGB())
	if m.hollow {
		style = "FD"
		w.pdf.SetFillColor(Paper.RGB())
		w.ink(m.tone, m.size*0.5)
	}
	switch m.shape {
	case Circle:
		x, y := w.at(m.at)
		w.pdf.Circle(x, y, m.size*w.k, style)
	case Cross:
		w.ink(m.tone, m.size*0.55)
		a, b := m.crossed()
		w.draw(a, false, "D")
		w.draw(b, false, "D")
	default:
		w.draw(m.shape.corners(m.at, m.size), true, style)
	}
}

func (w *paperPen) words(m words) {
	face := fonts.Regular
	if m.bold {
		face = fonts.Bold
	}
	text, _ := fonts.Clean(m.text)
	wide := face.Width(text, m.size)
	p := m.at
	switch m.align {
	case middle:
		p.x -= wide / 2
	case right:
		p.x -= wide
	}
	if m.halo {
		w.pdf.SetFillColor(Paper.RGB())
		w.draw(rect(p.x-m.size*0.15, p.y-m.size*0.8, p.x+wide+m.size*0.15, p.y+m.size*0.2), true, "F")
	}
	w.pdf.SetFont(fonts.Family, face.Style(), m.size)
	w.pdf.SetTextColor(m.tone.RGB())
	x, y := w.at(p)
	w.pdf.Text(x, y, text)
}
