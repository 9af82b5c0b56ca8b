package record

import (
	"maps"
	"slices"
)

// lotPlaces say where each lot stands in the deliveries and the counts, so that a start
// line does not go through years of them.
type lotPlaces struct{ delivered, counted lotIndex }

// A lotIndex lists by [lotKey] where a lot stands in a list of entries; lots without a
// code are left out.
type lotIndex map[string][]lotPlace

type lotPlace struct{ entry, line int }

// lotsAfter is the index of a list once an entry came into it: the last one is added, and
// when that is not the new one, all are gathered again.
func lotsAfter[T any](x lotIndex, list []Dated[T], newest string, lots func(T) []string) lotIndex {
	from := len(list) - 1
	if list[from].ID != newest || x == nil {
		x, from = lotIndex{}, 0
	}
	for i := from; i < len(list); i++ {
		for j, code := range lots(list[i].Value) {
			if code != "" {
				x[lotKey(code)] = append(x[lotKey(code)], lotPlace{i, j})
			}
		}
	}
	return x
}

// clone gives places that can be added to without a trace in these.
func (p lotPlaces) clone() lotPlaces { return lotPlaces{p.delivered.clone(), p.counted.clone()} }

func (x lotIndex) clone() lotIndex {
	own := maps.Clone(x)
	for key, at := range own {
		own[key] = slices.Clip(at)
	}
	return own
}

func (d Delivery) lots() (codes []string) {
	for _, l := range d.Lines {
		codes = append(codes, l.Lot)
	}
	return codes
}

func (c StockCount) lots() (codes []string) {
	for _, l := range c.Lots {
		codes = append(codes, l.Lot)
	}
	return codes
}
