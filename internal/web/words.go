package web

import (
	"fmt"
	"html/template"
	"regexp"
	"strconv"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// words are what templates may call: ways of writing, never of computing.
var words = template.FuncMap{
	"clock":    clockFace,
	"day":      func(t time.Time) string { return t.Format("Monday 2 January 2006") },
	"shortday": func(t time.Time) string { return t.Format("Mon 2 Jan") },
	"stamp":    func(t time.Time) string { return t.Format(time.RFC3339) },
	"span":     span,
	"date":     func(d unit.Date) string { return d.Long() },
	"onday":    func(d unit.Date) string { return d.Time(time.UTC).Format("Mon 2 Jan") },
	"month":    func(d unit.Date) string { return d.Time(time.UTC).Format("January 2006") },
	"lines":    func(s string) []string { return strings.Split(strings.TrimSpace(s), "\n") },
	"plural":   countOf,
	"add":      func(a, b int) int { return a + b },
	"minutes":  func(m unit.Minutes) string { return span(time.Duration(m) * time.Minute) },
	"sign":     signOf,
	"cited":    cited,
	"figure":   figure,
	"happens":  func() string { return yesHappens },
	"dict":     dict,
}

// signOf is what a term does to the goal: nothing before the first of the sum,
// and none before a value that carries its own.
func signOf(t session.Term) string {
	switch {
	case t.Code == "goal":
		return "=\u00a0"
	case t.Code == "left_over":
		return "−\u00a0"
	case t.ML != nil && *t.ML > 0 && t.Code != "above_dry":
		return "+\u00a0"
	}
	return ""
}

// figure writes a value with its unit small beside it, for a headline.
func figure(text string) template.HTML {
	number, unit, ok := strings.Cut(text, "\u00a0")
	if !ok {
		return template.HTML(template.HTMLEscapeString(text))
	}
	return template.HTML(template.HTMLEscapeString(number) + "<small>\u00a0" + template.HTMLEscapeString(unit) + "</small>")
}

// source is a reference in brackets: authors, journal, year and pages.
var source = regexp.MustCompile(` \(([^()]*\b(?:19|20)\d\d;[^()]*)\)`)

// cited writes a caution with its sources small and behind it: what is read
// first is what it says.
func cited(text string) template.HTML {
	var of []string
	for _, m := range source.FindAllStringSubmatch(text, -1) {
		of = append(of, m[1])
	}
	said := template.HTMLEscapeString(source.ReplaceAllString(text, ""))
	if len(of) > 0 {
		said += ` <small class="cite">` + template.HTMLEscapeString(strings.Join(of, "; ")) + `</small>`
	}
	return template.HTML(said)
}

// clockFace writes a time of day. On the night when the clocks go back a face
// comes twice; then it says which, with the word that a form asks for.
func clockFace(t time.Time) string {
	face := t.Format("15:04")
	if both := record.Moments(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), t.Location()); len(both) == 2 {
		if t.Before(both[1]) {
			return face + " (first)"
		}
		return face + " (second)"
	}
	return face
}

// span writes a length of time as the page does: 3 h 05.
func span(d time.Duration) string {
	sign := ""
	if d < 0 {
		sign, d = "−", -d
	}
	m := int(d / time.Minute)
	if m < 60 {
		return fmt.Sprintf("%s%d min", sign, m)
	}
	return fmt.Sprintf("%s%d h %02d", sign, m/60, m%60)
}

// dict hands several values to a shared part.
func dict(pairs ...any) (map[string]any, error) {
	if len(pairs)%2 != 0 {
		return nil, fmt.Errorf("dict needs pairs")
	}
	m := map[string]any{}
	for i := 0; i < len(pairs); i += 2 {
		key, ok := pairs[i].(string)
		if !ok {
			return nil, fmt.Errorf("dict: %v is no key", pairs[i])
		}
		m[key] = pairs[i+1]
	}
	return m, nil
}

// countOf says a number of things.
func countOf(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return strconv.Itoa(n) + " " + many
}
