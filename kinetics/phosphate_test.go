package kinetics

import (
	"math"
	"testing"

	"pgregory.net/rapid"
)

// fourHours is the second worked session of the independent script.
var fourHours = PhosphateSession{PreMmolL: 1.8, MobilisationMl: 87, VolumeL: 9.4, Clearance: 130, RemovedL: 2.5, LengthMin: 240}

func TestPhosphateExamples(t *testing.T) {
	for _, tt := range []struct {
		s                  PhosphateSession
		end, hour, removed float64
	}{
		{PhosphateSession{1.8, 99, 11.9, 150, 2.5, 240}, 0.7603, 1.1688, 35.93},
		{fourHours, 0.7677, 1.2076, 31.02},
		{PhosphateSession{1.8, 87, 9.4, 100, 1.5, 150}, 0.9513, 1.3130, 18.27},
		{PhosphateSession{1.8, 87, 9.4, 90, 1.5, 480}, 0.9009, 1.2840, 43.89},
	} {
		c, err := tt.s.Course()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "at the end", c.EndMmolL, tt.end, 0.00005)
		near(t, "an hour later", c.After60MmolL, tt.hour, 0.00005)
		near(t, "removed", c.RemovedMmol, tt.removed, 0.005)
		if !hasCode(c.Cautions, "phosphate_model") {
			t.Errorf("cautions %v, want phosphate_model always", c.Cautions)
		}
	}
}

// step integrates the equations by Runge-Kutta, apart from the closed form.
func (s PhosphateSession) step(n int) (end, removed float64) {
	qf := s.RemovedL * 1000 / s.LengthMin
	h := s.LengthMin / float64(n)
	slope := func(t, c float64) float64 {
		v := (s.VolumeL+s.RemovedL)*1000 - qf*t
		return (s.MobilisationMl*(s.PreMmolL-c) - s.Clearance*c + qf*c) / v
	}
	c := s.PreMmolL
	for i := range n {
		t := float64(i) * h
		k1 := slope(t, c)
		k2 := slope(t+h/2, c+h/2*k1)
		k3 := slope(t+h/2, c+h/2*k2)
		k4 := slope(t+h, c+h*k3)
		next := c + h/6*(k1+2*k2+2*k3+k4)
		removed += s.Clearance * h * ((c+next)/2 + h*(k1-slope(t+h, next))/12) / 1000
		c = next
	}
	return c, removed
}

func TestPhosphateAgainstIntegration(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		s := PhosphateSession{
			PreMmolL:       rapid.Float64Range(0.5, 3).Draw(t, "pre"),
			MobilisationMl: rapid.Float64Range(0, 250).Draw(t, "mobilisation"),
			VolumeL:        rapid.Float64Range(4, 20).Draw(t, "volume"),
			Clearance:      rapid.Float64Range(20, 250).Draw(t, "clearance"),
			RemovedL:       rapid.SampledFrom([]float64{0, 1e-300, 1e-9, 0.3, 1, 2.5, 4}).Draw(t, "removed"),
			LengthMin:      rapid.Float64Range(60, 540).Draw(t, "length"),
		}
		if rapid.Bool().Draw(t, "removal as large as both clearances") {
			// a = KM + K − Qf is 0, the other point where the plain form divides
			// by nothing.
			s.MobilisationMl = 0
			s.Clearance = s.RemovedL * 1000 / s.LengthMin
		}
		c, err := s.Course()
		if err != nil {
			t.Fatal(err)
		}
		end, removed := s.step(4000)
		if math.Abs(c.EndMmolL-end) > 1e-9*s.PreMmolL || math.Abs(c.RemovedMmol-removed) > 1e-7*(removed+1e-3) {
			t.Fatalf("closed form %v and %v, integration %v and %v", c.EndMmolL, c.RemovedMmol, end, removed)
		}
	})
}

