package report

import (
	_ "embed"
	"fmt"
	"html/template"
	"strconv"
	"strings"

	"ebbline/report/chart"
)

//go:embed sheet.html.tmpl
var sheetTemplate string

//go:embed sheet.css
var sheetCSS string

// SheetCSS lays a sheet out, on a screen and on one side of A4. It takes its
// colours from the page's custom properties.
func SheetCSS() string { return sheetCSS }

var sheetPage = template.Must(template.New("").Funcs(template.FuncMap{
	"figure": Value.figure,
	"add":    func(a, b int) int { return a + b },
}).Parse(sheetTemplate))

// sheetView is what the template is filled with: the sheet, and the words the
// two ways of printing share.
type sheetView struct {
	Sheet
	Demo                bool
	Person, Which, Foot string
	HeadFields          []Field
	Charts              []drawn
}

type drawn struct {
	chart.Drawing
	SVG template.HTML
}

// SheetHTML writes the sheet as a fragment of a page, with headings from the
// second level down. It is the accessible form: tables have their headings,
// each chart its words and its figures, and a blank is called a blank.
func SheetHTML(s Sheet, print Printing) (template.HTML, error) {
	v := sheetView{Sheet: s, Demo: print.Demo, Person: s.person(), Which: s.which(), Foot: print.foot(), HeadFields: s.headFields()}
	frame := chart.Frame{Width: 560, Height: 250, Text: 13}
	if s.Ebb != nil {
		frame.ID = "ebb-" + plainID(s.ID)
		v.Charts = append(v.Charts, draw(s.Ebb.Draw(frame)))
	}
	if s.Pressures != nil {
		frame.ID = "pressures-" + plainID(s.ID)
		v.Charts = append(v.Charts, draw(s.Pressures.Draw(frame)))
	}
	var b strings.Builder
	if err := sheetPage.ExecuteTemplate(&b, "sheet", v); err != nil {
		return "", fmt.Errorf("session sheet: %w", err)
	}
	return template.HTML(b.String()), nil
}

func draw(d *chart.Drawing) drawn { return drawn{*d, template.HTML(d.SVG())} }

// plainID makes an id for a page from any text.
func plainID(s string) string {
	return strings.Map(func(r rune) rune {
		if r < 128 && (r == '-' || '0' <= r && r <= '9' || 'a' <= r && r <= 'z' || 'A' <= r && r <= 'Z') {
			return r
		}
		return '-'
	}, s)
}

// person is who it is, beside the name.
func (h Head) person() string {
	born, number := "", ""
	if h.BirthYear != 0 {
		born = "born " + strconv.Itoa(h.BirthYear)
	}
	if h.Number != "" {
		number = "no. " + h.Number
	}
	return joined(" · ", born, h.Colour, number)
}

// which is which session it is, beside the date.
func (s Sheet) which() string {
	if s.Blank {
		return ""
	}
	return joined(" · ", "session "+s.ID, s.Zone, s.State)
}

// headFields are the lines under the name.
func (s Sheet) headFields() []Field {
	var out []Field
	for _, f := range []Field{
		{Label: "Unit", Value: Value{Text: joined(", ", s.Unit, s.Telephone)}},
		{Label: "Prescription", Value: Value{Text: s.Prescription}},
		{Label: "Allergies", Value: Value{Text: s.Allergies}},
	} {
		if f.Value.Text != "" {
			out = append(out, f)
		}
	}
	return append(out, s.Facts...)
}

// foot is what stands at the foot of every side beside its number.
func (p Printing) foot() string {
	demo, hash := "", ""
	if p.Demo {
		demo = "DEMONSTRATION, invented data"
	}
	if p.Hash != "" {
		hash = "record " + p.Hash
	}
	return joined(" · ", demo, "printed "+p.At, hash)
}
