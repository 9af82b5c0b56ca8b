package web

import (
	"net/http"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/stock"
	"ebbline/unit"
	"ebbline/water"
)

// shelfBody is the page of the shelf: how far it reaches, what to order, what
// expires, what must not be used.
type shelfBody struct {
	Base       string
	View       household.ShelfView
	Rows       []shelfRow
	Draft      household.Draft
	OrderWord  string
	Expiring   []expiringLot
	Held       []heldLotView
	Cautions   []unit.Caution
	Recalls    []recallView
	Deliveries []deliveryView
	Next       []unit.Date
	Asked      []record.Dated[record.Substitute]
	Starting   []startingRow
	StartID    string
	Reach      string
	Warm       []itemLink // kept in the fridge, which was out of bounds when it was looked at last
}

type itemLink struct{ Item, Link string }

// shelfRow is one item of the table.
type shelfRow struct {
	household.ShelfRow
	Few     bool // less than the reserve is left
	Left    string
	Usable  string
	Uses    string
	RunsOut string
	Counted string
	Link    string
	Count   string
}

// startingRow is an item to begin the list with.
type startingRow struct{ Item, Uses, Why string }

type expiringLot struct {
	Item, Lot, Pieces string
	Expires           unit.Date
	Past              bool
}

type heldLotView struct {
	Item, Lot, Pieces, Why, Link string
	Recall                       string
	Product                      string
}

type recallView struct {
	household.RecallRow
	Letter, Close, Link string
	LeftText            string
}

type deliveryView struct {
	household.DeliveryCheck
	Link string
	New  bool // the last one: its shortcomings are still to be claimed
}

func (s *server) shelfPage(v visit) (view, error) {
	base := "/p/" + v.member.ID
	b := shelfBody{Base: base, View: household.Shelf(v.house, v.now)}
	b.Draft = b.View.DraftOrder(v.today())
	b.OrderWord = orderWord(b.Draft, v.today())
	for _, r := range b.View.Rows {
		b.Rows = append(b.Rows, shelfRowOf(r, b.View, base))
		b.Cautions = append(b.Cautions, r.Cautions...)
		if r.Storage == "fridge" && warmFridge(v.house) {
			b.Warm = append(b.Warm, itemLink{r.Item, base + "/shelf/item/" + escape(r.Item)})
		}
		for _, l := range r.Expiring {
			b.Expiring = append(b.Expiring, expiringLot{r.Item, l.Code, short(l.Count) + "\u00a0pieces", l.Expires, l.ExpiredOn(v.today())})
		}
		for _, l := range r.Held {
			b.Held = append(b.Held, heldLotView{Item: r.Item, Lot: l.Code, Pieces: unit.PiecesText(l.Count), Why: l.Why, Recall: l.Recall, Product: l.Product, Link: base + "/shelf/aside"})
		}
	}
	for _, r := range household.Recalls(v.house, v.now) {
		b.Recalls = append(b.Recalls, recallView{r, base + "/shelf/recall/" + r.ID, base + "/shelf/recall/" + r.ID + "/close", base + "/kept/" + r.ID, unit.PiecesText(r.Left)})
	}
	for i, d := range household.CheckedDeliveries(v.house) {
		if i == 3 {
			break
		}
		b.Deliveries = append(b.Deliveries, deliveryView{d, base + "/kept/" + d.ID, i == 0})
	}
	for i, d := range b.View.Deliveries {
		if i < 3 {
			b.Next = append(b.Next, d)
		}
	}
	for _, d := range v.house.Upkeep.Substitutes {
		if d.Struck == nil {
			b.Asked = append(b.Asked, d)
		}
	}
	b.StartID = newID()
	for _, it := range household.StartingItems(v.house, v.now) {
		row := startingRow{Item: it.Item, Why: it.Why}
		if it.PerSession != nil {
			row.Uses = short(*it.PerSession) + " a session"
		} else if it.PerCycle != nil {
			row.Uses = short(*it.PerCycle) + " a disinfection"
		}
		b.Starting = append(b.Starting, row)
	}
	if sc := b.View.Scarcest; sc != nil {
		b.Reach = reachWords(*sc, b.View)
	}
	return view{page: "shelf", title: "Shelf", here: "shelf", body: b}, nil
}

