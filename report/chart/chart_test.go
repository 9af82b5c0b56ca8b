package chart

import (
	"encoding/xml"
	"fmt"
	"io"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"codeberg.org/go-pdf/fpdf"
	"pgregory.net/rapid"

	"ebbline/report/fonts"
	"ebbline/report/internal/golden"
)

// evening is an invented session with a pause, a check slept through and one
// missing value.
func evening(t *testing.T) Ebb {
	zone := zoneOf(t, "Europe/Lisbon")
	at := func(h, m int) time.Time { return time.Date(2026, 3, 3, h, m, 0, 0, zone) }
	return Ebb{
		Zone: zone, Start: at(18, 42), End: at(22, 58), Excess: 2.75, Within: 0.1, DryWeight: "58.5 kg",
		Planned: []Reading{{At: at(18, 42), Value: 2.75}, {At: at(20, 10), Value: 1.74}, {At: at(20, 26), Value: 1.74}, {At: at(22, 58)}},
		Readings: []Reading{
			{At: at(18, 47), Value: 2.7}, {At: at(19, 15), Value: 2.4}, {At: at(19, 45), Value: 2.1}, {At: at(20, 30), Value: 1.85},
			{At: at(21, 0), Gap: "asleep by plan"}, {At: at(21, 30), Value: 1.35}, {At: at(22, 0), Value: 0.98},
		},
		Pauses: []Span{{at(20, 10), at(20, 26), "pause"}}, Now: at(22, 4),
	}
}

func pressures(e Ebb) Lines {
	var arterial, venous []Reading
	var bp []Between
	for i, r := range e.Readings {
		arterial = append(arterial, Reading{r.At, -140 - float64(3*i), r.Gap})
		venous = append(venous, Reading{r.At, 150 + float64(i%3*12), r.Gap})
		bp = append(bp, Between{r.At, 68 + float64(i), 138 - float64(6*i), r.Gap})
	}
	return Pressures(e.Zone, e.Start, e.End, arterial, venous, bp, e.Pauses)
}

func weights(n int) Lines {
	at := time.Date(2026, 1, 5, 18, 0, 0, 0, time.UTC)
	s := Series{Name: "before", Tone: Ink}
	for i := range n {
		r := Reading{At: at, Value: 59 + float64(i*7%13)/8}
		if i%17 == 5 {
			r.Gap = "not recorded"
		}
		s.Readings = append(s.Readings, r)
		at = at.AddDate(0, 0, 2+i%3)
	}
	return Lines{Title: "Weight before", Unit: "kg", Decimals: 1, Band: &Band{58, 60.5, "usual 58.0 to 60.5"}, Series: []Series{s}}
}

var small = Frame{ID: "small", Width: 255, Height: 118, Text: 6.5}

func TestEbbLooksAsSeen(t *testing.T) {
	d := evening(t).Draw(OnPage("ebb"))
	golden.Check(t, "ebb.svg", d.SVG())
	golden.Check(t, "ebb.txt", inFigures(d))
}

func TestPressuresLookAsSeen(t *testing.T) {
	d := pressures(evening(t)).Draw(small)
	golden.Check(t, "pressures.svg", d.SVG())
	golden.Check(t, "pressures.txt", inFigures(d))
}

func TestMonthsLookAsSeen(t *testing.T) {
	d := weights(40).Draw(OnPage("months"))
	golden.Check(t, "months.svg", d.SVG())
	golden.Check(t, "months.txt", inFigures(d))
}

func inFigures(d *Drawing) string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%s\n%s\n", d.Title, d.Desc, strings.Join(d.Table.Head, " | "))
	for _, r := range d.Table.Rows {
		fmt.Fprintln(&b, strings.Join(r, " | "))
	}
	return b.String()
}

func TestGapIsNeverDrawnAcross(t *testing.T) {
	d := evening(t).Draw(OnPage("ebb"))
	lines, points := 0, 0
	for _, m := range d.marks {
		switch m := m.(type) {
		case stroke:
			if m.tone == Water && math.Abs(m.width-14*0.17) < 1e-9 {
				lines += len(m.through)
			}
		case dot:
			if m.tone == Water {
				points++
			}
		}
	}
	if lines != 2 || points != 6 {
		t.Errorf("7 checks with one missing between them: %d lines and %d points, want 2 and 6", lines, points)
	}
	if row := d.Table.Rows[4]; row[2] != "asleep by plan" {
		t.Errorf("the table says %q where a check was slept through", row)
	}
}

