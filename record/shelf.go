package record

import (
	"strconv"

	"ebbline/session"
	"ebbline/stock"
	"ebbline/unit"
)

// StockItem is one kind of thing on the shelf and how it is used up; written
// again when something changes.
type StockItem struct {
	Item       string       `json:"item"`
	Also       string       `json:"also,omitempty"` // other names it goes by, with commas between
	Maker      string       `json:"maker,omitempty"`
	GTIN       string       `json:"gtin,omitempty"`
	PerSession *unit.Pieces `json:"per_session_pieces,omitempty"`
	PerWeek    *unit.Pieces `json:"per_week_pieces,omitempty"`
	PerCycle   *unit.Pieces `json:"per_cycle_pieces,omitempty"` // of disinfection
	Pack       unit.Pieces  `json:"pack_pieces"`
	OrderCode  string       `json:"order_code,omitempty"`
	Storage    string       `json:"storage"`
	Off        bool         `json:"off"` // no longer used
}

// Supplier is who delivers, how often, and how much is to lie in reserve.
type Supplier struct {
	Name      string    `json:"name"`
	Phone     string    `json:"phone"`
	Email     string    `json:"email,omitempty"`
	Account   string    `json:"account,omitempty"`
	LeadDays  int       `json:"lead_days"`
	EveryDays int       `json:"delivery_every_days"`
	FirstOn   unit.Date `json:"delivery_first_on"`
	Reserve   int       `json:"reserve_sessions"`
	SetBy     string    `json:"set_by,omitempty"` // who at the unit set the reserve
}

// DeliveryPlanned adds a day of delivery to the regular ones, moves one, or
// takes one out.
type DeliveryPlanned struct {
	On        unit.Date `json:"on"`
	InsteadOf unit.Date `json:"instead_of,omitempty,omitzero"`
	Cancelled bool      `json:"cancelled"` // nothing comes on that day
	Note      string    `json:"note,omitempty"`
}

// OrderSent is an order as it went out.
type OrderSent struct {
	For    unit.Date   `json:"for"` // the delivery that it is for
	How    string      `json:"how"`
	Number string      `json:"number,omitempty"`
	Lines  []OrderLine `json:"lines"`
	Note   string      `json:"note,omitempty"`
}

// An OrderLine is one item of an order.
type OrderLine struct {
	Item   string      `json:"item"`
	Packs  int         `json:"packs"`
	Pieces unit.Pieces `json:"pieces"`
}

// Delivery is what came, lot by lot.
type Delivery struct {
	Order  string         `json:"order_id,omitempty"` // the order that it answers
	Number string         `json:"number,omitempty"`
	Lines  []DeliveryLine `json:"lines"`
	Note   string         `json:"note,omitempty"`
}

// A DeliveryLine is one lot of one item. Product is filled in when it is not
// the usual one: it then waits for the unit's yes. Made and Serial are what the
// code of a scanned box says beside lot and expiry; a recall may ask for them. The
// numbers are those of its label that can hurt, where they are known: a session holds
// what was typed from the thing in the hand against them.
type DeliveryLine struct {
	Item    string      `json:"item"`
	Product string      `json:"product,omitempty"`
	Maker   string      `json:"maker,omitempty"`
	Lot     string      `json:"lot,omitempty"`
	Expires unit.Date   `json:"expires,omitempty,omitzero"`
	Pieces  unit.Pieces `json:"pieces"`
	Damaged unit.Pieces `json:"damaged_pieces,omitempty"`
	Made    unit.Date   `json:"made_on,omitempty,omitzero"`
	Serial  string      `json:"serial,omitempty"`
	session.LotNumbers
}

// StockCount is all that lies on the shelf of one item, lot by lot. From then
// on it is the truth, whatever the book said.
type StockCount struct {
	Item string       `json:"item"`
	Lots []CountedLot `json:"lots"`
	Note string       `json:"note,omitempty"`
}

