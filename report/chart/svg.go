package chart

import (
	_ "embed"
	"fmt"
	"strconv"
	"strings"
)

// CSS gives the classes of every chart their colours from the page's custom
// properties (--ink, --soft, --rule, --water, --stop, and --sheet for the
// ground), so that its day, night and print themes apply. Without it the
// charts show their print colours.
func CSS() string { return css }

//go:embed chart.css
var css string

// SVG writes the drawing for a page. It scales with its container, has a
// title and a description for those who hear it, a title on every point, no
// style attributes and no script.
func (d *Drawing) SVG() string {
	w := svgPen{}
	id := func(part string) string { return escape(d.ID) + "-" + part }
	fmt.Fprintf(&w, `<svg xmlns="http://www.w3.org/2000/svg" class="chart" role="img" viewBox="0 0 %s %s" aria-labelledby="%s %s" font-family="DejaVu Sans, Verdana, sans-serif">`,
		num(d.Width), num(d.Height), id("title"), id("desc"))
	fmt.Fprintf(&w, "\n<title id=%q>%s</title>\n<desc id=%q>%s</desc>\n", id("title"), escape(d.Title), id("desc"), escape(d.Desc))
	for _, m := range d.marks {
		m.draw(&w)
	}
	w.WriteString("</svg>\n")
	return w.String()
}

type svgPen struct{ strings.Builder }

func (w *svgPen) stroke(m stroke) {
	fmt.Fprintf(w, `<path class="stroke-%s" d="%s" fill="none" stroke="%s" stroke-width="%s" stroke-linejoin="round"`,
		m.tone.class(), path(m.through...), m.tone.hex(), num(m.width))
	if len(m.dash) > 0 {
		var parts []string
		for _, v := range m.dash {
			parts = append(parts, num(v))
		}
		fmt.Fprintf(w, ` stroke-dasharray="%s"`, strings.Join(parts, " "))
	}
	w.WriteString("/>\n")
}

func (w *svgPen) fill(m fill) {
	fmt.Fprintf(w, `<path class="fill-%s" d="%sZ" fill="%s"`, m.tone.class(), path(m.around), m.tone.hex())
	if m.alpha < 1 {
		fmt.Fprintf(w, ` fill-opacity="%s"`, num(m.alpha))
	}
	w.WriteString("/>\n")
}

func (w *svgPen) dot(m dot) {
	fmt.Fprintf(w, `<g class="point"><title>%s</title>`, escape(m.says))
	paint := fmt.Sprintf(`class="fill-%s" fill="%s"`, m.tone.class(), m.tone.hex())
	if m.hollow {
		paint = fmt.Sprintf(`class="fill-paper stroke-%s" fill="%s" stroke="%s" stroke-width="%s"`,
			m.tone.class(), Paper.hex(), m.tone.hex(), num(m.size*0.5))
	}
	switch m.shape {
	case Circle:
		fmt.Fprintf(w, `<circle %s cx="%s" cy="%s" r="%s"/>`, paint, num(m.at.x), num(m.at.y), num(m.size))
	case Cross:
		a, b := m.crossed()
		fmt.Fprintf(w, `<path class="stroke-%s" d="%s" fill="none" stroke="%s" stroke-width="%s"/>`,
			m.tone.class(), path(a, b), m.tone.hex(), num(m.size*0.55))
	default:
		fmt.Fprintf(w, `<path %s d="%sZ"/>`, paint, path(m.shape.corners(m.at, m.size)))
	}
	w.WriteString("</g>\n")
}

func (w *svgPen) words(m words) {
	fmt.Fprintf(w, `<text class="fill-%s" x="%s" y="%s" font-size="%s" fill="%s"`,
		m.tone.class(), num(m.at.x), num(m.at.y), num(m.size), m.tone.hex())
	if m.align != left {
		fmt.Fprintf(w, ` text-anchor="%s"`, [...]string{middle: "middle", right: "end"}[m.align])
	}
	if m.bold {
		w.WriteString(` font-weight="bold"`)
	}
	if m.halo {
		fmt.Fprintf(w, ` paint-order="stroke" stroke="%s" stroke-width="%s" stroke-linejoin="round"`, Paper.hex(), num(m.size*0.3))
	}
	fmt.Fprintf(w, ">%s</text>\n", escape(m.text))
}

func (t Tone) class() string { return tones[t].class }

func (t Tone) hex() string {
	r, g, b := t.RGB()
	return fmt.Sprintf("#%02x%02x%02x", r, g, b)
}

// crossed are the two strokes of a [Cross].
func (m dot) crossed() (a, b []place) {
	r := m.size * 0.9
	return []place{{m.at.x - r, m.at.y - r}, {m.at.x + r, m.at.y + r}},
		[]place{{m.at.x - r, m.at.y + r}, {m.at.x + r, m.at.y - r}}
}

func path(lines ...[]place) string {
	var b strings.Builder
	for _, through := range lines {
		for i, p := range through {
			b.WriteByte("ML"[min(i, 1)])
			b.WriteString(num(p.x))
			b.WriteByte(' ')
			b.WriteString(num(p.y))
		}
	}
	return b.String()
}

// num writes a coordinate to a hundredth, which no screen or printer shows.
func num(v float64) string {
	s := strconv.FormatFloat(v, 'f', 2, 64)
	s = strings.TrimRight(strings.TrimRight(s, "0"), ".")
	if s == "-0" {
		return "0"
	}
	return s
}

// escape makes text fit for SVG: mark-up characters are written as entities,
// and characters that XML cannot hold become a square.
func escape(s string) string {
	s = strings.Map(func(r rune) rune {
		if r == '\t' || r == '\n' || r == '\r' {
			return ' '
		}
		if r < ' ' || r == '\ufffe' || r == '\uffff' || r == '\ufffd' {
			return '□'
		}
		return r
	}, s)
	return entities.Replace(s)
}

var entities = strings.NewReplacer("&", "&amp;", "<", "&lt;", ">", "&gt;", `"`, "&quot;")
