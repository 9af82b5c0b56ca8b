package session

import (
	"ebbline/access"
	"ebbline/unit"
)

// Prescription is one version of what the kidney unit ordered. A session pins
// the version it was planned from; a change is a new version, never an edit.
type Prescription struct {
	OrderedBy string    `json:"ordered_by"`
	OrderedOn unit.Date `json:"ordered_on"`
	How       string    `json:"how"`       // paper or phone
	ReadBack  bool      `json:"read_back"` // a phoned change was read back to the caller
	ValidFrom unit.Date `json:"valid_from"`
	ReviewBy  unit.Date `json:"review_by"`

	Days       []string           `json:"days"`                  // mon … sun; empty when EveryHours is set
	EveryHours int                `json:"every_hours,omitempty"` // from start to start, instead of days
	Length     *unit.Minutes      `json:"length_min,omitempty"`
	Dialysate  *unit.Litres       `json:"dialysate_l,omitempty"` // a session by litres of dialysate instead of by time and flow
	DryWeight  unit.Mass          `json:"dry_weight_kg"`
	DrySetBy   string             `json:"dry_weight_set_by"`
	DrySetOn   unit.Date          `json:"dry_weight_set_on"`
	DryReview  unit.Date          `json:"dry_weight_review_by"`
	Dialyser   string             `json:"dialyser"`
	KoA        *unit.Flow         `json:"koa_ml_min,omitempty"`
	BloodFlow  unit.Flow          `json:"blood_flow_ml_min"`
	DialFlow   *unit.Flow         `json:"dialysate_flow_ml_min,omitempty"`
	BathK      unit.Molar         `json:"bath_k_mmol_l"`
	BathCa     unit.Molar         `json:"bath_ca_mmol_l"`
	DialTemp   *unit.Temperature  `json:"dialysate_temp_c,omitempty"`
	SetConduct *unit.Conductivity `json:"conductivity_ms_cm,omitempty"`

	Heparin     string         `json:"heparin"` // none, unfractionated, low_molecular
	HepStrength *unit.Strength `json:"heparin_strength_iu_ml,omitempty"`
	HepBolus    *unit.Dose     `json:"heparin_bolus_iu,omitempty"`
	HepHourly   *unit.DoseRate `json:"heparin_hourly_iu_h,omitempty"`
	HepStop     *unit.Minutes  `json:"heparin_stop_before_end_min,omitempty"`

	FlushML    *unit.Volume  `json:"flush_ml,omitempty"` // of saline each time; both or none
	FlushEvery *unit.Minutes `json:"flush_every_min,omitempty"`

	Access       string `json:"access"`      // fistula, graft, catheter
	AccessSide   string `json:"access_side"` // left_arm, right_arm, left_leg, right_leg, neck_or_chest
	Technique    string `json:"technique"`   // rope_ladder, buttonhole, rotation, none
	GaugeA       int    `json:"arterial_needle_gauge,omitempty"`
	GaugeV       int    `json:"venous_needle_gauge,omitempty"`
	SingleNeedle bool   `json:"single_needle,omitempty"`      // line pressures rise and fall by themselves
	Filtration   bool   `json:"haemodiafiltration,omitempty"` // the program's own figure for TMP does not apply

	OrderedSubstitution

	RemovalProfile bool `json:"removal_profile,omitempty"` // the rate changes by a profile of the machine; no plan, see [NoPlan]
	SodiumProfile  bool `json:"sodium_profile,omitempty"`  // the sodium does; no plan either

	OrderedLock

	Intake   unit.Volume `json:"intake_ml"`   // drinks and food usually allowed for during a session
	Washback unit.Volume `json:"washback_ml"` // saline, or fluid from the machine, given back with the blood

	Limits
}

