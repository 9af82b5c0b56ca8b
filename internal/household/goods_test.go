package household

import (
	"slices"
	"strings"
	"testing"

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
