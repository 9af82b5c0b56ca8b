package stock

import (
	"fmt"

	"ebbline/unit"
)

// A Parcel is what to send ahead of one item for sessions away from home.
type Parcel struct {
	Item     string
	Packs    int
	SendBy   unit.Date
	Cautions []unit.Caution
}

// ShipDays is how many days before the first session away supplies are sent.
// Source: common practice, two weeks.
const ShipDays = 14

// ShipAhead says what to send to a place away from home for the sessions held
// there, in any order, with some sessions to spare, in whole packs and at
// least two weeks before the first. It needs at least one session, today on or
// before the first, and 0 to 100 spare sessions. When two weeks before has
// gone by, SendBy is today with a caution.
func ShipAhead(items []Item, today unit.Date, away []unit.Date, spare int) ([]Parcel, error) {
	plan, err := inOrder(today, away)
	if err != nil {
		return nil, err
	}
	if spare < 0 || spare > 100 {
		return nil, unit.Refuse("spare_sessions", spare, "sessions from 0 to 100")
	}
	var parcels []Parcel
	for _, it := range items {
		if err := it.check(); err != nil {
			return nil, err
		}
		want := unit.Pieces(len(plan)+spare) * it.PerSession
		p := Parcel{Item: it.Name, Packs: int((want + it.Pack - 1) / it.Pack), SendBy: plan[0].Add(-ShipDays)}
		if p.SendBy.Before(today) {
			p.Cautions = []unit.Caution{{Code: "send_now", Text: fmt.Sprintf("%s should have been sent by %s for the session of %s: send it today and ask when it will be there.", it.Name, p.SendBy.Long(), plan[0].Long())}}
			p.SendBy = today
		}
		parcels = append(parcels, p)
	}
	return parcels, nil
}
