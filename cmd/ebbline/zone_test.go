package main

import (
	"testing"

	"ebbline/record"
)

func TestHouseholdZone(t *testing.T) {
	for _, tt := range []struct{ tz, own, want string }{
		{"Europe/Oslo", "", "Europe/Oslo"},
		{":Europe/Oslo", "", "Europe/Oslo"},
		{"/usr/share/zoneinfo/Australia/Lord_Howe", "", "Australia/Lord_Howe"},
		{"", "", "UTC"},
		{"Europe/Oslo", "America/Santiago", "America/Santiago"},
		{"nonsense", "", ""},
		{"Europe/Oslo", "Local", ""},
	} {
		t.Setenv("TZ", tt.tz)
		t.Setenv("EBBLINE_ZONE", tt.own)
		zone, err := householdZone()
		switch {
		case tt.want == "" && err == nil:
			t.Errorf("TZ=%q EBBLINE_ZONE=%q gives %v; want an error", tt.tz, tt.own, zone)
		case tt.want != "" && (err != nil || zone.String() != tt.want):
			t.Errorf("TZ=%q EBBLINE_ZONE=%q gives %v, %v; want %s", tt.tz, tt.own, zone, err, tt.want)
		}
	}
}

// TestWindowsZonesExist: every zone that Windows may name is one that the
// program knows.
func TestWindowsZonesExist(t *testing.T) {
	if len(windowsZones) < 130 {
		t.Fatalf("only %d zones", len(windowsZones))
	}
	for key, name := range windowsZones {
		if _, err := record.LoadZone(name); err != nil {
			t.Errorf("%s: %v", key, err)
		}
	}
}
