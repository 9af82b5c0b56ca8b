package household

import (
	"fmt"
	"strconv"
	"strings"

	"ebbline/exchange"
	"ebbline/record"
	"ebbline/unit"
)

// Goods are one item of what a supplier is asked to send.
type Goods struct {
	Item   string
	Code   string // order number
	Packs  int
	Pack   unit.Pieces
	Pieces unit.Pieces
}

// goodsHead heads the columns of [Goods.cells].
var goodsHead = []string{"item", "order_number", "packs", "pack [pieces]", "pieces"}

// cells are the columns of a table, with the days that stand behind each item.
func (g Goods) cells(days ...unit.Date) []string {
	row := []string{g.Item, g.Code, strconv.Itoa(g.Packs), g.Pack.String(), g.Pieces.String()}
	for _, d := range days {
		row = append(row, d.String())
	}
	return row
}

// write puts the item on a line of an e-mail.
func (g Goods) write(b *strings.Builder) {
	code := ""
	if g.Code != "" {
		code = " (" + g.Code + ")"
	}
	fmt.Fprintf(b, "  %d x %s%s, pack of %s\n", g.Packs, g.Item, code, g.Pack)
}

// sign ends an e-mail with a name, if there is one.
func sign(b *strings.Builder, from string) {
	if from != "" {
		fmt.Fprintf(b, "\n%s\n", from)
	}
}

// demoTitle begins the title of what leaves the house, a happening of a calendar
// or the subject of a letter, with the word for an invented one.
func demoTitle(demo bool, title string) string {
	if demo {
		return "DEMONSTRATION: " + title
	}
	return title
}

// demoLetter begins the text of an invented letter: it could be sent by mistake.
func demoLetter(demo bool, b *strings.Builder) {
	if demo {
		b.WriteString("DEMONSTRATION: everything in this letter is invented. Please send nothing.\n\n")
	}
}

// demoTable says the same in a column of its own, since a row of a table may be
// cut out of it.
func demoTable(demo bool, sheet exchange.Sheet) exchange.Sheet {
	if demo {
		sheet.Head = append(sheet.Head, "demonstration")
		for i := range sheet.Rows {
			sheet.Rows[i] = append(sheet.Rows[i], "invented, send nothing")
		}
	}
	return sheet
}

// asCustomer ends the subject of an e-mail with the number by which the supplier
// knows the household.
func asCustomer(subject string, s *record.Supplier) string {
	if s == nil || s.Account == "" {
		return subject
	}
	return subject + ", customer " + s.Account
}

// supplierOf gives whom the household orders from, or nil.
func supplierOf(h *record.Household) *record.Supplier {
	s, ok := h.Upkeep.Supplier.Now()
	if !ok {
		return nil
	}
	return &s
}
