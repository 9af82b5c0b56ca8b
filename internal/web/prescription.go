package web

import (
	"crypto/sha256"
	"encoding/base32"
	"encoding/json"
	"net/http"
	"slices"
	"strings"

	"ebbline/record"
	"ebbline/session"
)

// orderBody is the form of a prescription, and the look at it before it is
// kept.
type orderBody struct {
	Form    form
	Parts   []orderPart
	Days    []dayToggle
	Last    *record.Rx // the version that it begins with
	Correct *record.Rx // the version that it corrects

	Wrong []orderPart // parts with something to look at again

	Now    *session.Prescription
	Looked bool // everything was taken; this is the look before it is kept
	Diff   []record.Change
	Read   []orderPart // every value, as it will stand
	Asks   []string    // what does not go together, to look at again
	Sent   []pair      // the form as it was sent
	Shown  string      // what "keep" must send back, so that what was seen is what is kept
}

// orderPart is one group of values, as inputs or as read.
type orderPart struct {
	ID, Title, Why string
	Inputs         []input
	Values         []valueLine
}

type dayToggle struct {
	Value, Label, Long string
	On                 bool
}

type pair struct{ Key, Value string }

// orderParts are the groups of the form, in the order of the unit's paper.
var orderParts = []struct {
	id, title, why string
	keys           []string
}{
	{"order", "The order", "Who ordered it and how it reached you. A change by telephone is read back to the caller word by word, and stays marked until its paper has come.",
		[]string{"ordered_by", "ordered_on", "how", "read_back", "valid_from", "review_by"}},
	{"when", "When and how long", "Either days of the week or every so many hours; either a length or litres of dialysate. With a profile, Ebbline makes no plan: you go by your unit’s paper.",
		[]string{"days", "every_hours", "length_min", "dialysate_l", "removal_profile", "sodium_profile"}},
	{"dry", "Dry weight", "With the name and the date of whoever set it: it is the oldest number that is the most trusted.",
		[]string{"dry_weight_kg", "dry_weight_set_by", "dry_weight_set_on", "dry_weight_review_by"}},
	{"flows", "Dialyser and flows", "", []string{"dialyser", "koa_ml_min", "blood_flow_ml_min", "dialysate_flow_ml_min", "haemodiafiltration", "substitution_l", "substitution_place"}},
	{"bath", "Bath", "", []string{"bath_k_mmol_l", "bath_ca_mmol_l", "dialysate_temp_c", "conductivity_ms_cm"}},
	{"heparin", "Heparin", "The dose is your unit’s. This program turns it into millilitres of the vial in your hand and proposes none.",
		[]string{"heparin", "heparin_strength_iu_ml", "heparin_bolus_iu", "heparin_hourly_iu_h", "heparin_stop_before_end_min", "flush_ml", "flush_every_min"}},
	{"access", "Access and needles", "", []string{"access", "access_side", "technique", "arterial_needle_gauge", "venous_needle_gauge", "single_needle", "access_heard_not_felt", "listen_each_time"}},
	{"lock", "Catheter lock", "For a catheter only. The vial and the volume on each lumen are typed before each session and held against this.",
		[]string{"lock", "lock_strength_iu_ml", "lock_strength_percent", "lock_arterial_ml", "lock_venous_ml"}},
	{"sugar", "Blood sugar", "Only where your unit wants it measured each session: diabetes, insulin, or a bath without glucose. Who and when stand under its limits below.",
		[]string{"glucose_marked", "glucose_low_mmol_l", "glucose_every_min"}},
	{"fluid", "Fluid of the session itself", "Both are added to what is taken off, so that they do not stay in you.", []string{"intake_ml", "washback_ml"}},
	{"limits", "Limits your unit set", "Copy only what your unit wrote. Where a line stays blank the program falls back on a figure of its own and says so each time: it is not set by your unit.",
		[]string{"limits_set_by", "limits_set_on", "rate_limit_ml_h_kg", "rate_limit_none_by", "rate_limit_none_on", "max_removal_ml", "below_dry_ring_kg",
			"chlorine_limit_mg_l", "conductivity_tolerance_ms_cm",
			"start_systolic_low_mmhg", "start_systolic_high_mmhg", "start_standing_low_mmhg",
			"start_pulse_low_per_min", "start_pulse_high_per_min", "start_pulse_none_by", "start_pulse_none_on",
			"start_temperature_high_c", "act_systolic_below_mmhg", "act_systolic_fall_mmhg", "act_systolic_none_by", "act_systolic_none_on", "act_tmp_above_mmhg", "check_every_min", "check_after_low_min", "anaesthetic_max_mg"}},
}

