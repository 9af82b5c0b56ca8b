package report

import (
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"time"

	"ebbline/report/chart"
	"ebbline/unit"
)

// A Card is the emergency card: the unit's own words and the numbers to ring.
// Nothing on it is made up here; where the unit gave no card, it says so and
// whom to ring.
type Card struct {
	Head
	Access string   // "fistula, left arm"
	Words  []string // one act a line, as the unit wrote them; none when there is no card
	From   string   // who gave the card, and when
	Stale  string   // empty, or why the card should be looked at again
	Phones []Phone  // in the order in which to try them

	Troubles []CardTrouble // one side each, in the order of the list; only those with steps of the unit

	title, blood string // of the side of one trouble
}

// A CardTrouble is what the unit wants done when one thing is wrong, as the card
// holds it.
type CardTrouble struct {
	Title   string
	Words   []string // one act a line, as the unit wrote them
	From    string   // who gave them, and when
	Stale   string   // empty, or why they should be looked at again
	Phones  []Phone  // whom the unit set first
	Figures []string // what the unit set besides, such as an amount of saline
	Blood   string   // whether the blood is given back; no trouble lacks it
}

// A Phone is a number to ring.
type Phone struct{ Who, Number string }

// wordsPerLine is how many words a frightened reader takes in at a glance.
const wordsPerLine = 12

// none is what the card says when the unit gave none.
const (
	noCard   = "No card from your unit is in the record. Ring:"
	noPhones = "No telephone number is in the record. Ring the emergency number of your country."
	stopHere = "If something is wrong"
	unitSays = "Your unit's own words"
)

// Lines are the words of the card in lines of at most twelve words. An act
// that has more is shared out over lines of about equal length.
func (c Card) Lines() (out []CardLine) {
	for _, act := range c.Words {
		words := strings.Fields(act)
		n := (len(words) + wordsPerLine - 1) / wordsPerLine
		for i := range n {
			out = append(out, CardLine{strings.Join(words[i*len(words)/n:(i+1)*len(words)/n], " "), i == 0})
		}
	}
	return out
}

// A CardLine is one line of the card.
type CardLine struct {
	Text  string
	First bool // of an act
}

// Rings are the numbers that there are.
func (c Card) Rings() []Phone {
	var out []Phone
	for _, p := range c.Phones {
		if strings.TrimSpace(p.Number) != "" {
			out = append(out, p)
		}
	}
	return out
}

// Opening is the line over the numbers.
func (c Card) Opening() string {
	switch {
	case len(c.Rings()) == 0:
		return noPhones
	case len(c.Lines()) == 0:
		return noCard
	}
	return "Ring:"
}

// PDF writes the card as large as one side of A4 takes it, and over more
// sides only when the unit wrote that much; behind it each trouble that the unit
// gave steps for, on a side of its own.
func (c Card) PDF(w io.Writer, print Printing, made time.Time) error {
	type side struct {
		Card
		page
	}
	var sides []side
	for _, one := range append([]Card{c}, c.sides()...) {
		for _, pg := range one.laidOut() {
			sides = append(sides, side{one, pg})
		}
	}
	p := newPaper(joined(", ", "Emergency card", c.Name), made)
	for i, one := range sides {
		p.pdf.AddPage()
		if print.Demo {
			p.watermark()
		}
		one.headOf(p)
		for _, x := range one.placed {
			x.draw(p, x.y)
		}
		footOf(p, print, i+1, len(sides))
	}
	return p.finish(w)
}

// laidOut sets the card in the largest letters that leave it on one side.
func (c Card) laidOut() (pages []page) {
	largest := 26.0
	if len(c.Words) == 0 {
		largest = 32
	}
	for size := largest; size >= 13; size-- {
		if pages = paginate(c.blocks(size), style{size: 8, tone: chart.Soft}, c.top, cardBottom); len(pages) == 1 {
			break
		}
	}
	return pages
}

// sides gives each trouble as a card of its own.
func (c Card) sides() (list []Card) {
	for _, t := range c.Troubles {
		one := Card{Head: c.Head, Access: c.Access, Words: slices.Concat(t.Words, t.Figures), From: t.From, Stale: t.Stale, Phones: t.Phones}
		one.title, one.blood = t.Title, t.Blood
		list = append(list, one)
	}
	return list
}

const cardBottom = 279.5

func (c Card) top(int) float64 { return marginTop + 32 }

func (c Card) headOf(p *paper) {
	title := style{size: 26, bold: true, tone: chart.Warm}
	for title.width(c.heading()) > bodyRight-marginSide && title.size > 12 {
		title = title.times(0.97)
	}
	p.put(marginSide, marginTop+8, title, c.heading())
	x := p.put(marginSide, marginTop+17, style{size: 15, bold: true}, c.Name)
	p.put(x+3, marginTop+17, style{size: 11, tone: chart.Soft}, c.person())
	p.put(marginSide, marginTop+23, style{size: 11}, joined("   ", "home haemodialysis", c.Access, joined(" ", labelled("allergies:", c.Allergies))))
	p.rule(marginSide, marginTop+27, bodyRight, marginTop+27, 0.8, chart.Warm)
}

