package main

import (
	"context"
	"encoding/json"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/simulate"
	"ebbline/record"
)

// livedThrough writes a file of an invented household, some months up to 12 June 2024.
func livedThrough(t *testing.T, months int) (file string, life *simulate.Life) {
	t.Helper()
	t.Setenv("EBBLINE_ZONE", simulate.Zone().String())
	until := time.Date(2024, 6, 12, 19, 30, 0, 0, simulate.Zone())
	file = filepath.Join(t.TempDir(), "house.ebb")
	desk, err := household.Open(context.Background(), file, household.Options{Now: func() time.Time { return until }, Zone: simulate.Zone()})
	if err != nil {
		t.Fatal(err)
	}
	life, err = simulate.Make(simulate.Options{Seed: 4, Months: months, Until: until})
	if err != nil {
		t.Fatal(err)
	}
	if out, err := desk.Record(context.Background(), life.Entries...); err != nil || !out.Clear() {
		t.Fatal(err, out)
	}
	if err := desk.Close(); err != nil {
		t.Fatal(err)
	}
	return file, life
}

func TestDoseCommand(t *testing.T) {
	file, life := livedThrough(t, 6)
	code, text, complaint := ran(t, "", "dose", "-file", file, "--on", "2024-06-12")
	if code != exitDone {
		t.Fatalf("exit %d: %s", code, complaint)
	}
	for _, words := range []string{"DEMONSTRATION", "Dose of Vida Hribar, 2024-06-12", "Standard Kt/V a week, by definition: ", "urea volume", "not set by your unit", "2024-05", "stdKt/V"} {
		if !strings.Contains(text, words) {
			t.Errorf("it does not say %q:\n%s", words, text)
		}
	}
	code, text, complaint = ran(t, "", "dose", "-file", file, "--on", "2024-06-12", "--json")
	var out doseOut
	if err := json.Unmarshal([]byte(text), &out); code != exitDone || err != nil {
		t.Fatalf("exit %d, %v: %s", code, err, complaint)
	}
	if out.Fortnight == nil || out.Model == nil || len(out.Months) < 6 {
		t.Fatalf("%+v", out)
	}
	if v := out.Model.Volume; v.Low > life.Blood.VolumeL || v.High < life.Blood.VolumeL {
		t.Errorf("volume %+v, in truth %.1f", v, life.Blood.VolumeL)
	}
	truth := life.Blood.Samples[len(life.Blood.Samples)-1]
	found := false
	for _, m := range out.Months {
		for _, s := range m.Sampled {
			if s.Session == truth.Session {
				found = true
				if urr := *s.Figures[0].Value / 100; math.Abs(urr-(1-float64(truth.Post/truth.Pre))) > 0.05 {
					t.Errorf("URR %.3f of %s, in truth %.3f", urr, s.Session, 1-float64(truth.Post/truth.Pre))
				}
			}
		}
	}
	if !found {
		t.Errorf("the session %s is not among the months", truth.Session)
	}
	// An earlier day knows nothing of later bloods.
	_, early, _ := ran(t, "", "dose", "-file", file, "--on", "2024-02-01")
	if strings.Contains(early, "2024-05") || !strings.Contains(early, "2024-01") {
		t.Errorf("as of February:\n%s", early)
	}
}

func TestDoseCommandRefuses(t *testing.T) {
	file, _ := livedThrough(t, 3)
	for _, args := range [][]string{
		{"dose", "-file", file, "--on", "12.6.2024"}, {"dose", "-file", file, "now"},
		{"week", "-file", file, "--find", "cheap"}, {"week", "-file", file, "--days", "monday"}, {"week", "-file", file, "--length", "9"},
		{"week", "-file", file, "--every", "48", "--days", "mon"}, {"week", "-file", file, "--persons", "0"}, {"week", "-file", file, "--start", "late"},
		{"week", "-file", file, "--blood", "NaN"},
	} {
		if args[0] == "week" {
			args = append(args, "--on", "2024-06-12")
		}
		if code, text, complaint := ran(t, "", args...); code != exitRefused || text != "" || complaint == "" {
			t.Errorf("%v: exit %d, %q, %q", args[3:], code, text, complaint)
		}
	}
	if code, text, complaint := ran(t, "", "dose", "-file", file+".none"); code != exitFailed || text != "" || complaint == "" {
		t.Errorf("no file: exit %d, %q", code, complaint)
	}
}

