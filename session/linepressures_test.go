package session

import (
	"fmt"
	"slices"
	"strings"
	"testing"
)

// every is a session with readings each so many minutes, so that none is late.
func every(t *testing.T, minutes int, rows ...*Reading) *Session {
	s := connected(t)
	for i, r := range rows {
		put(s, on(minutes*(i+1)), r)
	}
	return s
}

// steps are readings of one pressure at a flow.
func steps(set func(*Reading, int), f int, values ...int) []*Reading {
	var rows []*Reading
	for _, v := range values {
		r := &Reading{BloodFlow: flow(f)}
		set(r, v)
		rows = append(rows, r)
	}
	return rows
}

func venousAt(r *Reading, v int)   { r.Venous = mm(v) }
func arterialAt(r *Reading, v int) { r.Arterial = mm(v) }

// A pressure that slides is seen 50 from where it began, though each step is small.
func TestSlidingPressure(t *testing.T) {
	for _, tt := range []struct {
		name string
		set  func(*Reading, int)
		rows []int
		want []string // of each code, the value
	}{
		{"by 8 to 50 below", venousAt, []int{160, 152, 144, 136, 128, 120, 112, 110}, []string{"venous_fall 110"}},
		{"by 8 to 49 below", venousAt, []int{160, 152, 144, 136, 128, 120, 112, 111}, nil},
		{"not said again there", venousAt, []int{160, 152, 144, 136, 128, 120, 112, 108, 103, 107, 100, 96}, []string{"venous_fall 108"}},
		{"said again 50 further", venousAt, []int{160, 152, 144, 136, 128, 120, 112, 110, 102, 94, 86, 78, 70, 62, 60}, []string{"venous_fall 110", "venous_fall 60"}},
		{"said, put right, and again", venousAt, []int{160, 152, 144, 136, 128, 120, 112, 110, 155, 147, 139, 131, 123, 115, 107, 105}, []string{"venous_fall 110", "venous_fall 105"}},
		{"said, and back slowly", venousAt, []int{160, 152, 144, 136, 128, 120, 112, 110, 118, 126, 134, 142, 150, 158, 160, 162}, []string{"venous_fall 110"}},
		{"up by 50", venousAt, []int{140, 150, 160, 168, 176, 183, 190}, []string{"venous_rise 190"}},
		{"up by 49", venousAt, []int{140, 150, 160, 168, 176, 183, 189}, nil},
		{"from a leap on", venousAt, []int{160, 130, 124, 118, 112, 106, 100, 94, 88, 81, 80}, []string{"venous_fall 130", "venous_fall 80"}},
		{"scatter", venousAt, []int{150, 158, 143, 151, 160, 146, 155, 149, 142, 157}, nil},
		{"arterial, 50 below", arterialAt, []int{-150, -165, -175, -185, -195, -200}, []string{"arterial_fall -200"}},
		{"arterial, 49 below", arterialAt, []int{-150, -165, -175, -185, -195, -199}, nil},
		{"arterial, up by 60", arterialAt, []int{-210, -195, -180, -165, -150}, nil},
	} {
		s := every(t, 10, steps(tt.set, 300, tt.rows...)...)
		var got []string
		for _, r := range Remarks(s, on(10*len(tt.rows))) {
			i := slices.IndexFunc(s.Log, func(e Event) bool { return e.ID == r.Entry })
			v := s.Log[i].Body.(*Reading).Venous
			if v == nil {
				v = s.Log[i].Body.(*Reading).Arterial
			}
			got = append(got, r.Code+" "+fmt.Sprint(int(*v)))
			if r.Level != LevelLook {
				t.Errorf("%s: %+v", tt.name, r)
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// It begins again at another flow, and after a needle was adjusted.
func TestSlideBeginsAgain(t *testing.T) {
	first, then := steps(venousAt, 300, 160, 150, 141, 132), steps(venousAt, 320, 124, 116, 110)
	// From 132 at 300 to 124 at 320 is no fall of 20, and 110 is 14 from the first at 320.
	s := every(t, 10, append(first, then...)...)
	if got := codes(s, on(70)); len(got) != 0 {
		t.Errorf("at another flow: %v", got)
	}
	s = every(t, 10, first...)
	put(s, on(45), &NeedleAdjusted{Which: "venous"})
	for i, v := range []int{124, 116, 110} {
		put(s, on(50+10*i), &Reading{Venous: mm(v), BloodFlow: flow(300)})
	}
	if got := codes(s, on(70)); len(got) != 0 {
		t.Errorf("needle adjusted: %v", got)
	}
	// Without either, the same values are a fall.
	s = every(t, 10, append(first, steps(venousAt, 300, 124, 116, 110)...)...)
	if got := codes(s, on(70)); !slices.Equal(got, []string{"venous_fall"}) {
		t.Errorf("neither: %v", got)
	}
	const want = "Venous 110, was 160 at 17:55 at the same flow, and got there by small steps. Look at both needles and lines first."
	if got := Remarks(s, on(70))[0].Words; got != want {
		t.Errorf("%q", got)
	}
}

// A venous pressure goes with the flow; what lies 50 below that, or falls while the
// flow goes up, is a fall.
func TestVenousAgainstTheFlow(t *testing.T) {
	for _, tt := range []struct {
		name           string
		was, from      int
		now, to, after int // after: a third value at the new flow; 0 for none
		want           string
	}{
		// 180 · 300/350 = 154.3, less 50 is 104.3.
		{"out while it is turned down", 180, 350, 60, 300, 0, "Venous 60, was 180 at 350\u00a0mL/min; more than the lower flow, 300\u00a0mL/min, explains. Look at both needles and lines first."},
		{"50 below", 180, 350, 104, 300, 0, "Venous 104, was 180 at 350\u00a0mL/min; more than the lower flow, 300\u00a0mL/min, explains. Look at both needles and lines first."},
		{"a little less", 180, 350, 105, 300, 0, ""},
		{"as the flow", 180, 350, 103, 200, 0, ""},
		{"to half the flow", 200, 300, 50, 150, 0, "Venous 50, was 200 at 300\u00a0mL/min; more than the lower flow, 150\u00a0mL/min, explains. Look at both needles and lines first."},
		{"to half the flow, one more", 200, 300, 51, 150, 0, ""},
		{"the pump nearly stands", 180, 300, 5, 20, 0, ""},
		{"20 lower at a higher flow", 145, 300, 125, 350, 0, "Venous 125, was 145 at 300\u00a0mL/min; lower though the flow is higher, 350\u00a0mL/min. Look at both needles and lines first."},
		{"19 lower at a higher flow", 145, 300, 126, 350, 0, ""},
		{"higher at a higher flow", 145, 300, 190, 350, 0, ""},
		{"back to what the lower flow explains", 180, 350, 60, 300, 150, "Venous 60, was 180 at 350\u00a0mL/min; more than the lower flow, 300\u00a0mL/min, explains. Look at both needles and lines first."},
	} {
		rows := append(steps(venousAt, tt.from, tt.was), steps(venousAt, tt.to, tt.now)...)
		if tt.after > 0 {
			rows = append(rows, steps(venousAt, tt.to, tt.after)...)
		}
		s := every(t, 10, rows...)
		s.Rx.BloodFlow = 20 // no flow is remarked on
		got := Remarks(s, on(30))
		switch {
		case tt.want == "" && len(got) == 0:
		case len(got) != 1 || got[0].Words != tt.want || got[0].Code != "venous_fall" || got[0].Level != LevelLook || got[0].Trouble() != TroubleBlood:
			t.Errorf("%s: %+v, want %q", tt.name, got, tt.want)
		}
	}
	// With a single needle neither is remarked on.
	s := every(t, 10, append(steps(venousAt, 350, 180), steps(venousAt, 300, 60)...)...)
	s.Rx.SingleNeedle = true
	if got := codes(s, on(30)); len(got) != 0 {
		t.Errorf("a single needle: %v", got)
	}
	// An arterial pressure is not held against the flow.
	s = every(t, 10, append(steps(arterialAt, 350, -120), steps(arterialAt, 300, -240)...)...)
	if got := codes(s, on(30)); len(got) != 0 {
		t.Errorf("arterial: %v", got)
	}
}

// A TMP creeps up though one reading or two stay, or dip by 5.
func TestTMPCreepsWithStillReadings(t *testing.T) {
	for _, tt := range []struct {
		rows []int
		want string // the value that it was
	}{
		{[]int{100, 120, 120, 150}, "100"},
		{[]int{100, 120, 115, 150}, "100"},
		{[]int{100, 120, 115, 149}, ""},
		{[]int{100, 120, 114, 150}, ""}, // dips by 6
		{[]int{100, 120, 120, 135, 135, 150}, "100"},
		{[]int{100, 120, 120, 130, 130, 140, 140, 150}, ""}, // three stay; 50 is not reached in two
		{[]int{100, 120, 120, 130, 130, 140, 140, 175}, "120"},
		{[]int{100, 100, 100, 160}, ""}, // a leap is no creeping
		{[]int{150, 90, 110, 110, 125, 141}, "90"},
	} {
		var rows []*Reading
		for _, v := range tt.rows {
			rows = append(rows, &Reading{TMP: mm(v)})
		}
		got, want := Remarks(withReadings(t, rows...), on(30*len(rows))), ""
		if tt.want != "" {
			want = fmt.Sprintf("TMP %d, was %s: creeping up. Look at the dialyser.", tt.rows[len(tt.rows)-1], tt.want)
		}
		if (want == "") != (len(got) == 0) || want != "" && (len(got) != 1 || got[0].Words != want) {
			t.Errorf("%v: %v, want %q", tt.rows, got, want)
		}
	}
}

// Ordinary scatter every ten minutes gives no slide and no creeping TMP: what is said
// is a leap.
func TestDenseReadingsStayQuiet(t *testing.T) {
	leaps := 0
	for i := range 100 {
		var rows []*Reading
		for range 2 {
			Each(synthetic(t, i), func(b *Reading, _ *Event) { rows = append(rows, b) })
		}
		s := connected(t)
		for k, r := range rows {
			put(s, on(10*(k+1)), &Reading{Venous: r.Venous, Arterial: r.Arterial, TMP: r.TMP, BloodFlow: r.BloodFlow})
		}
		for _, r := range Remarks(s, on(10*len(rows))) {
			if r.Code != "venous_fall" || !strings.Contains(r.Words, "at the same flow. ") {
				t.Errorf("session %d: %+v", i, r)
			}
			leaps++
		}
	}
	t.Logf("%d leaps in 100 sessions", leaps)
}

// A pressure that is all but gone is said across a change of flow, small steps and a
// needle that was moved: the needle may be out (H-113).
func TestPressureAllButGone(t *testing.T) {
	type read struct{ venous, arterial, flow int } // 0 leaves a pressure out
	adjusted := read{flow: -1}
	for _, tt := range []struct {
		name string
		log  []read
		want []string
	}{
		{"arterial, at a lower flow", []read{{0, -150, 300}, {0, -5, 250}}, []string{"arterial_rise"}},
		{"what the lower flow explains", []read{{0, -150, 300}, {0, -49, 150}}, nil},
		{"arterial, at a higher flow", []read{{0, -150, 300}, {0, -10, 350}}, []string{"arterial_rise"}},
		{"arterial, by small steps", []read{{0, -120, 300}, {0, -95, 300}, {0, -70, 300}, {0, -45, 300}}, []string{"arterial_rise"}},
		{"small from the first on", []read{{0, -60, 200}, {0, -45, 200}}, nil},
		{"venous, at a lower flow", []read{{66, 0, 280}, {10, 0, 200}}, []string{"venous_fall"}},
		{"what a much lower flow explains", []read{{66, 0, 280}, {19, 0, 150}}, nil},
		{"the first reading is held against nothing", []read{{-40, 0, 300}}, nil},
		{"the pump stands", []read{{150, 0, 300}, {10, 0, 50}}, nil},
		{"venous, after the needle was moved", []read{{150, 0, 300}, adjusted, {5, 0, 300}}, []string{"venous_fall"}},
		{"a venous leap is said once", []read{{150, 0, 300}, {5, 0, 300}, {4, 0, 300}}, []string{"venous_fall"}},
	} {
		s := connected(t)
		for i, r := range tt.log {
			if r == adjusted {
				put(s, on(30*(i+1)), &NeedleAdjusted{Which: "venous"})
				continue
			}
			b := &Reading{BloodFlow: flow(r.flow)}
			if r.venous != 0 {
				b.Venous = mm(r.venous)
			}
			if r.arterial != 0 {
				b.Arterial = mm(r.arterial)
			}
			put(s, on(30*(i+1)), b)
		}
		var got []string
		for _, r := range Remarks(s, on(30*len(tt.log))) {
			if r.Code == "venous_fall" || r.Code == "arterial_rise" {
				got = append(got, r.Code)
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}
