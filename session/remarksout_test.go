package session

import (
	"math"
	"slices"
	"strings"
	"testing"

	"ebbline/unit"
)

func pulse(v int) *Reading      { return &Reading{Pulse: ref(unit.Pulse(v))} }
func mScm(v float64) *Reading   { return &Reading{Conduct: ref(unit.Conductivity(v*100 + 0.5))} }
func fluidC(v float64) *Reading { return &Reading{DialTemp: ref(unit.Temperature(v*10 + 0.5))} }
func bodyC(v float64) *Reading  { return &Reading{BodyTemp: ref(unit.Temperature(v*10 + 0.5))} }
func tmp(v int) *Reading        { return &Reading{TMP: mm(v)} }
func arterialOf(v int) *Reading { return &Reading{Arterial: mm(v)} }
func noSet(rx *Prescription)    { rx.SetConduct = nil }
func pulsePair(rx *Prescription) {
	rx.PulseLow, rx.PulseHigh = ref(unit.Pulse(45)), ref(unit.Pulse(100))
}

// Each bound with its neighbours on both sides, and each step with the value
// just short of it: what is out is said after what was inside, and again only
// when it lies a step further out than the furthest said.
func TestOutOfBounds(t *testing.T) {
	const p, c, h, m, a, f = "pulse_out", "conductivity_out", "temperature_out", "tmp_high", "arterial_low", "fever"
	for _, tt := range []struct {
		name string
		set  func(*Prescription)
		rows []*Reading
		code string
		want []int // places of the rows that are said
	}{
		{"pulse slow", nil, []*Reading{pulse(51), pulse(50), pulse(49)}, p, []int{2}},
		{"pulse fast", nil, []*Reading{pulse(119), pulse(120), pulse(121)}, p, []int{2}},
		{"pulse fast, further", nil, []*Reading{pulse(121), pulse(135), pulse(136), pulse(150), pulse(151)}, p, []int{0, 2, 4}},
		{"pulse slow, further", nil, []*Reading{pulse(49), pulse(35), pulse(34)}, p, []int{0, 2}},
		{"pulse, out again", nil, []*Reading{pulse(121), pulse(120), pulse(121)}, p, []int{0, 2}},
		{"pulse, less far out", nil, []*Reading{pulse(140), pulse(121), pulse(154)}, p, []int{0}},
		{"pulse, from one side to the other", nil, []*Reading{pulse(130), pulse(45), pulse(125)}, p, []int{0, 1, 2}},
		{"pulse, a row without one between", nil, []*Reading{pulse(130), tmp(60), pulse(130)}, p, []int{0}},
		{"the unit's pair", pulsePair, []*Reading{pulse(45), pulse(44), pulse(100), pulse(101)}, p, []int{1, 3}},
		{"the unit's upper figure alone", func(rx *Prescription) { rx.PulseHigh = ref(unit.Pulse(110)) }, []*Reading{pulse(50), pulse(49), pulse(110), pulse(111)}, p, []int{1, 3}},

		{"conductivity, 0.4 over 14.0", nil, []*Reading{mScm(14.39), mScm(14.40), mScm(14.41)}, c, []int{2}},
		{"conductivity, 0.4 under 14.0", nil, []*Reading{mScm(13.61), mScm(13.60), mScm(13.59)}, c, []int{2}},
		{"conductivity, further", nil, []*Reading{mScm(13.5), mScm(13.21), mScm(13.20), mScm(12.9)}, c, []int{0, 2, 3}},
		{"conductivity, over and under", nil, []*Reading{mScm(14.6), mScm(13.4), mScm(14.6)}, c, []int{0, 1, 2}},
		{"both sides of no set value", noSet, []*Reading{mScm(13.20), mScm(13.19), mScm(14.50), mScm(14.51)}, c, []int{1, 3}},
		{"no set value, further", noSet, []*Reading{mScm(13.1), mScm(12.81), mScm(12.80)}, c, []int{0, 2}},

		{"fluid warm", nil, []*Reading{fluidC(38.4), fluidC(38.5), fluidC(38.6)}, h, []int{2}},
		{"fluid warm, further", nil, []*Reading{fluidC(38.6), fluidC(39.0), fluidC(39.1)}, h, []int{0, 2}},
		{"fluid cold", nil, []*Reading{fluidC(34.1), fluidC(34.0), fluidC(33.9), fluidC(33.5), fluidC(33.4)}, h, []int{2, 4}},
		{"fluid warm again", nil, []*Reading{fluidC(39), fluidC(36), fluidC(39)}, h, []int{0, 2}},

		{"TMP", nil, []*Reading{tmp(299), tmp(300), tmp(301), tmp(350), tmp(351)}, m, []int{2, 4}},
		{"TMP again", nil, []*Reading{tmp(301), tmp(300), tmp(301)}, m, []int{0, 2}},

		{"arterial", nil, []*Reading{arterialOf(-249), arterialOf(-250), arterialOf(-251), arterialOf(-280), arterialOf(-281)}, a, []int{2, 4}},
		{"arterial again", nil, []*Reading{arterialOf(-260), arterialOf(-240), arterialOf(-260)}, a, []int{0, 2}},

		// 36.6 °C before the session.
		{"fever by its rise", nil, []*Reading{bodyC(37.0), bodyC(37.1), bodyC(37.5), bodyC(37.6)}, f, []int{1, 3}},
		{"fever gone and back", nil, []*Reading{bodyC(37.4), bodyC(37.0), bodyC(37.2)}, f, []int{0, 2}},
	} {
		s := withReadings(t, tt.rows...)
		if tt.set != nil {
			tt.set(s.Rx)
		}
		var got []int
		for _, r := range Remarks(s, on(30*len(tt.rows))) {
			if r.Code == tt.code {
				got = append(got, int(r.At.Sub(on(0)).Minutes())/30-1)
			}
		}
		if !slices.Equal(got, tt.want) {
			t.Errorf("%s: said at %v, want %v", tt.name, got, tt.want)
		}
	}
}