// Removal going to nothing must go to the plain exponential.
func TestPhosphateWithoutRemoval(t *testing.T) {
	s := fourHours
	s.RemovedL = 0
	dry, err := s.Course()
	if err != nil {
		t.Fatal(err)
	}
	want := 1.8 * (87 + 130*math.Exp(-(87+130)*240/9400.0)) / (87 + 130)
	near(t, "nothing removed", dry.EndMmolL, want, 1e-12)
	for _, removed := range []float64{1e-3, 1e-6, 1e-9, 1e-12} {
		s.RemovedL = removed
		c, err := s.Course()
		if err != nil {
			t.Fatal(err)
		}
		near(t, "hardly any removed", c.EndMmolL, dry.EndMmolL, 0.2*removed+1e-12)
	}
}

func TestPhosphateCourse(t *testing.T) {
	c, err := fourHours.Course()
	if err != nil {
		t.Fatal(err)
	}
	near(t, "cleared", c.ClearedL, 17.24, 0.005) // a session of the weekly table
	near(t, "plateau", c.PlateauMmolL, 1.8*87/217, 1e-12)
	isolated := fourHours
	isolated.Clearance = 0
	c, err = isolated.Course()
	if err != nil || c.RemovedMmol != 0 || c.PlateauMmolL != 1.8 || !hasCode(c.Cautions, "clearance_below_removal") {
		t.Errorf("no clearance: %+v, %v", c, err)
	}
	stores := fourHours
	stores.MobilisationMl = 30
	if c, err = stores.Course(); err != nil || !hasCode(c.Cautions, "mobilisation_outside") {
		t.Errorf("a mobilisation of 30: %v, %v; want mobilisation_outside", c.Cautions, err)
	}
	for _, tt := range []struct {
		field  string
		change func(*PhosphateSession)
	}{
		{"pre_mmol_l", func(s *PhosphateSession) { s.PreMmolL = 0 }},
		{"mobilisation_ml_min", func(s *PhosphateSession) { s.MobilisationMl = -1 }},
		{"volume_l", func(s *PhosphateSession) { s.VolumeL = 0 }},
		{"clearance_ml_min", func(s *PhosphateSession) { s.Clearance = math.NaN() }},
		{"removed_l", func(s *PhosphateSession) { s.RemovedL = -1 }},
		{"session_min", func(s *PhosphateSession) { s.LengthMin = 0 }},
	} {
		s := fourHours
		tt.change(&s)
		_, err := s.Course()
		refusedAbout(t, "phosphate", err, tt.field)
	}
}

// The steady weeks of an independent script: litres a session and a week, and
// the concentration before dialysis against 3 × 4 h.
func TestPhosphateWeek(t *testing.T) {
	week := func(n, length, clearance, weeklyL float64) float64 {
		got, err := PhosphateWeek(PhosphateSession{PreMmolL: 1.8, MobilisationMl: 87, VolumeL: 9.4, Clearance: clearance,
			RemovedL: weeklyL / n, LengthMin: length}, n)
		if err != nil {
			t.Fatal(err)
		}
		return got
	}
	usual := week(3, 240, 130, 7.5)
	for _, tt := range []struct {
		n, length, clearance, weeklyL, litres, relative float64
	}{
		{3, 240, 130, 7.5, 51.71, 1.00}, {3, 300, 130, 7.5, 61.22, 0.84}, {3.5, 240, 130, 7.5, 59.65, 0.87},
		{3, 480, 100, 7.5, 78.87, 0.66}, {5, 180, 110, 7.5, 61.56, 0.84}, {6, 150, 110, 7.5, 63.87, 0.81},
		{6, 480, 90, 7.5, 145.59, 0.36},
	} {
		got := week(tt.n, tt.length, tt.clearance, tt.weeklyL)
		near(t, "litres a week", got, tt.litres, 0.015)
		near(t, "before dialysis, relative", usual/got, tt.relative, 0.006)
	}
	_, err := PhosphateWeek(fourHours, 0)
	refusedAbout(t, "no sessions", err, "sessions_per_week")
	v, err := PhosphateVolume(70)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "volume of phosphate", v, 9.52, 1e-9)
	_, err = PhosphateVolume(0)
	refusedAbout(t, "no weight", err, "post_weight_kg")
}