// reachWords say how far the shelf reaches, by the item that ends first.
func reachWords(r household.ShelfRow, v household.ShelfView) string {
	if r.Forecast.RunsOut.IsZero() {
		return "Every item serves all " + whole(len(v.Sessions)) + " sessions that are planned."
	}
	return capital(r.Item) + " ends first: the session of " + r.Forecast.RunsOut.Long() + " cannot be held from the shelf as it is."
}

func orderWord(d household.Draft, today unit.Date) string {
	switch {
	case d.For.IsZero():
		return "Nothing is to be ordered as far as the plan reaches."
	case d.State == water.Due && d.By.Before(today):
		return "An order should have gone out by " + d.By.Long() + " for the delivery of " + d.For.Long() + "."
	case d.State == water.Due:
		return "Send the order today for the delivery of " + d.For.Long() + "."
	}
	return "The next order goes out by " + d.By.Long() + " for the delivery of " + d.For.Long() + "."
}

func shelfRowOf(r household.ShelfRow, v household.ShelfView, base string) shelfRow {
	row := shelfRow{ShelfRow: r, Usable: short(r.Usable), Link: base + "/shelf/item/" + escape(r.Item), Count: base + "/shelf/count/" + escape(r.Item)}
	if r.Reckoned {
		row.Left = whole(r.Forecast.SessionsLeft)
		row.Few = r.Forecast.SessionsLeft < v.Reserve
		row.Uses = short(r.PerSession)
		if r.Forecast.RunsOut.IsZero() {
			row.RunsOut = "past the plan"
		} else {
			row.RunsOut = shortDate(r.Forecast.RunsOut)
		}
	}
	if !r.Counted.IsZero() {
		row.Counted = shortDate(unit.DateOf(r.Counted))
	}
	return row
}

// capital gives a name the letter that begins a sentence.
func capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(first)) + s[size:]
}

// shortDate writes a day for a column: "21 Jul 26".
func shortDate(d unit.Date) string { return d.Time(time.UTC).Format("2 Jan 06") }

// short writes a count to the hundredth of a piece, as far as anybody counts.
func short(p unit.Pieces) string {
	return strings.TrimRight(strings.TrimRight(strconv.FormatFloat(p.Float(), 'f', 2, 64), "0"), ".")
}

// itemBody is one item with all its lots and what it is known by.
type itemBody struct {
	Base     string
	Address  string // of the item's own pages
	Count    string
	Item     record.ShelfItem
	Values   []labelled
	Lots     []lotLine
	Spare    string
	Learned  bool
	Unbooked string
	Used     form
	Counts   []countLine
	Ahead    []aheadLine // the shelf day by day over the planned sessions
	Trouble  string      // why it cannot be reckoned ahead
	Order    string
}

// aheadLine is the shelf of an item at the end of a day on which it changes.
type aheadLine struct {
	On     unit.Date
	Left   string
	What   string // what happens on that day
	Under  bool   // less than the reserve is left
	Failed bool   // a session cannot be held
}

type lotLine struct {
	Code, Pieces, Maker, Product, Why string
	Expires                           unit.Date
	Held, Past                        bool
	Aside                             string
}

type countLine struct {
	From, To unit.Date
	Drift    string
}

