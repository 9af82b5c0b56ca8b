package record

import (
	"maps"
	"reflect"
	"slices"

	"ebbline/session"
)

// copy gives a household that entries can be folded into without a trace in this
// one. What a strike or a correction never changes – the words of entries, the logs
// of sessions that are over – both hold together.
func (h *Household) copy() *Household {
	c := *h
	c.Unit, c.Machine = slices.Clone(h.Unit), slices.Clone(h.Machine)
	c.entries, c.newer, c.uses, c.undone = maps.Clone(h.entries), maps.Clone(h.newer), maps.Clone(h.uses), maps.Clone(h.undone)
	ownLists(reflect.ValueOf(&c.Upkeep).Elem())
	c.Upkeep.lotsIn = h.Upkeep.lotsIn.clone()
	c.Upkeep.counted = nil // counted again where it is asked for
	if h.Upkeep.counted != nil {
		c.Upkeep.counted = map[string][]int{}
		for item, at := range h.Upkeep.counted {
			c.Upkeep.counted[item] = slices.Clone(at)
		}
	}
	c.People, c.byPerson, c.bySession = nil, map[string]*Member{}, map[string]*session.Session{}
	for _, m := range h.People {
		one := *m
		one.house, one.past = &c, nil // gathered again
		ownLists(reflect.ValueOf(&one).Elem())
		one.papers, one.seen = slices.Clone(m.papers), slices.Clone(m.seen)
		for _, s := range one.Sessions {
			s.Log = slices.Clone(s.Log)
			if rx := one.Rx(s.PrescriptionID); rx != nil {
				s.Rx = &rx.Value
			}
			c.bySession[s.ID] = s
		}
		c.People, c.byPerson[m.ID] = append(c.People, &one), &one
	}
	return &c
}

// ownLists gives each exported list of a struct, those of embedded structs too, an
// array of its own; lists of pointers point to things of their own.
func ownLists(v reflect.Value) {
	for i := range v.NumField() {
		f := v.Field(i)
		switch {
		case !v.Type().Field(i).IsExported():
		case f.Kind() == reflect.Struct && v.Type().Field(i).Anonymous:
			ownLists(f)
		case f.Kind() == reflect.Slice:
			own := reflect.MakeSlice(f.Type(), f.Len(), f.Len())
			reflect.Copy(own, f)
			for j := range own.Len() {
				if at := own.Index(j); at.Kind() == reflect.Pointer && !at.IsNil() {
					thing := reflect.New(at.Type().Elem())
					thing.Elem().Set(at.Elem())
					at.Set(thing)
				}
			}
			f.Set(own)
		}
	}
}
