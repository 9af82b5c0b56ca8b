package household

import (
	"slices"
	"strings"
	"testing"

	"ebbline/exchange"
	"ebbline/record"
	"ebbline/unit"
)

// What a supplier reads of an item is the same in an order and in what is sent
// ahead: on a line of the e-mail and in the columns of the table.
func TestGoods(t *testing.T) {
	const one = unit.Piece
	g := Goods{Item: "dialyser", Code: "D-170", Packs: 2, Pack: 12 * one, Pieces: 24 * one}
	day := unit.NewDate(2026, 4, 6)
	if got, want := g.cells(day), []string{"dialyser", "D-170", "2", "12", "24", "2026-04-06"}; !slices.Equal(got, want) || len(got) != len(goodsHead)+1 {
		t.Errorf("%q, want %q", got, want)
	}
	var b strings.Builder
	g.write(&b)
	g.Code = ""
	g.write(&b)
	sign(&b, "")
	sign(&b, "Ida Brook")
	if want := "  2 x dialyser (D-170), pack of 12\n  2 x dialyser, pack of 12\n\nIda Brook\n"; b.String() != want {
		t.Errorf("%q, want %q", b.String(), want)
	}
	for _, tt := range []struct {
		to   *record.Supplier
		want string
	}{{nil, "Order"}, {&record.Supplier{}, "Order"}, {&record.Supplier{Account: "K-77"}, "Order, customer K-77"}} {
		if got := asCustomer("Order", tt.to); got != tt.want {
			t.Errorf("%+v: %q", tt.to, got)
		}
	}
}

// The letters and tables of a demonstration say so; those of a household say
// nothing of the kind.
func TestDemonstrationLettersSaySo(t *testing.T) {
	d, now := stockedDiary(t)
	for _, demo := range []bool{true, false} {
		d.h.Demo = demo
		order := Shelf(d.h, now).DraftOrder(unit.DateOf(now))
		away, err := SendAhead(d.h, d.h.Member(keeper), now, unit.NewDate(2026, 4, 4), unit.NewDate(2026, 4, 17), 0)
		if err != nil || len(order.Lines) == 0 {
			t.Fatal(err, order)
		}
		for name, words := range map[string]string{
			"subject of the order": order.Subject(nil), "order": order.Text("Ida Brook"), "subject of what is sent ahead": away.Subject(), "what is sent ahead": away.Text("Ida Brook"),
		} {
			if strings.HasPrefix(words, "DEMONSTRATION: ") != demo {
				t.Errorf("demonstration %v, %s: %s", demo, name, words)
			}
		}
		for _, sheet := range []exchange.Sheet{order.Sheet(), away.Sheet()} {
			file, err := sheet.CSV()
			if err != nil {
				t.Fatal(err)
			}
			if n := strings.Count(string(file), "invented"); demo && n != len(sheet.Rows) || !demo && n != 0 {
				t.Errorf("demonstration %v: %s", demo, file)
			}
		}
	}
}
