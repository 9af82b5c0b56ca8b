package session

import "ebbline/unit"

// Connected is the moment the blood lines were joined and the treatment began.
type Connected struct {
	BloodFlow *unit.Flow `json:"blood_flow_ml_min,omitempty"`
}

// Reading is one row of the grid, typed from the machine and the cuff.
type Reading struct {
	Systolic  *unit.Pressure     `json:"systolic_mmhg,omitempty"`
	Diastolic *unit.Pressure     `json:"diastolic_mmhg,omitempty"`
	Pulse     *unit.Pulse        `json:"pulse_per_min,omitempty"`
	BloodFlow *unit.Flow         `json:"blood_flow_ml_min,omitempty"`
	Arterial  *unit.Pressure     `json:"arterial_mmhg,omitempty"`
	Venous    *unit.Pressure     `json:"venous_mmhg,omitempty"`
	TMP       *unit.Pressure     `json:"tmp_mmhg,omitempty"`
	Rate      *unit.Rate         `json:"removal_rate_ml_h,omitempty"`
	Removed   *unit.Volume       `json:"removed_ml,omitempty"`
	Conduct   *unit.Conductivity `json:"conductivity_ms_cm,omitempty"`
	DialTemp  *unit.Temperature  `json:"dialysate_temp_c,omitempty"`
	Heparin   *unit.Dose         `json:"heparin_so_far_iu,omitempty"`
	BodyTemp  *unit.Temperature  `json:"body_temperature_c,omitempty"`
	Irregular bool               `json:"pulse_irregular,omitempty"`     // newly so
	Again     bool               `json:"counter_began_again,omitempty"` // the machine's count of what is removed began at zero again
	Given     *unit.Litres       `json:"substitution_l,omitempty"`      // substitution fluid so far, in haemodiafiltration
	Note      string             `json:"note,omitempty"`
}

// Asleep marks the checks up to a time as asleep by plan, so that a blank is
// different from a miss.
type Asleep struct {
	For unit.Minutes `json:"for_min"`
}

// Drink is anything taken by mouth, in the fluid it holds.
type Drink struct {
	Volume unit.Volume `json:"volume_ml"`
}

// Saline is saline given into the line.
type Saline struct {
	Volume unit.Volume `json:"volume_ml"`
	Why    string      `json:"why,omitempty"`
	Flush  bool        `json:"flush,omitempty"` // one of those ordered; never held for one given for a low pressure
}

// FlushLeftOut is one of the flushes that are ordered, said to be left out.
type FlushLeftOut struct {
	Number int    `json:"number"` // of this one in the session, from 1 on
	Why    string `json:"why,omitempty"`
}

// LowPressure is a fall of blood pressure, felt or measured.
type LowPressure struct {
	Systolic  *unit.Pressure `json:"systolic_mmhg,omitempty"`
	Diastolic *unit.Pressure `json:"diastolic_mmhg,omitempty"`
	Felt      string         `json:"felt,omitempty"`
	Did       string         `json:"did,omitempty"`
}

// Cramp is a cramp and where.
type Cramp struct {
	Where string `json:"where,omitempty"`
	Did   string `json:"did,omitempty"`
}

// Unwell is anything else felt, in the person's own words.
type Unwell struct {
	Words string `json:"words"`
	Did   string `json:"did,omitempty"`
}

// Alarm is an alarm of the machine in the person's own words; the program
// lists no machine's codes.
type Alarm struct {
	Words  string `json:"words"`
	Looked bool   `json:"looked_first"` // needles and lines looked at before it was reset
	Did    string `json:"did,omitempty"`
}

// Pause stops the treatment; Resume goes on. Treated time leaves out what lies
// between.
type Pause struct {
	Why string `json:"why,omitempty"`
}

// Resume ends a [Pause].
type Resume struct{}

// FlowChanged is a new blood flow set on the machine.
type FlowChanged struct {
	BloodFlow unit.Flow `json:"blood_flow_ml_min"`
}

// GoalChanged is a new fluid goal, and perhaps a new length, set on the machine.
type GoalChanged struct {
	Goal   unit.Volume   `json:"goal_ml"`
	Length *unit.Minutes `json:"length_min,omitempty"` // whole treated length now wanted
	Why    string        `json:"why,omitempty"`
	Unit   string        `json:"unit_said,omitempty"` // who of the unit said so
}

// RemovalOff is removal switched off on the machine while the blood goes on
// running; RemovalOn switches it on again. What does not come off in between is
// not made good by itself.
type RemovalOff struct {
	Why string `json:"why,omitempty"`
}

// RemovalOn ends a [RemovalOff].
type RemovalOn struct{}

// WashbackChecked is what the person looked at with their own eyes before the
// pump starts again to give the blood back. All three are needed.
type WashbackChecked struct {
	Saline bool `json:"saline_on_arterial_line"`
	Clamp  bool `json:"its_clamp_open"`
	Venous bool `json:"venous_line_to_me"`
}

// LieBack is lying back with the legs up.
type LieBack struct{}

// NeedleAdjusted is a needle moved or re-taped.
type NeedleAdjusted struct {
	Which string `json:"which"` // arterial, venous or both
	Did   string `json:"did,omitempty"`
}

// Medicine is a medicine given during the session.
type Medicine struct {
	Name   string    `json:"name"`
	Amount string    `json:"amount"` // as written, with its unit
	Lot    string    `json:"lot,omitempty"`
	Expiry unit.Date `json:"expiry"`
}

// HeparinOff is the heparin pump stopped.
type HeparinOff struct{}

// Note is free text.
type Note struct {
	Words string `json:"words"`
}
