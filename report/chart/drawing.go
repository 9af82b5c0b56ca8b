package chart

// A Frame is the room a chart is given. On a page the unit is a CSS pixel of
// the SVG's own view box; on paper it is a point.
type Frame struct {
	ID     string  // unique on its page; letters, digits and hyphens
	Width  float64 // at least 120
	Height float64 // at least 60
	Text   float64 // size of the labels
}

// OnPage is the frame for the full width of a page.
func OnPage(id string) Frame { return Frame{ID: id, Width: 720, Height: 320, Text: 14} }

// A Drawing is a finished chart: what to draw in order, what to say to
// someone who cannot see it, and the same figures as a table.
type Drawing struct {
	Frame
	Title string // what it is a chart of
	Desc  string // what it shows, in a sentence or two
	Table Table
	marks []mark
}

// A Table is the chart in figures.
type Table struct {
	Head []string
	Rows [][]string
}

// A Tone says what a mark is for. The colour belongs to the theme: on a page
// to the classes of chart.css, on paper to the tone's print colour.
type Tone int

// The tones. Ink, Soft and Faint are of falling weight; Water is the colour of
// what comes off; Warm is kept for "stop and look"; Paper is the ground.
const (
	Ink Tone = iota
	Soft
	Faint
	Water
	Warm
	Paper
)

var tones = [...]struct {
	class   string
	r, g, b int
}{
	Ink:   {"ink", 0x1c, 0x1a, 0x17},
	Soft:  {"soft", 0x5a, 0x53, 0x48},
	Faint: {"faint", 0xcf, 0xc6, 0xb4},
	Water: {"water", 0x15, 0x50, 0x5f},
	Warm:  {"warm", 0x98, 0x38, 0x0f},
	Paper: {"paper", 0xff, 0xff, 0xff},
}

// RGB is the tone's colour on paper.
func (t Tone) RGB() (r, g, b int) { return tones[t].r, tones[t].g, tones[t].b }

// A Shape tells one series from another without colour.
type Shape int

// The shapes of points.
const (
	Circle Shape = iota
	Square
	Diamond
	Up   // triangle, point up
	Down // triangle, point down
	Cross
)

// A place is a point of the drawing: right and down from its top left corner.
type place struct{ x, y float64 }

// A mark is one thing drawn. A pen is what draws it.
type mark interface{ draw(pen) }

type pen interface {
	stroke(stroke)
	fill(fill)
	dot(dot)
	words(words)
}

// stroke is one or more open lines through places.
type stroke struct {
	through [][]place
	tone    Tone
	width   float64
	dash    []float64
}

// fill is a closed area; alpha is how much of the ground it covers, 0 to 1.
type fill struct {
	around []place
	tone   Tone
	alpha  float64
}

// dot is one point of a series, with what it says when it is pointed at.
type dot struct {
	at     place
	shape  Shape
	tone   Tone
	size   float64 // half its width
	hollow bool
	says   string
}

// words are one line of text; at is on its base line.
type words struct {
	at    place
	text  string
	size  float64
	align align
	tone  Tone
	bold  bool
	halo  bool // cut out of what lies behind, to stay readable
}

type align int

const (
	left align = iota
	middle
	right
)

func (m stroke) draw(p pen) { p.stroke(m) }
func (m fill) draw(p pen)   { p.fill(m) }
func (m dot) draw(p pen)    { p.dot(m) }
func (m words) draw(p pen)  { p.words(m) }

func (d *Drawing) add(m ...mark) { d.marks = append(d.marks, m...) }

func (m stroke) dashed(dash ...float64) stroke {
	m.dash = dash
	return m
}

func line(tone Tone, width float64, through ...place) stroke {
	return stroke{through: [][]place{through}, tone: tone, width: width}
}

func rect(x0, y0, x1, y1 float64) []place {
	return []place{{x0, y0}, {x1, y0}, {x1, y1}, {x0, y1}}
}

// corners are the corners of a shape around a place; a circle has none.
func (s Shape) corners(c place, r float64) []place {
	switch s {
	case Square:
		r *= 0.88 // so that every shape looks the same size
		return rect(c.x-r, c.y-r, c.x+r, c.y+r)
	case Diamond:
		r *= 1.25
		return []place{{c.x, c.y - r}, {c.x + r, c.y}, {c.x, c.y + r}, {c.x - r, c.y}}
	case Up:
		r *= 1.15
		return []place{{c.x, c.y - r}, {c.x + r, c.y + 0.8*r}, {c.x - r, c.y + 0.8*r}}
	case Down:
		r *= 1.15
		return []place{{c.x, c.y + r}, {c.x + r, c.y - 0.8*r}, {c.x - r, c.y - 0.8*r}}
	}
	return nil
}

// hatch gives slanted lines that fill an upright rectangle, each cut at its
// edges, so that no back-end needs clipping.
func hatch(x0, y0, x1, y1, gap float64, tone Tone, width float64) stroke {
	out := stroke{tone: tone, width: width}
	for c := x0 - (y1 - y0) + gap; c < x1; c += gap { // x + (y − y0) … runs up to the right
		ax, ay := c, y1
		bx, by := c+(y1-y0), y0
		if ax < x0 {
			ax, ay = x0, y1-(x0-c)
		}
		if bx > x1 {
			bx, by = x1, y1-(x1-c)
		}
		if bx > ax {
			out.through = append(out.through, []place{{ax, ay}, {bx, by}})
		}
	}
	return out
}
