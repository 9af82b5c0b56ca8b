package calc

import (
	"encoding/json"
	"errors"
	"maps"
	"math"
	"slices"
	"strings"
	"testing"
)

type doseOut struct {
	URR        float64  `json:"urr"`
	SpKtV      float64  `json:"spktv"`
	EKtV       float64  `json:"ektv"`
	EKtVRate   float64  `json:"ektv_rate"`
	StdKtV     float64  `json:"stdktv"`
	StdKtVFull *float64 `json:"stdktv_full"`
	Target     struct {
		Measure         string
		Minimum, Target float64
		Source          string
	}
	Cautions []struct{ Code, Text string }
	Sources  []string
}

func (d doseOut) codes() []string {
	var list []string
	for _, c := range d.Cautions {
		list = append(list, c.Code)
	}
	return list
}

// The session of the worked figure: 70 to 21 mg/dL in 4 h, 3 L off, 70 kg.
const plainDose = `{"pre_urea":{"value":70,"unit":"mg/dL"},"post_urea":{"value":21,"unit":"mg/dL"},
 "session_min":240,"removed_l":3,"post_weight_kg":70,"sessions_per_week":3,"access":"av"}`

func TestDose(t *testing.T) {
	var out doseOut
	roomAnswer(t, "dose", plainDose, &out)
	for _, tt := range []struct {
		name         string
		got          float64
		want, within float64
	}{
		{"urr", out.URR, 0.7, 1e-12},
		{"spktv", out.SpKtV, 1.44319687, 1e-8},
		{"ektv", out.EKtV, 1.44319687 * 240 / 276, 1e-8},
		{"ektv_rate", out.EKtVRate, 1.44319687*(1-0.6/4) + 0.03, 1e-8},
	} {
		if math.Abs(tt.got-tt.want) > tt.within {
			t.Errorf("%s = %v, want %v", tt.name, tt.got, tt.want)
		}
	}
	// The algebraic form written out once more, from the figures above.
	fall := 1 - math.Exp(-out.EKtV)
	if want := (10080 * fall / 240) / (fall/out.SpKtV + 10080/(3*240.0) - 1); math.Abs(out.StdKtV-want) > 1e-12 {
		t.Errorf("stdktv = %v, want %v", out.StdKtV, want)
	}
	if out.StdKtVFull != nil {
		t.Errorf("stdktv_full = %v without a volume, want null", *out.StdKtVFull)
	}
	if out.Target.Measure != "spktv" || out.Target.Minimum != 1.2 || out.Target.Target != 1.4 {
		t.Errorf("target = %+v, want spktv 1.2, 1.4", out.Target)
	}
	if len(out.Cautions) != 0 || len(out.Sources) < 4 {
		t.Errorf("cautions %v, sources %v; want none and all", out.codes(), out.Sources)
	}
}

func TestDoseCountsFluidAndKidneys(t *testing.T) {
	var out, without doseOut
	in := with(t, plainDose, map[string]any{"session_min": 240, "urea_volume_l": 35, "weekly_removed_l": 7.5, "residual_clearance_ml_min": 3})
	roomAnswer(t, "dose", in, &out)
	if out.StdKtVFull == nil {
		t.Fatal("stdktv_full is null with volume and fluid given")
	}
	want := out.StdKtV/(1-0.74/3*7.5/35) + 3*(0.974/(out.SpKtV+1.62)+0.40)*10080/35000
	if math.Abs(*out.StdKtVFull-want) > 1e-12 {
		t.Errorf("stdktv_full = %v, want %v", *out.StdKtVFull, want)
	}
	if out.Target.Measure != "stdktv" || out.Target.Minimum != 2.1 {
		t.Errorf("target with residual clearance 3 = %+v, want the weekly one", out.Target)
	}
	roomAnswer(t, "dose", with(t, plainDose, map[string]any{"residual_clearance_ml_min": 3, "urea_volume_l": 35}), &without)
	if without.StdKtVFull != nil || !slices.Contains(without.codes(), "residual_not_counted") {
		t.Errorf("without the week's fluid: full %v, cautions %v; want null and residual_not_counted", without.StdKtVFull, without.codes())
	}
}

