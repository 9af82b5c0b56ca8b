//go:build browser

package browsertest

import "testing"

// A blood pressure is in the record after at most eight taps, whatever its
// digits.
func TestTapsOfAReading(t *testing.T) {
	for _, one := range []struct {
		name     string
		w, h     int64
		upper    string
		lower    string
		most     int
		recorded int
	}{
		{"tablet", tabletW, tabletH, "132", "76", 8, 1},
		{"tablet lying", tabletH, tabletW, "132", "104", 8, 1},
		{"telephone", phoneW, phoneH, "118", "102", 8, 1},
	} {
		t.Run(one.name, func(t *testing.T) {
			t.Parallel()
			h := home(t, 1, false)
			base := h.running()
			s := newScreen(t, h, one.name, one.w, one.h)
			s.open(base)
			s.taps = 0
			s.saves("the reading", func() {
				s.fill("/reading", "systolic_mmhg", one.upper)
				s.fill("/reading", "diastolic_mmhg", one.lower)
				s.tap(`#pad [data-pad="save"]`)
			})
			t.Logf("%s over %s: %d taps", one.upper, one.lower, s.taps)
			if s.taps > one.most || s.keys != 0 {
				t.Errorf("%d taps and %d keys, want %d taps at most", s.taps, s.keys, one.most)
			}
			if n := len(h.written(base, "reading")); n != one.recorded {
				t.Errorf("%d readings are written, want %d", n, one.recorded)
			}
			s.shows("Saved at")
		})
	}
}

// The three boxes of an expiry take its eight digits one after the other: a thumb
// goes to the first box only, and a month written 01 is as full as one written 12.
func TestTapsOfAnExpiry(t *testing.T) {
	t.Parallel()
	h := home(t, 1, false)
	base := h.begun()
	s := newScreen(t, h, "expiry", phoneW, phoneH)
	for digits, want := range map[string]string{"20270131": "2027-01-31", "20271207": "2027-12-07", "202745": "2027-4-5"} {
		s.open(base + "/chlorine")
		s.tap(field("/chlorine", "expiry.year"))
		s.until("the pad", `document.querySelector("#pad:not([hidden])")`)
		s.taps = 0
		for _, digit := range digits {
			s.tap(`#pad [data-pad="` + string(digit) + `"]`)
		}
		const boxes = `["year", "month", "day"].map(part => document.getElementsByName("expiry." + part)[0].value).join("-")`
		s.until(digits+" standing as "+want, boxes+` === `+quoted(want))
		if s.taps != len(digits) || s.keys != 0 {
			t.Errorf("%s came to stand as %s, with %d taps and %d keys", digits, want, s.taps, s.keys)
		}
	}
}