func (s *server) itemPage(v visit) (view, error) {
	it, ok := v.house.ShelfOf(v.PathValue("item"), v.now)
	if !ok {
		return view{}, notFound{"nothing of that name on the shelf"}
	}
	base := "/p/" + v.member.ID
	kind, _ := record.Find("stock_item")
	b := itemBody{Base: base, Address: base + "/shelf/item/" + escape(it.Item), Count: base + "/shelf/count/" + escape(it.Item), Item: it, Values: valuesOf(kind, &it.StockItem, nil), Learned: it.Learned}
	b.Spare = unit.Litres(int64(it.Spare * 1000)).String()
	if it.Unbooked > 0 {
		b.Unbooked = unit.PiecesText(it.Unbooked)
	}
	for _, l := range it.Lots {
		b.Lots = append(b.Lots, lotLine{Code: l.Code, Pieces: unit.PiecesText(l.Count), Maker: l.Maker, Product: l.Product, Why: l.Why, Expires: l.Expires, Held: l.Held, Past: l.ExpiredOn(v.today()),
			Aside: base + "/shelf/aside?item=" + escape(it.Item) + "&lot=" + escape(l.Code)})
	}
	for i := len(it.Counts) - 1; i >= 0; i-- {
		c := it.Counts[i]
		words := "book and shelf agree"
		if d := c.Drift(); d > 0 {
			words = unit.PiecesText(d) + " fewer than the book said"
		} else if d < 0 {
			words = unit.PiecesText(-d) + " more than the book said"
		}
		b.Counts = append(b.Counts, countLine{c.From, c.To, words})
	}
	b.ahead(household.Shelf(v.house, v.now), it.Item)
	used, _ := record.Find("stock_used")
	b.Used = newForm(used, base+"/shelf/used", nil).only("why", "pieces", "lot", "note").hide("item", it.Item)
	b.Used.Next, b.Used.Submit = b.Address, "Take it off the shelf"
	for i := range b.Used.Inputs {
		switch b.Used.Inputs[i].Key {
		case "why":
			b.Used.Inputs[i].Value = "used"
		case "pieces":
			b.Used.Inputs[i].Value = "1"
		}
	}
	return view{page: "item", title: it.Item, here: "shelf", body: b}, nil
}

// mostAhead is how many days the forecast of an item shows: some eight weeks of
// sessions.
const mostAhead = 40

// ahead fills in the forecast of an item, up to the day after it runs out.
func (b *itemBody) ahead(v household.ShelfView, item string) {
	b.Trouble = v.Trouble
	for _, r := range v.Rows {
		if r.Item != item || !r.Reckoned {
			continue
		}
		reserve := unit.Pieces(v.Reserve) * r.PerSession
		for i, d := range r.Forecast.Days {
			if i == mostAhead {
				break
			}
			line := aheadLine{On: d.Date, Left: short(d.Usable), Under: d.Usable < reserve, Failed: d.Served < d.Sessions}
			var what []string
			if d.Arrived > 0 {
				what = append(what, unit.PiecesText(d.Arrived)+" on order come")
			}
			if d.Expired > 0 {
				what = append(what, short(d.Expired)+"\u00a0pieces are past their day")
			}
			if d.Sessions > 0 && d.Served == d.Sessions {
				what = append(what, countOf(d.Sessions, "session", "sessions"))
			}
			if line.Failed {
				what = append(what, "a session cannot be held")
			}
			line.What = strings.Join(what, "; ")
			b.Ahead = append(b.Ahead, line)
			if line.Failed {
				break
			}
		}
		if o := r.Order; o.Packs > 0 {
			b.Order = "Order " + countOf(o.Packs, "pack", "packs") + " by " + o.By.Long() + " for the delivery of " + o.For.Long() + "."
		}
	}
}

func usedForm(v visit, f form, b *slipBody) (form, error) {
	b.Notes = append(b.Notes, "In pieces, not in boxes. A pack that was opened and not used is used.")
	return f, nil
}

func stockItemForm(v visit, f form, b *slipBody) (form, error) {
	f = f.without("off")
	if name := v.PathValue("item"); name != "" {
		it, ok := v.house.Upkeep.Item(name)
		if !ok {
			return f, notFound{"nothing of that name on the shelf"}
		}
		kind, _ := record.Find("stock_item")
		f = f.begin(filled(kind, &it)).hide("item", it.Item)
		b.Lead = it.Item
	} else {
		b.Lead = "One kind of thing, counted in its own pieces: a dialyser, a bag, a needle, a litre."
	}
	f.Submit = "Keep this item"
	return f.hint(map[string]string{
		"per_session_pieces": "As your unit’s list says. Spares are learned from your counts.",
		"also":               "The words your steps use for it, so that a lot written there comes off this item.",
		"pack_pieces":        "What one box of the order holds.",
	}), nil
}

