package web

import (
	"bytes"
	"context"
	"image"
	"image/color"
	"io"
	"maps"
	"net"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/makiuchi-d/gozxing"
	"github.com/makiuchi-d/gozxing/qrcode"

	"ebbline/internal/household"
	"ebbline/record"
)

// shared is a house whose pages other screens can reach as kitchen.local.
func shared(t *testing.T, open bool) (*house, *household.Screens) {
	t.Helper()
	h := home(t, 1, open)
	list, err := household.OpenScreens(h.desk.Path(), func() time.Time { return h.now })
	if err != nil {
		t.Fatal(err)
	}
	handler, err := New(h.desk, Options{Version: "test", Hosts: []string{"kitchen.local"}, Screens: list})
	if err != nil {
		t.Fatal(err)
	}
	h.http.Config.Handler = handler
	return h, list
}

// away asks as another screen, with the cookie that it holds, if any.
func (h *house) away(method, path, token string, form url.Values) (status int, text string, head http.Header) {
	h.t.Helper()
	res := h.send(method, path, form, func(r *http.Request) {
		r.Host = "kitchen.local"
		r.Header.Del("Sec-Fetch-Site") // a browser leaves it out on plain http
		r.Header.Set("Origin", "http://kitchen.local")
		if token != "" {
			r.AddCookie(&http.Cookie{Name: pairedCookie, Value: token})
		}
	})
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err != nil {
		h.t.Fatal(err)
	}
	return res.StatusCode, string(b), res.Header
}

// shownCode has the computer show a code and reads it off the page.
func (h *house) shownCode() string {
	h.t.Helper()
	if status, to, text := h.post("/screens/code", url.Values{}); status != http.StatusSeeOther || to != "/screens" {
		h.t.Fatalf("no code is shown: %d %s", status, text)
	}
	m := regexp.MustCompile(`<p class="pair-code">(\d{3}) (\d{3})</p>`).FindStringSubmatch(h.see("/screens"))
	if m == nil {
		h.t.Fatal("the page shows no code")
	}
	return m[1] + m[2]
}

// let pairs a screen and gives its token.
func (h *house) let(name string) string {
	h.t.Helper()
	code := h.shownCode()
	status, text, head := h.away(http.MethodPost, "/pair", "", formOf("code", code[:3]+" "+code[3:], "name", name))
	cookies := (&http.Response{Header: head}).Cookies()
	for _, c := range cookies {
		if c.Name == pairedCookie && status == http.StatusSeeOther {
			if !c.HttpOnly || c.SameSite != http.SameSiteStrictMode || c.Path != "/" || len(c.Value) < 40 {
				h.t.Errorf("the cookie is %v", c)
			}
			return c.Value
		}
	}
	h.t.Fatalf("not paired: %d, %v\n%s", status, cookies, plainText(text))
	return ""
}

var registered = regexp.MustCompile(`\{[^}]*\}`)

// written finds the addresses of routes in the program's own text.
var written = regexp.MustCompile(`(?:\b(?:page|post)\("|"(?:GET|POST) )(/[^"]*)"`)

// everywhere gives the address of each route in the text of the route lists, and
// all that a crawl finds, which goes through the lists that are tables besides.
func everywhere(t *testing.T, h *house) []string {
	t.Helper()
	seen := map[string]bool{}
	files, err := filepath.Glob("*.go")
	if err != nil {
		t.Fatal(err)
	}
	routes := 0
	names := strings.NewReplacer("{p}", h.life.Person, "{s}", h.life.Open, "{$}", "", "{kind}", "drink")
	for _, file := range files {
		if strings.HasSuffix(file, "_test.go") {
			continue
		}
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range written.FindAllStringSubmatch(string(text), -1) {
			routes++
			seen[registered.ReplaceAllString(names.Replace(m[1]), "x")] = true
		}
	}
	if routes < 80 {
		t.Fatalf("only %d routes were found in the text", routes)
	}
	alone, err := New(h.desk, Options{Version: "test"})
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range crawl(t, h.desk, h.life, alone) {
		seen[p.path] = true
	}
	return slices.Sorted(maps.Keys(seen))
}

