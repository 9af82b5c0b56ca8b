package session

import "ebbline/unit"

// Opened begins a session: the moment "start setting up" was pressed, or the
// evening a paper session began.
type Opened struct {
	Place     string `json:"place"`           // home or elsewhere
	Source    string `json:"source"`          // live or paper
	Where     string `json:"where,omitempty"` // for a session held elsewhere
	Confirmed bool   `json:"person_confirmed"`
	Carer     string `json:"carer,omitempty"` // who is there to help, if anyone

	RemovalOnly bool `json:"removal_only,omitempty"` // fluid is removed without dialysis; see [Session.RemovalOnly]
}

// Afterwards reports whether a session was typed in from paper or held elsewhere:
// then what happened is written down, not guarded.
func (b Opened) Afterwards() bool { return b.Source == "paper" || b.Place == "elsewhere" }

// Fitness is "how am I?": what would make the person ring before starting.
type Fitness struct {
	Fever      bool   `json:"fever"`
	ChestPain  bool   `json:"chest_pain"`
	Breathless bool   `json:"breathless"`
	Weakness   bool   `json:"weakness"`
	HeavyLegs  bool   `json:"heavy_legs"`
	Tingling   bool   `json:"tingling"`
	Faint      bool   `json:"faint"`
	Flutters   bool   `json:"palpitations"`
	OddPulse   bool   `json:"odd_pulse"`
	Bleeding   bool   `json:"bleeding"`                // black stools and heavy periods too
	Fall       bool   `json:"fall"`                    // a fall or a knock, of the head above all
	Stomach    bool   `json:"stomach"`                 // diarrhoea, vomiting, not eating
	Hospital   bool   `json:"hospital"`                // a stay or an operation since the last session
	Procedure  bool   `json:"procedure"`               // dentist or operation soon
	Medicine   bool   `json:"medicine"`                // something new, an antibiotic too
	Thinner    bool   `json:"blood_thinner"`           // a new one
	Pregnant   bool   `json:"pregnant,omitempty"`      // or may be; see [IsPregnant]
	None       bool   `json:"none_of_these,omitempty"` // said in so many words; the page takes no empty answer
	Rang       string `json:"rang,omitempty"`          // whom, and what was said
	Note       string `json:"note,omitempty"`
}

// AccessCheck is the access looked at, felt and listened to. Entries from before
// Red and Swollen had keys of their own hold them as the word of the skin.
type AccessCheck struct {
	Thrill  string `json:"thrill"`          // present, weaker, beating, absent, not_applicable (catheter)
	Bruit   string `json:"bruit,omitempty"` // present, absent, not_done
	Skin    string `json:"skin,omitempty"`  // clean, red, swollen, discharge
	Red     bool   `json:"red,omitempty"`
	Warm    bool   `json:"warm,omitempty"`
	Tender  bool   `json:"tender,omitempty"`
	Swollen bool   `json:"swollen,omitempty"`
	Bulge   bool   `json:"bulge,omitempty"` // grew, or thin, shiny skin over it
	Hand    bool   `json:"hand,omitempty"`  // newly white, cold and numb or painful
	Arm     bool   `json:"arm,omitempty"`   // whole arm newly swollen
	Chills  bool   `json:"chills"`
	Cuff    string `json:"cuff,omitempty"`         // of a catheter: hidden, showing
	Length  string `json:"outer_length,omitempty"` // of a catheter outside the skin: as_before, longer
	Note    string `json:"note,omitempty"`
}

// WeighIn is the weight before the session.
type WeighIn struct {
	Weight   unit.Mass `json:"weight_kg"`
	Clothing unit.Mass `json:"clothing_kg"`
	Scale    string    `json:"scale"`
	ReadIn   string    `json:"read_in"` // kg, lb or st: what the scale showed
}

