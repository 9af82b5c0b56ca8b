package kinetics

import (
	"errors"
	"math"
	"slices"
	"testing"

	"ebbline/unit"

	"pgregory.net/rapid"
)

// A steady cycle, followed as if it had been recorded, says the same again and
// ends where it began.
func TestFollowingASteadyCycle(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawOrdinary(t)
		s := steadyOf(t, p, c)
		r, err := p.Course(c, s)
		if err != nil {
			t.Fatal(err)
		}
		f, err := p.Follow(r)
		if err != nil {
			t.Fatal(err)
		}
		same := func(what string, got, want float64) {
			if !(apart(got, want) <= 1e-10) {
				t.Errorf("%s = %.13g, want %.13g; %+v %+v", what, got, want, p, c)
			}
		}
		same("stdKt/V", f.StdKtV.Value, s.StdKtV)
		same("time-averaged", f.TimeAveraged, s.TimeAveraged)
		same("EKR", f.EKRMlMin, s.EKRMlMin)
		same("removed", f.RemovedG, s.RemovedG)
		if p.ResidualMlMin > 0 {
			same("residual", f.ResidualG, s.ResidualG)
		}
		same("end outside", f.End.Outer, r.Start.Outer)
		same("end inside", f.End.Inner, r.Start.Inner)
		same("end volume", f.EndVolumeL, r.StartVolumeL)
		if math.Abs(f.StoredG) > 1e-9*(f.RemovedG+f.ResidualG) {
			t.Errorf("stored %v g over a cycle", f.StoredG)
		}
		if len(f.Cautions()) != 0 {
			t.Errorf("cautions %v", f.Cautions())
		}
		for i, l := range f.Sessions {
			want := s.Sessions[i]
			same("pre", l.Pre, want.Pre)
			same("post", l.Post, want.Post)
			same("mixed", l.Mixed, want.Mixed)
			same("URR", l.URR, want.URR)
			same("spKt/V", l.SpKtV.Value, want.SpKtV.Value)
			same("eKt/V", l.EKtV.Value, want.EKtV.Value)
			if l.StartMin+c.Sessions[i].LengthMin+60 <= r.LengthMin {
				same("rebound", l.Rebound60, want.Rebound60)
			}
		}
	})
}

// usualWeeks is two weeks of three sessions, as recorded, for a person in the
// steady state of that.
func usualWeeks(t *testing.T) (Pools, Recorded) {
	t.Helper()
	p, c := tableSchedules["T1"].model()
	s, err := p.Steady(c, nil)
	if err != nil {
		t.Fatal(err)
	}
	week, err := p.Course(c, s)
	if err != nil {
		t.Fatal(err)
	}
	two := week
	two.LengthMin *= 2
	two.Sessions = slices.Clone(week.Sessions)
	for i, s := range week.Sessions {
		s.StartMin += week.LengthMin
		if i == 0 {
			s.GainedL += week.GainedL
		}
		two.Sessions = append(two.Sessions, s)
	}
	return p, two
}

func TestFollowingAMissedSession(t *testing.T) {
	p, r := usualWeeks(t)
	usual, err := p.Follow(r)
	if err != nil {
		t.Fatal(err)
	}
	if !usual.StdKtV.Exists || math.Abs(usual.StdKtV.Value-2.429) > 0.001 {
		t.Errorf("standard Kt/V of the usual fortnight = %v, want 2.429 (case T1)", usual.StdKtV)
	}

	// The fifth session is missed; its fluid stays and comes off with the sixth.
	missed := r
	missed.Sessions = slices.Delete(slices.Clone(r.Sessions), 4, 5)
	missed.Sessions[4].GainedL += r.Sessions[4].GainedL
	f, err := p.Follow(missed)
	if err != nil {
		t.Fatal(err)
	}
	if !(f.StdKtV.Value < usual.StdKtV.Value-0.1) {
		t.Errorf("standard Kt/V %v with a session missed, %v without", f.StdKtV, usual.StdKtV)
	}
	if !(f.Sessions[4].Pre > 1.3*usual.Sessions[5].Pre) {
		t.Errorf("after the miss the level before is %v, usually %v", f.Sessions[4].Pre, usual.Sessions[5].Pre)
	}
	if f.LongestGap < 5000 || usual.LongestGap > 4100 {
		t.Errorf("longest gap %v min with the miss, %v without", f.LongestGap, usual.LongestGap)
	}
	if !(f.StoredG > 0) || !slices.ContainsFunc(f.Cautions(), func(c unit.Caution) bool { return c.Code == "not_repeating" }) {
		t.Errorf("stored %v g, cautions %v", f.StoredG, f.Cautions())
	}

	// No session at all: nothing to average, and that is said.
	none := Recorded{LengthMin: 1440, StartVolumeL: 36, Start: r.Start, GainedL: 1}
	f, err = p.Follow(none)
	if err != nil || f.StdKtV.Exists || !slices.ContainsFunc(f.Cautions(), func(c unit.Caution) bool { return c.Code == "no_session" }) {
		t.Errorf("without a session: %+v, %v", f, err)
	}
}