func TestDoseByScheduleAndAccess(t *testing.T) {
	var out doseOut
	roomAnswer(t, "dose", with(t, plainDose, map[string]any{"access": "vv"}), &out)
	if want := out.SpKtV * 240 / 262; math.Abs(out.EKtV-want) > 1e-12 {
		t.Errorf("ektv through a catheter = %v, want %v", out.EKtV, want)
	}
	if want := out.SpKtV*(1-0.47/4) + 0.02; math.Abs(out.EKtVRate-want) > 1e-12 {
		t.Errorf("ektv_rate through a catheter = %v, want %v (0.02, not 0.03)", out.EKtVRate, want)
	}

	// C-sp-07: six a week, one day between.
	six := map[string]any{"pre_urea": json.RawMessage(`{"value":50,"unit":"mg/dL"}`), "post_urea": json.RawMessage(`{"value":27,"unit":"mg/dL"}`),
		"session_min": 150, "removed_l": 1.5, "post_weight_kg": 75, "sessions_per_week": 6, "days_since_previous": 1}
	roomAnswer(t, "dose", with(t, plainDose, six), &out)
	if math.Abs(out.SpKtV-0.742371795) > 1e-8 {
		t.Errorf("spktv of a short daily session = %v, want 0.7424", out.SpKtV)
	}
	if out.Target.Measure != "stdktv" || out.Target.Minimum != 2.1 || out.Target.Target != 2.3 {
		t.Errorf("target at six a week = %+v, want stdktv 2.1, 2.3", out.Target)
	}
	if slices.Contains(out.codes(), "other_schedule") {
		t.Errorf("cautions %v: the days were given", out.codes())
	}
	delete(six, "days_since_previous")
	roomAnswer(t, "dose", with(t, plainDose, six), &out)
	if math.Abs(out.SpKtV-0.696126467) > 1e-8 || !slices.Contains(out.codes(), "other_schedule") {
		t.Errorf("without days: spktv %v, cautions %v; want 0.6961 and other_schedule", out.SpKtV, out.codes())
	}
}

// Kt/V and URR use ratios, so the three units must give one answer.
func TestDoseInEveryUnit(t *testing.T) {
	var bun, other doseOut
	roomAnswer(t, "dose", plainDose, &bun)
	for _, u := range []string{"mmol/L", "mg/dL urea"} {
		roomAnswer(t, "dose", with(t, plainDose, map[string]any{
			"pre_urea": map[string]any{"value": 70, "unit": u}, "post_urea": map[string]any{"value": 21, "unit": u}}), &other)
		if math.Abs(other.SpKtV-bun.SpKtV) > 1e-12 {
			t.Errorf("spktv in %s = %v, in mg/dL %v", u, other.SpKtV, bun.SpKtV)
		}
	}
}

