package session

import (
	"fmt"
	"strings"
	"time"

	"ebbline/unit"
)

// The checks of the start line, in the order of the page.
const (
	CheckFit          = "fit"
	CheckAccess       = "access"
	CheckWeighed      = "weighed"
	CheckVitals       = "vitals"
	CheckCleaned      = "disinfected"
	CheckChlorine     = "chlorine"
	CheckSelfTest     = "self_test"
	CheckConduct      = "conductivity"
	CheckBath         = "bath"
	CheckLots         = "lots"
	CheckHeparin      = "heparin"
	CheckPlan         = "plan"
	CheckPrescription = "prescription"
	CheckWaiting      = "waiting"
)

// StartLine judges everything that should be green before needling, as it
// stands at now. Once the person is connected it stays as it stood then.
//
// It tells what is known against the limits the unit set, or against the
// program's own where the unit set none, and names whose they are. It never
// says that a session may go on.
func StartLine(s *Session, h History, now time.Time) []Check {
	l := startLine{s: s, h: h, rx: s.Rx, at: now}
	if began, ok := s.Began(); ok && began.Before(now) {
		l.at = began
	}
	if l.rx == nil {
		l.rx = &Prescription{}
	}
	var checks []Check
	for _, judge := range []struct {
		id, title string
		by        func(*verdict)
	}{
		{CheckFit, "Fit to start", l.fit},
		{CheckAccess, "Access", l.access},
		{CheckWeighed, "Weighed", l.weighed},
		{CheckVitals, "Blood pressure", l.vitals},
		{CheckCleaned, "Machine disinfected", l.cleaned},
		{CheckChlorine, "Total chlorine", l.chlorine},
		{CheckSelfTest, "Self-test", l.selfTest},
		{CheckConduct, "Conductivity", l.conductivity},
		{CheckBath, "Bath", l.bath},
		{CheckLots, "Lots in date", l.lots},
		{CheckHeparin, "Heparin", l.heparin},
		{CheckPlan, "Plan", l.plan},
		{CheckPrescription, "Prescription", l.prescription},
		{CheckWaiting, "Round and water", l.waiting},
	} {
		v := verdict{Check: Check{ID: judge.id, Title: judge.title, State: Green}}
		judge.by(&v)
		if v.skip {
			continue
		}
		v.override(s, v.latest, l.at)
		checks = append(checks, v.Check)
	}
	return checks
}

// startLine is what the checks are judged from.
type startLine struct {
	s  *Session
	h  History
	rx *Prescription
	at time.Time // now, or the moment of connecting
}

// A verdict is a check in the making.
type verdict struct {
	Check
	latest time.Time // of the entries it was judged from
	skip   bool      // the check does not belong to this session
}

// rank orders states so that the worst finding of a check is the one shown.
var rank = map[CheckState]int{Green: 0, Amber: 1, OpenYet: 2, StopHere: 3}

// find puts a finding on the check. The worst one is shown, the first of
// equals.
func (v *verdict) find(state CheckState, format string, args ...any) {
	if v.Words == "" || rank[state] > rank[v.State] {
		v.State, v.Words = state, fmt.Sprintf(format, args...)
	}
}

// from notes an entry that the check was judged from.
func (v *verdict) from(e *Event) {
	if e != nil && e.At.After(v.latest) {
		v.latest = e.At
	}
}

// lastBy returns the latest body of type T up to an instant, not struck out.
func lastBy[T any](s *Session, at time.Time) (*T, *Event) {
	for i := len(s.Log) - 1; i >= 0; i-- {
		e := &s.Log[i]
		if b, ok := e.Body.(*T); ok && e.Struck == nil && !e.At.After(at) {
			return b, e
		}
	}
	return nil, nil
}

// missingWords says why a value is not there.
var missingWords = map[Missing]string{
	NotDone: "not done", NotRecorded: "not recorded", DoesNotApply: "does not apply", AsleepByPlan: "asleep by plan",
}

// blank puts on the check that a value was written as missing; it tells
// whether one was.
func (v *verdict) blank(e *Event, keys ...string) bool {
	for _, k := range keys {
		if why := e.Missing[k]; why != "" {
			v.find(StopHere, "Written as %s.", missingWords[why])
			return true
		}
	}
	return false
}

