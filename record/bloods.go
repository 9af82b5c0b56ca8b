package record

import (
	"bytes"
	"encoding/json"
	"strings"

	"ebbline/unit"
)

// Bloods is one blood sample and what a laboratory found in it. The moment of
// its entry is when it was drawn, not when it was reported.
type Bloods struct {
	Timing     string        `json:"timing"`                    // pre, post or other
	Session    string        `json:"session_id,omitempty"`      // the session it was drawn before or after
	Method     string        `json:"sampling_method,omitempty"` // how a sample after the session was drawn
	Laboratory string        `json:"laboratory"`
	ReportedOn unit.Date     `json:"reported_on,omitzero"`
	Haemolysed bool          `json:"haemolysed"`
	Note       string        `json:"note,omitempty"`
	Results    []BloodResult `json:"results"`
}

// A BloodResult is one analyte of a sample, as it was printed.
type BloodResult struct {
	Analyte string       `json:"analyte"`               // a code of unit.Analytes
	Op      string       `json:"op,omitempty"`          // "<" or ">" when the laboratory gave only a bound; "=" or nothing else
	Value   unit.Printed `json:"value"`                 // in Unit
	Unit    string       `json:"unit"`                  // as printed
	Upper   unit.Printed `json:"upper_limit,omitempty"` // the laboratory's own upper limit, in Unit
	Assay   string       `json:"assay,omitempty"`       // the method, where the laboratory names it
}

// UnmarshalJSON reads a result strictly: a key that is not known might have
// been the unit.
func (r *BloodResult) UnmarshalJSON(raw []byte) error {
	type plain BloodResult // without this method
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields()
	return dec.Decode((*plain)(r))
}

// When a sample was drawn, seen from the session.
const (
	Pre   = "pre"
	Post  = "post"
	Other = "other"
)

// Exact reports whether the laboratory gave a value and not only a bound.
func (r BloodResult) Exact() bool { return r.Op == "" || r.Op == "=" }

// Canonical gives the number in the first unit of its analyte, for comparing;
// of a bound, the bound. It gives false for what is no result.
func (r BloodResult) Canonical() (float64, bool) {
	a, ok := unit.FindAnalyte(r.Analyte)
	if !ok {
		return 0, false
	}
	v, err := a.Canonical(r.Value.Float(), r.Unit)
	return v, err == nil
}

// UpperCanonical gives the laboratory's upper limit in the first unit of the
// analyte, and false when it was not given.
func (r BloodResult) UpperCanonical() (float64, bool) {
	if r.Upper == "" {
		return 0, false
	}
	a, ok := unit.FindAnalyte(r.Analyte)
	if !ok {
		return 0, false
	}
	v, err := a.Canonical(r.Upper.Float(), r.Unit)
	return v, err == nil
}

// Text writes the result as printed, with its unit: "< 5 mg/L".
func (r BloodResult) Text() string {
	s := r.Value.String() + "\u00a0" + r.Unit
	if !r.Exact() {
		s = r.Op + "\u00a0" + s
	}
	return s
}

// String names the analyte too, for lists of what an entry holds.
func (r BloodResult) String() string { return AnalyteName(r.Analyte) + " " + r.Text() }

// Find returns the result of an analyte, or nil.
func (b *Bloods) Find(analyte string) *BloodResult {
	for i := range b.Results {
		if b.Results[i].Analyte == analyte {
			return &b.Results[i]
		}
	}
	return nil
}

// Urea gives the urea of the sample, where it is a value and not a bound.
func (b *Bloods) Urea() (unit.Urea, bool) {
	r := b.Find("urea")
	if r == nil || !r.Exact() {
		return 0, false
	}
	v, ok := r.Canonical()
	return unit.Urea(v), ok
}

// AnalyteName is the analyte as a person reads it; an unknown code as it is.
func AnalyteName(code string) string {
	if a, ok := unit.FindAnalyte(code); ok {
		return a.Name
	}
	return code
}

// BloodCall says who was rung about a critical value, and what was said.
type BloodCall struct {
	Bloods  string `json:"bloods_id"` // the sample's entry
	Analyte string `json:"analyte"`
	Rang    string `json:"rang"`
	Said    string `json:"said"`
}

// BloodRange is what the unit set for one analyte. Low and High bound where it
// wants the value before a session; Critical ones are to be rung about. Each
// may be left out, not all.
type BloodRange struct {
	Analyte      string       `json:"analyte"`
	Unit         string       `json:"unit"`
	Low          unit.Printed `json:"low,omitempty"`
	High         unit.Printed `json:"high,omitempty"`
	CriticalLow  unit.Printed `json:"critical_low,omitempty"`  // below this
	CriticalHigh unit.Printed `json:"critical_high,omitempty"` // at or above this
	SetBy        string       `json:"set_by"`
	SetOn        unit.Date    `json:"set_on"`
}

// Body is what the equations of body water ask for beside age and weight.
type Body struct {
	Sex      string      `json:"sex"` // female or male
	Height   unit.Length `json:"height_cm"`
	Diabetes bool        `json:"diabetes"`
}

// Residual is a timed collection of urine. The moment of its entry is when it
// ended.
type Residual struct {
	Volume    unit.Volume  `json:"urine_ml"`
	Length    unit.Minutes `json:"collection_min"`
	UrineUrea unit.Printed `json:"urine_urea"`
	UrineUnit string       `json:"urine_urea_unit"`
	MeanUrea  unit.Printed `json:"mean_blood_urea,omitempty"` // over the collection, when the unit worked it out
	MeanUnit  string       `json:"mean_blood_urea_unit,omitempty"`
}

// Urine gives the urea of the collected urine.
func (r *Residual) Urine() (unit.Urea, error) {
	return unit.NewUrea(r.UrineUrea.Float(), r.UrineUnit)
}

// Mean gives the mean urea of the blood over the collection, and false when
// nobody gave it.
func (r *Residual) Mean() (unit.Urea, bool) {
	if r.MeanUrea == "" {
		return 0, false
	}
	u, err := unit.NewUrea(r.MeanUrea.Float(), r.MeanUnit)
	return u, err == nil
}

// inner finds a value inside a sample by the key that a finding and a second
// typing name it with: "results.potassium".
func inner(body any, key string) (text string, ok bool) {
	b, is := body.(*Bloods)
	code, named := strings.CutPrefix(key, "results.")
	if !is || !named {
		return "", false
	}
	if r := b.Find(code); r != nil {
		return strings.TrimSpace(strings.TrimPrefix(r.Op, "=") + " " + r.Value.String()), true
	}
	return "", false
}

// sameResult compares a text with its second typing; the numbers of results by
// their digits, so that "6,8" answers "6.8" and "<5" answers "< 5".
func sameResult(first, again string) bool {
	squeeze := func(s string) string {
		return strings.ReplaceAll(strings.ReplaceAll(strings.TrimSpace(s), " ", ""), ",", ".")
	}
	if strings.TrimSpace(first) == strings.TrimSpace(again) {
		return true
	}
	a, errA := unit.ParsePrinted(strings.TrimLeft(squeeze(first), "<>="))
	b, errB := unit.ParsePrinted(strings.TrimLeft(squeeze(again), "<>="))
	op := func(s string) string { return strings.TrimRight(squeeze(s), "0123456789.=") }
	return errA == nil && errB == nil && op(first) == op(again) && a.Float() == b.Float()
}