func TestDoseRefuses(t *testing.T) {
	for _, tt := range []struct {
		name, want string
		change     map[string]any
	}{
		{"samples swapped", "post_urea", map[string]any{"pre_urea": map[string]any{"value": 21, "unit": "mg/dL"}, "post_urea": map[string]any{"value": 70, "unit": "mg/dL"}}},
		{"no fall", "post_urea", map[string]any{"post_urea": map[string]any{"value": 70, "unit": "mg/dL"}}},
		{"units mixed", "post_urea.unit", map[string]any{"post_urea": map[string]any{"value": 7.5, "unit": "mmol/L"}}},
		{"unit unknown", "pre_urea.unit", map[string]any{"pre_urea": map[string]any{"value": 25, "unit": "mmol"}}},
		{"unit missing", "pre_urea.unit", map[string]any{"pre_urea": map[string]any{"value": 25}}},
		{"key inside unknown", "pre_urea.lab", map[string]any{"pre_urea": map[string]any{"value": 70, "unit": "mg/dL", "lab": "x"}}},
		{"no blood so high", "pre_urea", map[string]any{"pre_urea": map[string]any{"value": 301, "unit": "mmol/L"}, "post_urea": map[string]any{"value": 100, "unit": "mmol/L"}}},
		{"zero urea", "post_urea.value", map[string]any{"post_urea": map[string]any{"value": 0, "unit": "mg/dL"}}},
		{"no logarithm", "session_min", map[string]any{"pre_urea": map[string]any{"value": 100, "unit": "mg/dL"}, "post_urea": map[string]any{"value": 6, "unit": "mg/dL"}, "session_min": 480}},
		{"no time", "session_min", map[string]any{"session_min": 0}},
		{"negative removal", "removed_l", map[string]any{"removed_l": -0.1}},
		{"no weight", "post_weight_kg", map[string]any{"post_weight_kg": 0}},
		{"eight a week", "sessions_per_week", map[string]any{"sessions_per_week": 8}},
		{"no days", "days_since_previous", map[string]any{"days_since_previous": 0}},
		{"third access", "access", map[string]any{"access": "graft"}},
		{"more fluid than water", "weekly_removed_l", map[string]any{"urea_volume_l": 10, "weekly_removed_l": 60}},
		{"text for a number", "session_min", map[string]any{"session_min": "240"}},
		{"null", "removed_l", map[string]any{"removed_l": nil}},
	} {
		t.Run(tt.name, func(t *testing.T) { mustRefuse(t, "dose", with(t, plainDose, tt.change), tt.want) })
	}
	mustKnowItsKeys(t, "dose", plainDose)
}

func TestDoseExplains(t *testing.T) {
	topic, _ := Find("dose")
	a, err := topic.Answer(strings.NewReader(topic.Example))
	if err != nil {
		t.Fatal(err)
	}
	for _, term := range []string{"URR", "generation", "spKt/V", "5 % off", "eKt/V", "rate equation", "stdKt/V a week", "fluid and residual", "target"} {
		if !slices.ContainsFunc(a.Steps, func(s Step) bool { return strings.Contains(s.Term, term) && s.Source != "" }) {
			t.Errorf("no step, or none with a source, explains %q", term)
		}
	}
}

// with gives the input with some keys changed.
func with(t *testing.T, in string, change map[string]any) string {
	t.Helper()
	keys := map[string]any{}
	if err := json.Unmarshal([]byte(in), &keys); err != nil {
		t.Fatal(err)
	}
	maps.Copy(keys, change)
	out, err := json.Marshal(keys)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// mustRefuse checks that an input is refused with a sentence about the key.
func mustRefuse(t *testing.T, topic, in, key string) {
	t.Helper()
	tp, ok := Find(topic)
	if !ok {
		t.Fatalf("no topic %s", topic)
	}
	a, err := tp.Answer(strings.NewReader(in))
	var p Problems
	if !errors.As(err, &p) {
		t.Fatalf("%s: answered %+v, error %v; want problems", in, a.Out, err)
	}
	if !slices.ContainsFunc(p, func(s string) bool { return strings.HasPrefix(s, key+": ") && !strings.Contains(s, "\n") }) {
		t.Errorf("%s: problems %q, want one that begins with %s", in, p, key)
	}
}

// mustKnowItsKeys takes every key of a minimal input away in turn and adds one
// that is not known.
func mustKnowItsKeys(t *testing.T, topic, minimal string) {
	t.Helper()
	keys := map[string]any{}
	if err := json.Unmarshal([]byte(minimal), &keys); err != nil {
		t.Fatal(err)
	}
	for k, v := range keys {
		delete(keys, k)
		in, err := json.Marshal(keys)
		if err != nil {
			t.Fatal(err)
		}
		mustRefuse(t, topic, string(in), k)
		keys[k] = v
	}
	mustRefuse(t, topic, with(t, minimal, map[string]any{"no_such_key": 1}), "no_such_key")
}
