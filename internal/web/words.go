package web

import (
	"fmt"
	"html/template"
	"strings"
	"time"

	"ebbline/unit"
)

// words are what templates may call: ways of writing, never of computing.
var words = template.FuncMap{
	"clock":    func(t time.Time) string { return t.Format("15:04") },
	"day":      func(t time.Time) string { return t.Format("Monday 2 January 2006") },
	"shortday": func(t time.Time) string { return t.Format("Mon 2 Jan") },
	"stamp":    func(t time.Time) string { return t.Format(time.RFC3339) },
	"span":     span,
	"date":     func(d unit.Date) string { return d.Long() },
	"lines":    func(s string) []string { return strings.Split(strings.TrimSpace(s), "\n") },
	"plural": func(n int, one, many string) string {
		return fmt.Sprintf("%d %s", n, map[bool]string{true: one, false: many}[n == 1])
	},
	"add":  func(a, b int) int { return a + b },
	"dict": dict,
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
