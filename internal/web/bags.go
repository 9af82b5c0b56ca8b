package web

import (
	"ebbline/record"
	"ebbline/session"
)

// ofFluid leaves out of a form what is asked of ready bags only, and offers on the label
// of a bag those that are not right: which of them this one replaces.
func (f form) ofFluid(v visit) form {
	switch {
	case f.Kind.Name != "bath_label":
		return f
	case v.session.Machine.Fluid() != session.FluidBags:
		return f.without("seal_whole", "clear", "replaces")
	}
	bad := session.BadBags(v.session, v.member.History(v.session), v.now)
	if len(bad) == 0 {
		return f.without("replaces")
	}
	for i := range f.Inputs {
		in := &f.Inputs[i]
		if in.Key != "replaces" {
			continue
		}
		in.Label, in.Doc, in.Choices = "In place of a bag that is not right", "Tap it once that bag is off and put aside.", nil
		for _, one := range bad {
			in.Choices = append(in.Choices, record.Choice{Value: one.Lot, Label: "Bag " + one.Lot + ": it is off"})
		}
		in.Choices = append(in.Choices, record.Choice{Label: "No: one more bag"})
	}
	return f
}

// bagTap puts the label of another bag among the events of a session with ready bags.
func (b *runningBody) bagTap(v visit, base string) {
	if v.session.Machine.Fluid() != session.FluidBags {
		return
	}
	kind, _ := record.Find("bath_label")
	b.Taps = append(b.Taps, tap{Kind: kind, Title: "Another bag", Link: base + "/bath_label"})
}
