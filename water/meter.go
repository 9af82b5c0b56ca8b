package water

import (
	"fmt"

	"ebbline/unit"
)

// A MeterCheck is the independent check of the dialysis fluid: the machine's
// figures beside those of one's own meter, each read afresh.
type MeterCheck struct {
	Set       unit.Conductivity `json:"set_ms_cm"`
	Machine   unit.Conductivity `json:"machine_ms_cm"`
	Meter     unit.Conductivity `json:"meter_ms_cm"`
	MachinePH unit.PH           `json:"machine_ph,omitzero"` // 0: the machine shows none
	MeterPH   unit.PH           `json:"meter_ph,omitzero"`   // 0: not measured
}

// A MeterRule is how far the figures may lie apart.
type MeterRule struct {
	Apart   unit.Conductivity // machine from meter
	FromSet float64           // share of the set value, for machine and meter
	PHApart unit.PH
	Setter  string
}

// DefaultMeterRule is 0.3 mS/cm between machine and meter (units set 0.2 to
// 0.4, from memory), 5 % of the set value (teaching text, of low grade) and
// 0.2 pH (from memory).
func DefaultMeterRule() MeterRule {
	return MeterRule{Apart: 30, FromSet: 0.05, PHApart: 20, Setter: "program default"}
}

// Check says what stands in the way: nothing, or one caution for each figure
// that does not agree. A difference on the bound agrees. Machine and meter
// must both be given: the machine's own reading is not the whole check. A
// sodium is never reckoned from a conductivity, because makers' temperature
// coefficients differ.
func (r MeterRule) Check(c MeterCheck) []unit.Caution {
	var list []unit.Caution
	add := func(code, format string, args ...any) {
		list = append(list, unit.Caution{Code: code, Text: fmt.Sprintf(format, args...) + " (" + r.Setter + ")"})
	}
	if c.Machine <= 0 || c.Meter <= 0 {
		add("conductivity_missing", "Conductivity is needed from the machine and from your own meter")
		return list
	}
	if d := c.Machine - c.Meter; max(d, -d) > r.Apart {
		add("meter_disagrees", "Machine %s and meter %s differ by more than %s: stop and find out which is wrong", c.Machine.Text(), c.Meter.Text(), r.Apart.Text())
	}
	if c.Set > 0 {
		for _, f := range []struct {
			name string
			v    unit.Conductivity
		}{{"machine", c.Machine}, {"meter", c.Meter}} {
			if d := (f.v - c.Set).Float(); max(d, -d) > r.FromSet*c.Set.Float()+1e-9 {
				add(f.name+"_off_set", "The %s shows %s, more than %.0f %% from the set %s", f.name, f.v.Text(), r.FromSet*100, c.Set.Text())
			}
		}
	}
	if c.MachinePH > 0 && c.MeterPH > 0 {
		if d := c.MachinePH - c.MeterPH; max(d, -d) > r.PHApart {
			add("ph_disagrees", "Machine pH %s and meter pH %s differ by more than %s", c.MachinePH, c.MeterPH, r.PHApart)
		}
	}
	return list
}
