package web

import "strings"

// barOn cuts the bar out of a page; empty where the page has none, or one that is
// hidden.
func barOn(text string) string {
	i := strings.Index(text, `<aside id="bar"`)
	if i < 0 {
		return ""
	}
	bar, _, _ := strings.Cut(text[i:], "</aside>")
	if head, _, _ := strings.Cut(bar, ">"); strings.Contains(head, " hidden") {
		return ""
	}
	return bar
}
