package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"unicode"

	"ebbline/record"
	"ebbline/session"
	"ebbline/stock"
	"ebbline/unit"
)

// supplyBody is the page on which what is opened for a session is written
// down: the lots of the shelf, first to expire first, and a form for any other.
type supplyBody struct {
	Base    string
	Form    form
	Offers  []supplyOffer
	Rows    []supplyRow // what this session opens
	Sent    bool        // what was typed came back: it stands first
	Entries []entryRow
	Allergy string
	Paper   bool
	Lacks   string // what the start line finds of the lots, where they are not all there and in date
}

// supplyRow is one thing that a session opens, with the form of its lot.
type supplyRow struct {
	session.Opening
	Place string     // its name in the address
	Link  string     // to the form of another kind that its lot is written with; else empty
	Form  form       // names the item by itself
	Boxes *dateBoxes // of the expiry
	Open  bool       // the first of which no lot is written
}

// supplyOffer is one item that a session uses.
type supplyOffer struct {
	Item  string
	Place string // its name in the address
	Needs string
	Lots  []lotOffer
	More  int // further lots that may be used
	Held  []heldLot
	Done  []string // lots written down for it in this session
}

type lotOffer struct {
	Code    string
	Pick    string // what its button sends
	Expires unit.Date
	Count   string
	Soon    bool // expires within a month
	Form    form
}

type heldLot struct{ Code, Why string }

// mostOffered is how many lots of an item are offered with a button each.
const mostOffered = 3

// drawnElsewhere are the items whose lot is written with what it is for.
var drawnElsewhere = []string{"heparin", "catheter lock", "local anaesthetic", "saline flush", "bath", "chlorine test"}

func (s *server) supplyForm(v visit, fill func(form) form) (view, error) {
	kind, _ := record.Find("supply")
	base := sessionURL(v.Request)
	_, at := v.session.Opened()
	b := supplyBody{Base: base, Paper: fromPaper(v.session)}
	b.Form = newForm(kind, base+"/supply", nil).onPaper(v.session)
	b.Form.Next, b.Form.Back, b.Form.Submit = base+"/supply", base, "Write it down"
	b.Form = fill(b.Form.hint(map[string]string{
		"lot": "Typed from the box, or the whole code of the box from a scanner.",
	}))
	day := unit.DateOf(v.now)
	if b.Paper {
		day = unit.DateOf(at)
	}
	for _, it := range v.house.Shelf(v.now) {
		if it.PerSession != nil && *it.PerSession > 0 && !anyName(it.StockItem, drawnElsewhere) {
			b.Offers = append(b.Offers, offerOf(v, it, base, day))
		}
	}
	b.rows(v)
	b.Sent = v.Method == http.MethodPost
	for i := range v.session.Log {
		if v.session.Log[i].Kind == "supply" {
			b.Entries = append(b.Entries, rowOf(base, v.session, &v.session.Log[i]))
		}
	}
	if p, ok := v.member.Person.Now(); ok {
		b.Allergy = p.Allergies
	}
	for _, c := range session.StartLine(v.session, v.member.History(v.session), v.now) {
		if c.ID == session.CheckLots && c.State != session.Ready && !v.session.Treated() {
			b.Lacks = c.Words
		}
	}
	return view{page: "supply", title: "Opened for this session", here: "session", body: b}, nil
}

// rows lists what this session opens, each with a form that names it, so that no
// name is typed. The first without a lot, and without one of the shelf to press,
// stands open.
func (b *supplyBody) rows(v visit) {
	kind, _ := record.Find("supply")
	for _, one := range session.Openings(v.session, v.member.History(v.session), v.now) {
		it, known := v.house.ShelfOf(one.Name, v.now)
		pressed := known && slices.ContainsFunc(b.Offers, func(o supplyOffer) bool { return o.Item == it.Item && len(o.Lots) > 0 })
		row := supplyRow{Opening: one, Place: placeOf("open", one.Name)}
		if one.Kind != kind.Name {
			row.Link = b.Base + "/" + one.Kind + "?next=" + b.Base + "/supply"
		} else {
			row.Form = newForm(kind, b.Base+"/supply", nil).only("lot", "expiry").onPaper(v.session).tagged(row.Place)
			row.Form.Hidden = map[string]string{"item": one.Name, "next": b.Base + "/supply#" + row.Place}
			row.Boxes = row.Form.Inputs[1].Boxes()
			row.Open = !pressed && len(one.Lots) == 0 && !slices.ContainsFunc(b.Rows, func(r supplyRow) bool { return r.Open })
		}
		b.Rows = append(b.Rows, row)
	}
}

// placeOf is the name of an item in the address of its page: letters and digits as
// they are, a dash for a space, and the number of any other sign, so that no two
// items share one.
func placeOf(list, item string) string {
	var b strings.Builder
	b.WriteString(list + "-")
	for _, r := range item {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b.WriteRune(r)
		case r == ' ':
			b.WriteByte('-')
		default:
			fmt.Fprintf(&b, "_%x_", r)
		}
	}
	return b.String()
}

// anyName reports whether an item is one of those that the names mean, by its own
// name or by the numbers on its label: those are typed before a lot is offered.
func anyName(it record.StockItem, names []string) bool {
	for _, n := range names {
		if it.Answers(n) || session.SameLabel(it.Called(), n) {
			return true
		}
	}
	return false
}

func offerOf(v visit, it record.ShelfItem, base string, day unit.Date) supplyOffer {
	kind, _ := record.Find("supply")
	o := supplyOffer{Item: it.Item, Place: placeOf("item", it.Item), Needs: unit.PiecesText(*it.PerSession)}
	for _, l := range stock.Offer(it.Stock(), day) {
		if l.Code == "" {
			continue // counted without its code: it is typed
		}
		if len(o.Lots) == mostOffered {
			o.More++
			continue
		}
		f := newForm(kind, base+"/supply", nil).only()
		f.Next = base + "/supply#" + o.Place
		f.Hidden = map[string]string{"item": it.Item}
		o.Lots = append(o.Lots, lotOffer{Code: l.Code, Pick: pickOf(l), Expires: l.Expires, Count: unit.PiecesText(l.Count), Soon: !l.Expires.IsZero() && l.Expires.Sub(day) < 31, Form: f})
	}
	for _, l := range it.Lots {
		if l.Held {
			o.Held = append(o.Held, heldLot{l.Code, l.Why})
		}
	}
	session.Each(v.session, func(b *session.Supply, _ *session.Event) {
		if it.Answers(b.Item) {
			o.Done = append(o.Done, b.Lot)
		}
	})
	return o
}

// pickOf is what the button of a lot sends: its expiry, or a dash, and its code.
// The fields of the form stay empty until somebody types or presses.
func pickOf(l stock.Lot) string {
	if l.Expires.IsZero() {
		return "- " + l.Code
	}
	return l.Expires.String() + " " + l.Code
}

// picked turns a press into the fields it stands for.
func picked(r *http.Request) {
	expiry, lot, ok := strings.Cut(r.PostFormValue("pick"), " ")
	if !ok {
		return
	}
	r.PostForm.Set("lot", lot)
	if expiry == "-" {
		r.PostForm.Set("blank", string(session.DoesNotApply))
	} else {
		r.PostForm.Set("expiry", expiry)
	}
}

// recordSupply writes one lot down and comes back for the next.
func (s *server) recordSupply(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("supply")
	picked(r)
	if r.PostFormValue("next") == "" {
		r.PostForm.Set("next", sessionURL(r)+"/supply")
	}
	return s.send(w, r, kind, s.supplyForm)
}