func (l startLine) fit(v *verdict) {
	b, e := lastBy[Fitness](l.s, l.at)
	if b == nil {
		v.find(OpenYet, "Not answered. How are you?")
		return
	}
	v.from(e)
	var ring, tell []string
	for _, q := range []struct {
		yes  bool
		what string
		ring bool
	}{
		{b.Fever, "fever", true}, {b.ChestPain, "chest pain", true}, {b.Breathless, "breathless", true},
		{b.Bleeding, "bleeding", true}, {b.Fall, "fall or knock", true}, {b.Stomach, "not eating, vomiting or diarrhoea", true},
		{b.Hospital, "hospital", true}, {b.Procedure, "dentist or operation soon", false}, {b.Medicine, "new medicine", false},
	} {
		switch {
		case q.yes && q.ring:
			ring = append(ring, q.what)
		case q.yes:
			tell = append(tell, q.what)
		}
	}
	switch {
	case len(ring) > 0 && b.Rang == "":
		v.find(StopHere, "Ring your unit first: %s.", strings.Join(ring, ", "))
	case len(ring) > 0:
		v.find(Amber, "%s. You rang: %s", capital(strings.Join(ring, ", ")), b.Rang)
	case len(tell) > 0 && b.Rang == "":
		v.find(Amber, "Tell your unit: %s.", strings.Join(tell, ", "))
	case len(tell) > 0:
		v.find(Green, "%s. You rang: %s", capital(strings.Join(tell, ", ")), b.Rang)
	default:
		v.find(Green, "Nothing new.")
	}
}

func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func (l startLine) access(v *verdict) {
	b, e := lastBy[AccessCheck](l.s, l.at)
	if b == nil {
		v.find(OpenYet, "Not looked at. Look, feel, listen.")
		return
	}
	v.from(e)
	if v.blank(e, "thrill", "skin") {
		return
	}
	catheter := l.rx.Access == "catheter"
	switch {
	case b.Chills:
		v.find(StopHere, "Chills. Ring your unit before needling.")
	case b.Thrill == "absent" && !catheter:
		v.find(StopHere, "No thrill. Do not needle; ring now.")
	case b.Skin == "discharge":
		v.find(StopHere, "Pus or discharge. Ring before needling.")
	case b.Skin == "red" || b.Skin == "swollen":
		v.find(StopHere, "%s. Ring before needling.", capital(b.Skin))
	case b.Thrill == "not_applicable" && !catheter:
		v.find(OpenYet, "Thrill not felt for. Feel the access.")
	case catheter:
		v.find(Green, "Exit site looked at; no thrill to feel on a catheter.")
	default:
		v.find(Green, "Thrill felt, skin clean.")
	}
}

// weightLatest is how old a weight may be at connecting though the plan was
// made in time. Ours.
const weightLatest = 2 * time.Hour

func (l startLine) weighed(v *verdict) {
	b, e := lastBy[WeighIn](l.s, l.at)
	if b == nil {
		v.find(OpenYet, "Not weighed yet.")
		return
	}
	v.from(e)
	if v.blank(e, "weight_kg") {
		return
	}
	used := l.at // the weight must be fresh when the plan is made from it
	if _, agreed := lastBy[AgreedPlan](l.s, l.at); agreed != nil && agreed.At.After(e.At) {
		used = agreed.At
	}
	switch {
	case used.Sub(e.At) > WeightAge:
		v.find(StopHere, "Weight was %s old. Weigh again.", hoursText(unit.Minutes(used.Sub(e.At)/time.Minute)))
	case l.at.Sub(e.At) > weightLatest:
		v.find(StopHere, "Weight is %s. Weigh again.", ago(e.At, l.at))
	case l.h.Scale != "" && !SameScale(b.Scale, l.h.Scale):
		v.find(Amber, "Scale “%s”, last time “%s”. Weigh on both.", b.Scale, l.h.Scale)
	default:
		v.find(Green, "%s, %s.", b.Weight.Text(), ago(e.At, l.at))
	}
}

