package record

import "ebbline/unit"

// RoundItem changes something that recurs, or adds one: an id of the default
// list changes that one.
type RoundItem struct {
	Item      string       `json:"item"` // id: "carbon", "own-fridge-seal"
	Name      string       `json:"name"`
	Days      int          `json:"days,omitempty"`
	Months    int          `json:"months,omitempty"`
	Sessions  int          `json:"sessions,omitempty"`
	Hours     *unit.Hours  `json:"machine_h,omitempty"`
	Litres    *unit.Litres `json:"plant_l,omitempty"`
	Coming    int          `json:"coming_days,omitempty"`
	StartLine bool         `json:"start_line"` // when due it stands in the way of the next session
	Off       bool         `json:"off"`        // no longer followed
	SetBy     string       `json:"set_by"`
	SetOn     unit.Date    `json:"set_on"`
}

// RoundDone says that something that recurs was done, and what it showed. The
// pairs of known and shown are calibrations: a known mass and what the scale
// showed.
type RoundDone struct {
	Item         string             `json:"item"`
	Outcome      string             `json:"outcome"`             // done or failed
	Programme    string             `json:"programme,omitempty"` // heat or chemical, of the water treatment's disinfection
	KnownMass    *unit.Mass         `json:"known_kg,omitempty"`
	ShownMass    *unit.Mass         `json:"shown_kg,omitempty"`
	KnownPress   *unit.Pressure     `json:"known_mmhg,omitempty"`
	ShownPress   *unit.Pressure     `json:"shown_mmhg,omitempty"`
	KnownTemp    *unit.Temperature  `json:"known_c,omitempty"`
	ShownTemp    *unit.Temperature  `json:"shown_c,omitempty"`
	KnownConduct *unit.Conductivity `json:"known_ms_cm,omitempty"`
	ShownConduct *unit.Conductivity `json:"shown_ms_cm,omitempty"`
	MachineHours *unit.Hours        `json:"machine_h,omitempty"`
	PlantLitres  *unit.Litres       `json:"plant_l,omitempty"`
	Lot          string             `json:"lot,omitempty"` // of a filter that was fitted
	Who          string             `json:"who,omitempty"`
	Note         string             `json:"note,omitempty"`
}

// Off gives by how much what was shown differs from what was known, with its
// unit, and false when no such pair was written.
func (r RoundDone) Off() (text string, ok bool) {
	switch {
	case r.KnownMass != nil && r.ShownMass != nil:
		return signed(*r.ShownMass - *r.KnownMass), true
	case r.KnownPress != nil && r.ShownPress != nil:
		return signed(*r.ShownPress - *r.KnownPress), true
	case r.KnownTemp != nil && r.ShownTemp != nil:
		return signed(*r.ShownTemp - *r.KnownTemp), true
	case r.KnownConduct != nil && r.ShownConduct != nil:
		return signed(*r.ShownConduct - *r.KnownConduct), true
	}
	return "", false
}

func signed[M unit.Measure](d unit.Quantity[M]) string {
	switch {
	case d > 0:
		return "+" + d.Text()
	case d < 0:
		return "−" + (-d).Text()
	}
	return d.Text()
}

// Fault is trouble with machine or plant, in own words.
type Fault struct {
	Words  string `json:"words"`
	Did    string `json:"did,omitempty"`
	Rang   string `json:"rang,omitempty"`
	About  string `json:"about,omitempty"` // the first entry of the same trouble
	Mended bool   `json:"mended"`
	Opened bool   `json:"opened,omitempty"` // machine or water treatment was opened for it
}

// SharpsBin is what happened to the bin for needles.
type SharpsBin struct {
	Did string `json:"did"` // opened, three_quarters, closed or collected
}

// NeedlestickCard says in the unit's own words what the carer does after a
// needlestick.
type NeedlestickCard struct {
	Card
}

// CalendarSecret is the secret part of the address at which a person's calendar
// is served. A new one closes the old address.
type CalendarSecret struct {
	Secret string `json:"secret"`
	Titles string `json:"titles"` // busy or full
}
