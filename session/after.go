package session

import "ebbline/unit"

// CameOff is the end of treatment: the blood washed back, or not.
type CameOff struct {
	Washback *unit.Volume `json:"washback_ml,omitempty"` // nil when the blood was not returned
	Removed  *unit.Volume `json:"removed_ml,omitempty"`  // the machine's own total, typed from it
	Returned string       `json:"returned"`              // all, part or none
	Why      string       `json:"why,omitempty"`         // when it ended early

	Given        *unit.Litres `json:"substitution_l,omitempty"` // of haemodiafiltration, in all
	WashbackWith string       `json:"washback_with,omitempty"`  // saline or machine_fluid; blank is saline
}

// Holding is how long each needle site was pressed.
type Holding struct {
	Arterial *unit.Minutes `json:"arterial_min,omitempty"`
	Venous   *unit.Minutes `json:"venous_min,omitempty"`
	Thrill   string        `json:"thrill,omitempty"` // felt afterwards: present or absent
}

// VitalsAfter are the blood pressures lying and then standing.
type VitalsAfter struct {
	LieSystolic    *unit.Pressure    `json:"lying_systolic_mmhg,omitempty"`
	LieDiastolic   *unit.Pressure    `json:"lying_diastolic_mmhg,omitempty"`
	StandSystolic  *unit.Pressure    `json:"standing_systolic_mmhg,omitempty"`
	StandDiastolic *unit.Pressure    `json:"standing_diastolic_mmhg,omitempty"`
	Pulse          *unit.Pulse       `json:"pulse_per_min,omitempty"`
	Temperature    *unit.Temperature `json:"temperature_c,omitempty"`
}

// WeighOut is the weight after the session, on the same scale in the same
// clothes.
type WeighOut struct {
	Weight   unit.Mass `json:"weight_kg"`
	Clothing unit.Mass `json:"clothing_kg"`
	Scale    string    `json:"scale"`
	ReadIn   string    `json:"read_in,omitempty"` // kg, lb or st: what the scale showed; blank in older entries
}

// Circuit is how the dialyser and lines looked at the end: 0 clear, 1 streaks,
// 2 partly clotted, 3 lost.
type Circuit struct {
	Grade int          `json:"grade_0_3"`
	Lost  *unit.Volume `json:"blood_lost_ml,omitempty"`
}

// Disinfection is the machine's programme after the session.
type Disinfection struct {
	Programme string `json:"programme"` // heat, heat_citric, chemical
	Result    string `json:"result"`    // passed, running, failed
}

// Closed ends the record of a session. What is left open is listed and kept.
type Closed struct {
	MachineTreated *unit.Minutes `json:"machine_treated_min,omitempty"` // as the machine says
	Recovery       *unit.Minutes `json:"recovery_min,omitempty"`
	Feel           string        `json:"feel,omitempty"`
	Told           string        `json:"told_unit,omitempty"`
	Ask            string        `json:"ask_unit,omitempty"` // what the person wants to raise
}
