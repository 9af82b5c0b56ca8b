package record

import (
	"slices"
	"time"

	"ebbline/session"
)

// Kept is one entry of water, round or shelf with its own facts, of whatever
// kind it is.
type Kept struct {
	ID      string
	Kind    string
	At      time.Time
	Written time.Time
	By      string
	Person  string // empty for what belongs to the household
	Struck  *session.Strike
	Body    any // pointer to the struct of the kind
}

// Kept lists every entry of water, round and shelf, newest first; nothing is
// left out that was struck.
func (u *Upkeep) Kept() []Kept {
	var list []Kept
	list = keptIn(list, "water_reading", u.Readings)
	list = keptIn(list, "water_sample", u.Steps)
	for _, j := range u.Results {
		list = keptIn(list, "water_result", []Dated[WaterResult]{j.Dated})
	}
	list = keptIn(list, "task_closed", u.TasksClosed)
	list = keptIn(list, "water_rules", u.Rules)
	list = keptIn(list, "water_limit", u.Limits)
	list = keptIn(list, "utility_notice", u.Notices)
	list = keptIn(list, "residual_test", u.Residuals)
	list = keptIn(list, "batch_made", u.Batches)
	list = keptIn(list, "batch_tested", u.BatchTests)
	list = keptIn(list, "round_item", u.RoundItems)
	for _, p := range u.Done {
		list = keptIn(list, "round_done", []Dated[RoundDone]{p.Dated})
		list[len(list)-1].Person = p.Person
	}
	list = keptIn(list, "fault", u.Faults)
	list = keptIn(list, "sharps_bin", u.Sharps)
	list = keptIn(list, "needlestick_card", u.Needlestick)
	list = keptIn(list, "stock_item", u.Items)
	list = keptIn(list, "supplier", u.Supplier)
	list = keptIn(list, "delivery_planned", u.Planned)
	list = keptIn(list, "order_sent", u.Orders)
	list = keptIn(list, "delivery", u.Deliveries)
	list = keptIn(list, "stock_count", u.Counts)
	list = keptIn(list, "stock_used", u.Used)
	list = keptIn(list, "substitute", u.Substitutes)
	list = keptIn(list, "quarantine", u.Quarantines)
	for _, r := range u.Recalls {
		list = keptIn(list, "recall", []Dated[Recall]{r.Dated})
	}
	list = keptIn(list, "recall_closed", u.Closings)
	slices.SortStableFunc(list, func(a, b Kept) int { return b.At.Compare(a.At) })
	return list
}

func keptIn[T any](list []Kept, kind string, from []Dated[T]) []Kept {
	for i := range from {
		d := &from[i]
		list = append(list, Kept{ID: d.ID, Kind: kind, At: d.At, Written: d.Written, By: d.By, Struck: d.Struck, Body: &d.Value})
	}
	return list
}

// FindKept gives one of them by its id.
func (u *Upkeep) FindKept(id string) (Kept, bool) {
	for _, k := range u.Kept() {
		if k.ID == id {
			return k, true
		}
	}
	return Kept{}, false
}
