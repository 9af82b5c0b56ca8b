package web

import (
	"cmp"
	"errors"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"ebbline/record"
	"ebbline/session"
	"ebbline/stock"
	"ebbline/unit"
)

// lotRow is one row of a form that takes several lots.
type lotRow struct {
	N                                  int
	Item, Product, Maker, Lot, Expires string
	Pieces, Damaged                    string
	Book                               string // what the book has, for a count
	Problem                            string
	ProblemAt                          string    // the label of the field that is meant
	Made, Serial                       string    // from the code of its box
	Coded                              string    // the lot in that code
	typedDate                          [3]string // what was typed in the boxes of its expiry
	Numbers                            []labelNumber
}

// Boxes are the three boxes of its expiry.
func (l lotRow) Boxes() dateBoxes {
	n := strconv.Itoa(l.N)
	b := boxesOf("expires."+n, "exp-"+n, l.Expires, l.typedDate)
	if l.ProblemAt == "Expires" {
		b.Problem = "row-" + n
	}
	return b
}

// Title tells the row from the others to whoever hears the page.
func (l lotRow) Title() string {
	of := l.Item
	if l.Lot != "" {
		of = strings.TrimSpace(of + " lot " + l.Lot)
	}
	return strings.TrimSuffix("Row "+strconv.Itoa(l.N+1)+", "+of, ", ")
}

// ExpiresOn and MadeOn are its dates as people say them.
func (l lotRow) ExpiresOn() string { return spoken(l.Expires) }
func (l lotRow) MadeOn() string    { return spoken(l.Made) }

func spoken(date string) string {
	var d unit.Date
	if d.UnmarshalText([]byte(date)) != nil {
		return date
	}
	return d.Long()
}

// blankRows is how many empty rows a form of lots has below those it knows.
const blankRows = 4

// mostRows bounds what is read of one form.
const mostRows = 200

// lotRows reads the rows of a sent form.
func lotRows(r *http.Request) []lotRow {
	var rows []lotRow
	for n := range mostRows {
		key := strconv.Itoa(n)
		if _, sent := r.PostForm["pieces."+key]; !sent {
			break
		}
		joinBoxes(r.PostForm, "expires."+key)
		get := func(name string) string { return strings.TrimSpace(r.PostFormValue(name + "." + key)) }
		row := lotRow{N: n, Item: get("item"), Product: get("product"), Maker: get("maker"), Lot: get("lot"), Expires: get("expires"), Pieces: get("pieces"), Damaged: get("damaged"), Book: get("book"), typedDate: typedBoxes(r.PostForm, "expires."+key)}
		if row.Coded = get("coded"); row.Coded == row.Lot && get("uncoded") == "" {
			row.Made, row.Serial = get("made"), get("serial")
		}
		rows = append(rows, row)
	}
	return rows
}

// empty reports whether nothing was typed in the row.
func (l lotRow) empty() bool {
	return l.Pieces == "" && l.Expires == "" && l.Damaged == "" && l.Product == "" && l.Lot == "" &&
		!slices.ContainsFunc(l.Numbers, func(n labelNumber) bool { return n.Value != "" })
}

// read takes a row apart; what is wrong with it is put on the row. The number of
// a scanned box names the item, or is held against the one that was named; the item
// says which numbers its label has.
func (l *lotRow) read(r *http.Request, today unit.Date, items []record.StockItem) (line record.DeliveryLine) {
	say := func(what, words string) {
		if l.Problem == "" {
			l.Problem, l.ProblemAt = what+": "+words, what
		}
	}
	complain := func(what string, err error) {
		var bad *unit.InputError
		if errors.As(err, &bad) {
			say(what, refusal(bad))
		}
	}
	if code, is, bad := readBox(l.Lot, today); bad != nil {
		complain("Lot", bad)
	} else if is {
		l.Lot, l.Coded, l.Made, l.Serial = code.Lot, code.Lot, code.Made.String(), code.Serial
		if code.Lot == "" {
			say("Lot", noLotInCode)
		}
		if !code.Expires.IsZero() && l.Expires == "" {
			l.Expires = code.Expires.String()
		} else if typed, err := stock.ParseExpiry(l.Expires); !code.Expires.IsZero() && err == nil && typed != code.Expires {
			say("Expires", "“"+l.Expires+"” was typed, but the code says "+code.Expires.Long())
		}
		switch it, known := numbered(items, code.GTIN); {
		case !known:
		case l.Item == "":
			l.Item = it.Item
		case !it.Answers(l.Item):
			say("Lot", "the code on the box is that of "+it.Item)
		}
	}
	*l = l.labelled(r, items)
	line = record.DeliveryLine{Item: l.Item, Product: l.Product, Maker: l.Maker, Lot: l.Lot, Serial: l.Serial}
	if l.Expires != "" {
		d, err := stock.ParseExpiry(l.Expires)
		complain("Expires", err)
		line.Expires = d
	}
	if l.Made != "" {
		complain("Made", line.Made.UnmarshalText([]byte(l.Made)))
	}
	if l.Pieces == "" {
		say("Pieces", "needs how many there are")
	} else {
		complain("Pieces", line.Pieces.UnmarshalText([]byte(l.Pieces)))
	}
	if l.Damaged != "" {
		complain("Damaged", line.Damaged.UnmarshalText([]byte(l.Damaged)))
	}
	for _, n := range l.Numbers {
		var bad *unit.InputError
		if n.Value == "" {
			continue
		}
		if err := n.Set(&line.LotNumbers, n.Value); errors.As(err, &bad) && l.Problem == "" {
			l.Problem, l.ProblemAt = n.Title()+": "+refusal(bad), n.Key
		}
	}
	return line
}

