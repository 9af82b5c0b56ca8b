package report

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"strings"
	"time"

	"ebbline/report/chart"
	"ebbline/session"
)

//go:embed slips.css
var slipsCSS string

// SlipsCSS lays out syringe labels and the emergency card.
func SlipsCSS() string { return slipsCSS }

// Labels go onto plain A4 to be cut out, or onto sheets of three times eight
// labels of 64 by 34 mm, which shops sell.
const (
	labelColumns = 3
	labelRows    = 8
	labelWide    = 64.0
	labelHigh    = 33.9
	labelLeft    = (paperWidth - labelColumns*labelWide) / 2
	labelTop     = (paperHeight - labelRows*labelHigh) / 2
)

// LabelsPDF writes the labels of what was drawn up, one for each syringe. The
// first line is what it is, the second how much, the last whose and when.
func LabelsPDF(w io.Writer, labels []session.Label, print Printing, made time.Time) error {
	p := newPaper("Syringe labels", made)
	p.pdf.AddPage()
	for i, l := range labels {
		if i > 0 && i%(labelColumns*labelRows) == 0 {
			p.pdf.AddPage()
		}
		k := i % (labelColumns * labelRows)
		p.label(labelLeft+float64(k%labelColumns)*labelWide, labelTop+float64(k/labelColumns)*labelHigh, l, print.Demo)
	}
	if len(labels) == 0 {
		p.put(labelLeft, labelTop+8, style{size: 11}, "Nothing was drawn up.")
	}
	return p.finish(w)
}

// label draws one label. Its words shrink until all of them are on it; a
// label is never cut off.
func (p *paper) label(x, y float64, l session.Label, demo bool) {
	p.pdf.SetDrawColor(chart.Soft.RGB())
	p.pdf.SetLineWidth(0.15)
	p.pdf.SetDashPattern([]float64{0.8, 0.8}, 0)
	p.pdf.Rect(x, y, labelWide, labelHigh, "D")
	p.pdf.SetDashPattern(nil, 0)
	texts := l.Lines
	if demo {
		texts = append([]string{"DEMONSTRATION"}, texts...)
	}
	const pad, wide = 2.6, labelWide - 2*2.6
	for scale := 1.0; ; scale *= 0.96 {
		var set [][]run
		high := 0.0
		for i, text := range texts {
			s := style{size: 8 * scale, tone: chart.Ink}
			switch i - (len(texts) - len(l.Lines)) {
			case 0:
				s = style{size: 10.5 * scale, bold: true, tone: chart.Ink}
			case 1:
				s = style{size: 13 * scale, bold: true, tone: chart.Ink}
			}
			for s.bold && s.width(text) > wide && s.size > 9*scale { // a dose is read best on one line
				s = s.times(0.98)
			}
			for _, line := range lines([]run{{text: text, style: s}}, wide) {
				set = append(set, line)
				high += s.size * point * 1.22
			}
		}
		if high > labelHigh-2*pad && scale > 0.3 {
			continue
		}
		base := y + pad
		for _, line := range set {
			if len(line) == 0 {
				continue
			}
			p.putRuns(x+pad, base+line[0].size*point*0.95, line)
			base += line[0].size * point * 1.22
		}
		return
	}
}

var labelsPage = template.Must(template.New("labels").Parse(`<div class="labels">
{{$demo := .Demo}}{{range .Labels}}<div class="label-slip">{{if $demo}}<p>DEMONSTRATION</p>{{end}}{{range $i, $l := .Lines}}<p{{if eq $i 0}} class="label-what"{{else if eq $i 1}} class="label-much"{{end}}>{{$l}}</p>{{end}}</div>
{{else}}<p>Nothing was drawn up.</p>
{{end}}</div>
`))

// LabelsHTML writes the labels as a fragment of a page.
func LabelsHTML(labels []session.Label, print Printing) (template.HTML, error) {
	var b strings.Builder
	if err := labelsPage.Execute(&b, struct {
		Labels []session.Label
		Demo   bool
	}{labels, print.Demo}); err != nil {
		return "", fmt.Errorf("syringe labels: %w", err)
	}
	return template.HTML(b.String()), nil
}
