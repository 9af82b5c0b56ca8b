package web

import (
	"net/http"
	"net/url"
	"strings"
)

// send makes one request as a browser on this computer does, changed by edit,
// and gives the answer without following it.
func (h *house) send(method, path string, form url.Values, edit func(*http.Request)) *http.Response {
	h.t.Helper()
	req, err := http.NewRequest(method, h.http.URL+path, strings.NewReader(form.Encode()))
	if err != nil {
		h.t.Fatal(err)
	}
	if form != nil {
		req.Header.Set("Content-Type", "application/x-www-form-urlencoded")
	}
	req.Header.Set("Sec-Fetch-Site", "same-origin")
	if edit != nil {
		edit(req)
	}
	client := http.Client{CheckRedirect: func(*http.Request, []*http.Request) error { return http.ErrUseLastResponse }}
	res, err := client.Do(req)
	if err != nil {
		h.t.Fatal(err)
	}
	return res
}
