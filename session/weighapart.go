package session

import "ebbline/unit"

// weighingsApart is how far two weighings of one evening, without clothes, may lie
// apart: a meal and a drink explain less. Ours.
const weighingsApart unit.Mass = 1000

// weightsApart finds the weighing of this evening that lies farthest from the one
// that counts. One of the two is wrong, and the plan rests on one of them.
func (l startLine) weightsApart(v *verdict, b *WeighIn, e *Event) {
	var other *WeighIn
	var then *Event
	bare := func(w *WeighIn) unit.Mass { return w.Weight - w.Clothing }
	most := weighingsApart
	Each(l.s, func(w *WeighIn, at *Event) {
		if at == e || at.At.After(l.at) || at.Missing["weight_kg"] != "" {
			return
		}
		apart := bare(w) - bare(b)
		if apart < 0 {
			apart = -apart
		}
		if apart > most {
			other, then, most = w, at, apart
		}
	})
	if other != nil {
		v.look(e, "weight_apart", other.Weight.Text(), clock(then.At), b.Weight.Text(), clock(e.At), most.Text())
	}
}