func stockOffForm(v visit, f form, b *slipBody) (form, error) {
	it, ok := v.house.Upkeep.Item(v.PathValue("item"))
	if !ok {
		return f, notFound{"nothing of that name on the shelf"}
	}
	kind, _ := record.Find("stock_item")
	b.Lead = it.Item + " is no longer used. What was written of it stays."
	for key, value := range filled(kind, &it) {
		f = f.hide(key, value)
	}
	f = f.hide("off", "yes")
	f.Submit = "Take it off the list"
	return f, nil
}

func supplierForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "Who delivers, and how often. From this the pages work out when an order must go out."
	given := map[string]string{"reserve_sessions": whole(stock.DefaultReserve), "lead_days": "5", "delivery_every_days": "28"}
	if now, ok := v.house.Upkeep.Supplier.Now(); ok {
		kind, _ := record.Find("supplier")
		given = filled(kind, &now)
	}
	f.Submit = "Keep this"
	return f.begin(given).hint(map[string]string{
		"reserve_sessions": "Two weeks in date is commonly advised: six sessions at three a week. With six, one session in 20,000 found the shelf short in a simulation with deliveries a few days late.",
		"lead_days":        "How long before a delivery the order must be there.",
	}), nil
}

func plannedForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "For a holiday, a moved van, a delivery more. The regular days follow from the supplier."
	f.Submit = "Keep this day"
	return f, nil
}

func substituteForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "Another product than usual waits on the shelf until your unit has said yes: another dialyser clears and holds another volume."
	if rx := v.prescribed(); rx != nil && rx.KoA != nil {
		b.Notes = append(b.Notes, "Your prescription has a KoA of "+rx.KoA.Text()+". Another one needs a new version of the prescription too.")
	}
	q := v.URL.Query()
	f = f.begin(map[string]string{"item": q.Get("item"), "product": q.Get("product"), "answer": "asked"})
	f.Submit = "Keep this"
	return f, nil
}

func asideForm(v visit, f form, b *slipBody) (form, error) {
	q := v.URL.Query()
	f = f.begin(map[string]string{"item": q.Get("item"), "lot": q.Get("lot"), "state": q.Get("state")})
	b.Lead = "A lot that is set aside is offered nowhere and cannot be opened for a session."
	b.Notes = append(b.Notes, "Put it in another place as well, with a note on it.")
	f.Submit = "Write it down"
	return f, nil
}

// escape writes an item’s name for an address.
func escape(name string) string {
	return strings.NewReplacer("%", "%25", "/", "%2F", "?", "%3F", "#", "%23", "&", "%26", "+", "%2B", " ", "%20", ";", "%3B", `"`, "%22").Replace(name)
}

// startShelf writes the usual items down that are not on the list yet.
func (s *server) startShelf(w http.ResponseWriter, r *http.Request) error {
	var items []household.Starting
	if err := s.look(r, func(v visit) error {
		items = household.StartingItems(v.house, v.now)
		return nil
	}); err != nil {
		return err
	}
	var entries []record.Entry
	for i := range items {
		entries = append(entries, record.Entry{ID: r.PostFormValue("id") + "-" + whole(i), Kind: "stock_item", By: writer(r), Device: device(r), Body: &items[i].StockItem})
	}
	out, err := s.desk.Record(r.Context(), entries...)
	if err != nil {
		return err
	}
	for _, found := range out.Findings {
		if len(found) > 0 {
			return found
		}
	}
	next := "/p/" + r.PathValue("p") + "/shelf"
	if wantsJSON(r) {
		return writeJSON(w, http.StatusOK, map[string]any{"saved": true, "id": r.PostFormValue("id"), "next": next})
	}
	http.Redirect(w, r, next, http.StatusSeeOther)
	return nil
}
