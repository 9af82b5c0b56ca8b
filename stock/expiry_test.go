package stock

import (
	"errors"
	"testing"

	"ebbline/unit"
)

func TestParseExpiry(t *testing.T) {
	for in, want := range map[string]string{
		"2026-11-30": "2026-11-30", "2026/11/30": "2026-11-30", "2026.11.30": "2026-11-30", "2026 11 30": "2026-11-30",
		"2026-11": "2026-11-30", "2026/2": "2026-02-28", "2028-02": "2028-02-29", "11/2026": "2026-11-30", "11-2026": "2026-11-30",
		"NOV 2026": "2026-11-30", "Nov-2026": "2026-11-30", "november 2026": "2026-11-30", "2026-NOV": "2026-11-30",
		"30 Nov 2026": "2026-11-30", "30NOV2026": "2026-11-30", "2026-NOV-30": "2026-11-30", "Sept 2026": "2026-09-30",
		"30/11/2026": "2026-11-30", "11/30/2026": "2026-11-30", "05/05/2027": "2027-05-05", "2026-11-00": "2026-11-30",
		" 2026-11-30 ": "2026-11-30",
	} {
		got, err := ParseExpiry(in)
		if err != nil || got.String() != want {
			t.Errorf("ParseExpiry(%q) = %s, %v; want %s", in, got, err, want)
		}
	}
	for _, in := range []string{
		"", "03/04/27", "30/11/26", "11/26", "03/04/2027", "4-3-2027", "2026-13", "2026-02-30", "2026-11-31", "31/02/2026",
		"261130", "20261130", "1999-12", "2100-01", "Nov 26", "Foo 2026", "2026-11-0", "0/2026", "00/2026", "2026--11", "next year", "2026-11-30T00:00",
	} {
		if got, err := ParseExpiry(in); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("ParseExpiry(%q) = %s, %v; want an InputError", in, got, err)
		}
	}
}

func TestExpiryOf(t *testing.T) {
	for _, tt := range []struct {
		y, m, d int
		want    string
	}{
		{2026, 11, 0, "2026-11-30"}, {2026, 11, 30, "2026-11-30"}, {2028, 2, 0, "2028-02-29"}, {2026, 12, 0, "2026-12-31"},
		{2026, 11, 31, ""}, {2026, 0, 1, ""}, {2026, 13, 1, ""}, {26, 11, 30, ""}, {2026, 11, -1, ""},
	} {
		got, err := ExpiryOf(tt.y, tt.m, tt.d)
		if got.String() != tt.want || (err == nil) != (tt.want != "") {
			t.Errorf("%d-%d-%d = %q, %v; want %q", tt.y, tt.m, tt.d, got, err, tt.want)
		}
	}
}