// A critical value that nobody rang about stands first (H-94).
func TestDoseCommandSaysToRing(t *testing.T) {
	file, life := livedThrough(t, 1)
	desk, err := openDesk(file, nil)
	if err != nil {
		t.Fatal(err)
	}
	e := record.Entry{ID: "critical-1", Kind: "bloods", Person: life.Person, At: time.Date(2024, 6, 11, 9, 0, 0, 0, simulate.Zone()), Zone: simulate.Zone().String(),
		Again: map[string]string{"results.potassium": "6.9"},
		Body:  &record.Bloods{Timing: record.Other, Laboratory: "L", Results: []record.BloodResult{{Analyte: "potassium", Value: "6.9", Unit: "mmol/L"}}}}
	if out, err := desk.Record(context.Background(), e); err != nil || !out.Clear() {
		t.Fatal(err, out)
	}
	if err := desk.Close(); err != nil {
		t.Fatal(err)
	}
	if _, text, _ := ran(t, "", "dose", "-file", file); !strings.Contains(text, "RING: Potassium 6.9") {
		t.Errorf("it does not say to ring:\n%s", text)
	}
}

func TestWeekCommand(t *testing.T) {
	file, _ := livedThrough(t, 6)
	code, text, complaint := ran(t, "", "week", "-file", file, "--on", "2024-06-12", "--days", "mon,tue,wed,thu,sat", "--length", "150", "--persons", "200")
	if code != exitDone {
		t.Fatalf("exit %d: %s", code, complaint)
	}
	for _, words := range []string{"now: Mon, Tue, Thu, Sat, 4 h 10 each", "other: Mon, Tue, Wed, Thu, Sat, 2 h 30 each", "standard Kt/V a week", "removal rates", "your unit set on"} {
		if !strings.Contains(text, words) {
			t.Errorf("it does not say %q:\n%s", words, text)
		}
	}
	code, text, complaint = ran(t, "", "week", "-file", file, "--on", "2024-06-12", "--length", "300", "--persons", "200", "--json")
	var two []weekOut
	if err := json.Unmarshal([]byte(text), &two); code != exitDone || err != nil || len(two) != 2 {
		t.Fatalf("exit %d, %v, %d weeks: %s", code, err, len(two), complaint)
	}
	if now, longer := two[0], two[1]; !now.Today || longer.Today || longer.Std.Value <= now.Std.Value || longer.Rates[0] >= now.Rates[0] || longer.Phosphate.Value >= 1 {
		t.Errorf("an hour more: %+v, then %+v", now, longer)
	}
	code, text, complaint = ran(t, "", "week", "-file", file, "--on", "2024-06-12", "--find", "gentle", "--no-gap", "--persons", "50", "--json")
	var many []weekOut
	if err := json.Unmarshal([]byte(text), &many); code != exitDone || err != nil || len(many) < 20 {
		t.Fatalf("exit %d, %v, %d weeks: %s", code, err, len(many), complaint)
	}
	for _, w := range many {
		if w.Over != "" || w.Share < 0.9 || w.Gap > 49 {
			t.Errorf("offered: %+v", w)
		}
	}
	if code, text, _ := ran(t, "", "week", "-file", file, "--on", "2024-06-12", "--find", "hours", "--persons", "50"); code != exitDone || !strings.Contains(text, "weeks reach what is wanted") {
		t.Errorf("exit %d:\n%s", code, text)
	}
}