// anew are the facts of one order, which no later order has in common with it.
var anew = []string{"ordered_by", "ordered_on", "how", "read_back", "valid_from"}

var orderHints = map[string]string{
	"ordered_on":           "The day it was ordered, not the day you type it in.",
	"valid_from":           "The first session day it counts for.",
	"days":                 " ", // the toggles say it
	"lock":                 "As the vial names it.",
	"every_hours":          "From the start of one session to the start of the next.",
	"length_min":           "Treated time in minutes: four and a half hours are 270.",
	"dialysate_l":          "Only where your unit orders litres instead of a length; then the dialysate flow is needed too.",
	"koa_ml_min":           "From the dialyser’s leaflet; leave it blank if you do not know it.",
	"heparin_hourly_iu_h":  "Blank when nothing runs during the session.",
	"flush_ml":             "Saline that keeps the lines open where no heparin runs. All of them are added to what is taken off.",
	"flush_every_min":      "In minutes. None is planned at the very end.",
	"listen_each_time":     "Tick the two only where your unit wrote it, with who and when under its limits below.",
	"intake_ml":            "Drinks and food your unit allows for while you dialyse.",
	"glucose_low_mmol_l":   "In mmol/L: 70 mg/dL are 3.9, 80 mg/dL are 4.4. Blank where your unit set none: then it is 4.0 mmol/L, which is ours.",
	"glucose_every_min":    "In minutes. Blank where your unit wants it before and after alone.",
	"haemodiafiltration":   "Only where your unit ordered it. The two lines below belong to it.",
	"substitution_l":       "As ordered, in litres. Leave it blank without haemodiafiltration.",
	"substitution_place":   "Leave it blank without haemodiafiltration.",
	"washback_ml":          "Saline, or fluid from the machine, that gives the blood back.",
	"limits_set_by":        "The nurse or doctor, by name. A limit without one is not taken.",
	"rate_limit_none_by":   "Only when you asked and your unit sets no removal rate: the name of who said it. Then leave the rate blank.",
	"rate_limit_none_on":   "The day it was said.",
	"act_systolic_none_by": "Only when you asked and your unit sets neither of the two: the name of who said it. Then leave both blank.",
	"act_systolic_none_on": "The day it was said.",
	"start_pulse_none_by":  "Only when you asked and your unit sets no pair: the name of who said it.",
	"start_pulse_none_on":  "The day it was said.",
}

// rxOf is the version that the address names.
func (v visit) rxOf() (*record.Rx, error) {
	rx := v.member.Rx(v.PathValue("rx"))
	if rx == nil {
		return nil, notFound{"no such version of the prescription"}
	}
	return rx, nil
}

// orderForm is the form of a new version, or of the correction of one. A new
// version begins with the values of the last; none of them is a measurement.
func (s *server) orderForm(v visit, fill func(form) form) (view, error) {
	kind, _ := record.Find("prescription")
	base := "/p/" + v.member.ID + "/prescription"
	b := orderBody{}
	f := newForm(kind, base+"/new", nil)
	f.Next, f.Back, f.Submit = base, base, "Look at it once more"
	title := "Prescription"
	if v.PathValue("rx") != "" {
		rx, err := v.rxOf()
		if err != nil {
			return view{}, err
		}
		b.Correct, b.Last = rx, rx
		f.Action, f.Corrects = base+"/"+rx.ID+"/correct", rx.ID
		f = f.begin(filled(kind, &rx.Value))
		title = "Correct a version"
	} else if b.Last = lastVersion(v.member); b.Last == nil {
		f.Next, f.Back = "/p/"+v.member.ID+"/", "/p/"+v.member.ID+"/" // there is no version to go back to
	} else {
		given := filled(kind, &b.Last.Value)
		for _, key := range anew {
			delete(given, key)
		}
		f = f.begin(given)
		title = "A change by the unit"
	}
	f = fill(f.hint(orderHints).hint(ownHints(ownFor(v))))
	b.Form = f
	for _, p := range orderParts {
		part := orderPart{ID: p.id, Title: p.title, Why: p.why, Inputs: form{Inputs: f.Inputs}.only(p.keys...).Inputs}
		b.Parts = append(b.Parts, part)
		if wrong := (orderPart{ID: p.id, Title: p.title}); part.marked(&wrong) {
			b.Wrong = append(b.Wrong, wrong)
		}
	}
	days := strings.Fields(valueOf(f, "days"))
	for _, d := range weekdays {
		b.Days = append(b.Days, dayToggle{d.value, d.short, d.long, slices.Contains(days, d.value)})
	}
	return view{page: "prescription", title: title, here: "unit", body: b}, nil
}

