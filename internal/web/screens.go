package web

import (
	"fmt"
	"html/template"
	"net"
	"net/http"
	"net/url"
	"strings"
	"time"

	"rsc.io/qr"
)

// screensBody is the page of the other screens in the house.
type screensBody struct {
	Off     bool // no other screen can reach the pages
	Code    string
	Until   time.Time
	Address string // where the other screen goes
	Picture template.HTML
	Secret  bool // the way there is encrypted
	Screens []screenRow
}

type screenRow struct {
	ID, Name     string
	Paired, Seen time.Time
}

// screensPage lists the screens that were paired and shows the code for the next
// one. It is for this computer alone: a screen that was let in lets in no other.
func (s *server) screensPage(v visit) (view, error) {
	if s.screens == nil {
		return view{page: "screens", title: "Screens in the house", here: "screens", body: screensBody{Off: true}}, nil
	}
	if !fromHere(v.Request) {
		return view{}, notFound{"no such page on this screen: screens are paired and removed at the computer on which Ebbline runs"}
	}
	b := screensBody{Address: s.pairAddress(v.Request), Secret: v.TLS != nil}
	for _, one := range s.screens.List() {
		b.Screens = append(b.Screens, screenRow{one.ID, one.Name, one.Paired.In(v.now.Location()), one.Seen.In(v.now.Location())})
	}
	if code, until, ok := s.screens.Code(); ok {
		b.Code, b.Until = code, until.In(v.now.Location())
		picture, err := qrPicture(b.Address + "?code=" + code)
		if err != nil {
			return view{}, err
		}
		b.Picture = picture
	}
	return view{page: "screens", title: "Screens in the house", here: "screens", body: b}, nil
}

// pairAddress is where another screen types the code: the first name that was
// given for this computer, and the port at which it was reached.
func (s *server) pairAddress(r *http.Request) string {
	host := s.first
	if _, port, err := net.SplitHostPort(r.Host); err == nil {
		host = net.JoinHostPort(host, port)
	}
	u := url.URL{Scheme: schemeOf(r), Host: host, Path: "/pair"}
	return u.String()
}

func schemeOf(r *http.Request) string {
	if r.TLS != nil {
		return "https"
	}
	return "http"
}

// showCode makes a new code.
func (s *server) showCode(w http.ResponseWriter, r *http.Request) error {
	if s.screens == nil || !fromHere(r) {
		return notFound{"no code to show on this screen"}
	}
	if _, _, err := s.screens.NewCode(); err != nil {
		return err
	}
	http.Redirect(w, r, "/screens", http.StatusSeeOther)
	return nil
}

// removeScreen forgets one.
func (s *server) removeScreen(w http.ResponseWriter, r *http.Request) error {
	if s.screens == nil || !fromHere(r) {
		return notFound{"no screen to remove from here"}
	}
	if err := s.screens.Remove(r.PostFormValue("screen")); err != nil {
		return err
	}
	http.Redirect(w, r, "/screens", http.StatusSeeOther)
	return nil
}

// qrPicture draws a text as a QR code (ISO/IEC 18004), dark on light by day and
// by night, with the empty edge of four modules that readers need.
func qrPicture(text string) (template.HTML, error) {
	code, err := qr.Encode(text, qr.M)
	if err != nil {
		return "", err
	}
	const edge = 4
	var dark strings.Builder
	for y := range code.Size {
		for x := range code.Size {
			if code.Black(x, y) {
				fmt.Fprintf(&dark, "M%d %dh1v1h-1z", x+edge, y+edge)
			}
		}
	}
	side := code.Size + 2*edge
	return template.HTML(fmt.Sprintf(`<svg class="qr" viewBox="0 0 %d %d" role="img" aria-label="The same address and code, for a camera" shape-rendering="crispEdges"><path class="qr-light" d="M0 0h%dv%dH0z"/><path class="qr-dark" d="%s"/></svg>`, side, side, side, side, dark.String())), nil
}