// Limits are the figures the unit set for this person. A limit that was not
// set is nil, and then the program's own default is used and named as such.
type Limits struct {
	SetBy       string              `json:"limits_set_by"`
	SetOn       unit.Date           `json:"limits_set_on"`
	Rate        *unit.RatePerKg     `json:"rate_limit_ml_h_kg,omitempty"`
	RateNoneBy  string              `json:"rate_limit_none_by,omitempty"` // who said that the unit sets no limit of rate
	RateNoneOn  unit.Date           `json:"rate_limit_none_on,omitzero"`  // and when; both or none, and never beside Rate
	MaxRemoval  *unit.Volume        `json:"max_removal_ml,omitempty"`
	DryRing     *unit.Mass          `json:"below_dry_ring_kg,omitempty"` // ring from so much under the dry weight on
	Chlorine    *unit.Concentration `json:"chlorine_limit_mg_l,omitempty"`
	ConductTol  *unit.Conductivity  `json:"conductivity_tolerance_ms_cm,omitempty"`
	SystolicLow *unit.Pressure      `json:"start_systolic_low_mmhg,omitempty"`
	SystolicHi  *unit.Pressure      `json:"start_systolic_high_mmhg,omitempty"`
	StandLow    *unit.Pressure      `json:"start_standing_low_mmhg,omitempty"` // standing; blank: SystolicLow
	PulseLow    *unit.Pulse         `json:"start_pulse_low_per_min,omitempty"`
	PulseHigh   *unit.Pulse         `json:"start_pulse_high_per_min,omitempty"`
	TempHigh    *unit.Temperature   `json:"start_temperature_high_c,omitempty"`
	FallBelow   *unit.Pressure      `json:"act_systolic_below_mmhg,omitempty"` // while running: below this, or …
	FallBy      *unit.Pressure      `json:"act_systolic_fall_mmhg,omitempty"`  // … down by this much from the first
	FallNoneBy  string              `json:"act_systolic_none_by,omitempty"`    // who said that the unit sets neither of the two
	FallNoneOn  unit.Date           `json:"act_systolic_none_on,omitzero"`     // and when; both or none, and beside neither
	PulseNoneBy string              `json:"start_pulse_none_by,omitempty"`     // who said that the unit sets no pair for the pulse
	PulseNoneOn unit.Date           `json:"start_pulse_none_on,omitzero"`      // and when; both or none, and never beside the pair
	TMPAbove    *unit.Pressure      `json:"act_tmp_above_mmhg,omitempty"`
	CheckEvery  *unit.Minutes       `json:"check_every_min,omitempty"`
	AfterLow    *unit.Minutes       `json:"check_after_low_min,omitempty"`
	Anaesthetic *unit.Milligrams    `json:"anaesthetic_max_mg,omitempty"`

	GlucoseMarked bool          `json:"glucose_marked,omitempty"` // blood sugar is measured before, in and after each session
	GlucoseLow    *unit.Molar   `json:"glucose_low_mmol_l,omitempty"`
	GlucoseEvery  *unit.Minutes `json:"glucose_every_min,omitempty"` // while running

	HeardNotFelt bool `json:"access_heard_not_felt,omitempty"` // no thrill to feel: its bruit stands for it
	ListenEach   bool `json:"listen_each_time,omitempty"`      // to the access, before every session
}

// ByCatheter reports whether the access is a catheter: it has no needles, no thrill
// and no bruit, and it is locked. False without a prescription.
func (rx *Prescription) ByCatheter() bool { return rx != nil && rx.Access == string(access.Catheter) }

// Any reports whether the unit set any limit at all; then it is said who did, and
// when.
func (l Limits) Any() bool {
	l.SetBy, l.SetOn, l.RateNoneBy, l.RateNoneOn = "", unit.Date{}, "", unit.Date{}
	l.FallNoneBy, l.FallNoneOn, l.PulseNoneBy, l.PulseNoneOn = "", unit.Date{}, "", unit.Date{}
	return l != Limits{}
}

// Machine is what the program must know of the machine: how it wants the fluid
// goal typed, and what it adds by itself.
type Machine struct {
	Name         string       `json:"name"` // the household's own word for it
	AddsWashback bool         `json:"adds_washback"`
	GoalUnit     string       `json:"goal_unit"`              // L or mL, as its fluid-goal field shows
	GoalDecimals int          `json:"goal_decimals"`          // digits after the point in that field
	GoalStep     *unit.Volume `json:"goal_step_ml,omitempty"` // smallest step of that field
	Kind         string       `json:"kind"`                   // single_pass, batch or bags; low_volume: one of the last two, not said which

	RemovedShows string `json:"removed_shows,omitempty"` // in haemodiafiltration: net or with_substitution; blank while nobody said
}

// WashbackIn is the washback that a goal on this machine has to hold: none where the
// machine adds it by itself, whatever it is given with. Every goal counts it so, of this
// session and of one that is looked ahead to; what came in at the end counts in full.
func (m Machine) WashbackIn(rx *Prescription) unit.Volume {
	if m.AddsWashback {
		return 0
	}
	return rx.Washback
}
