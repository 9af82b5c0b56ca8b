package access

import (
	"fmt"

	"ebbline/unit"
)

// gauges gives the blood flow that each needle commonly serves, in mL/min.
// Source: common practice (a web guide, of low grade; 14 G from memory).
var gauges = map[int]struct{ lo, hi unit.Flow }{
	17: {200, 250},
	16: {250, 350},
	15: {350, 450},
	14: {450, 600},
}

// GaugeFlow gives the range of blood flow that a needle of the gauge commonly
// serves; false for a gauge that is not known here.
func GaugeFlow(gauge int) (lo, hi unit.Flow, known bool) {
	g, known := gauges[gauge]
	return g.lo, g.hi, known
}

// FlowForGauge remarks on a blood flow above what the thinner of the two
// needles commonly serves.
func FlowForGauge(arterial, venous int, flow unit.Flow) []unit.Caution {
	thin := max(arterial, venous) // the higher the gauge, the thinner
	g, known := gauges[thin]
	if !known || flow <= g.hi {
		return nil
	}
	return []unit.Caution{{Code: "flow_above_gauge",
		Text: fmt.Sprintf("A %d G needle commonly serves up to %s; %s is set (common practice).", thin, g.hi.Text(), flow.Text())}}
}

// Lowest pre-pump pressure that guidelines accept. Source: KDOQI 2006, not
// below −200 to −250 mmHg (from memory).
const lowestArterial unit.Pressure = -250

// ArterialPressure remarks on a pre-pump pressure below −250 mmHg, and on one
// above zero, which is commonly a lost minus sign.
func ArterialPressure(p unit.Pressure) []unit.Caution {
	switch {
	case p < lowestArterial:
		return []unit.Caution{{Code: "arterial_low", Text: fmt.Sprintf("An arterial pressure of %s is below %s: look at the needle and the line, then the blood flow (KDOQI 2006, from memory).", p.Text(), lowestArterial.Text())}}
	case p > 0:
		return []unit.Caution{{Code: "arterial_sign", Text: fmt.Sprintf("An arterial pressure of %s: is it minus?", p.Text())}}
	}
	return nil
}