// A screen that is not paired gets the pairing page, or nothing, at every address
// there is, and nothing of the record in any answer, however it asks. What is
// open to all is the card, style, and the calendar at its secret address.
func TestUnpairedScreenGetsNothing(t *testing.T) {
	t.Parallel()
	h, list := shared(t, true)
	names := []string{"Vida", "Hribar", "1969", "DEMO-0417", "Zupan", "555", "Matej", "dry weight", "Kt/V", h.desk.Path(), "p-vida", h.life.Open}
	if text := h.see(vida + "/"); !strings.Contains(text, "Vida") {
		t.Fatal("the pages do not hold the name at all: nothing is tried")
	}
	found := everywhere(t, h)
	shut := 0
	routes := routesOf(t, h.desk)
	for _, path := range append(found, "/live", "/no/such/page", "/p/p-vida-hribar", vida+"/shelf/order.csv", vida+"/shelf/away.csv",
		vida+"/session/"+h.life.Open+"/sheet.pdf", vida+"/session/"+h.life.Open+"/labels.pdf", vida+"/blank-sheet.pdf", "/calendar/wrong.ics", "/calendar/", "//", "/p/../"+vida+"/", "/screens") {
		shut++
		for _, method := range []string{http.MethodGet, http.MethodHead, http.MethodPost, http.MethodPut, http.MethodDelete, http.MethodOptions} {
			if _, route := routes.Handler(httptest.NewRequest(method, "http://kitchen.local"+path, nil)); openToAll[route] {
				continue
			}
			for _, token := range []string{"", "wrong", strings.Repeat("A", 43)} {
				status, text, head := h.away(method, path, token, nil)
				if status != http.StatusForbidden {
					t.Errorf("%s %s: %d, want 403", method, path, status)
				}
				for _, name := range names {
					if strings.Contains(text, name) || strings.Contains(head.Get("Location"), name) {
						t.Errorf("%s %s tells %q", method, path, name)
					}
				}
				if method == http.MethodGet && path != "/live" && !strings.Contains(text, "Pair this screen") {
					t.Errorf("GET %s does not say how to pair", path)
				}
			}
		}
	}
	if shut < 150 {
		t.Errorf("only %d addresses were tried", shut)
	}
	before := entries(h)
	drink := vida + "/session/" + h.life.Open + "/event/drink"
	if status, text, _ := h.away(http.MethodPost, drink, "", formOf("id", newID(), "volume_ml", "100")); status != http.StatusForbidden || !strings.Contains(text, "NOT SAVED") || entries(h) != before {
		t.Errorf("an entry from there: %d, %d entries more", status, entries(h)-before)
	}
	if len(list.List()) != 0 {
		t.Error("a screen was paired by asking")
	}

	// A list of the files is for nobody.
	for _, path := range []string{"/static/", "/static//", "/static/?v=test"} {
		if status, text, _ := h.away(http.MethodGet, path, "", nil); status == http.StatusOK || strings.Contains(text, "ebbline.css") {
			t.Errorf("%s lists the files: %d", path, status)
		}
	}
	// Open to all.
	for path, words := range map[string]string{vida + "/card": "Vida", "/static/ebbline.css?v=test": "--water", "/static/paper.css?v=test": "", "/pair": "Pair this screen", vida + "/card.pdf": "%PDF"} {
		if status, text, _ := h.away(http.MethodGet, path, "", nil); status != http.StatusOK || !strings.Contains(text, words) {
			t.Errorf("%s: %d", path, status)
		}
	}
	h.saved(vida+"/calendar", "titles", "busy")
	var secret string
	h.desk.View(func(s *record.Household) {
		c, _ := s.Upkeep.Calendar(h.life.Person)
		secret = c.Secret
	})
	if status, text, _ := h.away(http.MethodGet, "/calendar/"+secret+".ics", "", nil); status != http.StatusOK || !strings.Contains(text, "BEGIN:VCALENDAR") {
		t.Errorf("the calendar at its secret address: %d", status)
	}
	if status, _, _ := h.away(http.MethodGet, "/calendar/"+secret[1:]+".ics", "", nil); status != http.StatusNotFound {
		t.Errorf("the calendar at another: %d", status)
	}
}