// marked gathers the inputs that something was said to.
func (p orderPart) marked(into *orderPart) bool {
	for _, in := range p.Inputs {
		if in.Problem != "" || in.Asked != "" {
			into.Inputs = append(into.Inputs, in)
		}
	}
	return len(into.Inputs) > 0
}

var weekdays = []struct{ value, short, long string }{
	{"mon", "Mon", "Monday"}, {"tue", "Tue", "Tuesday"}, {"wed", "Wed", "Wednesday"}, {"thu", "Thu", "Thursday"},
	{"fri", "Fri", "Friday"}, {"sat", "Sat", "Saturday"}, {"sun", "Sun", "Sunday"},
}

func valueOf(f form, key string) string {
	for _, in := range f.Inputs {
		if in.Key == key {
			return in.Value
		}
	}
	return ""
}

// lastVersion is the version written last that still counts, or nil.
func lastVersion(m *record.Member) *record.Rx {
	for i := len(m.Prescriptions) - 1; i >= 0; i-- {
		if rx := m.Prescriptions[i]; rx.Struck == nil {
			return rx
		}
	}
	return nil
}

// order takes a prescription in two steps: it shows what would change, and
// keeps it only when that very look is sent back.
func (s *server) order(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("prescription")
	oneLineEnd(r)
	if id := r.PathValue("rx"); id != "" {
		r.PostForm.Set("corrects", id)
	}
	e, found := s.read(r, kind)
	if r.PostFormValue("go") == "change" {
		return s.render(w, r, func(v visit) (view, error) {
			return s.orderForm(v, func(f form) form { return f.typed(r, nil) })
		})
	}
	if len(found) == 0 {
		if err := s.look(r, func(v visit) error {
			held := e
			held.Written = v.now
			found = record.Check(v.house, held)
			return nil
		}); err != nil {
			return err
		}
	}
	if len(found) == 0 && r.PostFormValue("shown") != digest(e) {
		if wantsJSON(r) {
			// The script then lets the page be shown.
			return writeJSON(w, http.StatusUnprocessableEntity, map[string]any{"saved": false, "findings": record.Findings{}})
		}
		return s.render(w, r, func(v visit) (view, error) { return s.orderLook(v, e) })
	}
	return s.settle(w, r, e, found, s.orderForm)
}

// orderLook shows an order before it is kept.
func (s *server) orderLook(v visit, e record.Entry) (view, error) {
	made, err := s.orderForm(v, func(f form) form { return f.typed(v.Request, nil) })
	if err != nil {
		return view{}, err
	}
	b := made.body.(orderBody)
	rx := e.Body.(*session.Prescription)
	b.Now = rx
	b.Looked, b.Shown, b.Read = true, digest(e), readParts(rx, ownFor(v))
	if b.Last != nil {
		b.Diff = record.Diff(&b.Last.Value, rx)
		b.Asks = oddities(&b.Last.Value, rx)
	}
	b.Asks = append(b.Asks, filtrationLacks(rx)...)
	for _, key := range sorted(v.PostForm) {
		for _, value := range v.PostForm[key] {
			if key != "go" && key != "shown" {
				b.Sent = append(b.Sent, pair{key, value})
			}
		}
	}
	made.body = b
	made.title = "Look at it once more"
	return made, nil
}

func sorted(m map[string][]string) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// oddities are changes that go together on paper and did not here.
func oddities(was, now *session.Prescription) []string {
	var list []string
	if was.DryWeight != now.DryWeight && was.DrySetOn == now.DrySetOn {
		list = append(list, "The dry weight is another, but it still says “set on "+now.DrySetOn.Long()+"”. Is that the day of the new one?")
	}
	a, b := was.Limits, now.Limits
	same := a.SetBy == b.SetBy && a.SetOn == b.SetOn
	a.SetBy, a.SetOn = b.SetBy, b.SetOn
	a.RateNoneBy, a.RateNoneOn = b.RateNoneBy, b.RateNoneOn // have names and days of their own
	a.FallNoneBy, a.FallNoneOn, a.PulseNoneBy, a.PulseNoneOn = b.FallNoneBy, b.FallNoneOn, b.PulseNoneBy, b.PulseNoneOn
	if before, _ := json.Marshal(a); same {
		if after, _ := json.Marshal(b); string(before) != string(after) {
			list = append(list, "A limit is another, but it still says “"+now.SetByUnit()+"”. Who set the new one, and when?")
		}
	}
	return list
}

// digest stands for an order as it was shown.
func digest(e record.Entry) string {
	text, err := json.Marshal([]any{e.Body, e.Corrects, e.Reason})
	if err != nil {
		return ""
	}
	sum := sha256.Sum256(text)
	return strings.ToLower(base32.StdEncoding.EncodeToString(sum[:10]))
}
