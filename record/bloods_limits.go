package record

import (
	"strconv"
	"strings"
	"time"

	"ebbline/unit"
)

// A BloodLimit is one bound of an analyte, in its first unit, and whose it is.
type BloodLimit struct {
	At         float64
	TimesUpper bool // At counts the laboratory's own upper limit
	SetBy      string
	SetOn      unit.Date
	Source     string // of the program's own figure; empty for the unit's
}

// Own reports whether the figure is the program's own and not the unit's.
func (l *BloodLimit) Own() bool { return l.Source != "" }

// BloodLimits are the bounds of one analyte. A value equal to Low or High is
// inside. A value below CriticalLow, or at or above CriticalHigh, is to be rung
// about. A bound that nobody set is nil.
type BloodLimits struct{ Low, High, CriticalLow, CriticalHigh *BloodLimit }

// LimitsAt gives the bounds of an analyte as they stood at a moment: what the
// unit had set by then, and the program's own figure where it had set none.
// Later changes leave earlier judgements as they were.
func (l *LabBook) LimitsAt(analyte string, at time.Time) BloodLimits {
	limits := ownLimits(analyte)
	for i := len(l.Ranges) - 1; i >= 0; i-- {
		r := &l.Ranges[i]
		if r.Struck != nil || r.Since.After(at) || r.Value.Analyte != analyte {
			continue
		}
		a, ok := unit.FindAnalyte(analyte)
		if !ok {
			break
		}
		set := func(to **BloodLimit, p unit.Printed) {
			if v, err := a.Canonical(p.Float(), r.Value.Unit); p != "" && err == nil {
				*to = &BloodLimit{At: v, SetBy: r.Value.SetBy, SetOn: r.Value.SetOn}
			}
		}
		set(&limits.Low, r.Value.Low)
		set(&limits.High, r.Value.High)
		set(&limits.CriticalLow, r.Value.CriticalLow)
		set(&limits.CriticalHigh, r.Value.CriticalHigh)
		break
	}
	return limits
}

// The verdicts of [BloodLimits.Judge].
const (
	Inside     = "inside"
	Below      = "below"
	Above      = "above"
	CannotTell = "cannot tell"
	NoLimits   = "no limits"
)

// A BloodVerdict is a result held against its bounds.
type BloodVerdict struct {
	Verdict string
	Words   string // the verdict as a sentence part, with whose bounds they are
	// Critical is "high", "low", or "may be" for a bound that reaches into the
	// critical; empty when it is not.
	Critical      string
	CriticalWords string // which bound
	CriticalWhose string // who set it
}

// Outside reports whether the result lies below or above.
func (j BloodVerdict) Outside() bool { return j.Verdict == Below || j.Verdict == Above }

// Judge holds a result against the bounds. A "<" or ">" result is judged only
// as far as every value it may stand for is on the same side. Ranges are those
// of samples before a session; one drawn after it is held against the critical
// bounds only.
func (b BloodLimits) Judge(r BloodResult, timing string) BloodVerdict {
	v, ok := r.Canonical()
	if !ok {
		return BloodVerdict{Verdict: CannotTell, Words: "cannot be told"}
	}
	var j BloodVerdict
	b.critical(&j, r, v)
	if timing == Post {
		j.Verdict, j.Words = NoLimits, "drawn after the session: ranges are of samples before it"
		return j
	}
	low, high, why := b.sides(r)
	if why != "" {
		j.Verdict, j.Words = CannotTell, why
		return j
	}
	switch {
	case low == nil && high == nil:
		j.Verdict, j.Words = NoLimits, "no range set"
		return j
	case high != nil && (v > *high && r.Op != "<" || v >= *high && r.Op == ">"):
		j.Verdict = Above
	case low != nil && (v < *low && r.Op != ">" || v <= *low && r.Op == "<"):
		j.Verdict = Below
	case r.Op == ">" && (high != nil || v < *low) || r.Op == "<" && (low != nil || v > *high):
		j.Verdict, j.Words = CannotTell, "cannot be told: the laboratory gave only a bound"
		return j
	default:
		j.Verdict = Inside
	}
	j.Words = b.words(j.Verdict)
	return j
}

// sides gives the bounds of the range as numbers.
func (b BloodLimits) sides(r BloodResult) (low, high *float64, why string) {
	read := func(l *BloodLimit) *float64 {
		if l == nil {
			return nil
		}
		at := l.At
		if l.TimesUpper {
			upper, ok := r.UpperCanonical()
			if !ok {
				why = "cannot be told: the range counts the laboratory’s upper limit, which is not written down"
				return nil
			}
			at *= upper
		}
		return &at
	}
	return read(b.Low), read(b.High), why
}