// What is open to all is in the route table by that name, or a slip of the pen
// would shut the card.
func TestOpenRoutesAreRoutes(t *testing.T) {
	h := home(t, 1, true)
	routes := routesOf(t, h.desk)
	for route := range openToAll {
		method, path, _ := strings.Cut(route, " ")
		if path == "/static/" {
			path = "/static/x.css"
		}
		if _, is := routes.Handler(httptest.NewRequest(method, "http://localhost"+registered.ReplaceAllString(path, "x"), nil)); is != route {
			t.Errorf("%s is answered by %q", route, is)
		}
	}
}

// A paired screen sees and writes as this computer does, is on the list, pairs no
// other, and sees nothing once it is removed.
func TestPairedScreen(t *testing.T) {
	h, list := shared(t, true)
	if text := plainText(h.see("/screens")); !strings.Contains(text, "No other screen yet") || !strings.Contains(text, "is not encrypted") {
		t.Errorf("the list of none says %s", text)
	}
	token := h.let("Tablet at the <chair>")
	if status, text, _ := h.away(http.MethodGet, vida+"/", token, nil); status != http.StatusOK || !strings.Contains(text, "Vida") {
		t.Fatalf("paired, it gets %d", status)
	}
	drink := vida + "/session/" + h.life.Open + "/event/drink"
	before := entries(h)
	if status, _, _ := h.away(http.MethodPost, drink, token, formOf("id", newID(), "volume_ml", "100")); status != http.StatusSeeOther || entries(h) != before+1 {
		t.Errorf("an entry from there: %d, %d entries more", status, entries(h)-before)
	}
	if text := plainText(h.see("/screens")); !strings.Contains(text, "Tablet at the <chair>") || !strings.Contains(text, "last seen Thu 11 Jun, 19:30") {
		t.Errorf("the list says %s", text)
	}
	for path, form := range map[string]url.Values{"/screens": nil, "/screens/code": {}, "/screens/remove": formOf("screen", list.List()[0].ID)} {
		method := http.MethodGet
		if form != nil {
			method = http.MethodPost
		}
		if status, text, _ := h.away(method, path, token, form); status != http.StatusNotFound || strings.Contains(text, "Tablet") {
			t.Errorf("%s from the paired screen: %d", path, status)
		}
	}
	if _, _, shown := list.Code(); shown || len(list.List()) != 1 {
		t.Error("the paired screen changed the list")
	}
	// From another site nobody pairs or removes anything.
	res := h.send(http.MethodPost, "/screens/remove", formOf("screen", list.List()[0].ID), func(r *http.Request) { r.Header.Set("Sec-Fetch-Site", "cross-site") })
	if res.Body.Close(); res.StatusCode != http.StatusForbidden || len(list.List()) != 1 {
		t.Errorf("another site removes a screen: %d", res.StatusCode)
	}
	h.now = h.now.Add(25 * time.Hour)
	if _, _, head := h.away(http.MethodGet, vida+"/", token, nil); !strings.Contains(head.Get("Set-Cookie")+strings.Join(head.Values("Set-Cookie"), ";"), pairedCookie+"="+token) {
		t.Error("a day later the cookie is not handed out again")
	}

	if status, to, _ := h.post("/screens/remove", formOf("screen", list.List()[0].ID)); status != http.StatusSeeOther || to != "/screens" {
		t.Errorf("removing it: %d", status)
	}
	if status, text, _ := h.away(http.MethodGet, vida+"/", token, nil); status != http.StatusForbidden || strings.Contains(text, "Vida") {
		t.Errorf("removed, it gets %d", status)
	}
}

