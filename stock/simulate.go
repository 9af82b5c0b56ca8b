package stock

import (
	"math"
	"slices"
	"time"

	"ebbline/unit"
)

// A House is a household's way of keeping one item, for trying out how much
// must lie on the shelf. All shares are of one.
type House struct {
	PerSession unit.Pieces
	Pack       unit.Pieces
	EveryDays  int     // a session on every so manieth day, 1 to 14
	Interval   int     // days between deliveries, 1 to 200
	Lead       int     // days from order to delivery
	Reserve    int     // sessions
	Early      int     // days before the last one on which the order is first asked for
	Forgets    float64 // chance that an order asked for on a day is not sent that day
	Failed     float64 // chance that a session uses a second set
	Late       float64 // chance that a delivery is late
	LateDays   float64 // mean of its lateness in days, 1 or more
}

// DefaultHouse is a session every other day, a delivery every four weeks,
// ordered five days ahead, with two weeks in reserve. Its chances (a delivery
// in ten late, by three days on average; an order put off on three days of
// ten; one set-up in fifty failing) are invented.
func DefaultHouse() House {
	return House{
		PerSession: unit.Piece, Pack: 12 * unit.Piece, EveryDays: 2, Interval: 28, Lead: 5,
		Reserve: 7, Early: 7, Forgets: 0.3, Failed: 0.02, Late: 0.1, LateDays: 3,
	}
}

// Service is how a house fared.
type Service struct {
	Sessions  int
	StockOuts int     // sessions that the shelf could not serve
	MeanShelf float64 // in sessions, before each one
	MostShelf float64
}

// PerThousand gives the stock-outs in a thousand sessions.
func (s Service) PerThousand() float64 {
	if s.Sessions == 0 {
		return 0
	}
	return 1000 * float64(s.StockOuts) / float64(s.Sessions)
}

// Simulate lets the house live through some days by the rules of
// [Item.Order], with chances drawn from draw, which gives numbers evenly from
// 0 up to 1. It begins with a full shelf. The same draws give the same
// outcome.
func (h House) Simulate(days int, draw func() float64) (Service, error) {
	if err := h.check(days); err != nil {
		return Service{}, err
	}
	start := unit.NewDate(2026, time.January, 1)
	sim := shelfSim{h: h, draw: draw, item: Item{Name: "item", PerSession: h.PerSession, Pack: h.Pack}}
	full := unit.Pieces(h.Reserve+h.Interval/h.EveryDays+1) * h.PerSession
	sim.item.Lots = []Lot{{Count: full}}
	for day := range days {
		if err := sim.day(start, day); err != nil {
			return Service{}, err
		}
	}
	if sim.out.Sessions > 0 {
		sim.out.MeanShelf /= float64(sim.out.Sessions)
	}
	return sim.out, nil
}

type shelfSim struct {
	h    House
	draw func() float64
	item Item
	real []Arrival // as they will really come; item.Arriving holds what is expected
	look int       // day on which the order is next reckoned
	out  Service
}

func (s *shelfSim) day(start unit.Date, n int) error {
	today := start.Add(n)
	for i := 0; i < len(s.real); {
		if today.Before(s.real[i].On) {
			if s.item.Arriving[i].On.Before(today.Add(1)) {
				s.item.Arriving[i].On = today.Add(1) // overdue: hoped for tomorrow
			}
			i++
			continue
		}
		s.item.Lots[0].Count += s.real[i].Lot.Count
		s.real = slices.Delete(s.real, i, i+1)
		s.item.Arriving = slices.Delete(s.item.Arriving, i, i+1)
		s.look = n
	}
	if n%s.h.EveryDays == 0 {
		s.session(n)
	}
	if n < s.look {
		return nil
	}
	return s.order(start, n)
}

func (s *shelfSim) session(n int) {
	lot := &s.item.Lots[0]
	shelf := float64(lot.Count) / float64(s.h.PerSession)
	s.out.Sessions++
	s.out.MeanShelf += shelf
	s.out.MostShelf = math.Max(s.out.MostShelf, shelf)
	if lot.Count < s.h.PerSession {
		s.out.StockOuts++
		return
	}
	lot.Count -= s.h.PerSession
	if s.draw() < s.h.Failed && lot.Count >= s.h.PerSession {
		lot.Count -= s.h.PerSession
		s.look = n
	}
}

