package household

import (
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/stock"
	"ebbline/unit"
)

// A Starting is an item to begin the shelf's list with, and why so many of it.
type Starting struct {
	record.StockItem
	Why string
}

// StartingItems are what a session uses by the prescriptions in force and are
// not on the list of the shelf yet: a list to begin from. Of two people on one
// machine the one who uses more of an item counts. The names that the steps of
// setting up use are among an item's other names.
func StartingItems(h *record.Household, now time.Time) []Starting {
	var usual []stock.Usual
	at := map[string]int{}
	for _, p := range prescribed(h, unit.DateOf(now)) {
		for _, u := range stock.UsualPerSession(p) {
			i, there := at[u.Item]
			if !there {
				at[u.Item] = len(usual)
				usual = append(usual, u)
			} else if usual[i].PerSession < u.PerSession {
				usual[i] = u
			}
		}
	}
	var list []Starting
	taken := map[string]bool{} // other names that stand on the list above
	for _, u := range usual {
		if _, there := h.Upkeep.Item(u.Item); there {
			continue
		}
		it := record.StockItem{Item: u.Item, Pack: u.Pack, Storage: "room"}
		var also []string
		for name := range strings.SplitSeq(u.Also, ",") {
			name = strings.TrimSpace(name)
			if _, there := h.Upkeep.Item(name); name != "" && !there && !taken[name] {
				also, taken[name] = append(also, name), true
			}
		}
		it.Also = strings.Join(also, ", ")
		if u.FrostFree {
			it.Storage = "frost_free"
		}
		if u.PerSession > 0 {
			it.PerSession = &u.PerSession
		}
		if u.PerCycle > 0 {
			it.PerCycle = &u.PerCycle
		}
		list = append(list, Starting{it, u.Why})
	}
	return list
}

// prescribed reads off each prescription in force what it says of supplies; one
// that says nothing where none is in force.
func prescribed(h *record.Household, day unit.Date) []stock.Prescribed {
	var list []stock.Prescribed
	for _, m := range h.People {
		if rx := m.Prescription(day); rx != nil {
			list = append(list, suppliesOf(&rx.Value))
		}
	}
	if len(list) == 0 {
		list = append(list, stock.Prescribed{})
	}
	return list
}

func suppliesOf(rx *session.Prescription) stock.Prescribed {
	p := stock.Prescribed{Dialyser: rx.Dialyser, Catheter: rx.ByCatheter(), Lock: rx.LockName != "", GaugeA: rx.GaugeA, GaugeV: rx.GaugeV, Heparin: rx.Heparin, Anaesthetic: rx.Anaesthetic != nil}
	switch {
	case rx.Dialysate != nil:
		p.Bagged, p.DialysateL = true, float64(*rx.Dialysate)/1000
	case rx.Length != nil && rx.DialFlow != nil:
		p.DialysateL = float64(*rx.DialFlow) * float64(*rx.Length) / 1000
	}
	return p
}