// unread is what is said of the whole form about a row that cannot be read. A
// screen that sent it from its outbox does not show the row, and is told all.
func (l lotRow) unread(r *http.Request, field, name string) record.Finding {
	words := "cannot be read: see the row of " + name
	if wantsJSON(r) {
		words = "the row of " + name + " cannot be read. " + l.Problem
	}
	return record.Finding{Field: field, Step: record.Refuse, Words: words}
}

// countBody is the form of one item's count.
type countBody struct {
	Form form
	Item record.ShelfItem
	Rows []lotRow
}

func (s *server) countForm(v visit, fill func(form) form) (view, error) {
	it, ok := v.house.ShelfOf(v.PathValue("item"), v.now)
	if !ok {
		return view{}, notFound{"nothing of that name on the shelf"}
	}
	kind, _ := record.Find("stock_count")
	f := newForm(kind, v.URL.Path, nil).only("note").hide("item", it.Item)
	f.Next = "/p/" + v.member.ID + "/shelf"
	f.Back, f.Submit = f.Next, "That is all there is"
	b := countBody{Form: fill(f), Item: it}
	if v.Method == http.MethodPost {
		b.Rows = lotRows(v.Request)
		for i := range b.Rows {
			b.Rows[i].Item = it.Item
			b.Rows[i] = b.Rows[i].withLabel(v.Request, it.StockItem)
			if !b.Rows[i].empty() {
				b.Rows[i].read(v.Request, v.today(), v.house.Upkeep.ItemsNow())
			}
		}
	} else {
		for _, l := range it.Lots {
			b.Rows = append(b.Rows, lotRow{N: len(b.Rows), Lot: l.Code, Maker: l.Maker, Expires: l.Expires.String(), Book: unit.PiecesText(l.Count)})
		}
		for range blankRows {
			b.Rows = append(b.Rows, lotRow{N: len(b.Rows)})
		}
		for i := range b.Rows {
			b.Rows[i] = b.Rows[i].withLabel(v.Request, it.StockItem)
		}
	}
	return view{page: "count", title: "Count", here: "shelf", body: b}, nil
}

// recordCount keeps a count. A lot of the book that was left blank is no longer
// there: an empty place is a count of none, and is said before it is kept.
func (s *server) recordCount(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("stock_count")
	oneLineEnd(r)
	e, found := s.read(r, kind)
	e.Person = ""
	found = dropField(found, "lots")
	b := e.Body.(*record.StockCount)
	items := s.items(r)
	for _, row := range lotRows(r) {
		row.Item = b.Item
		row = row.labelled(r, items)
		if row.Pieces == "" && row.Book != "" {
			found = append(found, record.Finding{Field: "lots", Step: record.Refuse, Words: "is still blank for " + orNoCode(row.Lot) + ": type 0 if none is there"})
			continue
		}
		if row.empty() {
			continue
		}
		line := row.read(r, s.desk.Today(), items)
		if row.Problem != "" {
			found = append(found, row.unread(r, "lots", orNoCode(row.Lot)))
			continue
		}
		b.Lots = append(b.Lots, record.CountedLot{Lot: line.Lot, Maker: line.Maker, Expires: line.Expires, Pieces: line.Pieces, LotNumbers: line.LotNumbers})
	}
	return s.settle(w, r, e, found, s.countForm)
}

func orNoCode(lot string) string {
	if lot == "" {
		return "the lot without a code"
	}
	return "lot " + lot
}

func dropField(found record.Findings, field string) record.Findings {
	var kept record.Findings
	for _, f := range found {
		if f.Field != field {
			kept = append(kept, f)
		}
	}
	return kept
}

