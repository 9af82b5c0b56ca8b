package record

import (
	"slices"
	"strings"
	"unicode/utf8"

	"ebbline/session"
	"ebbline/stock"
	"ebbline/unit"
)

func checkStockItem(c *Checker) {
	b := c.Entry.Body.(*StockItem)
	c.blank("item", b.Item)
	if b.GTIN != "" && !stock.ValidGTIN(b.GTIN) {
		c.Refuse("gtin", "%s is not a GTIN: needs 8, 12, 13 or 14 digits of which the last fits the others. Look at the box, or leave it blank", quote(b.GTIN))
	}
	if !b.Off && b.PerSession == nil && b.PerWeek == nil && b.PerCycle == nil {
		c.Refuse("per_session_pieces", "and the other uses are still blank: write at least one")
	}
	for _, other := range c.House.Upkeep.ItemsNow() {
		if plainName(other.Item) == plainName(b.Item) {
			continue
		}
		for _, name := range append(strings.Split(b.Also, ","), b.Item) {
			if other.Answers(name) {
				c.Refuse("also", "%s is a name of %s already", quote(strings.TrimSpace(name)), other.Item)
			}
		}
	}
}

func checkDeliveryPlanned(c *Checker) {
	b := c.Entry.Body.(*DeliveryPlanned)
	if b.Cancelled && !b.InsteadOf.IsZero() {
		c.Refuse("instead_of", "does not go with “nothing comes on that day”")
	}
}

// known refuses an item that is not on the shelf's list.
func (c *Checker) known(key, item string) (StockItem, bool) {
	it, ok := c.House.Upkeep.Item(item)
	if !ok {
		c.Refuse(key, "%s is not on the list of the shelf; add it there first", quote(item))
	}
	return it, ok
}

func (c *Checker) lines(n int) bool {
	switch {
	case n == 0:
		c.Refuse("lines", "are still blank: write at least one")
	case n > mostLines:
		c.Refuse("lines", "are more than %d", mostLines)
	default:
		return true
	}
	return false
}

const mostPieces = 100_000 * unit.Piece

func checkOrder(c *Checker) {
	b := c.Entry.Body.(*OrderSent)
	if b.For.Before(unit.DateOf(c.Entry.At)) {
		c.Refuse("for", "%s lies before the day of the order", b.For.Long())
	}
	if !c.lines(len(b.Lines)) {
		return
	}
	for _, l := range b.Lines {
		c.known("lines", l.Item)
		if l.Packs < 1 || l.Packs > 100_000 || l.Pieces <= 0 || l.Pieces > mostPieces {
			c.Refuse("lines", "%s: needs at least one pack, and the pieces in it", l.Item)
		}
	}
}

func checkDelivery(c *Checker) {
	b := c.Entry.Body.(*Delivery)
	if b.Order != "" {
		switch o := c.House.Upkeep.Order(c.House.Newest(b.Order)); {
		case o == nil:
			c.Refuse("order_id", "%s is no order in this record", quote(b.Order))
		case o.Struck != nil && c.Entry.Corrects == "":
			c.Refuse("order_id", "names an order that was struck out; leave it blank, or name another")
		}
	}
	if !c.lines(len(b.Lines)) {
		return
	}
	for _, l := range b.Lines {
		if it, known := c.known("lines", l.Item); known {
			c.numbers("lines", it, l.LotNumbers)
		}
		c.plainText("lines", l.Item+": lot ", l.Lot, 40)
		c.plainText("lines", l.Item+": maker ", l.Maker, 60)
		c.plainText("lines", l.Item+": product ", l.Product, 80)
		c.plainText("lines", l.Item+": serial number ", l.Serial, 40)
		c.lotDate("lines", l.Item, l.Expires)
		if !l.Made.IsZero() && (unit.DateOf(c.Entry.At).Before(l.Made) || !l.Expires.IsZero() && l.Expires.Before(l.Made)) {
			c.Refuse("lines", "%s: was made on %s, which lies after the delivery or the expiry", l.Item, l.Made.Long())
		}
		switch {
		case l.Pieces <= 0 || l.Pieces > mostPieces:
			c.Refuse("lines", "%s: needs how many pieces came", l.Item)
		case l.Damaged < 0 || l.Damaged > l.Pieces:
			c.Refuse("lines", "%s: more are damaged than came", l.Item)
		}
	}
}

