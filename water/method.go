package water

import (
	"fmt"
	"slices"
	"strings"

	"ebbline/unit"
)

// A CultureMethod is how a laboratory counted: it decides the count as much as
// the water does.
type CultureMethod struct {
	Medium   string           `json:"medium"` // "R2A", "TGEA", "TSA"
	Celsius  unit.Temperature `json:"temperature_c"`
	Days     float64          `json:"days"`
	VolumeML float64          `json:"volume_ml"`          // of water plated or filtered
	Dilution float64          `json:"dilution,omitempty"` // 10 for one part in ten; 0 or 1: undiluted
}

// Least is the smallest count the method can tell from none: one colony in the
// volume that was looked at, in CFU/mL. It is 0 when the volume is not known.
//
//	least = dilution / volume
func (m CultureMethod) Least() float64 {
	if m.VolumeML <= 0 {
		return 0
	}
	return max(m.Dilution, 1) / m.VolumeML
}

// Sensitive reports whether the method is the one that finds the most in water:
// R2A or TGEA, 17 to 23 °C, 7 days. Source: R2A at 17–23 °C for 7 days as read
// in a published comparison; TGEA from ISO 23500-3 and -5 (from memory).
func (m CultureMethod) Sensitive() bool {
	medium := strings.ToUpper(strings.TrimSpace(m.Medium))
	return (medium == "R2A" || medium == "TGEA") && m.Celsius >= 170 && m.Celsius <= 230 && m.Days >= 7
}

// Check remarks on what a count by this method cannot show: a volume too small
// for the limit, a result finer than the volume allows, a medium, warmth or
// time that finds less.
func (m CultureMethod) Check(r Result, l Limit) []unit.Caution {
	var list []unit.Caution
	add := func(code, format string, args ...any) {
		list = append(list, unit.Caution{Code: code, Text: fmt.Sprintf(format, args...)})
	}
	least := m.Least()
	switch {
	case least == 0:
		add("volume_missing", "The volume that was plated is not given: ask the laboratory, since a count of none means less than one colony in that volume.")
	case least > l.Max || least == l.Max && !l.Exclusive:
		add("volume_too_small", "One colony in %s mL is %s CFU/mL: this method cannot show that the limit of %s is kept.", number(m.VolumeML), number(least), number(l.Max))
	}
	if r.Op == Less && least > 0 && r.Value < least {
		add("finer_than_volume", "<%s is finer than one colony in %s mL (%s CFU/mL): ask the laboratory.", number(r.Value), number(m.VolumeML), number(least))
	}
	if !m.Sensitive() {
		add("method_finds_less", "%s at %s for %s days finds less than R2A or TGEA at 17–23 °C for 7 days.", m.Medium, m.Celsius.Text(), number(m.Days))
	}
	return list
}

// same reports whether two counts may stand on one line.
func (m CultureMethod) same(o CultureMethod) bool {
	return strings.EqualFold(strings.TrimSpace(m.Medium), strings.TrimSpace(o.Medium)) &&
		m.Celsius == o.Celsius && m.Days == o.Days && m.VolumeML == o.VolumeML && max(m.Dilution, 1) == max(o.Dilution, 1)
}

// A Counted is one count with its day, place and method.
type Counted struct {
	On     unit.Date
	Point  string
	Method CultureMethod
	Result Result
}

// SplitByMethod parts counts into series that may be compared: the same
// substance, place and method, each in order of day. Results of different
// methods never share a line.
func SplitByMethod(all []Counted) [][]Counted {
	var series [][]Counted
	sorted := slices.Clone(all)
	slices.SortStableFunc(sorted, func(a, b Counted) int { return a.On.Sub(b.On) })
	for _, c := range sorted {
		i := slices.IndexFunc(series, func(s []Counted) bool {
			return s[0].Result.What == c.Result.What && s[0].Point == c.Point && s[0].Method.same(c.Method)
		})
		if i < 0 {
			series = append(series, nil)
			i = len(series) - 1
		}
		series[i] = append(series[i], c)
	}
	return series
}