// A page that stands open on a screen hears nothing more once that is removed.
func TestRemovedScreenIsCutOff(t *testing.T) {
	h, list := shared(t, true)
	token := h.let("tablet")
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second)
	defer cancel()
	req, err := http.NewRequestWithContext(ctx, http.MethodGet, h.http.URL+"/live", nil)
	if err != nil {
		t.Fatal(err)
	}
	req.Host = "kitchen.local"
	req.AddCookie(&http.Cookie{Name: pairedCookie, Value: token})
	res, err := http.DefaultClient.Do(req)
	if err != nil || res.StatusCode != http.StatusOK {
		t.Fatalf("%v, %v", res, err)
	}
	defer res.Body.Close()
	if err := list.Remove(list.List()[0].ID); err != nil {
		t.Fatal(err)
	}
	h.saved(vida+"/session/"+h.life.Open+"/event/drink", "volume_ml", "100")
	heard, err := io.ReadAll(res.Body)
	if err != nil || bytes.Count(heard, []byte("data: ")) != 1 {
		t.Errorf("it heard %q, %v; want what it was told before, and the end", heard, err)
	}
}

// Wrong, used, expired and too many codes: the page says which, and the cookie
// is given to nobody.
func TestWrongCodes(t *testing.T) {
	h, list := shared(t, false)
	try := func(code, words string) {
		t.Helper()
		status, text, head := h.away(http.MethodPost, "/pair", "", formOf("code", code, "name", "tablet"))
		if status != http.StatusForbidden || !strings.Contains(plainText(text), words) || strings.Contains(strings.Join(head.Values("Set-Cookie"), ";"), pairedCookie) {
			t.Errorf("code %q: %d\n%s", code, status, plainText(text))
		}
		if !strings.Contains(text, `value="tablet"`) {
			t.Errorf("code %q: the name has to be typed again", code)
		}
	}
	try("123456", "No code is shown")
	code := h.shownCode()
	try("", "not the code")
	try(code[:5], "not the code")
	h.now = h.now.Add(household.CodeHolds)
	try(code, "run out")
	code = h.shownCode()
	for range household.CodeTries - 1 {
		try("no"+code, "not the code")
	}
	try("no", "Too many wrong codes")
	try(code, "Too many wrong codes")
	for _, name := range []string{"", "   ", strings.Repeat("n", 41), "bell\a"} {
		code = h.shownCode()
		if status, _, _ := h.away(http.MethodPost, "/pair", "", formOf("code", code, "name", name)); status != http.StatusUnprocessableEntity {
			t.Errorf("the name %q: %d", name, status)
		}
	}
	if status, _, _ := h.away(http.MethodPost, "/pair", "", formOf("code", code, "name", strings.Repeat("n", 1<<13))); status != http.StatusUnprocessableEntity {
		t.Errorf("too much: %d", status)
	}
	if len(list.List()) != 0 {
		t.Errorf("%d screens were paired", len(list.List()))
	}
	h.let("at last")
	try(code, "was used")
}