// VitalsBefore are blood pressure sitting and standing, pulse and temperature.
// Lying takes the place of standing for somebody who cannot stand. What cannot
// be measured is said once; see [Unable].
type VitalsBefore struct {
	SitSystolic    *unit.Pressure    `json:"sitting_systolic_mmhg,omitempty"`
	SitDiastolic   *unit.Pressure    `json:"sitting_diastolic_mmhg,omitempty"`
	StandSystolic  *unit.Pressure    `json:"standing_systolic_mmhg,omitempty"`
	StandDiastolic *unit.Pressure    `json:"standing_diastolic_mmhg,omitempty"`
	CannotStand    bool              `json:"cannot_stand,omitempty"`
	LieSystolic    *unit.Pressure    `json:"lying_systolic_mmhg,omitempty"`
	LieDiastolic   *unit.Pressure    `json:"lying_diastolic_mmhg,omitempty"`
	Pulse          *unit.Pulse       `json:"pulse_per_min,omitempty"`
	Temperature    *unit.Temperature `json:"temperature_c,omitempty"`
	NoThermometer  bool              `json:"no_thermometer,omitempty"`
}

// Chlorine is the total chlorine test of this session's water.
type Chlorine struct {
	Result    unit.Concentration `json:"total_chlorine_mg_l"`
	Below     bool               `json:"below"` // read as "less than" the result
	Method    string             `json:"method"`
	ReadsDown unit.Concentration `json:"reads_down_to_mg_l"` // the smallest step the method can tell from none
	Lot       string             `json:"lot"`
	Expiry    unit.Date          `json:"expiry"`
	Point     string             `json:"sample_point"` // after which carbon
}

// SelfTest is the machine's own test before a session.
type SelfTest struct {
	Passed bool   `json:"passed"`
	Tries  int    `json:"tries"`
	Note   string `json:"note,omitempty"`
}

// FluidCheck is the dialysis fluid by the machine and by the own meter.
type FluidCheck struct {
	MachineConduct unit.Conductivity `json:"machine_conductivity_ms_cm"`
	MeterConduct   unit.Conductivity `json:"meter_conductivity_ms_cm"`
	MachineTemp    *unit.Temperature `json:"machine_temperature_c,omitempty"`
	MeterTemp      *unit.Temperature `json:"meter_temperature_c,omitempty"`
	PH             *unit.PH          `json:"ph,omitempty"`
}

// BathLabel is what the label of the concentrate says, or of a ready bag, typed from
// the label. Of bags there is one entry for each lot.
type BathLabel struct {
	K      unit.Molar `json:"label_k_mmol_l"`
	Ca     unit.Molar `json:"label_ca_mmol_l"`
	Lot    string     `json:"lot"`
	Expiry unit.Date  `json:"expiry"`
	Seal   string     `json:"seal_whole,omitempty"` // of a bag: yes or no; empty: not looked at
	Clear  string     `json:"clear,omitempty"`      // likewise

	Replaces string `json:"replaces,omitempty"` // lot of a bag that is not right, which is off; see [BadBags]
}

// Supply is one thing opened for this session.
type Supply struct {
	Item   string    `json:"item"` // dialyser, lines, arterial needle, …
	Lot    string    `json:"lot"`
	Expiry unit.Date `json:"expiry"`
}

// HeparinDrawn is heparin in a syringe. The strength is typed from the vial in
// the hand; the volume follows from it and is never typed.
type HeparinDrawn struct {
	Strength  unit.Strength  `json:"strength_iu_ml"`
	LabelRead *unit.Strength `json:"label_read_again_iu_ml,omitempty"` // typed a second time when it changed
	Bolus     unit.Dose      `json:"bolus_iu"`
	Line      unit.Dose      `json:"line_iu"` // for the pump, the whole session
	BolusVol  unit.Drawn     `json:"bolus_ml"`
	LineVol   unit.Drawn     `json:"line_ml"`
	Lot       string         `json:"lot"`
	Expiry    unit.Date      `json:"expiry"`
}