// deliveryBody is the form of what came.
type deliveryBody struct {
	Form   form
	Order  *record.Dated[record.OrderSent]
	Orders []record.Dated[record.OrderSent]
	Rows   []lotRow
	Items  []string
}

// labelled is [lotRow.withLabel] for the item that the row names, if it names one.
func (l lotRow) labelled(r *http.Request, items []record.StockItem) lotRow {
	i := slices.IndexFunc(items, func(it record.StockItem) bool { return l.Item != "" && it.Answers(l.Item) })
	if i < 0 {
		return l
	}
	return l.withLabel(r, items[i])
}

// withLabel gives a row a field for each number of an item's label that can hurt, with
// what was typed in it; most items have none. Left blank, the shelf knows none.
func (l lotRow) withLabel(r *http.Request, it record.StockItem) lotRow {
	l.Numbers = nil
	for _, n := range session.LotNumbersOf(it.Called()...) {
		name := n.Key + "." + strconv.Itoa(l.N)
		_, asked := r.PostForm[name]
		l.Numbers = append(l.Numbers, labelNumber{n, name, strings.TrimSpace(r.PostFormValue(name)), asked})
	}
	return l
}

// A labelNumber is the field of one number of a label.
type labelNumber struct {
	session.LotNumber
	Name, Value string
	asked       bool // was on the form that was sent
}

// Title is the number with the word that begins its label.
func (n labelNumber) Title() string { return capital(n.Label) }

// unasked reports whether the row was sent by a form that could not know yet which
// numbers its item has on its label.
func (l lotRow) unasked(r *http.Request) bool {
	return r.PostFormValue(offersNumbers) != "" && slices.ContainsFunc(l.Numbers, func(n labelNumber) bool { return !n.asked })
}

// offersNumbers marks a form that asks for the numbers of a label once it knows the
// item.
const offersNumbers = "offers_numbers"

func (s *server) deliveryForm(v visit, fill func(form) form) (view, error) {
	kind, _ := record.Find("delivery")
	f := newForm(kind, v.URL.Path, nil).only("number", "note")
	f.Next = "/p/" + v.member.ID + "/shelf"
	f.Back, f.Submit = f.Next, "Put it on the shelf"
	var b deliveryBody
	for _, it := range v.house.Upkeep.ItemsNow() {
		b.Items = append(b.Items, it.Item)
	}
	id := v.URL.Query().Get("order")
	if v.Method == http.MethodPost {
		id = v.PostFormValue("order_id")
	}
	if o := v.house.Upkeep.Order(id); o != nil && o.Struck == nil {
		b.Order = o
		f = f.hide("order_id", o.ID)
	}
	b.Form = fill(f)
	if v.Method == http.MethodPost {
		b.Rows = lotRows(v.Request)
		for i := range b.Rows {
			row := &b.Rows[i]
			if *row = row.labelled(v.Request, v.house.Upkeep.ItemsNow()); !row.empty() {
				row.read(v.Request, v.today(), v.house.Upkeep.ItemsNow())
			}
		}
	} else {
		if b.Order != nil {
			for _, l := range b.Order.Value.Lines {
				row := lotRow{N: len(b.Rows), Item: l.Item, Book: "ordered " + unit.PiecesText(l.Pieces)}
				b.Rows = append(b.Rows, row.labelled(v.Request, v.house.Upkeep.ItemsNow()))
			}
		}
		for range blankRows + 2 {
			b.Rows = append(b.Rows, lotRow{N: len(b.Rows)})
		}
	}
	return view{page: "delivery", title: "Delivery", here: "shelf", body: b}, nil
}

func (s *server) recordDelivery(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("delivery")
	oneLineEnd(r)
	e, found := s.read(r, kind)
	e.Person = ""
	found = dropField(found, "lines")
	b := e.Body.(*record.Delivery)
	items, asks := s.items(r), []string(nil)
	for _, row := range lotRows(r) {
		if row = row.labelled(r, items); row.empty() {
			continue // ordered and not come is left blank: it shows as short
		}
		line := row.read(r, s.desk.Today(), items)
		if row.unasked(r) {
			asks = append(asks, row.Item)
		}
		if row.Problem != "" {
			found = append(found, row.unread(r, "lines", cmp.Or(row.Item, orNoCode(row.Lot))))
			continue
		}
		b.Lines = append(b.Lines, line)
	}
	if len(asks) > 0 && len(found) == 0 {
		words := "ask for what stands on the label of " + strings.Join(asks, ", ") + ". Type it, or leave it blank, and press again"
		found = append(found, record.Finding{Field: "lines", Step: record.Ask, Words: words})
	}
	return s.settle(w, r, e, found, s.deliveryForm)
}
