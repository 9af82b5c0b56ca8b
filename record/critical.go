package record

// A Critical is a critical result about which nobody has been rung yet, by
// what is written down.
type Critical struct {
	Blood  *Blood
	Result BloodResult
	Judged BloodVerdict
}

// CriticalOpen lists critical results, newest first, about which nothing is
// written of whom was rung. Each stays in the list until an entry of kind
// blood_call names it; there is no other way to put it away.
func (m *Member) CriticalOpen() []Critical {
	var open []Critical
	for i := len(m.Bloods) - 1; i >= 0; i-- {
		b := m.Bloods[i]
		if !b.Counts() {
			continue
		}
		for _, r := range b.Value.Results {
			j := m.LimitsAt(r.Analyte, b.Since).Judge(r, b.Value.Timing)
			if j.Critical != "" && !m.called(b, r) {
				open = append(open, Critical{b, r, j})
			}
		}
	}
	return open
}

// called reports whether a call about this result is written down: of the sample
// as it stands, or of an earlier version in which the result was the same.
func (m *Member) called(b *Blood, r BloodResult) bool {
	for {
		for _, c := range m.Calls {
			if c.Struck == nil && c.Value.Bloods == b.ID && c.Value.Analyte == r.Analyte {
				return true
			}
		}
		before := m.Blood(b.Corrects)
		if b.Corrects == "" || before == nil {
			return false
		}
		old := before.Value.Find(r.Analyte)
		if old == nil || old.Op != r.Op || old.Value != r.Value || old.Unit != r.Unit {
			return false
		}
		b = before
	}
}

// Words say what is critical and what a person must know of it.
func (c Critical) Words() string {
	s := AnalyteName(c.Result.Analyte) + " " + c.Result.Text() + ": " + c.Judged.CriticalWords + "."
	if c.Blood.Value.Haemolysed {
		s += " The laboratory marked the sample as haemolysed; it may read high, and it may be true."
	}
	if c.Blood.Value.Timing == Post {
		s += " It was drawn after the session."
	}
	return s
}

// Whose says who set the limit that makes it critical.
func (c Critical) Whose() string { return "That limit is " + c.Judged.CriticalWhose + "." }