// CatheterLock is the lock in the hand for this session's end: what the vial says,
// and the volume that stands on each lumen of the catheter. All of it is typed each
// session, before the start and again when each lumen is locked.
type CatheterLock struct {
	Name     string         `json:"name"`
	Strength *unit.Strength `json:"strength_iu_ml,omitempty"`   // of heparin; one of the two, or both
	Content  *unit.Content  `json:"strength_percent,omitempty"` // of what is dosed in per cent
	Arterial unit.Drawn     `json:"arterial_ml"`
	Venous   unit.Drawn     `json:"venous_ml"`
	Lot      string         `json:"lot"`
	Expiry   unit.Date      `json:"expiry"`
}

// AnaestheticDrawn is local anaesthetic in a syringe.
type AnaestheticDrawn struct {
	Strength unit.Percent `json:"strength_percent"` // 1 % is 10 mg/mL
	Volume   unit.Drawn   `json:"volume_ml"`
	Lot      string       `json:"lot"`
	Expiry   unit.Date    `json:"expiry"`
}

// FlushDrawn is saline in syringes.
type FlushDrawn struct {
	Count  int        `json:"count"`
	Each   unit.Drawn `json:"each_ml"`
	Lot    string     `json:"lot"`
	Expiry unit.Date  `json:"expiry"`
}

// AgreedPlan is the plan as the person agreed to it, with every term, so that
// the sheet can show what was known then.
type AgreedPlan struct {
	PrescriptionID string         `json:"prescription_id"`
	WeighInID      string         `json:"weigh_in_id"`
	PreWeight      unit.Mass      `json:"pre_weight_kg"`
	Clothing       unit.Mass      `json:"clothing_kg"`
	DryWeight      unit.Mass      `json:"dry_weight_kg"`
	AboveDry       unit.Volume    `json:"above_dry_ml"`
	BelowDry       bool           `json:"below_dry"`
	Intake         unit.Volume    `json:"intake_ml"`
	Washback       unit.Volume    `json:"washback_ml"`
	Saline         unit.Volume    `json:"saline_ml"`
	Flushes        unit.Volume    `json:"flushes_ml,omitempty"` // of all flushes that are ordered
	Goal           unit.Volume    `json:"goal_ml"`              // what the whole removal would be
	SetGoal        unit.Volume    `json:"set_goal_ml"`          // what is dialled in: the goal, or less when a limit cuts it
	Length         unit.Minutes   `json:"length_min"`
	Rate           unit.Rate      `json:"rate_ml_h"`
	RatePerKg      unit.RatePerKg `json:"rate_ml_h_kg"`
	LeftOver       unit.Volume    `json:"left_over_ml"`
	Cautions       []string       `json:"cautions,omitempty"`
}

// ReadBack is what the machine shows after the plan was dialled in.
type ReadBack struct {
	Goal   unit.Volume   `json:"machine_goal_ml"`
	Length *unit.Minutes `json:"machine_length_min,omitempty"`
	Shown  string        `json:"shown"` // as typed, in the machine's own unit
}

// Override passes one check of the start line that is open or at stop.
type Override struct {
	Check  string `json:"check"`
	Reason string `json:"reason"`
}

// StepDone ticks one step of the run sheet.
type StepDone struct {
	Phase string `json:"phase"` // set_up or take_off
	Step  string `json:"step"`
	State string `json:"state"` // done, started (a timer runs), undone, not_done
	Note  string `json:"note,omitempty"`
}

// Needling is where the needles went.
type Needling struct {
	SiteA  string `json:"arterial_site"`
	SiteV  string `json:"venous_site"`
	GaugeA int    `json:"arterial_gauge"`
	GaugeV int    `json:"venous_gauge"`
	TriesA int    `json:"arterial_tries"`
	TriesV int    `json:"venous_tries"`
	Pain   *int   `json:"pain_0_10,omitempty"`
	By     string `json:"needled_by,omitempty"`
	Note   string `json:"note,omitempty"`
}

// Rang is a call about this session: whom, and what was said. It answers
// what stood at stop and asked to ring when it was written.
type Rang struct {
	Whom string `json:"whom"`
	Said string `json:"said"`
}