func TestEbbSaysHowFarBehind(t *testing.T) {
	e := evening(t)
	for _, tt := range []struct {
		value float64
		want  string
	}{
		// 22:00 is 94 of the last 152 minutes from 1.74 L down to 0, so 0.664 L is planned.
		{0.98, "0.32 L behind the plan"}, {0.664, "as planned"}, {0.5, "0.16 L ahead of the plan"},
	} {
		e.Readings[6].Value = tt.value
		if d := e.Draw(small); !strings.Contains(d.Desc, tt.want) {
			t.Errorf("%.3f L still to come off: %q does not say %q", tt.value, d.Desc, tt.want)
		}
	}
}

func TestNightShowsBothOffsets(t *testing.T) {
	zone := zoneOf(t, "Europe/London")
	e := Ebb{Zone: zone, Start: time.Date(2026, 10, 24, 22, 30, 0, 0, zone), Excess: 2}
	e.End = e.Start.Add(9 * time.Hour)
	first := time.Date(2026, 10, 25, 0, 30, 0, 0, time.UTC) // 01:30 for the first time
	e.Readings = []Reading{{At: first, Value: 1.5}, {At: first.Add(time.Hour), Value: 1.3}}
	d := e.Draw(OnPage("night"))
	svg := d.SVG()
	for _, want := range []string{"clocks 02:00 → 01:00", ">+01:00<", ">+00:00<", "01:30 +01:00: 1.50 L", "01:30 +00:00: 1.30 L"} {
		if !strings.Contains(svg, want) {
			t.Errorf("the night's drawing does not show %q", want)
		}
	}
	if d.Table.Rows[0][0] == d.Table.Rows[1][0] {
		t.Errorf("both readings are at %q", d.Table.Rows[0][0])
	}
}

func TestUnequalDaysAreDrawnUnequal(t *testing.T) {
	at := time.Date(2026, 1, 5, 18, 0, 0, 0, time.UTC)
	c := Lines{Unit: "kg", Series: []Series{{Readings: []Reading{{At: at, Value: 1}, {At: at.AddDate(0, 0, 1), Value: 2}, {At: at.AddDate(0, 0, 5), Value: 3}}}}}
	var xs []float64
	for _, m := range c.Draw(small).marks {
		if d, ok := m.(dot); ok {
			xs = append(xs, d.at.x)
		}
	}
	if len(xs) != 3 || math.Abs((xs[2]-xs[1])-4*(xs[1]-xs[0])) > 1e-6 {
		t.Errorf("one day and four days apart lie at %v", xs)
	}
}

func TestSeriesDifferInShapeToo(t *testing.T) {
	d := pressures(evening(t)).Draw(small)
	shapes := map[string]bool{}
	for _, m := range d.marks {
		if m, ok := m.(dot); ok {
			shapes[fmt.Sprint(m.shape, m.hollow)] = true
		}
	}
	if len(shapes) != 3 {
		t.Errorf("three series are told apart by %d shapes", len(shapes))
	}
}

// Every drawing, whatever its values, is well-formed, has its words, keeps
// inside its frame, carries no style attribute and can be put on paper.
func TestDrawingProperties(t *testing.T) {
	zone := zoneOf(t, "Europe/London")
	start := time.Date(2026, 10, 24, 22, 0, 0, 0, zone)
	odd := []float64{0, -0.4, 1.234, 9e6, -9e6, math.NaN(), math.Inf(1), math.Inf(-1), 1e-9}
	reading := rapid.Custom(func(t *rapid.T) Reading {
		return Reading{
			At:    start.Add(time.Duration(rapid.IntRange(-600, 900).Draw(t, "minute")) * time.Minute),
			Value: rapid.OneOf(rapid.Float64Range(-300, 300), rapid.SampledFrom(odd)).Draw(t, "value"),
			Gap:   rapid.SampledFrom([]string{"", "", "asleep <by> plan & \"so\"", "\x01\ufffe🩸"}).Draw(t, "gap"),
		}
	})
	pdf := fpdf.New("P", "mm", "A4", "")
	fonts.Add(pdf)
	rapid.Check(t, func(t *rapid.T) {
		e := Ebb{
			Zone: zone, Start: start, End: start.Add(time.Duration(rapid.IntRange(0, 600).Draw(t, "length")) * time.Minute),
			Excess: rapid.Float64Range(0, 6).Draw(t, "excess"), LeftOver: rapid.Float64Range(0, 2).Draw(t, "left over"),
			Readings: rapid.SliceOfN(reading, 0, 30).Draw(t, "readings"), Within: 0.1,
			DryWeight: rapid.String().Draw(t, "dry weight"),
		}
		if rapid.Bool().Draw(t, "running") {
			e.Now = start.Add(time.Hour)
		}
		for range rapid.IntRange(0, 3).Draw(t, "pauses") {
			from := start.Add(time.Duration(rapid.IntRange(-60, 700).Draw(t, "from")) * time.Minute)
			e.Pauses = append(e.Pauses, Span{from, from.Add(time.Duration(rapid.IntRange(0, 90).Draw(t, "for")) * time.Minute), "pause"})
		}
		frame := small
		frame.ID = rapid.StringMatching(`[a-z][a-z0-9-]{0,8}`).Draw(t, "id")
		for _, d := range []*Drawing{e.Draw(frame), pressures(e).Draw(frame), {Frame: frame}} {
			sound(t, d)
			pdf.AddPage()
			d.Paper(pdf, 10, 10)
			if pdf.Err() {
				t.Fatalf("on paper: %v", pdf.Error())
			}
		}
	})
	if err := pdf.Output(io.Discard); err != nil {
		t.Fatalf("on paper: %v", err)
	}
}