// order reckons the order on the evening of a day, for the sessions from
// tomorrow on, and sends it when it is asked for and not put off.
func (s *shelfSim) order(start unit.Date, n int) error {
	h := s.h
	ahead := 2*h.Interval + h.Lead + h.Early + (h.Reserve+2)*h.EveryDays
	p := Plan{Today: start.Add(n + 1), LeadDays: h.Lead - 1, Reserve: h.Reserve} // an order sent this evening is a day older
	if h.Lead == 0 {
		p.LeadDays = 0
	}
	for d := n + 1; d <= n+ahead; d++ {
		if d%h.EveryDays == 0 {
			p.Sessions = append(p.Sessions, start.Add(d))
		}
		if d%h.Interval == 0 {
			p.Deliveries = append(p.Deliveries, start.Add(d))
		}
	}
	o, err := s.item.Order(p)
	if err != nil {
		return err
	}
	switch {
	case o.Packs == 0:
		s.look = n + 7
	case start.Add(n + 1 + h.Early).Before(o.By): // not asked for yet
		s.look = n + o.By.Sub(start.Add(n+1+h.Early))
	case s.draw() < h.Forgets:
		s.look = n + 1
	default:
		count := Lot{Count: unit.Pieces(o.Packs) * h.Pack}
		s.item.Arriving = append(s.item.Arriving, Arrival{o.For, count})
		s.real = append(s.real, Arrival{o.For.Add(s.lateness()), count})
		s.look = n + 1
	}
	return nil
}

// lateness draws how many days late a delivery is: none, or a geometric number
// of days with the house's mean, at most 60.
func (s *shelfSim) lateness() int {
	if s.draw() >= s.h.Late {
		return 0
	}
	n := 1
	for n < 60 && s.draw() < 1-1/s.h.LateDays {
		n++
	}
	return n
}

func (h House) check(days int) error {
	share := func(v float64) bool { return v >= 0 && v < 1 }
	switch {
	case days < 1 || days > 4_000_000:
		return unit.Refuse("days", days, "1 to 4,000,000 days")
	case h.PerSession <= 0 || h.PerSession > maxCount/1000 || h.Pack <= 0 || h.Pack > maxCount:
		return unit.Refuse("per_session", h.PerSession, "a use and a pack above 0")
	case h.EveryDays < 1 || h.EveryDays > 14 || h.Interval < 1 || h.Interval > 200:
		return unit.Refuse("interval", h.Interval, "sessions every 1 to 14 days, deliveries every 1 to 200")
	case h.Lead < 0 || h.Lead > 100 || h.Reserve < 0 || h.Reserve > 200 || h.Early < 0 || h.Early > 100:
		return unit.Refuse("lead", h.Lead, "lead and early up to 100 days, reserve up to 200 sessions")
	case !share(h.Forgets) || !share(h.Failed) || !share(h.Late) || !(h.LateDays >= 1 && h.LateDays <= 60):
		return unit.Refuse("forgets", h.Forgets, "chances from 0 up to 1, lateness of 1 to 60 days")
	}
	return nil
}

// A Trial is one row of the table of reserves.
type Trial struct {
	Reserve int
	Service Service
}

// Trials lets the house live with each reserve from 0 to most sessions, each
// with draws of its own from the maker given, so that all see the same luck.
func (h House) Trials(most, days int, draws func() func() float64) ([]Trial, error) {
	var table []Trial
	for reserve := range most + 1 {
		h.Reserve = reserve
		s, err := h.Simulate(days, draws())
		if err != nil {
			return nil, err
		}
		table = append(table, Trial{reserve, s})
	}
	return table, nil
}

// Lowest gives the smallest reserve from which on every row of the table stays
// under so many stock-outs in a thousand sessions; false when none does.
func Lowest(table []Trial, perThousand float64) (int, bool) {
	at := -1
	for i := len(table) - 1; i >= 0 && table[i].Service.PerThousand() < perThousand; i-- {
		at = i
	}
	if at < 0 {
		return 0, false
	}
	return table[at].Reserve, true
}