// What is stored is what the pools hold at the end less what they held at the
// start.
func TestStoredIsWhatThePoolsHold(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p, c := drawOrdinary(t)
		s := steadyOf(t, p, c)
		r, err := p.Course(c, s)
		if err != nil {
			t.Fatal(err)
		}
		r.Start.Outer *= rapid.Float64Range(0.3, 2).Draw(t, "outer")
		r.Start.Inner *= rapid.Float64Range(0.3, 2).Draw(t, "inner")
		r.GainedL += rapid.Float64Range(0, 2).Draw(t, "more gained")
		f, err := p.Follow(r)
		if err != nil {
			t.Fatal(err)
		}
		held := func(l PoolLevels, volumeL float64) float64 {
			st := p.stretch(0, 0, volumeL*1000, 0)
			return (l.Outer*st.outer + l.Inner*st.inner) / 1000
		}
		stored := held(f.End, f.EndVolumeL) - held(r.Start, r.StartVolumeL)
		if math.Abs(stored-f.StoredG) > 1e-9*(1+math.Abs(stored)) {
			t.Errorf("stored %v g, the pools say %v", f.StoredG, stored)
		}
	})
}

// Whatever the levels at the start, the same cycle over and over leads to the
// steady state.
func TestEveryStartIsForgotten(t *testing.T) {
	p, c := tableSchedules["T2"].model()
	s, err := p.Steady(c, nil)
	if err != nil {
		t.Fatal(err)
	}
	r, err := p.Course(c, s)
	if err != nil {
		t.Fatal(err)
	}
	r.Start = PoolLevels{0, 3}
	for range 40 {
		f, err := p.Follow(r)
		if err != nil {
			t.Fatal(err)
		}
		r.Start = f.End
	}
	if apart(r.Start.Outer, s.Sessions[0].Pre) > 1e-10 || apart(r.Start.Inner, s.Sessions[0].PreInner) > 1e-10 {
		t.Errorf("after 40 weeks %+v, the steady state has %v and %v", r.Start, s.Sessions[0].Pre, s.Sessions[0].PreInner)
	}
}

