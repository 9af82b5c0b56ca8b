package water

import (
	"slices"
	"strconv"
	"strings"

	"ebbline/unit"
)

// A Use is what the water or fluid is for; limits on microbes depend on it.
type Use string

const (
	Standard  Use = "standard"
	Ultrapure Use = "ultrapure"
)

// Kind says what sort of text a limit comes from.
type Kind string

const (
	IsStandard   Kind = "standard"
	IsRegulation Kind = "regulation"
	IsPractice   Kind = "common practice"
	IsProposal   Kind = "proposal"
	IsUnitSet    Kind = "set by the unit"
	IsLocalLaw   Kind = "drinking-water rule" // counts where it is the lower one
)

// Status says how well the figure itself is known here.
type Status string

const (
	Read       Status = "read"        // stood in a text that quotes the source, and was read
	FromMemory Status = "from memory" // not checked against any text
	Given      Status = "given"       // by the unit
)

// A Limit is the most of one substance that one edition allows for one use.
type Limit struct {
	What      Substance `json:"what"`
	Use       Use       `json:"use"`
	Max       float64   `json:"max"`
	Action    float64   `json:"action,omitempty"` // where to act before the limit; 0: none set
	Unit      Unit      `json:"unit"`             // of Max and Action
	Basis     Basis     `json:"basis,omitempty"`
	Exclusive bool      `json:"exclusive,omitempty"` // a result equal to Max is over; so for microbes, not for chemistry
	Edition   string    `json:"edition"`
	Kind      Kind      `json:"kind"`
	Status    Status    `json:"status"`
	Source    string    `json:"source"`
	Setter    string    `json:"setter"`         // who set it
	Date      string    `json:"date,omitempty"` // when: a year for a standard, a day for a unit
}

// An Edition is one table of limits. It is a value: a changed table is another
// one, and judgements made with the old one stand.
type Edition struct {
	Name   string
	Kind   Kind
	Setter string
	Date   string
	Remark string
	limits []Limit
}

// Limit gives the edition's limit on a substance for a use, and whether it
// sets one.
func (e Edition) Limit(what Substance, use Use) (Limit, bool) {
	i := e.index(what, use)
	if i < 0 {
		return Limit{}, false
	}
	return e.limits[i], true
}

// Limits lists the edition's limits for a use, in the order of [Substances].
func (e Edition) Limits(use Use) []Limit {
	var list []Limit
	for _, s := range Substances() {
		if l, ok := e.Limit(s, use); ok {
			list = append(list, l)
		}
	}
	return list
}

func (e Edition) index(what Substance, use Use) int {
	return slices.IndexFunc(e.limits, func(l Limit) bool { return l.What == what && l.Use == use })
}

// WithUnit gives the edition as a kidney unit changes it: the limits given
// replace those of the same substance and use. Each needs Max above 0, an
// Action below it or none, and the unit of the table; setter and date are
// required, because every message names them.
func (e Edition) WithUnit(setter, date string, changed ...Limit) (Edition, error) {
	if strings.TrimSpace(setter) == "" || strings.TrimSpace(date) == "" {
		return Edition{}, unit.Refuse("setter", strconv.Quote(setter+" "+date), "who set the limits, and when")
	}
	out := e
	out.Name = e.Name + ", as " + setter + " set it on " + date
	out.Setter, out.Date, out.Kind = setter, date, IsUnitSet
	out.limits = slices.Clone(e.limits)
	for _, l := range changed {
		l.Edition, l.Setter, l.Date, l.Kind, l.Status = out.Name, setter, date, IsUnitSet, Given
		if err := out.put(l); err != nil {
			return Edition{}, err
		}
	}
	return out, nil
}

// WithDrinkingWater lowers the edition's chemical limits to those of the local
// drinking-water rule where these are lower; where they are higher nothing
// changes. The standard says so for the trace elements, with selenium and
// antimony as its examples (ISO 23500-3:2019).
func (e Edition) WithDrinkingWater(rule, date string, local ...Limit) (Edition, error) {
	if strings.TrimSpace(rule) == "" {
		return Edition{}, unit.Refuse("rule", `""`, "the name of the drinking-water rule")
	}
	out := e
	out.Name = e.Name + ", with " + rule
	out.limits = slices.Clone(e.limits)
	for _, l := range local {
		i := out.index(l.What, l.Use)
		if i < 0 || l.Max >= out.limits[i].Max {
			continue
		}
		l.Action = 0
		l.Edition, l.Setter, l.Date, l.Kind, l.Status, l.Source = out.Name, rule, date, IsLocalLaw, Given, rule
		if err := out.put(l); err != nil {
			return Edition{}, err
		}
	}
	return out, nil
}

func (e *Edition) put(l Limit) error {
	i := e.index(l.What, l.Use)
	if i < 0 {
		return unit.Refuse("what", strconv.Quote(string(l.What)), "a substance and use that "+e.Name+" has")
	}
	l.Unit, l.Basis, l.Exclusive = e.limits[i].Unit, e.limits[i].Basis, e.limits[i].Exclusive
	if !(l.Max > 0 && l.Max <= 1e12) {
		return unit.Refuse("max", l.Max, "a limit above 0 "+string(l.Unit))
	}
	if !(l.Action >= 0 && l.Action < l.Max) {
		return unit.Refuse("action", l.Action, "an action level below the limit, or none")
	}
	e.limits[i] = l
	return nil
}