// A CountedLot is one lot that was counted, with the numbers of its label that can
// hurt, where they were read.
type CountedLot struct {
	Lot     string      `json:"lot,omitempty"`
	Maker   string      `json:"maker,omitempty"`
	Expires unit.Date   `json:"expires,omitempty,omitzero"`
	Pieces  unit.Pieces `json:"pieces"`
	session.LotNumbers
}

// StockUsed takes pieces off the shelf that no session booked.
type StockUsed struct {
	Item   string      `json:"item"`
	Lot    string      `json:"lot,omitempty"` // none: the one that expires first
	Pieces unit.Pieces `json:"pieces"`
	Why    string      `json:"why"`
	Note   string      `json:"note,omitempty"`
}

// Substitute is the question whether another product may take the place of an
// item, and the unit's answer.
type Substitute struct {
	Item    string       `json:"item"`
	Product string       `json:"product"`
	Maker   string       `json:"maker,omitempty"`
	KoA     *unit.Flow   `json:"koa_ml_min,omitempty"` // of a dialyser
	Prime   *unit.Volume `json:"prime_ml,omitempty"`
	Answer  string       `json:"answer"` // asked, yes or no
	By      string       `json:"answered_by,omitempty"`
	Note    string       `json:"note,omitempty"`
}

// Quarantine sets a lot aside, or lets it go after somebody has looked.
type Quarantine struct {
	Item  string `json:"item"`
	Lot   string `json:"lot"`
	State string `json:"state"` // held or released
	Why   string `json:"why"`
}

// Recall is a notice that some lots must not be used.
type Recall struct {
	Number string           `json:"number,omitempty"` // of the notice
	Maker  string           `json:"maker"`
	Item   string           `json:"item"` // as the household calls it
	Lots   []string         `json:"lots,omitempty"`
	Ranges []stock.LotRange `json:"ranges,omitempty"`
	All    bool             `json:"all"`
	From   string           `json:"told_by"`
	Words  string           `json:"words,omitempty"` // what the notice says of the danger
}

// Notice gives the recall as lots are matched with it.
func (r Recall) Notice() stock.Recall {
	return stock.Recall{Maker: r.Maker, Item: r.Item, Lots: r.Lots, Ranges: r.Ranges, All: r.All}
}

// RecallClosed ends a recall with what became of the pieces.
type RecallClosed struct {
	Recall    string      `json:"recall_id"`
	Returned  unit.Pieces `json:"returned_pieces"`
	Destroyed unit.Pieces `json:"destroyed_pieces"`
	To        string      `json:"sent_to,omitempty"`
	Told      string      `json:"told_unit"`
}

func (l OrderLine) String() string {
	return l.Item + ", " + strconv.Itoa(l.Packs) + "\u00a0packs, " + unit.PiecesText(l.Pieces)
}

func (l DeliveryLine) String() string {
	s := l.Item + ", " + unit.PiecesText(l.Pieces)
	if l.Product != "" {
		s += " of " + l.Product
	}
	if l.Damaged > 0 {
		s += ", " + l.Damaged.String() + " of them damaged"
	}
	s += lotText(l.Lot, l.Expires)
	if !l.Made.IsZero() {
		s += ", made " + l.Made.Long()
	}
	if l.Serial != "" {
		s += ", serial " + l.Serial
	}
	return s + numbersText(l.LotNumbers)
}

func numbersText(of session.LotNumbers) (s string) {
	for _, n := range session.AllLotNumbers() {
		if _, text, known := n.Of(of); known {
			s += ", " + n.Label + " " + text
		}
	}
	return s
}

func (l CountedLot) String() string {
	return unit.PiecesText(l.Pieces) + lotText(l.Lot, l.Expires) + numbersText(l.LotNumbers)
}

func lotText(lot string, expires unit.Date) string {
	s := ""
	if lot != "" {
		s = ", lot " + lot
	}
	if !expires.IsZero() {
		s += ", expires " + expires.Long()
	}
	return s
}