// reached reports whether a result is critical, as [BloodLimits.Judge] finds, without
// words: nearly none is, and every start line looks at all of them.
func (b BloodLimits) reached(r BloodResult) bool {
	if b.CriticalLow == nil && b.CriticalHigh == nil {
		return false
	}
	v, ok := r.Canonical()
	var j BloodVerdict
	if ok {
		b.critical(&j, r, v)
	}
	return j.Critical != ""
}

func (b BloodLimits) critical(j *BloodVerdict, r BloodResult, v float64) {
	side := func(name string, l *BloodLimit, words string) {
		j.Critical = name
		j.CriticalWords, j.CriticalWhose = words+" "+figure(l.At, r), l.whose()
	}
	switch {
	case b.CriticalHigh != nil && v >= b.CriticalHigh.At && r.Op != "<":
		side("high", b.CriticalHigh, "at or above")
	case b.CriticalLow != nil && v < b.CriticalLow.At && r.Op != ">":
		side("low", b.CriticalLow, "below")
	case b.CriticalHigh != nil && r.Op == ">":
		side("may be", b.CriticalHigh, "may be at or above")
	case b.CriticalLow != nil && r.Op == "<":
		side("may be", b.CriticalLow, "may be below")
	}
}

// figure writes a bound in the unit of a result.
func figure(canonical float64, r BloodResult) string {
	a, _ := unit.FindAnalyte(r.Analyte)
	v, err := a.Convert(canonical, a.Units[0].Symbol, r.Unit)
	if err != nil {
		return strconv.FormatFloat(canonical, 'g', 4, 64) + "\u00a0" + a.Units[0].Symbol
	}
	return strconv.FormatFloat(v, 'g', 4, 64) + "\u00a0" + r.Unit
}

func (l *BloodLimit) whose() string {
	if l.Own() {
		return "the program’s own figure, not set by your unit (" + l.Source + ")"
	}
	return "set by " + theUnit(l.SetOn)
}

// words say where a value lies and by whose bounds.
func (b BloodLimits) words(verdict string) string {
	where := "inside"
	if verdict != Inside {
		where = "outside"
	}
	unitSet, own := b.setters()
	over := map[string]string{Below: ": below", Above: ": above"}[verdict]
	switch {
	case own == nil:
		return where + " the limits your unit set on " + unitSet.SetOn.Long() + over
	case unitSet == nil:
		return where + " the range of " + own.Source + ", not set by your unit" + over
	}
	return where + " the limits, one side set by " + theUnit(unitSet.SetOn) + ", the other that of " + own.Source + over
}

// setters gives a side of the range that the unit set, and one that is the
// program's own; nil where there is none.
func (b BloodLimits) setters() (unitSet, own *BloodLimit) {
	for _, l := range []*BloodLimit{b.Low, b.High} {
		switch {
		case l == nil:
		case l.Own():
			own = l
		default:
			unitSet = l
		}
	}
	return unitSet, own
}

// Whose says in few words who set the range.
func (b BloodLimits) Whose() string {
	switch unitSet, own := b.setters(); {
	case own != nil && unitSet != nil:
		return "partly set by " + theUnit(unitSet.SetOn)
	case unitSet != nil:
		return "set by " + theUnit(unitSet.SetOn)
	case own != nil:
		return "not set by your unit"
	}
	return ""
}

// Words say what the range is, in the unit of a result: "4 to 6 mmol/L".
func (b BloodLimits) Words(r BloodResult) string {
	one := func(l *BloodLimit) string {
		if l.TimesUpper {
			return strconv.FormatFloat(l.At, 'g', 4, 64) + " ×"
		}
		return strings.TrimSuffix(figure(l.At, r), "\u00a0"+r.Unit)
	}
	tail := "\u00a0" + r.Unit
	if b.Low != nil && b.Low.TimesUpper || b.High != nil && b.High.TimesUpper {
		tail = " the laboratory’s upper limit"
	}
	switch {
	case b.Low != nil && b.High != nil:
		return one(b.Low) + " to " + one(b.High) + tail
	case b.Low != nil:
		return "at least " + one(b.Low) + tail
	case b.High != nil:
		return "at most " + one(b.High) + tail
	}
	return ""
}
