package web

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"ebbline/exchange"
	"ebbline/internal/household"
	"ebbline/unit"
)

// awayBody is what to send ahead for sessions at another place. It is asked for
// with the address of the page and keeps nothing.
type awayBody struct {
	Base            string
	From, To, Spare string // as typed
	Problem         string
	Made            bool
	Away            household.Away
	Lines           []awayRow
	Supplier        string
	Text, Subject   string
	MailTo, CSV     string
}

type awayRow struct {
	household.AwayLine
	PackOf, All string
	HomeText    string
}

// spareAway is how many sessions are sent beyond those planned, unless somebody
// says otherwise: one, for a journey home that is late (ours).
const spareAway = "1"

// askedAway reads the journey off the address.
func askedAway(v visit) (a household.Away, typed awayBody, err error) {
	q := v.URL.Query()
	typed = awayBody{From: strings.TrimSpace(q.Get("from")), To: strings.TrimSpace(q.Get("to")), Spare: strings.TrimSpace(q.Get("spare"))}
	if typed.Spare == "" {
		typed.Spare = spareAway
	}
	if typed.From == "" && typed.To == "" {
		return a, typed, nil
	}
	var days [2]unit.Date
	for i, text := range []string{typed.From, typed.To} {
		if days[i], err = unit.ParseDate(text); err != nil || len(text) != len("2006-01-02") {
			return a, typed, unit.Refuse([]string{"from", "to"}[i], text, "year, month and day, such as 2026-07-01")
		}
	}
	spare, err := strconv.Atoi(typed.Spare)
	if err != nil {
		return a, typed, unit.Refuse("spare_sessions", typed.Spare, "a whole number of sessions")
	}
	a, err = household.SendAhead(v.house, v.member, v.now, days[0], days[1], spare)
	return a, typed, err
}

var awayWords = map[string]string{"from": "First day away", "to": "Last day away", "spare_sessions": "Sessions to spare"}

func (s *server) awayPage(v visit) (view, error) {
	a, b, err := askedAway(v)
	b.Base = "/p/" + v.member.ID
	var bad *unit.InputError
	if errors.As(err, &bad) {
		b.Problem = awayWords[bad.Field] + ": " + refusal(bad) + "."
		return view{page: "away", title: "Sessions elsewhere", here: "shelf", status: http.StatusUnprocessableEntity, body: b}, nil
	}
	if err != nil {
		return view{}, err
	}
	if len(a.Sessions) > 0 {
		b.Made, b.Away = true, a
		for _, l := range a.Lines {
			b.Lines = append(b.Lines, awayRow{l, l.Pack.String(), unit.PiecesText(l.Pieces), unit.PiecesText(l.Home)})
		}
		p, _ := v.member.Person.Now()
		b.Text, b.Subject = a.Text(p.Name), a.Subject()
		if sup := a.Supplier; sup != nil {
			b.Supplier = sup.Name + ", " + sup.Phone
			b.MailTo = mailTo(sup.Email, b.Subject, b.Text)
		}
		b.CSV = b.Base + "/shelf/away.csv?" + v.URL.RawQuery
	}
	return view{page: "away", title: "Sessions elsewhere", here: "shelf", body: b}, nil
}

// mailTo is the address of an e-mail that is written already; none without
// somebody to send it to.
func mailTo(email, subject, text string) string {
	if email == "" {
		return ""
	}
	part := func(s string) string { return strings.ReplaceAll(url.QueryEscape(s), "+", "%20") } // RFC 6068: + is a plus, & and = part the fields
	return "mailto:" + url.PathEscape(email) + "?subject=" + part(subject) + "&body=" + part(strings.ReplaceAll(text, "\n", "\r\n"))
}

// awayTable is the same for a spreadsheet or the supplier's own page.
func awayTable(v visit) (exchange.Sheet, error) {
	a, _, err := askedAway(v)
	if err != nil || len(a.Sessions) == 0 {
		return exchange.Sheet{}, notFound{"no journey with sessions"}
	}
	return a.Sheet(), nil
}