// Start limits used where the unit set none (from memory; common practice). A
// temperature of 37.8 °C by mouth is the case definition of a pyrogenic reaction
// (Gordon SM et al., JAMA 1988;260:2077–81, from memory).
const (
	startSystolicLow   unit.Pressure    = 100
	startSystolicHigh  unit.Pressure    = 180
	startDiastolicHigh unit.Pressure    = 110
	startPulseLow      unit.Pulse       = 50
	startPulseHigh     unit.Pulse       = 120
	startTempHigh      unit.Temperature = 378
)

func (l startLine) vitals(v *verdict) {
	b, e := lastBy[VitalsBefore](l.s, l.at)
	if b == nil {
		v.find(OpenYet, "Not measured yet.")
		return
	}
	v.from(e)
	if v.blank(e, "sitting_systolic_mmhg") {
		return
	}
	rx := l.rx
	if b.SitSystolic == nil {
		v.find(OpenYet, "Sitting pressure not written.")
	}
	if b.Pulse == nil && (rx.PulseLow != nil || rx.PulseHigh != nil) {
		v.find(OpenYet, "Pulse not written; your unit set a limit.")
	}
	if b.Temperature == nil && rx.TempHigh != nil {
		v.find(OpenYet, "Temperature not written; your unit set a limit.")
	}
	below(v, rx, "Sitting", b.SitSystolic, rx.SystolicLow, startSystolicLow)
	below(v, rx, "Standing", b.StandSystolic, rx.SystolicLow, startSystolicLow)
	reaches(v, rx, "Sitting", b.SitSystolic, rx.SystolicHi, startSystolicHigh, Amber)
	reaches(v, rx, "Lower pressure", b.SitDiastolic, nil, startDiastolicHigh, Amber)
	below(v, rx, "Pulse", b.Pulse, rx.PulseLow, startPulseLow)
	exceeds(v, rx, "Pulse", b.Pulse, rx.PulseHigh, startPulseHigh)
	reaches(v, rx, "Temperature", b.Temperature, rx.TempHigh, startTempHigh, StopHere)
	switch {
	case v.Words != "":
	case rx.SystolicLow != nil && rx.SystolicHi != nil:
		v.find(Green, "%s", capital(insideWords(rx))+".")
		v.Limit = rx.SystolicLow.String() + " to " + rx.SystolicHi.Text() + ", " + setByUnit(rx)
	default:
		v.find(Green, "Written down. Your unit has not set every limit for it.")
		v.Limit = startSystolicLow.String() + " to " + startSystolicHigh.Text() + ", " + ownDefault
	}
}

// below finds a value under the unit's limit (stop), or under the program's
// own where there is none (amber).
func below[M unit.Measure](v *verdict, rx *Prescription, what string, got, set *unit.Quantity[M], own unit.Quantity[M]) {
	limit(v, rx, what, got, set, own, Amber, "under", func(a, b unit.Quantity[M]) bool { return a < b })
}

// exceeds finds a value over the limit.
func exceeds[M unit.Measure](v *verdict, rx *Prescription, what string, got, set *unit.Quantity[M], own unit.Quantity[M]) {
	limit(v, rx, what, got, set, own, Amber, "over", func(a, b unit.Quantity[M]) bool { return a > b })
}

// reaches finds a value at or over the limit.
func reaches[M unit.Measure](v *verdict, rx *Prescription, what string, got, set *unit.Quantity[M], own unit.Quantity[M], byOwn CheckState) {
	limit(v, rx, what, got, set, own, byOwn, "at or over", func(a, b unit.Quantity[M]) bool { return a >= b })
}

func limit[M unit.Measure](v *verdict, rx *Prescription, what string, got, set *unit.Quantity[M], own unit.Quantity[M], byOwn CheckState, how string, out func(a, b unit.Quantity[M]) bool) {
	if got == nil {
		return
	}
	bound, whose, state := own, ownDefault, byOwn
	if set != nil {
		bound, whose, state = *set, setByUnit(rx), StopHere
	}
	if !out(*got, bound) {
		return
	}
	if v.Words == "" || rank[state] > rank[v.State] {
		v.Limit = bound.Text() + ", " + whose
	}
	v.find(state, "%s %s, %s %s. Ring your unit first.", what, got.Text(), how, bound)
}