func TestCurvePassesThroughTheLevels(t *testing.T) {
	p, r := usualWeeks(t)
	f, err := p.Follow(r)
	if err != nil {
		t.Fatal(err)
	}
	points, err := p.Curve(r, 17)
	if err != nil {
		t.Fatal(err)
	}
	at := func(minute float64) PoolLevels {
		i := slices.IndexFunc(points, func(c CurvePoint) bool { return math.Abs(c.Min-minute) < 1e-6 })
		if i < 0 {
			t.Fatalf("no point at %v min", minute)
		}
		return points[i].Levels
	}
	for i, s := range r.Sessions {
		if apart(at(s.StartMin).Outer, f.Sessions[i].Pre) > 1e-12 || apart(at(s.StartMin+s.LengthMin).Outer, f.Sessions[i].Post) > 1e-12 {
			t.Errorf("session %d: the curve misses %v and %v", i, f.Sessions[i].Pre, f.Sessions[i].Post)
		}
		if apart(at(s.StartMin+s.LengthMin).Inner, f.Sessions[i].PostInner) > 1e-12 {
			t.Errorf("session %d: the inner curve misses %v", i, f.Sessions[i].PostInner)
		}
	}
	area := 0.0
	for i := 1; i < len(points); i++ {
		a, b := points[i-1], points[i]
		if b.Min < a.Min || b.Min-a.Min > 17+1e-9 {
			t.Fatalf("from %v to %v min is no step of 17", a.Min, b.Min)
		}
		area += (b.Min - a.Min) * (a.Levels.Outer + b.Levels.Outer) / 2
	}
	if apart(area/r.LengthMin, f.TimeAveraged) > 1e-3 {
		t.Errorf("mean of the curve %v, time-averaged %v", area/r.LengthMin, f.TimeAveraged)
	}
	whole, err := p.MeanLevel(r, 0, r.LengthMin)
	if err != nil || apart(whole, f.TimeAveraged) > 1e-12 {
		t.Errorf("mean level %v, %v; time-averaged %v", whole, err, f.TimeAveraged)
	}
	parts := 0.0
	for from := 0.0; from < r.LengthMin; from += r.LengthMin / 7 {
		mean, err := p.MeanLevel(r, from, min(from+r.LengthMin/7, r.LengthMin))
		if err != nil {
			t.Fatal(err)
		}
		parts += mean / 7
	}
	if apart(parts, whole) > 1e-10 {
		t.Errorf("the means of seven parts give %v, the whole %v", parts, whole)
	}
}

func TestAtRestIsWhereALongIntervalLeads(t *testing.T) {
	p, c := tableSchedules["T2"].model()
	s, err := p.Steady(c, nil)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range s.Sessions {
		got, err := p.AtRest(l.Pre, l.PreVolumeL, c.GainMlMin())
		if err != nil || apart(got.Inner, l.PreInner) > 1e-10 || got.Outer != l.Pre {
			t.Errorf("at rest %+v, %v; the steady state has %v inside", got, err, l.PreInner)
		}
	}
	for _, bad := range [][3]float64{{-1, 35, 1}, {0.5, 0, 1}, {0.5, 10, 1}, {0.5, 35, -1}, {math.NaN(), 35, 1}} {
		if got, err := p.AtRest(bad[0], bad[1], bad[2]); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("AtRest%v = %+v, %v; want a refusal", bad, got, err)
		}
	}
}

func TestFollowRefuses(t *testing.T) {
	p, good := usualWeeks(t)
	for _, tt := range []struct {
		name, field string
		change      func(*Recorded)
	}{
		{"no length", "length_min", func(r *Recorded) { r.LengthMin = 0 }},
		{"no water", "start_volume_l", func(r *Recorded) { r.StartVolumeL = 20 }},
		{"negative level", "start.inner", func(r *Recorded) { r.Start.Inner = -1 }},
		{"overlap", "sessions[1].start_min", func(r *Recorded) { r.Sessions[1].StartMin = 100 }},
		{"out of the stretch", "sessions[5].length_min", func(r *Recorded) { r.Sessions[5].LengthMin = 1e5 }},
		{"no treated time", "sessions[2].length_min", func(r *Recorded) { r.Sessions[2].LengthMin = 0 }},
		{"all the water lost", "sessions[2].lost_l", func(r *Recorded) { r.Sessions[2].LostL = 40 }},
		{"all the water gone at home", "sessions[2].gained_l", func(r *Recorded) { r.Sessions[2].GainedL = -40 }},
		{"all gone at the end", "gained_l", func(r *Recorded) { r.GainedL = -40 }},
		{"not a number", "sessions[0].clearance_ml_min", func(r *Recorded) { r.Sessions[0].ClearanceMlMin = math.NaN() }},
	} {
		r := good
		r.Sessions = slices.Clone(good.Sessions)
		tt.change(&r)
		got, err := p.Follow(r)
		var ie *unit.InputError
		if !errors.As(err, &ie) || ie.Field != tt.field {
			t.Errorf("%s: %+v, %v; want a refusal of %s", tt.name, got, err, tt.field)
		}
	}
	if _, err := p.Curve(good, 0); !errors.As(err, new(*unit.InputError)) {
		t.Errorf("a step of nothing: %v", err)
	}
	if _, err := p.MeanLevel(good, 10, 10); !errors.As(err, new(*unit.InputError)) {
		t.Errorf("a mean over no time: %v", err)
	}
}
