package water

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"ebbline/unit"
)

// Every pair of states: only the listed steps are taken.
func TestSampleSteps(t *testing.T) {
	states := []SampleState{SamplePlanned, SampleDrawn, SampleSent, SampleResult, SampleJudged, SampleLost}
	allowed := []string{
		"planned drawn", "planned lost", "drawn sent", "drawn result", "drawn lost",
		"sent result", "sent lost", "result judged",
	}
	for _, from := range states {
		for _, to := range states {
			s, err := Sample{State: from, PlannedOn: unit.NewDate(2026, 3, 1)}.Step(to, start)
			want := slices.Contains(allowed, string(from)+" "+string(to))
			if (err == nil) != want || want && s.State != to || !want && s.State != from {
				t.Errorf("%s to %s: now %s, %v; want taken %v", from, to, s.State, err, want)
			}
			if err != nil && !errors.As(err, new(*unit.InputError)) {
				t.Errorf("%s to %s: %v is no InputError", from, to, err)
			}
		}
	}
	s := Sample{State: SampleDrawn, DrawnAt: start}
	if _, err := s.Step(SampleSent, start.Add(-time.Minute)); err == nil {
		t.Error("a sample was sent before it was drawn")
	}
	if _, err := s.Step(SampleSent, time.Time{}); err == nil {
		t.Error("a sample was sent at no time")
	}
}

func TestSampleOverdue(t *testing.T) {
	r := DefaultSampleRule()
	walk := func(to SampleState) Sample {
		s := Sample{Point: PointProduct, State: SamplePlanned, PlannedOn: unit.DateOf(start)}
		for _, next := range []SampleState{SampleDrawn, SampleSent, SampleResult, SampleJudged} {
			if s.State == to {
				break
			}
			var err error
			if s, err = s.Step(next, start); err != nil {
				t.Fatal(err)
			}
		}
		return s
	}
	const day = 24 * time.Hour
	midnight := unit.DateOf(start).Add(1).Time(time.UTC)
	for _, tt := range []struct {
		state SampleState
		due   time.Time
		code  string
	}{
		{SamplePlanned, midnight.Add(-time.Nanosecond), "sample_not_drawn"},
		{SampleDrawn, start.Add(day), "sample_not_sent"},
		{SampleSent, start.Add(14 * day), "sample_no_result"},
		{SampleResult, start.Add(2 * day), "sample_not_judged"},
	} {
		s := walk(tt.state)
		if got := r.Overdue(s, tt.due); got != nil {
			t.Errorf("%s at the last moment: %v", tt.state, got)
		}
		if got := r.Overdue(s, tt.due.Add(time.Nanosecond)); len(got) != 1 || got[0].Code != tt.code {
			t.Errorf("%s after it: %v, want %s", tt.state, got, tt.code)
		}
	}
	if got := r.Overdue(walk(SampleJudged), start.Add(1000*day)); got != nil {
		t.Errorf("a judged sample is overdue: %v", got)
	}
}

func TestSampleHandling(t *testing.T) {
	hours := 2.0
	for _, tt := range []struct {
		name string
		in   Sample
		want []string
	}{
		{"cooled, 24 h", Sample{DrawnAt: start, ReachedAt: start.Add(24 * time.Hour), Cooled: true}, nil},
		{"cooled, 25 h", Sample{DrawnAt: start, ReachedAt: start.Add(25 * time.Hour), Cooled: true}, []string{"sample_too_long_on_way"}},
		{"warm, 31 min", Sample{DrawnAt: start, ReachedAt: start.Add(31 * time.Minute)}, []string{"sample_too_long_on_way"}},
		{"not known", Sample{DrawnAt: start}, nil},
		{"just disinfected", Sample{HoursSinceDisinfection: &hours}, []string{"sample_after_disinfection"}},
	} {
		if got := codes(DefaultSampleRule().Handling(tt.in)); !slices.Equal(got, tt.want) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

func TestFollowUp(t *testing.T) {
	today := unit.NewDate(2026, time.March, 3)
	for _, tt := range []struct {
		value float64
		op    Op
		due   int // days from today; -1: no task
		says  string
	}{
		{49, Equal, -1, ""},
		{64, Equal, 7, "64 CFU/mL is at the action level 50 (limit 100 CFU/mL, ISO 23500-3:2019)"},
		{120, Equal, 0, "120 CFU/mL is over the limit (100 CFU/mL, ISO 23500-3:2019)"},
		{200, Less, 7, "<200 CFU/mL does not show"},
	} {
		j, err := edition(t, ISO2019).Judge(Standard, Result{What: ViableCount, Op: tt.op, Value: tt.value, Unit: CFUPerML})
		if err != nil {
			t.Fatal(err)
		}
		task, needed, err := j.FollowUp("Robin", "+44 20 7946 0000", today)
		if err != nil || needed != (tt.due >= 0) {
			t.Errorf("%v: task %v, %v", tt.value, needed, err)
			continue
		}
		if needed && (task.Due != today.Add(tt.due) || !strings.Contains(task.What, tt.says) || task.Owner == "" || task.Phone == "") {
			t.Errorf("%v: %+v; want due in %d days, saying %q", tt.value, task, tt.due, tt.says)
		}
		if _, _, err := j.FollowUp("", "", today); needed && err == nil {
			t.Errorf("%v: a task of nobody", tt.value)
		}
	}
}

func TestCultureMethod(t *testing.T) {
	plate := CultureMethod{Medium: "R2A", Celsius: 200, Days: 7, VolumeML: 1}
	filter := plate
	filter.VolumeML = 100
	other := CultureMethod{Medium: "TSA", Celsius: 360, Days: 2, VolumeML: 1}
	iso := edition(t, ISO2019)
	standard, _ := iso.Limit(ViableCount, Standard)
	ultra, _ := iso.Limit(ViableCount, Ultrapure)
	for _, tt := range []struct {
		name  string
		m     CultureMethod
		r     Result
		l     Limit
		codes []string
	}{
		{"plate, standard", plate, Result{Op: Less, Value: 1}, standard, nil},
		{"plate, ultrapure", plate, Result{Op: Less, Value: 1}, ultra, []string{"volume_too_small"}},
		{"plate said to see 0.1", plate, Result{Op: Less, Value: 0.1}, ultra, []string{"volume_too_small", "finer_than_volume"}},
		{"filter, ultrapure", filter, Result{Op: Less, Value: 0.01}, ultra, nil},
		{"warm and short", other, Result{Op: Equal, Value: 20}, standard, []string{"method_finds_less"}},
		{"volume unknown", CultureMethod{Medium: "TGEA", Celsius: 220, Days: 7}, Result{Op: Equal, Value: 20}, standard, []string{"volume_missing"}},
	} {
		if got := codes(tt.m.Check(tt.r, tt.l)); !slices.Equal(got, tt.codes) {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.codes)
		}
	}

	count := func(day int, point string, m CultureMethod) Counted {
		return Counted{On: unit.NewDate(2026, time.March, day), Point: point, Method: m, Result: Result{What: ViableCount, Value: float64(day)}}
	}
	series := SplitByMethod([]Counted{count(9, "a", plate), count(2, "a", other), count(1, "a", plate), count(3, "b", plate)})
	var got []string
	for _, s := range series {
		line := ""
		for _, c := range s {
			line += number(c.Result.Value) + " "
		}
		got = append(got, line)
	}
	if !slices.Equal(got, []string{"1 9 ", "2 ", "3 "}) {
		t.Errorf("series %q", got)
	}
}