// numbers refuses a number that a thing does not have on its label, or that no label
// has.
func (c *Checker) numbers(key string, it StockItem, of session.LotNumbers) {
	has := session.LotNumbersOf(it.Called()...)
	for _, n := range session.AllLotNumbers() {
		value, text, given := n.Of(of)
		switch {
		case !given:
		case !slices.ContainsFunc(has, func(one session.LotNumber) bool { return one.Key == n.Key }):
			c.Refuse(key, "%s: has no %s on its label", it.Item, n.Label)
		case value < n.Lo || value > n.Hi:
			c.Refuse(key, "%s: %s %s is not accepted: needs %s to %s%s", it.Item, n.Label, text, plain(n.Lo), plain(n.Hi), spaced(n.Unit))
		}
	}
}

// lotDate refuses an expiry that no label prints.
func (c *Checker) lotDate(key, item string, d unit.Date) {
	if d.IsZero() {
		return
	}
	if d.Before(unit.NewDate(2000, 1, 1)) || unit.NewDate(2099, 12, 31).Before(d) {
		c.Refuse(key, "%s: %s is no expiry of a label", item, d.Long())
	}
}

func checkCount(c *Checker) {
	b := c.Entry.Body.(*StockCount)
	it, ok := c.known("item", b.Item)
	if !ok {
		return
	}
	if len(b.Lots) > mostLines {
		c.Refuse("lots", "are more than %d", mostLines)
	}
	seen := map[string]bool{}
	for _, l := range b.Lots {
		c.plainText("lots", "lot ", l.Lot, 40)
		c.plainText("lots", "maker ", l.Maker, 60)
		c.lotDate("lots", b.Item, l.Expires)
		c.numbers("lots", it, l.LotNumbers)
		if l.Pieces < 0 || l.Pieces > mostPieces {
			c.Refuse("lots", "%s is no count", l.Pieces)
		}
		key := lotKey(l.Lot) + " " + plainName(l.Maker) + " " + l.Expires.String()
		if seen[key] {
			c.Refuse("lots", "hold lot %s twice; add the two up", quote(l.Lot))
		}
		seen[key] = true
	}
}

func checkUsed(c *Checker) {
	b := c.Entry.Body.(*StockUsed)
	c.known("item", b.Item)
}

func checkSubstitute(c *Checker) {
	b := c.Entry.Body.(*Substitute)
	if _, ok := c.known("item", b.Item); !ok {
		return
	}
	c.blank("product", b.Product)
	if b.Answer != "asked" {
		c.said("answered_by", b.By, "who at the unit answered")
	}
}

func checkQuarantine(c *Checker) {
	b := c.Entry.Body.(*Quarantine)
	c.said("why", b.Why, "why it is set aside, or what was seen on the box")
	it, ok := c.House.ShelfOf(b.Item, c.Entry.At)
	if !ok {
		c.known("item", b.Item)
		return
	}
	at := slices.IndexFunc(it.Lots, func(l ShelfLot) bool { return lotKey(l.Code) == lotKey(b.Lot) })
	switch {
	case at < 0:
		c.Refuse("lot", "%s is not on the shelf's book", quote(b.Lot))
	case b.State == "released" && !it.Lots[at].Held:
		c.Refuse("state", "is “let go”, but the lot is not set aside")
	case b.State == "released" && it.Lots[at].Recall != "":
		r := c.House.Upkeep.Recall(it.Lots[at].Recall)
		if r.matches(it.StockItem, it.Lots[at].Maker, it.Lots[at].Code) == stock.Recalled {
			c.Refuse("state", "cannot be “let go”: the notice names this very lot. Close the recall with what became of it, or strike the recall out if it was written down wrongly")
		}
	case b.State == "released" && it.Lots[at].Product != "" && !c.House.Upkeep.allowed(it.StockItem, it.Lots[at].Product):
		c.Refuse("state", "cannot be “let go”: it is another product than usual and waits for the unit’s yes, which is an entry of its own")
	}
}

