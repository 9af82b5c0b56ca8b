package report

import (
	"fmt"
	"strings"
	"time"

	"ebbline/session"
)

// Where the fluid of a session is from, and what that makes of a blank.

// batch names the batch of the session with what was tested of it; a field that is left
// out where no batch was named.
func (m *maker) batch() Field {
	e := m.last("batch_used")
	if e == nil && len(m.marks("batch_used")) == 0 {
		return Field{}
	}
	f := Field{Label: "Batch", At: m.at("batch_used"), Value: Value{Marks: m.marks("batch_used")}}
	b, named := session.BatchNow(m.s, m.History, m.standsAt())
	switch {
	case b != nil:
		parts := []string{b.Words(), b.Until()}
		if b.K != nil && b.Ca != nil {
			parts = append(parts, fmt.Sprintf("K %s, Ca %s", b.K.String(), b.Ca.String()))
		}
		if b.Lot != "" {
			parts = append(parts, "lot "+b.Lot)
		}
		f.Value.Text = joined(", ", parts...)
		for _, words := range b.TestsUntil(m.standsAt()) {
			f.Value.Text += "; " + words
		}
	case named != nil:
		f.Value.Gap = "struck out, or of another machine"
	default:
		f.Value.Gap = "see notes"
	}
	return f
}

// standsAt is the moment of the start line: the beginning of the treatment, or now.
func (m *maker) standsAt() time.Time {
	if m.began.IsZero() {
		return m.Now
	}
	return m.began
}

// ofFluid says why a value is not there where the fluid explains it: ready bags have no
// such test, and a batch may have been tested before.
func (m *maker) ofFluid(kind string, v Value) Value {
	if !v.Blank() || m.blank {
		return v
	}
	switch m.s.Machine.Fluid() {
	case session.FluidBags:
		if kind != "bath_label" {
			v.Gap = "does not apply, ready bags"
		}
	case session.FluidBatch:
		b, _ := session.BatchNow(m.s, m.History, m.standsAt())
		if b == nil {
			return v
		}
		tested := kind == "bath_label" && b.K != nil && b.Ca != nil
		for i := range b.Log {
			tested = tested || b.Log[i].Kind == kind && !b.Log[i].At.After(m.standsAt())
		}
		if tested {
			v.Gap = "see the batch"
		}
	}
	return v
}

// ofDialysis leaves a field about the dialysis fluid out where fluid is only removed and
// nothing is written of it.
func (m *maker) ofDialysis(kind string, f Field) Field {
	if m.s.RemovalOnly() && m.last(kind) == nil && len(m.marks(kind)) == 0 {
		return Field{}
	}
	return f
}

// bagsSeen reports whether something is written of a bag, whatever the machine is called.
func (m *maker) bagsSeen() (seen bool) {
	session.Each(m.s, func(b *session.BathLabel, _ *session.Event) {
		seen = seen || b.Seal != "" || b.Clear != ""
	})
	return seen
}

// bags are the labels of all ready bags of the session.
func (m *maker) bags() string {
	var parts []string
	session.Each(m.s, func(b *session.BathLabel, e *session.Event) {
		one := []string{fmt.Sprintf("K %s, Ca %s", text(fieldOf("bath_label", "label_k_mmol_l"), b), text(fieldOf("bath_label", "label_ca_mmol_l"), b)), lotOf(e)}
		for _, seen := range []struct{ value, yes, no string }{{b.Seal, "seal whole", "SEAL NOT WHOLE"}, {b.Clear, "clear", "NOT CLEAR"}} {
			switch seen.value {
			case session.Yes:
				one = append(one, seen.yes)
			case session.No:
				one = append(one, seen.no)
			}
		}
		if b.Replaces != "" {
			one = append(one, "in place of bag "+b.Replaces)
		}
		parts = append(parts, joined(", ", one...))
	})
	return strings.Join(parts, "; ")
}
