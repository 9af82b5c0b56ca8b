package session

import (
	"testing"
	"time"

	"ebbline/unit"
)

// The nights of both clock changes, computed with the IANA database. Wall is
// what a subtraction of clock faces would say.
var nights = []struct {
	zone          string
	start, end    string // clock faces
	startU, endU  string // the same instants, UTC
	elapsed, wall time.Duration
	night         string
}{
	{"Europe/London", "2026-10-24 22:30", "2026-10-25 06:30", "2026-10-24T21:30Z", "2026-10-25T06:30Z", 9 * time.Hour, 8 * time.Hour, "2026-10-24"},
	{"Europe/London", "2026-03-28 22:30", "2026-03-29 06:30", "2026-03-28T22:30Z", "2026-03-29T05:30Z", 7 * time.Hour, 8 * time.Hour, "2026-03-28"},
	{"America/New_York", "2026-10-31 22:30", "2026-11-01 06:30", "2026-11-01T02:30Z", "2026-11-01T11:30Z", 9 * time.Hour, 8 * time.Hour, "2026-10-31"},
	{"America/New_York", "2026-03-07 22:30", "2026-03-08 06:30", "2026-03-08T03:30Z", "2026-03-08T10:30Z", 7 * time.Hour, 8 * time.Hour, "2026-03-07"},
	{"Australia/Lord_Howe", "2026-04-04 22:30", "2026-04-05 06:30", "2026-04-04T11:30Z", "2026-04-04T20:00Z", 8*time.Hour + 30*time.Minute, 8 * time.Hour, "2026-04-04"},
	{"Pacific/Auckland", "2026-04-04 22:30", "2026-04-05 06:30", "2026-04-04T09:30Z", "2026-04-04T18:30Z", 9 * time.Hour, 8 * time.Hour, "2026-04-04"},
	{"Pacific/Auckland", "2026-09-26 22:30", "2026-09-27 06:30", "2026-09-26T10:30Z", "2026-09-26T17:30Z", 7 * time.Hour, 8 * time.Hour, "2026-09-26"},
	{"Asia/Tokyo", "2026-10-24 22:30", "2026-10-25 06:30", "2026-10-24T13:30Z", "2026-10-24T21:30Z", 8 * time.Hour, 8 * time.Hour, "2026-10-24"},
}

// night makes a treatment from start to end with the whole length prescribed.
func night(t *testing.T, zoneName, startU, endU string) (s *Session, start, end time.Time) {
	t.Helper()
	z := zone(t, zoneName)
	read := func(text string) time.Time {
		at, err := time.Parse("2006-01-02T15:04Z", text)
		if err != nil {
			t.Fatal(err)
		}
		return at.In(z)
	}
	start, end = read(startU), read(endU)
	s = newSession(t)
	s.Rx.Length = ref(unit.Minutes(end.Sub(start).Minutes()))
	put(s, start.Add(-mins(45)), &Opened{Place: "home", Source: "live"})
	put(s, start.Add(-mins(20)), &WeighIn{Weight: 60_300, Scale: "bath"}) // 2.3 L above, 2.9 L with drinks and washback
	p, err := MakePlan(s, Choices{}, History{}, start.Add(-mins(10)))
	if err != nil {
		t.Fatal(err)
	}
	put(s, start.Add(-mins(10)), &p.AgreedPlan)
	put(s, start, &Connected{BloodFlow: ref(unit.Flow(250))})
	return s, start, end
}

func TestNightsOfClockChange(t *testing.T) {
	for _, n := range nights {
		s, start, end := night(t, n.zone, n.startU, n.endU)
		if got := start.Format("2006-01-02 15:04"); got != n.start {
			t.Fatalf("%s: begins %s on the wall, want %s", n.zone, got, n.start)
		}
		if got := end.Format("2006-01-02 15:04"); got != n.end {
			t.Fatalf("%s: ends %s on the wall, want %s", n.zone, got, n.end)
		}
		if got := TreatedFor(s, end); got != n.elapsed {
			t.Errorf("%s %s: treated %v, want %v (the wall says %v)", n.zone, n.start, got, n.elapsed, n.wall)
		}
		run, ok := Follow(s, end)
		if !ok || run.Elapsed != n.elapsed || run.Left != 0 || !run.PlannedEnd.Equal(end) {
			t.Errorf("%s %s: elapsed %v, left %v, end %v", n.zone, n.start, run.Elapsed, run.Left, run.PlannedEnd)
		}
		if got := run.PlannedEnd.Format("15:04"); got != "06:30" {
			t.Errorf("%s %s: the planned end reads %s", n.zone, n.start, got)
		}
		if want := end.Add(-time.Hour); !run.HeparinStop.Equal(want) {
			t.Errorf("%s %s: heparin stops %v, want %v", n.zone, n.start, run.HeparinStop, want)
		}
		if blood := 0.25 * n.elapsed.Minutes(); run.Blood < blood-1e-9 || run.Blood > blood+1e-9 {
			t.Errorf("%s %s: %.3f L of blood, want %.3f", n.zone, n.start, run.Blood, blood)
		}
		if got := Night(s).String(); got != n.night {
			t.Errorf("%s %s: belongs to %s, want %s", n.zone, n.start, got, n.night)
		}
		plan, _ := Last[AgreedPlan](s)
		if want := unit.Rate(2900/n.elapsed.Hours() + 0.5); plan.Rate != want {
			t.Errorf("%s %s: rate %v, want %v", n.zone, n.start, plan.Rate, want)
		}
		// The 4th hour after connecting, wherever the clock stands then.
		at := start.Add(4 * time.Hour)
		put(s, at, &Reading{Systolic: ref(unit.Pressure(120))})
		if run, _ := Follow(s, at); !run.NextCheck.Equal(at.Add(time.Hour)) {
			t.Errorf("%s %s: next reading due %v after the last", n.zone, n.start, run.NextCheck.Sub(at))
		}
	}
}