func checkRecall(c *Checker) {
	b := c.Entry.Body.(*Recall)
	if len(b.Lots) > mostLines || len(b.Ranges) > mostLines {
		c.Refuse("lots", "are more than %d", mostLines)
		return
	}
	for _, l := range b.Lots {
		c.plainText("lots", "one ", l, 40)
	}
	for _, r := range b.Ranges {
		c.plainText("ranges", "one end ", r.From, 40)
		c.plainText("ranges", "one end ", r.To, 40)
	}
	if err := b.Notice().Check(); err != nil {
		c.refuseError("lots", err)
	}
	c.blank("told_by", b.From)
	if item := b.Item; item != "" && c.Entry.Corrects == "" && !c.House.Had(item) {
		c.Ask("item", "%s is nothing that is on your shelf or was used in a session, so nothing will match. Look at how the shelf calls it; if you never had it, type it again", quote(item))
	}
}

func checkRecallClosed(c *Checker) {
	b := c.Entry.Body.(*RecallClosed)
	r := c.House.Upkeep.Recall(c.House.Newest(b.Recall))
	switch {
	case r == nil:
		c.Refuse("recall_id", "%s is no recall in this record", quote(b.Recall))
		return
	case !r.Active():
		c.Refuse("recall_id", "names a recall that was struck out; there is nothing to close")
		return
	case r.Closed != nil && r.Closed.ID != c.Entry.Corrects:
		c.Refuse("recall_id", "was closed already; correct that entry")
	}
	c.said("told_unit", b.Told, "whom at the unit you told")
	var held unit.Pieces
	for _, it := range c.House.Shelf(c.Entry.At) {
		for _, l := range it.Lots {
			if l.Recall == r.ID {
				held += l.Count
			}
		}
	}
	switch gone := b.Returned + b.Destroyed; {
	case gone > held:
		c.Ask("returned_pieces", "with what was destroyed makes %s, but only %s are set aside. If it is right, type it again", unit.PiecesText(gone), unit.PiecesText(held))
	case gone < held:
		c.Ask("returned_pieces", "with what was destroyed makes %s, but %s are set aside; the rest stays set aside. If it is right, type it again", unit.PiecesText(gone), unit.PiecesText(held))
	}
}

// checkSupply keeps a lot that is set aside from being opened, names the recall,
// and asks about one past its expiry. What was used already is written down as
// it was.
func checkSupply(c *Checker) {
	b := c.Entry.Body.(*session.Supply)
	if c.paper() || c.Entry.Corrects != "" || utf8.RuneCountInString(b.Lot) == 0 {
		return
	}
	if hold, held := c.House.Held(b.Item, b.Lot, c.Entry.At); held {
		switch {
		case hold.Sure:
			c.Refuse("lot", "%s is set aside (%s). Take another", b.Lot, hold.Why)
		default:
			c.Ask("lot", "%s may be meant by the %s. Look at the box: if it is not meant, type the lot again", b.Lot, hold.Why)
		}
		return
	}
	today := unit.DateOf(c.Entry.At)
	if !b.Expiry.IsZero() && b.Expiry.Before(today) {
		c.Ask("expiry", "was %s: do not open it. If it is what was opened, type the date again; the start line will stop there", b.Expiry.Long())
	}
	if it, ok := c.House.ShelfOf(b.Item, c.Entry.At); ok {
		for _, l := range it.Lots {
			if lotKey(l.Code) == lotKey(b.Lot) && !l.Expires.IsZero() && !b.Expiry.IsZero() && l.Expires != b.Expiry {
				c.Ask("expiry", "is %s, but on the shelf this lot expires on %s. If the label says so, type it again", b.Expiry.Long(), l.Expires.Long())
			}
		}
	}
}
