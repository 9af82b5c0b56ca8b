package calc

import (
	"errors"
	"fmt"
	"time"

	"ebbline/stock"
	"ebbline/unit"
)

func init() {
	register(Topic{
		Name:    "stock",
		Summary: "sessions left on the shelf, what expires, and what to order by when",
		Example: `{
  "items": [
    {"item": "dialyser", "on_hand": [{"count": 9, "expires": "2027-03-31"}], "per_session": 1, "pack": 12},
    {"item": "needle", "on_hand": [{"count": 14, "expires": "2026-03-10"}, {"count": 50}], "per_session": 2, "pack": 50}
  ],
  "today": "2026-03-02",
  "session_dates": ["2026-03-02", "2026-03-04", "2026-03-06", "2026-03-09", "2026-03-11", "2026-03-13",
    "2026-03-16", "2026-03-18", "2026-03-20", "2026-03-23", "2026-03-25", "2026-03-27"],
  "delivery_dates": ["2026-03-10", "2026-03-24"],
  "order_lead_days": 5
}`,
		Run: runStock,
	})
}

type stockAnswer struct {
	Items    []stockItem `json:"items"`
	Scarcest string      `json:"scarcest"`
}

type stockItem struct {
	Item         string      `json:"item"`
	SessionsLeft int         `json:"sessions_left"`
	RunsOut      *unit.Date  `json:"runs_out"`
	Wasted       unit.Pieces `json:"wasted"`
	OrderBy      *unit.Date  `json:"order_by"`
	OrderPacks   int         `json:"order_packs"`
}

// maxSessions is more than ten years of daily sessions.
const maxSessions = 5000

func runStock(in *Object) (Answer, error) {
	items := readItems(in)
	plan := stock.Plan{
		Today:      unit.DateOf(in.Date("today")),
		Sessions:   calendarDays(in.Dates("session_dates")),
		Deliveries: calendarDays(in.Dates("delivery_dates")),
		LeadDays:   int(in.Int("order_lead_days", 0, 365)),
		Reserve:    int(in.IntOr("reserve_sessions", stock.DefaultReserve, 0, 1000)),
	}
	if n := len(plan.Sessions); n > maxSessions {
		in.Refuse("session_dates", "has %d dates; accepted are 1 to %d", n, maxSessions)
	}
	if err := in.Done(); err != nil {
		return Answer{}, err
	}

	a := Answer{Sources: []string{
		"first expired first out, order point and reserve: common practice",
		"reserve of 6 sessions by default: two weeks in date at three a week, advice of supply and emergency planning",
	}}
	out := stockAnswer{Items: make([]stockItem, 0, len(items))}
	var forecasts []stock.Forecast
	for _, it := range items {
		f, err := it.Forecast(plan.Today, plan.Sessions)
		if err != nil {
			return Answer{}, refused(err)
		}
		o, err := it.Order(plan)
		if err != nil {
			return Answer{}, refused(err)
		}
		forecasts = append(forecasts, f)
		out.Items = append(out.Items, stockItem{
			Item: it.Name, SessionsLeft: f.SessionsLeft, RunsOut: given(f.RunsOut),
			Wasted: f.Wasted, OrderBy: given(o.By), OrderPacks: o.Packs,
		})
		if expired := f.Days[0].Expired; expired > 0 {
			a.Cautions = append(a.Cautions, unit.Caution{Code: "expired_on_shelf",
				Text: fmt.Sprintf("%s: %s on the shelf expired before today; take them out. They count as wasted.", it.Name, unit.PiecesText(expired))})
		}
		a.Cautions = append(a.Cautions, o.Cautions...)
		a.Steps = append(a.Steps, stockSteps(it, plan, f, o)...)
	}
	out.Scarcest = items[stock.Scarcest(forecasts)].Name
	a.Steps = append(a.Steps, Step{Term: "scarcest", Value: out.Scarcest, Formula: "fewest sessions left; of several, the first given"})
	a.Out = out
	return a, nil
}

func readItems(in *Object) []stock.Item {
	var items []stock.Item
	seen := map[string]bool{}
	in.Objects("items", 1, 1000, func(_ int, o *Object) {
		it := stock.Item{Name: o.Text("item"), Pack: unit.Piece}
		if seen[it.Name] {
			o.Refuse("item", "%q stands twice; accepted is each item once, with all its lots", it.Name)
		}
		seen[it.Name] = true
		o.Objects("on_hand", 0, 1000, func(_ int, lot *Object) {
			l := stock.Lot{Count: readPieces(lot, "count", 0)}
			if d := lot.DateIf("expires"); !d.IsZero() {
				l.Expires = unit.DateOf(d)
			}
			it.Lots = append(it.Lots, l)
		})
		it.PerSession = readPieces(o, "per_session", 1e-6)
		if o.Has("pack") {
			it.Pack = readPieces(o, "pack", 1e-6)
		}
		items = append(items, it)
	})
	return items
}

// readPieces reads a count, keeping six decimals; see [unit.CutPieces].
func readPieces(o *Object, key string, lo float64) unit.Pieces {
	v := o.Float(key, lo, 1e6)
	n, err := unit.CutPieces(v)
	if ie := (*unit.InputError)(nil); errors.As(err, &ie) {
		return 0 // Float has refused it already
	}
	return n
}

func calendarDays(list []time.Time) []unit.Date {
	days := make([]unit.Date, len(list))
	for i, t := range list {
		days[i] = unit.DateOf(t)
	}
	return days
}

// given is nil for a date that there is not.
func given(d unit.Date) *unit.Date {
	if d.IsZero() {
		return nil
	}
	return &d
}

func stockSteps(it stock.Item, p stock.Plan, f stock.Forecast, o stock.Order) []Step {
	steps := []Step{{
		Term:    it.Name + ": sessions left",
		Value:   fmt.Sprint(f.SessionsLeft),
		Formula: fmt.Sprintf("planned sessions in a row that %s can serve at %s each; %d are planned", unit.PiecesText(stock.Usable(it.Lots, p.Today)), it.PerSession, len(p.Sessions)),
	}, {
		Term:    it.Name + ": runs out",
		Value:   orNone(f.RunsOut),
		Formula: "day of the first session it cannot serve; a lot serves through its expiry date, first expired first out",
	}, {
		Term:    it.Name + ": wasted",
		Value:   unit.PiecesText(f.Wasted),
		Formula: "left of lots whose expiry is not after the last planned session",
	}, {
		Term:    it.Name + ": under the reserve from",
		Value:   orNone(o.UnderFrom),
		Formula: fmt.Sprintf("first day that ends with fewer than %d sessions × %s in date", p.Reserve, it.PerSession),
	}}
	if o.For.IsZero() {
		return append(steps, Step{Term: it.Name + ": order", Value: "none", Formula: "not under the reserve within the plan, or no delivery to be had"})
	}
	return append(steps, Step{
		Term:    it.Name + ": order by",
		Value:   o.By.String(),
		Formula: fmt.Sprintf("delivery of %s less %d days", o.For, p.LeadDays),
	}, Step{
		Term:    it.Name + ": packs",
		Value:   fmt.Sprint(o.Packs),
		Formula: fmt.Sprintf("%s wanting to serve the sessions up to %s and keep the reserve, in packs of %s, rounded up", unit.PiecesText(o.Wanted), o.Until, it.Pack),
	})
}

func orNone(d unit.Date) string {
	if d.IsZero() {
		return "not within the plan"
	}
	return d.String()
}
