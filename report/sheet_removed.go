package report

import (
	"ebbline/session"
	"ebbline/unit"
)

// removed is the total as it was typed; when the machine's count began again under
// way, or the substitution fluid is in it, what came off in all comes first.
func (m *maker) removed() Value {
	v := m.value("came_off", "removed_ml")
	off, ended := session.Last[session.CameOff](m.s)
	if off == nil || off.Removed == nil {
		return v
	}
	total, means := session.RemovedInAll(m.s), m.s.RemovedShows()
	switch {
	case total == nil && means == session.RemovedGross && off.Given != nil:
		v.Text, v.Unit = "cannot be: "+off.Removed.Text()+" with "+off.Given.Text()+" of substitution fluid in it", ""
	case total == nil && means == session.RemovedGross:
		v.Text, v.Unit = "not known: "+off.Removed.Text()+" with the substitution fluid in it", ""
	case total == nil:
		v.Text, v.Unit = off.Removed.Text()+" on the machine; whether the substitution fluid is in it is not said", ""
	case means == session.RemovedGross && session.Counted(m.s, ended.At).BeganAgain():
		v.Text, v.Unit = total.Text()+" in all, "+off.Removed.Text()+" with the substitution fluid since the count began again", ""
	case means == session.RemovedGross:
		v.Text, v.Unit = total.Text()+", "+off.Removed.Text()+" with the substitution fluid", ""
	case *total != *off.Removed:
		v.Text, v.Unit = total.Text()+" in all, "+off.Removed.Text()+" since the count began again", ""
	}
	return v
}

// substituted is the substitution fluid in all, as typed at the end or read last, and
// where it was ordered to go.
func (m *maker) substituted() Value {
	c := session.Counted(m.s, m.present())
	if m.blank || c.GivenAt.IsZero() {
		v := m.value("came_off", "substitution_l")
		if v.Blank() {
			v.Unit = "L"
		}
		return v
	}
	v := Value{Text: unit.Litres(c.Given).String(), Unit: "L"}
	if !c.GivenAt.Equal(m.ended) {
		v.Unit += ", read at " + m.clock(c.GivenAt)
	}
	return v
}

// washedBack is the volume that gave the blood back, and of what where that was said.
func (m *maker) washedBack() Value {
	v := m.value("came_off", "washback_ml")
	if off, _ := session.Last[session.CameOff](m.s); off != nil && off.Washback != nil && off.WashbackWith != "" {
		v.Unit += ", " + off.WashedWith()
	}
	return v
}