type failing interface {
	Helper()
	Fatalf(string, ...any)
}

var styled = regexp.MustCompile(`\sstyle\s*=|\son[a-z]+\s*=|<script`)

func sound(t failing, d *Drawing) {
	t.Helper()
	svg := d.SVG()
	for dec := xml.NewDecoder(strings.NewReader(svg)); ; {
		tok, err := dec.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("not well-formed: %v\n%s", err, svg)
		}
		if el, ok := tok.(xml.StartElement); ok {
			for _, a := range el.Attr {
				if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
					t.Fatalf("<%s %s=%q>", el.Name.Local, a.Name.Local, a.Value)
				}
				if a.Name.Local == "style" || strings.HasPrefix(a.Name.Local, "on") {
					t.Fatalf("<%s> carries %s, which the page forbids", el.Name.Local, a.Name.Local)
				}
			}
		}
	}
	for _, want := range []string{`role="img"`, `aria-labelledby="` + d.ID + `-title ` + d.ID + `-desc"`, `<title id="` + d.ID + `-title">`} {
		if !strings.Contains(svg, want) {
			t.Fatalf("the drawing lacks %s", want)
		}
	}
	for _, m := range d.marks {
		for _, p := range placesOf(m) {
			if p.x < -0.01 || p.x > d.Width+0.01 || p.y < -0.01 || p.y > d.Height+0.01 {
				t.Fatalf("%T at %v lies outside %v × %v", m, p, d.Width, d.Height)
			}
		}
	}
}

func placesOf(m mark) []place {
	switch m := m.(type) {
	case stroke:
		return slices.Concat(m.through...)
	case fill:
		return m.around
	case dot:
		return []place{m.at}
	case words:
		wide := fonts.Regular.Width(m.text, m.size)
		from := map[align]float64{left: 0, middle: wide / 2, right: wide}[m.align]
		return []place{{m.at.x - from, m.at.y}}
	}
	return nil
}

func TestNoneOneAndManyPoints(t *testing.T) {
	for _, n := range []int{0, 1, 2, 3000} {
		d := weights(n).Draw(OnPage("n"))
		sound(t, d)
		if got := len(d.Table.Rows); got != n {
			t.Errorf("%d values give a table of %d rows", n, got)
		}
		if none := strings.Contains(d.SVG(), "no values yet"); none != (n == 0) {
			t.Errorf("%d values: \"no values yet\" is %v", n, none)
		}
	}
}

func TestCSSNamesEveryClass(t *testing.T) {
	for _, tone := range tones {
		for _, kind := range []string{"stroke", "fill"} {
			if kind == "stroke" && tone.class == "paper" {
				continue // nothing is outlined in the colour of the ground but text, which has its own rule
			}
			if !strings.Contains(CSS(), "."+kind+"-"+tone.class+" ") {
				t.Errorf("chart.css has no rule for .%s-%s", kind, tone.class)
			}
		}
	}
	if styled.MatchString(evening(t).Draw(small).SVG()) {
		t.Error("the SVG carries a style attribute, a handler or a script")
	}
}

// Printed in grey, ink, water and warm stay dark on paper, and the faint tone
// stays visible. Luminance and contrast as in WCAG 2.2.
func TestTonesInGrey(t *testing.T) {
	lum := func(tone Tone) float64 {
		lin := func(v int) float64 {
			c := float64(v) / 255
			if c <= 0.04045 {
				return c / 12.92
			}
			return math.Pow((c+0.055)/1.055, 2.4)
		}
		r, g, b := tone.RGB()
		return 0.2126*lin(r) + 0.7152*lin(g) + 0.0722*lin(b)
	}
	contrast := func(a Tone) float64 { return 1.05 / (lum(a) + 0.05) }
	for tone, atLeast := range map[Tone]float64{Ink: 12, Soft: 5.5, Water: 7, Warm: 5.5, Faint: 1.4} {
		if got := contrast(tone); got < atLeast {
			t.Errorf("%s has contrast %.2f on paper, want %.1f", tone.class(), got, atLeast)
		}
	}
}
