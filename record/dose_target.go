package record

import (
	"time"

	"ebbline/unit"
)

// DoseTarget is the least dose that the unit wants of one measure.
type DoseTarget struct {
	Measure string       `json:"measure"` // stdktv, spktv, ektv or urr_percent
	Minimum unit.Printed `json:"minimum"`
	SetBy   string       `json:"set_by"`
	SetOn   unit.Date    `json:"set_on"`
}

func doseTargetKind() *Kind {
	return of[DoseTarget](Kind{Name: "dose_target", Title: "Dose wanted by the unit", Check: checkDoseTarget,
		Doc: "The least dose the unit wants, of one measure. A later one takes the place of the earlier of the same measure."},
		field("measure", "Measure").from("stdktv", "standard Kt/V a week", "spktv", "single-pool Kt/V of a session", "ektv", "equilibrated Kt/V of a session", "urr_percent", "URR in per cent"),
		field("minimum", "At least"), field("set_by", "Set by").long(80), field("set_on", "Set on"),
	)
}

// doseBounds are what a minimum can be: outside, the measure or the point is
// wrong.
var doseBounds = map[string]Range{"stdktv": {0.5, 7}, "spktv": {0.2, 4}, "ektv": {0.2, 4}, "urr_percent": {20, 90}}

func checkDoseTarget(c *Checker) {
	b := c.Entry.Body.(*DoseTarget)
	c.days(b.SetOn, "set_on")
	if in, ok := doseBounds[b.Measure]; ok && (b.Minimum.Float() < in.Lo || b.Minimum.Float() > in.Hi) {
		c.Refuse("minimum", "%s is not accepted for this measure: needs %s to %s", b.Minimum, plain(in.Lo), plain(in.Hi))
	}
}

// TargetAt returns what the unit wanted of a measure at a moment, or nil.
func (l *LabBook) TargetAt(measure string, at time.Time) *DoseTarget {
	for i := len(l.Targets) - 1; i >= 0; i-- {
		t := &l.Targets[i]
		if t.Struck == nil && !t.Since.After(at) && t.Value.Measure == measure {
			return &t.Value
		}
	}
	return nil
}