func (c Card) heading() string {
	if c.title != "" {
		return c.title
	}
	return stopHere
}

func labelled(label, text string) string {
	if text == "" {
		return ""
	}
	return label + " " + text
}

func (c Card) blocks(size float64) []block {
	full := bodyRight - marginSide
	big := style{size: size, tone: chart.Ink}
	lead := size * point * 1.3
	ring := block{strips: c.paragraph(big.times(0.7).strong(), c.Opening(), full)}
	for _, ph := range c.Rings() {
		number, who := big.times(1.25).strong().in(chart.Water), big.times(0.62)
		high := lead * 1.35
		for number.width(ph.Number) > full*0.55 && number.size > 14 { // a number is dialled from one line
			number = number.times(0.97)
		}
		whos := lines([]run{{text: ph.Who, style: who}}, full*0.42)
		numbers := lines([]run{{text: ph.Number, style: number}}, full*0.55)
		rows := max(len(whos), len(numbers))
		ring.strips = append(ring.strips, strip{high * float64(rows), func(p *paper, y float64) {
			for i, l := range whos {
				p.putRuns(marginSide, y+high*(float64(i)+0.75), l)
			}
			for i, l := range numbers {
				p.putRuns(marginSide+full*0.45, y+high*(float64(i)+0.78), l)
			}
			p.rule(marginSide, y+high*float64(rows), bodyRight, y+high*float64(rows), 0.2, chart.Faint)
		}})
	}
	if len(c.Lines()) == 0 {
		return []block{ring}
	}
	acts := block{strips: c.paragraph(big.times(0.5).in(chart.Soft), joined(". ", unitSays+labelled(",", c.From), c.Stale), full)}
	for _, l := range c.Lines() {
		indent := size * point * 0.9
		for i, broken := range lines([]run{{text: l.Text, style: big.strong()}}, full-indent) {
			gap := 0.0
			if l.First && i == 0 {
				gap = lead * 0.35
			}
			acts.strips = append(acts.strips, strip{lead + gap, func(p *paper, y float64) {
				if gap > 0 {
					p.put(marginSide, y+gap+lead*0.76, big.times(0.6).in(chart.Warm), "▶")
				}
				p.putRuns(marginSide+indent, y+gap+lead*0.76, broken)
			}})
		}
	}
	if c.blood != "" {
		acts.strips = append(acts.strips, c.paragraph(big.strong().in(chart.Warm), c.blood, full)...)
		return []block{ring, acts} // in a trouble the number leads
	}
	return []block{acts, ring}
}

func (c Card) paragraph(s style, text string, width float64) []strip {
	var out []strip
	lead := s.size * point * 1.35
	for _, l := range lines([]run{{text: text, style: s}}, width) {
		out = append(out, strip{lead, func(p *paper, y float64) { p.putRuns(marginSide, y+lead*0.76, l) }})
	}
	return out
}

var cardPage = template.Must(template.New("card").Parse(`<article class="card">
{{if .Demo}}<p class="sheet-demo">DEMONSTRATION – everything on this card is invented</p>
{{end}}<header><h2>{{.Title}}</h2>
<p><strong>{{.Name}}</strong> {{.Person}}</p>
<p>home haemodialysis{{with .Access}} · {{.}}{{end}}{{with .Allergies}} · allergies: {{.}}{{end}}</p></header>
{{if .Lines}}<section><h3>{{.Says}}{{with .From}}, {{.}}{{end}}</h3>{{with .Stale}}<p class="card-stale">▲ {{.}}</p>{{end}}
<p class="card-acts">{{range $i, $l := .Lines}}{{if $i}}<br>
{{end}}<span class="{{if $l.First}}card-act{{else}}card-on{{end}}">{{$l.Text}}</span>{{end}}</p></section>
{{end}}<section><h3>{{.Opening}}</h3>
<dl class="card-phones">{{range .Rings}}<div><dt>{{.Who}}</dt> <dd>{{if .Dial}}<a href="tel:{{.Dial}}">{{.Number}}</a>{{else}}{{.Number}}{{end}}</dd></div>
{{end}}</dl></section>
<footer class="sheet-foot">{{.Foot}}</footer>
</article>
`))

// Dial is the number as a telephone takes it; empty where none can be dialled for
// certain. See [unit.Dial].
func (p Phone) Dial() string {
	number, _ := unit.Dial(p.Number)
	return number
}

// CardHTML writes the card as a fragment of a page, with headings from the
// second level down.
func CardHTML(c Card, print Printing) (template.HTML, error) {
	var b strings.Builder
	err := cardPage.Execute(&b, struct {
		Card
		Demo                      bool
		Title, Says, Person, Foot string
	}{c, print.Demo, stopHere, unitSays, c.person(), print.foot()})
	if err != nil {
		return "", fmt.Errorf("emergency card: %w", err)
	}
	return template.HTML(b.String()), nil
}