// A pause over the repeated hour, and one over the skipped hour.
func TestPauseAcrossTheClockChange(t *testing.T) {
	for _, tt := range []struct {
		zone, startU, endU, fromU, toU string
		pause                          time.Duration
	}{
		// 01:50 summer time to 01:10 winter time: 20 minutes, though the clock went back 40.
		{"Europe/London", "2026-10-24T21:30Z", "2026-10-25T06:30Z", "2026-10-25T00:50Z", "2026-10-25T01:10Z", 20 * time.Minute},
		// 00:55 to 02:05 on the wall: ten minutes.
		{"Europe/London", "2026-03-28T22:30Z", "2026-03-29T05:30Z", "2026-03-29T00:55Z", "2026-03-29T01:05Z", 10 * time.Minute},
		{"Australia/Lord_Howe", "2026-04-04T11:30Z", "2026-04-04T20:00Z", "2026-04-04T14:55Z", "2026-04-04T15:10Z", 15 * time.Minute},
	} {
		s, start, end := night(t, tt.zone, tt.startU, tt.endU)
		from, _ := time.Parse("2006-01-02T15:04Z", tt.fromU)
		to, _ := time.Parse("2006-01-02T15:04Z", tt.toU)
		put(s, from.In(start.Location()), &Pause{Why: "toilet"})
		put(s, to.In(start.Location()), &Resume{})
		if got, want := TreatedFor(s, end), end.Sub(start)-tt.pause; got != want {
			t.Errorf("%s %s: treated %v, want %v", tt.zone, tt.startU, got, want)
		}
		if run, _ := Follow(s, end); run.Left != tt.pause || !run.PlannedEnd.Equal(end.Add(tt.pause)) || !run.HeparinStop.Equal(end.Add(tt.pause-time.Hour)) {
			t.Errorf("%s %s: left %v, end %v, heparin stop %v", tt.zone, tt.startU, run.Left, run.PlannedEnd, run.HeparinStop)
		}
	}
}

func TestPauses(t *testing.T) {
	s := connected(t)
	put(s, on(30), &Pause{Why: "alarm"})
	put(s, on(33), &Pause{Why: "still"}) // a second press is no second pause
	put(s, on(40), &Resume{})
	put(s, on(41), &Resume{})
	put(s, on(60), &Pause{})
	if p := Pauses(s); len(p) != 2 || p[0].Why != "alarm" || !p[0].End.Equal(on(40)) || !p[1].End.IsZero() {
		t.Errorf("pauses %+v", p)
	}
	for m, want := range map[int]int{0: 0, 29: 29, 30: 30, 35: 30, 40: 30, 50: 40, 60: 50, 90: 50} {
		if got := TreatedFor(s, on(m)); got != mins(want) {
			t.Errorf("after %d min treated %v, want %d min", m, got, want)
		}
	}
	if since, paused := Paused(s, on(70)); !paused || !since.Equal(on(60)) {
		t.Errorf("paused %v since %v", paused, since)
	}
	if _, paused := Paused(s, on(40)); paused {
		t.Error("paused at the moment of going on")
	}
	// The end moves on while the pause lasts.
	for m, want := range map[int]int{50: 250, 60: 250, 90: 280} {
		if run, _ := Follow(s, on(m)); !run.PlannedEnd.Equal(on(want)) {
			t.Errorf("at %d min the end is planned for %v, want %d min after connecting", m, run.PlannedEnd.Sub(on(0)), want)
		}
	}
	// Coming off during a pause ends it.
	put(s, on(100), &CameOff{Returned: "all"})
	if got := TreatedFor(s, on(300)); got != mins(50) {
		t.Errorf("treated %v at the end, want 50 min", got)
	}
	s.Log[len(s.Log)-1].Struck = &Strike{}
	if got := TreatedFor(s, on(90)); got != mins(50) {
		t.Errorf("with the end struck out: %v", got)
	}
}

