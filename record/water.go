package record

import (
	"time"

	"ebbline/unit"
	"ebbline/water"
)

// WaterReading is what was read off the water plant, in the order of the
// water: mains, sediment filter, softener, first and second carbon, pre-filter,
// reverse osmosis.
// Gauges in bar or psi and hardness in grains or degrees are converted before
// they are kept.
type WaterReading struct {
	Feed           *unit.Gauge       `json:"feed_kpa,omitempty"`
	AfterSediment  *unit.Gauge       `json:"after_sediment_kpa,omitempty"`
	AfterSoftener  *unit.Gauge       `json:"after_softener_kpa,omitempty"`
	AfterCarbon    *unit.Gauge       `json:"after_carbon_kpa,omitempty"`
	AfterCarbon2   *unit.Gauge       `json:"after_second_carbon_kpa,omitempty"`
	AfterPrefilter *unit.Gauge       `json:"after_prefilter_kpa,omitempty"`
	Hardness       *unit.Hardness    `json:"hardness_mg_l_caco3,omitempty"`
	Salt           string            `json:"salt,omitempty"` // enough, low or bridge
	FeedConduct    *unit.Trace       `json:"feed_conductivity_us_cm,omitempty"`
	ProductConduct *unit.Trace       `json:"product_conductivity_us_cm,omitempty"`
	FeedTemp       *unit.Temperature `json:"feed_temperature_c,omitempty"`
	MachineHours   *unit.Hours       `json:"machine_h,omitempty"` // the machine's own counter
	PlantLitres    *unit.Litres      `json:"plant_l,omitempty"`   // the plant's own counter
	Note           string            `json:"note,omitempty"`
}

// WaterSample takes one sample of water or fluid a step on its way. The moment
// of its entry is when the step happened.
type WaterSample struct {
	Sample     string      `json:"sample"`          // made when it is planned
	State      string      `json:"state"`           // planned, drawn, sent, reached or lost
	Point      string      `json:"point,omitempty"` // where it is drawn; said when it is planned
	For        []string    `json:"for,omitempty"`   // substances that are looked for; likewise
	PlannedOn  unit.Date   `json:"planned_on,omitempty,omitzero"`
	Cooled     bool        `json:"cooled"`                         // said when it is drawn
	SinceClean *unit.Hours `json:"since_disinfection_h,omitempty"` // of what it is drawn from; likewise
	Carrier    string      `json:"carrier,omitempty"`              // said when it is sent
	Note       string      `json:"note,omitempty"`
}

// WaterResult is what a laboratory found in a sample, judged by the table and
// the unit's own limits that were in force when it was written down.
type WaterResult struct {
	Sample     string            `json:"sample"`
	Laboratory string            `json:"laboratory"`
	Edition    string            `json:"edition"`
	Use        string            `json:"use"` // standard or ultrapure
	Medium     string            `json:"medium,omitempty"`
	Celsius    *unit.Temperature `json:"culture_temperature_c,omitempty"`
	Days       int               `json:"culture_days,omitempty"`
	Plated     *unit.Drawn       `json:"plated_ml,omitempty"`
	Dilution   int               `json:"dilution,omitempty"`
	Owner      string            `json:"owner,omitempty"` // who sees to it when a result cannot stand as it is
	Results    []water.Result    `json:"results"`
	Judged     []water.Judgement `json:"judged,omitempty"` // worked out when left out; else it must agree
	Note       string            `json:"note,omitempty"`
}

// Method gives how the laboratory counted, and false when nothing was said.
func (r WaterResult) Method() (water.CultureMethod, bool) {
	m := water.CultureMethod{Medium: r.Medium, Days: float64(r.Days), Dilution: float64(r.Dilution)}
	if r.Celsius != nil {
		m.Celsius = *r.Celsius
	}
	if r.Plated != nil {
		m.VolumeML = r.Plated.Float()
	}
	return m, r.Medium != "" || r.Celsius != nil || r.Days > 0 || r.Plated != nil
}

// TaskClosed puts away the task that followed from a result, or from a first
// carbon that let chlorine through.
type TaskClosed struct {
	Result string `json:"result_id"` // the entry that the task came from
	Did    string `json:"did"`
	Told   string `json:"told"` // whom at the unit, and what was said
}

// WaterRules are what the unit asks of water and disinfection.
type WaterRules struct {
	Edition  string      `json:"edition"`
	Use      string      `json:"use"`
	Repeat   *unit.Hours `json:"chlorine_repeat_h,omitempty"` // 0: not asked
	MaxIdle  *unit.Hours `json:"idle_h,omitempty"`            // from a passed disinfection to the start
	IdleNone bool        `json:"idle_none,omitempty"`         // the unit sets none
	SetBy    string      `json:"set_by"`
	SetOn    unit.Date   `json:"set_on"`
	Supplier string      `json:"supplier_notice,omitempty"` // how the water supplier knows the house
}

// WaterLimit is one limit as the unit set it, in the unit of the table.
type WaterLimit struct {
	What   string       `json:"what"`
	Use    string       `json:"use"`
	Max    unit.Printed `json:"max"`
	Action unit.Printed `json:"action,omitempty"`
	Unit   string       `json:"unit"`
	SetBy  string       `json:"set_by"`
	SetOn  unit.Date    `json:"set_on"`
}

// UtilityNotice is word from the water supplier, or what was seen at the tap.
type UtilityNotice struct {
	From  unit.Date `json:"from"`
	To    unit.Date `json:"to,omitempty,omitzero"` // last day; none: not over yet
	Words string    `json:"words"`
	About string    `json:"about,omitempty"` // the entry of a notice that this one ends
}

// ResidualTest looks for disinfectant left in the machine after a chemical
// cycle.
type ResidualTest struct {
	For    string             `json:"looked_for"` // chlorine, peracetic or formaldehyde
	Value  unit.Concentration `json:"value_mg_l"`
	Below  bool               `json:"below"` // read as "less than" the value
	Lot    string             `json:"lot"`
	Expiry unit.Date          `json:"expiry"`
}

// residues are the bounds of what may be left.
var residues = map[string]water.Reading{
	"chlorine": water.ResidualChlorine, "peracetic": water.ResidualPeracid, "formaldehyde": water.ResidualAldehyde,
}

// Negative reports whether the test shows no more than may be left, and the
// bound it was held against.
func (t ResidualTest) Negative() (bool, water.Bound) {
	for _, b := range water.BoundsOf(residues[t.For]) {
		if b.High == nil {
			continue
		}
		if t.Below { // all it can be lies under the value
			return t.Value.Float() <= *b.High, b
		}
		inside, _ := b.Holds(t.Value.Float())
		return inside, b
	}
	return false, water.Bound{}
}

// Shows reports whether a test made at a moment shows that nothing is left: it is
// negative, and its strip or reagent was in date.
func (t ResidualTest) Shows(at time.Time) bool {
	negative, _ := t.Negative()
	return negative && (t.Expiry.IsZero() || !t.Expiry.Before(unit.DateOf(at)))
}
