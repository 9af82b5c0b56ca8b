package chart

import (
	"slices"
	"testing"
	"time"
	_ "time/tzdata"

	"pgregory.net/rapid"
)

func zoneOf(t interface{ Fatal(...any) }, name string) *time.Location {
	zone, err := time.LoadLocation(name)
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

func labels(ks []tick) []string {
	var out []string
	for _, k := range ks {
		s := k.label
		if k.under != "" {
			s += " " + k.under
		}
		out = append(out, s)
	}
	return out
}

// Nights on which the clocks change, with their elapsed hours, computed from
// the IANA time zone database.
func TestTicksOnNightsTheClocksChange(t *testing.T) {
	for _, tt := range []struct {
		name, zone, from string
		elapsed          time.Duration
		want             []string
	}{
		{"autumn, an hour twice", "Europe/London", "2026-10-24 22:30", 9 * time.Hour, []string{
			"23:00 +01:00", "00:00 +01:00", "01:00 +01:00", "01:00 +00:00", "02:00 +00:00", "03:00 +00:00", "04:00 +00:00", "05:00 +00:00", "06:00 +00:00",
		}},
		{"spring, an hour missing", "Europe/London", "2026-03-28 22:30", 7 * time.Hour, []string{
			"23:00 +00:00", "00:00 +00:00", "02:00 +01:00", "03:00 +01:00", "04:00 +01:00", "05:00 +01:00", "06:00 +01:00",
		}},
		{"half an hour back", "Australia/Lord_Howe", "2026-04-04 22:30", 8*time.Hour + 30*time.Minute, []string{
			"23:00 +11:00", "00:00 +11:00", "01:00 +11:00", "02:00 +10:30", "03:00 +10:30", "04:00 +10:30", "05:00 +10:30", "06:00 +10:30",
		}},
		{"no change", "Asia/Tokyo", "2026-10-24 22:30", 8 * time.Hour, []string{
			"23:00", "00:00 25 Oct", "01:00", "02:00", "03:00", "04:00", "05:00", "06:00",
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			zone := zoneOf(t, tt.zone)
			from, err := time.ParseInLocation("2006-01-02 15:04", tt.from, zone)
			if err != nil {
				t.Fatal(err)
			}
			if got := labels(ticks(from, from.Add(tt.elapsed), 10, zone)); !slices.Equal(got, tt.want) {
				t.Errorf("ticks\n got %q\nwant %q", got, tt.want)
			}
		})
	}
}

func TestTicksOverMonths(t *testing.T) {
	zone := zoneOf(t, "America/Santiago") // where midnight itself can be missing
	from := time.Date(2025, 11, 20, 9, 0, 0, 0, zone)
	got := labels(ticks(from, from.AddDate(0, 6, 0), 8, zone))
	want := []string{"Dec 2025", "Jan 2026", "Feb", "Mar", "Apr", "May"}
	if !slices.Equal(got, want) {
		t.Errorf("half a year: %q, want %q", got, want)
	}
	got = labels(ticks(from, from.AddDate(0, 0, 26), 5, zone))
	if want = []string{"24 Nov 2025", "1 Dec", "8 Dec", "15 Dec"}; !slices.Equal(got, want) {
		t.Errorf("four weeks: %q, want Mondays %q", got, want)
	}
}

// Ticks are in order, inside, few enough, and their label is the local time
// at that instant, whatever the stretch and the zone.
func TestTicksProperties(t *testing.T) {
	zones := []*time.Location{time.UTC}
	for _, z := range []string{"Europe/London", "Australia/Lord_Howe", "Asia/Kathmandu", "America/St_Johns", "Pacific/Apia", "Africa/Casablanca"} {
		zones = append(zones, zoneOf(t, z))
	}
	rapid.Check(t, func(t *rapid.T) {
		zone := rapid.SampledFrom(zones).Draw(t, "zone")
		from := time.Unix(rapid.Int64Range(0, 4e9).Draw(t, "from"), rapid.Int64Range(0, 1e9-1).Draw(t, "ns"))
		to := from.Add(time.Duration(rapid.Int64Range(1, 20*365*24*3600).Draw(t, "seconds")) * time.Second)
		n := rapid.IntRange(1, 14).Draw(t, "n")
		ks := ticks(from, to, n, zone)
		if len(ks) > n+2 { // a change of clock can add one, a leap day another
			t.Fatalf("%d ticks for at most %d", len(ks), n)
		}
		for i, k := range ks {
			if k.at.Before(from) || k.at.After(to) {
				t.Fatalf("tick %v outside %v to %v", k.at, from, to)
			}
			if i > 0 && !k.at.After(ks[i-1].at) {
				t.Fatalf("ticks not in order: %v, %v", ks[i-1].at, k.at)
			}
			if l := k.at.In(zone); !slices.Contains([]string{l.Format("15:04"), l.Format("2 Jan"), l.Format("Jan"), l.Format("2006")}, k.label) {
				t.Fatalf("tick at %v is labelled %q", l, k.label)
			}
		}
	})
}