// Without a temperature before the session fever is 38.0 °C, or half a degree above
// the first one read.
func TestFeverWithoutATemperatureBefore(t *testing.T) {
	s := withReadings(t, bodyC(37.9), bodyC(38.0))
	edit(s, func(b *VitalsBefore) { b.Temperature = nil })
	got := saidOf(s, on(60), "fever")
	if len(got) != 1 || got[0] != "Body temperature 38.0\u00a0°C, 37.9 at the first reading. Ring your unit now, and say if you shiver." {
		t.Errorf("%q", got)
	}
	for _, tt := range []struct {
		rows []*Reading
		want []string
	}{
		{[]*Reading{bodyC(36.4), bodyC(36.8), bodyC(36.9)}, []string{"Body temperature 36.9\u00a0°C, 36.4 at the first reading."}},
		{[]*Reading{bodyC(36.4), bodyC(36.0), bodyC(36.8)}, nil},
		{[]*Reading{bodyC(38.1)}, []string{"Body temperature 38.1\u00a0°C. Ring"}},
	} {
		s := withReadings(t, tt.rows...)
		edit(s, func(b *VitalsBefore) { b.Temperature = nil })
		got := saidOf(s, on(100), "fever")
		if len(got) != len(tt.want) || len(got) == 1 && !strings.HasPrefix(got[0], tt.want[0]) {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
	edit(s, func(b *VitalsBefore) { b.Temperature = ref(unit.Temperature(379)) })
	if got := saidOf(s, on(60), "fever"); len(got) != 1 || !strings.Contains(got[0], "38.0\u00a0°C, 37.9 before") {
		t.Errorf("begun at 37.9: %q", got)
	}
}

// Warm fluid is looked at at once, cold fluid is a note; what is far out is
// worded harder than what is only unusual.
func TestOutLevelsAndWords(t *testing.T) {
	for _, tt := range []struct {
		row         *Reading
		set         func(*Prescription)
		level, says string
	}{
		{fluidC(38.9), nil, LevelLook, "Dialysis fluid 38.9\u00a0°C, over 38.5\u00a0°C. Is the machine in bypass?"},
		{fluidC(33.5), nil, LevelNote, "Dialysis fluid 33.5\u00a0°C, under 34\u00a0°C (" + ownDefault + ")"},
		{mScm(12.2), nil, LevelLook, "Conductivity 12.20\u00a0mS/cm, set is 14.00. Wrong fluid?"},
		{mScm(13.29), nil, LevelLook, "set is 14.00. Wrong fluid?"},
		{mScm(13.3), nil, LevelLook, "set is 14.00. Look at the concentrate"}, // exactly 5 %
		{mScm(15.01), noSet, LevelLook, "Conductivity 15.01\u00a0mS/cm, outside 13.0 to 15.0 (" + ownDefault + "). Wrong fluid?"},
		{mScm(15.0), noSet, LevelLook, "outside 13.2 to 14.5 (" + ownDefault + "). Look at the concentrate"},
		{mScm(12.99), noSet, LevelLook, "outside 13.0 to 15.0"},
		{mScm(13.0), noSet, LevelLook, "outside 13.2 to 14.5"},
		{pulse(131), nil, LevelLook, "Pulse 131, over 120 (" + ownDefault + ")"},
		{pulse(44), pulsePair, LevelLook, "Pulse 44, under 45 (set by Dr Lind on 3 March 2026)"},
		{tmp(310), nil, LevelLook, "TMP 310\u00a0mmHg, over 300\u00a0mmHg"},
		{arterialOf(-270), nil, LevelLook, "Arterial -270\u00a0mmHg, under -250\u00a0mmHg"},
		{bodyC(38.2), nil, LevelLook, "Body temperature 38.2\u00a0°C, 36.6 before the session."},
	} {
		s := withReadings(t, tt.row)
		if tt.set != nil {
			tt.set(s.Rx)
		}
		r := Remarks(s, on(31))
		if len(r) != 1 || r[0].Level != tt.level || !strings.Contains(r[0].Words, tt.says) || r[0].Entry == "" {
			t.Errorf("%+v, want %s: %q", r, tt.level, tt.says)
		}
	}
}

func TestUnwellIsSaidEachTime(t *testing.T) {
	s := connected(t)
	put(s, on(-5), &Unwell{Words: "tired"})
	put(s, on(10), &Unwell{Words: "back pain"})
	put(s, on(10), &Unwell{Words: "back pain"})
	put(s, on(12), &Unwell{Words: "no more"}).Struck = &Strike{Reason: "wrong page"}
	got := saidOf(s, on(20), "unwell")
	if len(got) != 2 || !strings.Contains(got[0], "“back pain”") || got[1] != got[0] {
		t.Errorf("%q", got)
	}
	if r := Remarks(s, on(20))[0]; r.Level != LevelLook || r.Entry == "" {
		t.Errorf("%+v", r)
	}
}

// Chlorine is remarked on while the treatment runs, by the unit's limit or by
// 0.1 mg/L, which itself passes; what was tested before is the start line's.
func TestChlorineOut(t *testing.T) {
	test := func(v int) *Chlorine { return &Chlorine{Result: unit.Concentration(v), ReadsDown: 20} }
	said := func(set func(*Session)) []string {
		s := connected(t)
		set(s)
		return saidOf(s, on(200), "chlorine_out")
	}
	for _, tt := range []struct {
		name string
		set  func(*Session)
		want int
	}{
		{"at the limit", func(s *Session) { put(s, on(60), test(100)) }, 0},
		{"over it", func(s *Session) { put(s, on(60), test(101)) }, 1},
		{"at the unit's", func(s *Session) { s.Rx.Chlorine = ref(unit.Concentration(50)); put(s, on(60), test(50)) }, 0},
		{"over the unit's", func(s *Session) { s.Rx.Chlorine = ref(unit.Concentration(50)); put(s, on(60), test(51)) }, 1},
		{"before", func(s *Session) { put(s, on(-1), test(200)) }, 0},
		{"written first, in the minute of the start", func(s *Session) {
			e := put(s, on(0), test(200))
			i := slices.IndexFunc(s.Log, func(x Event) bool { return x.ID == e.ID })
			s.Log[i], s.Log[i-1] = s.Log[i-1], s.Log[i]
		}, 0},
		{"written after it, in the minute of the start", func(s *Session) { put(s, on(0), test(200)) }, 1},
		{"less than a figure over the limit", func(s *Session) { put(s, on(60), &Chlorine{Result: 500, Below: true}) }, 0},
		{"not done", func(s *Session) {
			put(s, on(60), test(200)).Missing = map[string]Missing{"total_chlorine_mg_l": NotDone}
		}, 0},
		{"no higher", func(s *Session) { put(s, on(60), test(150)); put(s, on(70), test(150)) }, 1},
		{"higher", func(s *Session) { put(s, on(60), test(150)); put(s, on(70), test(151)) }, 2},
		{"over again", func(s *Session) { put(s, on(60), test(150)); put(s, on(70), test(20)); put(s, on(80), test(150)) }, 2},
		{"after the end", func(s *Session) { put(s, on(90), &CameOff{Returned: "all"}); put(s, on(91), test(200)) }, 0},
	} {
		if got := said(tt.set); len(got) != tt.want {
			t.Errorf("%s: %q", tt.name, got)
		}
	}
	s := connected(t)
	e := put(s, on(60), test(200))
	if r := Remarks(s, on(60)); len(r) != 1 || r[0].Entry != e.ID || r[0].Level != LevelLook ||
		!strings.HasPrefix(r[0].Words, "Total chlorine 0.2\u00a0mg/L, limit 0.1\u00a0mg/L ("+ownDefault+").") {
		t.Errorf("%+v", r)
	}
}

// A session typed in from paper, or held elsewhere, is remarked on like one that
// was written as it happened.
func TestRemarksOnPaperAlike(t *testing.T) {
	make := func(o Opened) []string {
		s := withReadings(t, &Reading{Systolic: mm(88), Pulse: ref(unit.Pulse(130))}, fluidC(39))
		put(s, on(70), &Unwell{Words: "cold"})
		edit(s, func(b *Opened) { *b = o })
		return codes(s, on(71))
	}
	live := make(Opened{Place: "home", Source: "live"})
	if want := []string{lp, "pulse_out", "check_late", "temperature_out", "unwell"}; !slices.Equal(live, want) {
		t.Errorf("%v, want %v", live, want)
	}
	for _, o := range []Opened{{Place: "home", Source: "paper"}, {Place: "elsewhere", Source: "paper"}, {Place: "elsewhere", Source: "live"}} {
		if got := make(o); !slices.Equal(got, live) {
			t.Errorf("%+v: %v, want %v", o, got, live)
		}
	}
}

// What a meter of one's own finds while the treatment runs is looked at as a reading
// is; before it runs the start line does that (H-114).
func TestOwnMeterWhileRunning(t *testing.T) {
	check := func(mScm, celsius float64) *FluidCheck {
		c, m := ref(unit.Conductivity(1390)), unit.Conductivity(math.Round(mScm*100))
		temp := unit.Temperature(math.Round(celsius * 10))
		return &FluidCheck{MachineConduct: *c, MeterConduct: m, MeterTemp: &temp}
	}
	for _, tt := range []struct {
		at            int
		mScm, celsius float64
		want          []string
		open          bool
	}{
		{30, 13.9, 36.5, nil, false},
		{30, 12.2, 36.5, []string{"conductivity_out"}, true},
		{30, 13.9, 39.5, []string{"temperature_out"}, true},
		{30, 13.9, 33.9, []string{"temperature_out"}, false},
		{-30, 12.2, 39.5, nil, false},
	} {
		s := fallen(t)
		put(s, on(tt.at), check(tt.mScm, tt.celsius))
		if got := codes(s, on(40)); !slices.Equal(got, tt.want) {
			t.Errorf("%+v: %v", tt, got)
		}
		if open := len(OpenTroubles(s, on(40))) == 1; open != tt.open {
			t.Errorf("%+v: open %v", tt, open)
		}
	}
}
