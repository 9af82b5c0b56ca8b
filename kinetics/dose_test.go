package kinetics

import (
	"errors"
	"math"
	"slices"
	"testing"

	"ebbline/unit"
)

// near fails unless got lies within tolerance of want; a NaN always fails.
func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if !(math.Abs(got-want) <= within) {
		t.Errorf("%s = %v, want %v ± %v", what, got, want, within)
	}
}

// refusedAbout fails unless err is an InputError about the field.
func refusedAbout(t *testing.T, what string, err error, field string) {
	t.Helper()
	var ie *unit.InputError
	if !errors.As(err, &ie) || ie.Field != field {
		t.Errorf("%s: err = %v, want an InputError about %s", what, err, field)
	}
}

func hasCode(list []unit.Caution, code string) bool {
	return slices.ContainsFunc(list, func(c unit.Caution) bool { return c.Code == code && c.Text != "" })
}

// bloods is a session of 4 h in which 3 L left a person of 70 kg.
func bloods(pre, post float64) Sampled {
	return Sampled{Pre: unit.BUN(pre), Post: unit.BUN(post), LengthMin: 240, RemovedL: 3, PostWeightKg: 70, PerWeek: 3}
}

func TestURR(t *testing.T) {
	f, err := URR(unit.BUN(70), unit.BUN(21))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "URR of 70 and 21", f.Value, 0.7, 1e-15)
	for _, tt := range []struct {
		pre, post float64
		code      string
	}{{100, 61, "urr_below_40"}, {100, 59, ""}, {100, 11, ""}, {100, 9, "urr_above_90"}} {
		f, err := URR(unit.BUN(tt.pre), unit.BUN(tt.post))
		if err != nil || (tt.code == "") != (len(f.Cautions) == 0) || (tt.code != "" && !hasCode(f.Cautions, tt.code)) {
			t.Errorf("URR(%v, %v): cautions %v, %v; want %q", tt.pre, tt.post, f.Cautions, err, tt.code)
		}
	}
}

// Trap: a sample after the session that is not below the one before, a
// logarithm of nothing, no time.
func TestDoseRefusesBadInput(t *testing.T) {
	for _, tt := range []struct {
		name, field string
		change      func(*Sampled)
	}{
		{"swapped", "post_urea", func(s *Sampled) { s.Pre, s.Post = s.Post, s.Pre }},
		{"equal", "post_urea", func(s *Sampled) { s.Post = s.Pre }},
		{"no urea before", "pre_urea", func(s *Sampled) { s.Pre = 0 }},
		{"no urea after", "post_urea", func(s *Sampled) { s.Post = 0 }},
		{"urea not a number", "post_urea", func(s *Sampled) { s.Post = unit.Urea(math.NaN()) }},
		{"logarithm", "session_min", func(s *Sampled) { s.Post, s.LengthMin = s.Pre*0.06, 480 }},
		{"logarithm of 0", "session_min", func(s *Sampled) { s.Pre, s.Post, s.LengthMin = 1, 0.032, 240 }},
		{"no time", "session_min", func(s *Sampled) { s.LengthMin = 0 }},
		{"more than a day", "session_min", func(s *Sampled) { s.LengthMin = 1441 }},
		{"fluid given", "removed_l", func(s *Sampled) { s.RemovedL = -0.1 }},
		{"no weight", "post_weight_kg", func(s *Sampled) { s.PostWeightKg = 0 }},
		{"no sessions", "sessions_per_week", func(s *Sampled) { s.PerWeek = 0 }},
		{"days before", "days_since_previous", func(s *Sampled) { s.DaysSincePrevious = -1 }},
		{"infinite removal", "removed_l", func(s *Sampled) { s.RemovedL = math.Inf(1) }},
	} {
		s := bloods(70, 21)
		tt.change(&s)
		_, err := SinglePool(s)
		refusedAbout(t, tt.name, err, tt.field)
	}
	first := bloods(70, 5)
	_, err := SinglePoolFirst(first)
	refusedAbout(t, "first generation, R under UF/W and generation", err, "session_min")
}

// The first example's sensitivities, as computed by an independent script.
func TestSinglePoolSensitivity(t *testing.T) {
	value := func(s Sampled) float64 {
		f, err := SinglePool(s)
		if err != nil {
			t.Fatal(err)
		}
		return f.Value
	}
	plain := value(bloods(70, 21))
	post, pre, more, shorter := bloods(70, 21*1.05), bloods(70*1.05, 21), bloods(70, 21), bloods(70, 21)
	more.RemovedL += 0.5
	shorter.LengthMin -= 15
	near(t, "sample after 5 % high", value(post)-plain, -0.057, 0.0005)
	near(t, "sample before 5 % high", value(pre)-plain, 0.057, 0.0005)
	near(t, "half a litre more", value(more)-plain, 0.021, 0.0005)
	near(t, "a quarter of an hour less", value(shorter)-plain, -0.007, 0.0005)

	low, high, err := SinglePoolRange(bloods(70, 21), 0.05)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "low end", low, value(post), 1e-12)
	near(t, "high end", high, value(bloods(70, 21*0.95)), 1e-12)
	near(t, "half the range at a usual dose", (high-low)/2, 0.06, 0.005)
	_, _, err = SinglePoolRange(bloods(70, 69), 0.05)
	refusedAbout(t, "a range past the sample before", err, "post_urea")
}

func TestSinglePoolCautions(t *testing.T) {
	for _, tt := range []struct {
		code   string
		change func(*Sampled)
	}{
		{"", func(*Sampled) {}},
		{"other_schedule", func(s *Sampled) { s.PerWeek = 5 }},
		{"", func(s *Sampled) { s.PerWeek, s.DaysSincePrevious = 5, 1 }},
		{"days_outside_fit", func(s *Sampled) { s.DaysSincePrevious = 5 }},
		{"session_below_2_h", func(s *Sampled) { s.LengthMin = 119 }},
		{"", func(s *Sampled) { s.LengthMin = 300 }},
		{"session_above_5_h", func(s *Sampled) { s.LengthMin = 301 }},
		{"ratio_outside_fit", func(s *Sampled) { s.Post = s.Pre * 0.71 }},
		{"removal_outside_fit", func(s *Sampled) { s.RemovedL = 4.3 }},
		{"spktv_outside_fit", func(s *Sampled) { s.Post = s.Pre * 0.13 }},
	} {
		s := bloods(70, 21)
		tt.change(&s)
		f, err := SinglePool(s)
		if err != nil || (tt.code == "") != (len(f.Cautions) == 0) || (tt.code != "" && !hasCode(f.Cautions, tt.code)) {
			t.Errorf("%+v: cautions %v, %v; want %q", s, f.Cautions, err, tt.code)
		}
	}
}
