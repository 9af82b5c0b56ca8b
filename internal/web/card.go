package web

import (
	"bytes"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
)

// cardBody is the emergency card: the unit's own words and the numbers. The
// program adds no instruction of its own.
type cardBody struct {
	Base   string // of the person; empty on the page that is nobody's
	Card   report.Card
	Size   string // few, some or many: how large the words can be on a small screen
	Has    bool
	Given  record.Card
	People []who // on the page that is nobody's
	Of     int   // troubles that there are; of Card.Troubles the unit gave steps
}

// Lines that one small screen holds at each size.
const (
	fewLines  = 6
	someLines = 10
)

func (s *server) cardPage(v visit) (view, error) {
	b := cardBody{Base: "/p/" + v.member.ID, Card: household.Card(v.house, v.member, v.today())}
	b.Given, b.Has = v.member.Cards.Now()
	b.Size, b.Of = cardSize(b.Card), len(session.Troubles())
	return view{page: "card", title: "Emergency card", here: "card", body: b}, nil
}

// cardPDF prints the card as large as one side takes it.
func (s *server) cardPDF(v visit, to *bytes.Buffer) (string, error) {
	return "emergency-card.pdf", household.Card(v.house, v.member, v.today()).PDF(to, s.desk.Printing(v.house), v.now)
}

// cardSize says how large the words can be so that all of them stay in sight.
func cardSize(c report.Card) string {
	rows := 0
	for _, line := range c.Lines() {
		rows += 1 + len([]rune(line.Text))/34
	}
	switch {
	case rows <= fewLines:
		return "few"
	case rows <= someLines:
		return "some"
	}
	return "many"
}

// numbersPage is the card that is nobody's: the numbers, and whose cards there
// are. With one person it is that person's card.
func (s *server) numbersPage(v visit) (view, error) {
	if len(v.house.People) == 1 {
		return view{goTo: "/p/" + v.house.People[0].ID + "/card"}, nil
	}
	b := cardBody{Card: household.Card(v.house, nil, v.today()), Size: "few"}
	for _, m := range v.house.People {
		b.People = append(b.People, *person(m))
	}
	return view{page: "card", title: "Numbers to ring", here: "card", body: b}, nil
}

// cardForm takes the card as the unit gave it.
func cardForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "Type what your unit’s own paper says, word for word. Ebbline adds nothing to it and has no instructions of its own."
	b.Notes = append(b.Notes, "One act a line. At most twelve words a line can be read at a glance; longer lines are broken.")
	f.Next, f.Back = "/p/"+v.member.ID+"/card", "/p/"+v.member.ID+"/card"
	if now, ok := v.member.Cards.Now(); ok {
		kind, _ := record.Find("card")
		f = f.begin(filled(kind, &now))
	}
	f.Submit = "Keep this card"
	return f.hint(map[string]string{
		"from":      "The nurse or doctor who gave it to you, by name.",
		"review_by": "Once a year, say. Past that day the card says that it is old.",
	}), nil
}
