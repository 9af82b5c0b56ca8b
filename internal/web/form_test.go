package web

import (
	"net/http/httptest"
	"net/url"
	"testing"
)

// An address with a tab in it leads away: a browser leaves the tab out.
func TestOnlyAddressesOfThisServer(t *testing.T) {
	for address, want := range map[string]bool{
		"/p/one/session/two": true, "/p/one/plan?off=13:00": true,
		"//elsewhere.example": false, "/\t/elsewhere.example": false, "/\x00/elsewhere.example": false, "https://elsewhere.example": false, "/\\elsewhere.example": false,
	} {
		if got := local(address) != ""; got != want {
			t.Errorf("local(%q): kept is %v, want %v", address, got, want)
		}
	}
}

// A wait of more seconds than a duration holds is refused, not wrapped round.
func TestWaitTooLongToCount(t *testing.T) {
	h := home(t, 0, false)
	r := httptest.NewRequest("POST", "/", nil)
	r.PostForm = url.Values{"sent": {"18446744074"}} // 2⁶⁴ ns and a little
	if at, problem := (&server{desk: h.desk}).moment(r); problem == "" {
		t.Errorf("a wait of 585 years is taken as %s", h.now.Sub(at))
	}
}