// Minutes are those that are full while it runs, and the nearest once it is over,
// wherever they are written.
func TestTreatedMinutes(t *testing.T) {
	s := connected(t)
	almost := on(239).Add(40 * time.Second)
	if got := TreatedMinutes(s, almost); got != 239 {
		t.Errorf("running: %d min", got)
	}
	put(s, almost, &CameOff{Returned: "all"})
	for _, at := range []time.Time{almost, on(600)} {
		if got, closing := TreatedMinutes(s, at), Close(s, at).Treated; got != 240 || closing != 240 {
			t.Errorf("over: %d min, at the closing %d min", got, closing)
		}
	}
	if got := TreatedMinutes(s, on(100)); got != 100 {
		t.Errorf("looked back at: %d min", got)
	}
}

func TestTreatedBeforeConnecting(t *testing.T) {
	s := ready(t)
	if got := TreatedFor(s, on(60)); got != 0 {
		t.Errorf("treated %v without connecting", got)
	}
	if _, ok := Follow(s, on(60)); ok {
		t.Error("a run without connecting")
	}
	put(s, on(0), &Connected{})
	if got := TreatedFor(s, on(-5)); got != 0 {
		t.Errorf("treated %v before connecting", got)
	}
}

func TestSessionLength(t *testing.T) {
	for _, tt := range []struct {
		rx   Prescription
		want unit.Minutes
		how  string
	}{
		{Prescription{Length: ref(unit.Minutes(270))}, 270, "prescribed"},
		{Prescription{Dialysate: ref(unit.Litres(30_000)), DialFlow: ref(unit.Flow(150))}, 200, "30\u00a0L of dialysate at 150\u00a0mL/min"},
		{Prescription{Dialysate: ref(unit.Litres(25_000)), DialFlow: ref(unit.Flow(130))}, 193, "25\u00a0L of dialysate at 130\u00a0mL/min"}, // 192.3
		{Prescription{Length: ref(unit.Minutes(180)), Dialysate: ref(unit.Litres(30_000))}, 180, "prescribed"},
	} {
		if got, how, err := tt.rx.SessionLength(); err != nil || got != tt.want || how != tt.how {
			t.Errorf("%v, %q, %v; want %v, %q", got, how, err, tt.want, tt.how)
		}
	}
	for _, rx := range []Prescription{{}, {Dialysate: ref(unit.Litres(30_000))}, {DialFlow: ref(unit.Flow(500))}} {
		if got, _, err := rx.SessionLength(); err == nil {
			t.Errorf("%v from nothing", got)
		}
	}
}

// One session, one evening: by its start, on either side of midnight.
func TestNight(t *testing.T) {
	z := zone(t, "America/New_York")
	for at, want := range map[time.Time]string{
		time.Date(2026, 5, 3, 23, 50, 0, 0, z): "2026-05-03",
		time.Date(2026, 5, 4, 0, 10, 0, 0, z):  "2026-05-04",
	} {
		s := &Session{}
		put(s, at, &Opened{})
		put(s, at.Add(7*time.Hour), &CameOff{})
		if got := Night(s).String(); got != want {
			t.Errorf("began %v: belongs to %s, want %s", at, got, want)
		}
	}
	if !Night(&Session{}).IsZero() {
		t.Error("a session without entries has a date")
	}
}

// The length wanted: as changed on the machine, as planned, as prescribed.
func TestLength(t *testing.T) {
	s := newSession(t)
	if got, ok := Length(s, evening); !ok || got != 240 {
		t.Errorf("prescribed: %v, %v", got, ok)
	}
	put(s, evening, &AgreedPlan{Length: 210, SetGoal: 1800})
	put(s, evening.Add(time.Hour), &GoalChanged{Goal: 1500}) // says nothing of the length
	put(s, evening.Add(2*time.Hour), &GoalChanged{Goal: 1600, Length: ref(unit.Minutes(200))})
	for hours, want := range map[int]struct {
		length unit.Minutes
		goal   unit.Volume
	}{0: {210, 1800}, 1: {210, 1500}, 2: {200, 1600}} {
		at := evening.Add(time.Duration(hours) * time.Hour)
		if got, ok := Length(s, at); !ok || got != want.length {
			t.Errorf("after %d h: %v", hours, got)
		}
		if got, ok := Goal(s, at); !ok || got != want.goal {
			t.Errorf("after %d h: goal %v", hours, got)
		}
	}
	if _, ok := Length(&Session{}, evening); ok {
		t.Error("a length from nothing")
	}
	if _, ok := Goal(&Session{}, evening); ok {
		t.Error("a goal from nothing")
	}
}

// Once the time is up, the end is when it was up, pauses and all.
func TestEndThatHasPassed(t *testing.T) {
	s := connected(t)
	put(s, on(60), &Pause{})
	put(s, on(80), &Resume{})
	put(s, on(250), &Pause{})
	put(s, on(255), &Resume{})
	run, _ := Follow(s, on(400))
	if run.Left != 0 || !run.PlannedEnd.Equal(on(265)) || run.Treated != mins(375) {
		t.Errorf("left %v, end %v, treated %v", run.Left, run.PlannedEnd.Sub(on(0)), run.Treated)
	}
	// A pause that began after the time was up does not move it.
	put(s, on(300), &Pause{})
	if run, _ := Follow(s, on(400)); !run.PlannedEnd.Equal(on(265)) {
		t.Errorf("end %v", run.PlannedEnd.Sub(on(0)))
	}
}