// Only this computer is this computer: not a stranger who says so, nor what a
// program here passes on; and a name pointed at this address gets nothing.
func TestWhoIsHere(t *testing.T) {
	h, _ := shared(t, true)
	at := func(to string) context.Context {
		return context.WithValue(context.Background(), http.LocalAddrContextKey, net.Addr(&net.TCPAddr{IP: net.ParseIP(to), Port: 8361}))
	}
	for _, tt := range []struct {
		from, to, host string
		edit           func(http.Header)
		want           int
	}{
		{"127.0.0.1:5", "127.0.0.1", "127.0.0.1:8361", nil, 200},
		{"[::1]:5", "::1", "[::1]:8361", nil, 200},
		{"127.0.0.1:5", "127.0.0.1", "localhost", nil, 200},
		{"[::ffff:127.0.0.1]:5", "127.0.0.1", "localhost", nil, 200},
		{"192.168.1.9:5", "192.168.1.9", "kitchen.local", nil, 200}, // this computer by its name in the house
		{"127.0.0.1:5", "127.0.0.1", "kitchen.local", nil, 403},     // passed on by something here
		{"192.168.1.20:5", "192.168.1.9", "kitchen.local", nil, 403},
		{"192.168.1.20:5", "192.168.1.9", "localhost", nil, 403},
		{"192.168.1.20:5", "192.168.1.9", "127.0.0.1", nil, 403},
		{"127.0.0.1:5", "127.0.0.1", "localhost", func(x http.Header) { x.Set("X-Forwarded-For", "192.168.1.20") }, 403},
		{"127.0.0.1:5", "127.0.0.1", "localhost", func(x http.Header) { x.Set("Forwarded", "for=192.168.1.20") }, 403},
		{"192.168.1.20:5", "192.168.1.9", "evil.example", nil, 421},
		{"127.0.0.1:5", "127.0.0.1", "evil.example", nil, 421},
		{"nonsense", "127.0.0.1", "localhost", nil, 403},
	} {
		r := httptest.NewRequest(http.MethodGet, "http://"+tt.host+vida+"/", nil).WithContext(at(tt.to))
		r.RemoteAddr = tt.from
		if tt.edit != nil {
			tt.edit(r.Header)
		}
		answer := httptest.NewRecorder()
		h.http.Config.Handler.ServeHTTP(answer, r)
		if answer.Code != tt.want || strings.Contains(answer.Body.String(), "Vida") != (tt.want == 200) {
			t.Errorf("from %s to %s as %s: %d, want %d", tt.from, tt.to, tt.host, answer.Code, tt.want)
		}
	}
}

// The picture of the code is read by another program's reader.
func TestPictureOfTheCodeReadsBack(t *testing.T) {
	h, _ := shared(t, false)
	code := h.shownCode()
	page := h.see("/screens")
	size := regexp.MustCompile(`<svg class="qr" viewBox="0 0 (\d+) \d+"`).FindStringSubmatch(page)
	if size == nil {
		t.Fatal("there is no picture")
	}
	side, err := strconv.Atoi(size[1])
	if err != nil {
		t.Fatal(err)
	}
	const scale = 4
	img := image.NewGray(image.Rect(0, 0, side*scale, side*scale))
	for i := range img.Pix {
		img.Pix[i] = 255
	}
	for _, m := range regexp.MustCompile(`M(\d+) (\d+)h1v1h-1z`).FindAllStringSubmatch(page, -1) {
		x, errX := strconv.Atoi(m[1])
		y, errY := strconv.Atoi(m[2])
		if errX != nil || errY != nil {
			t.Fatal(errX, errY)
		}
		for dy := range scale {
			for dx := range scale {
				img.SetGray(x*scale+dx, y*scale+dy, color.Gray{})
			}
		}
	}
	bitmap, err := gozxing.NewBinaryBitmapFromImage(img)
	if err != nil {
		t.Fatal(err)
	}
	// A picture without a camera: its corners are not searched for, which fails for
	// one random code in some hundred.
	pure := map[gozxing.DecodeHintType]any{gozxing.DecodeHintType_PURE_BARCODE: true}
	read, err := qrcode.NewQRCodeReader().Decode(bitmap, pure)
	if err != nil {
		t.Fatal(err)
	}
	_, port, _ := net.SplitHostPort(strings.TrimPrefix(h.http.URL, "http://"))
	if want := "http://kitchen.local:" + port + "/pair?code=" + code; read.GetText() != want {
		t.Errorf("it reads %q, want %q", read.GetText(), want)
	}
	if _, text, _ := h.away(http.MethodGet, "/pair?code="+code, "", nil); !strings.Contains(text, `name="code" value="`+code+`"`) {
		t.Error("the address does not fill in the code")
	}
}
