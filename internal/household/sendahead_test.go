package household

import (
	"errors"
	"strings"
	"testing"

	"ebbline/unit"
)

// What a fortnight at another place needs: that person's sessions by the
// prescription and the spare ones, with the spares of each, in whole packs, two
// weeks ahead.
func TestSendAhead(t *testing.T) {
	d, now := stockedDiary(t)
	m := d.h.Member(keeper)
	a, err := SendAhead(d.h, m, now, unit.NewDate(2026, 4, 4), unit.NewDate(2026, 4, 17), 1)
	if err != nil {
		t.Fatal(err)
	}
	// Saturday to Friday: six sessions, 6 to 17 April, and one spare; 7 × 1.1
	// dialysers are 7.7, one box of 12; 7 × 2.2 needles are 15.4, one box of 50.
	if len(a.Sessions) != 6 || a.Sessions[0] != unit.NewDate(2026, 4, 6) || a.Sessions[5] != unit.NewDate(2026, 4, 17) || a.SendBy != unit.NewDate(2026, 3, 23) || len(a.Cautions) != 0 {
		t.Errorf("%+v", a)
	}
	for i, want := range []AwayLine{
		{Goods{Item: "dialyser", Code: "D-170", Packs: 1, Pack: 12 * one, Pieces: 12 * one}, 9 * one}, // lot A is past its day by then
		{Goods{Item: "needle", Packs: 1, Pack: 50 * one, Pieces: 50 * one}, 90 * one},
	} {
		if i >= len(a.Lines) || a.Lines[i] != want {
			t.Errorf("line %d of %+v; want %+v", i, a.Lines, want)
		}
	}
	text := a.Text("Ida Brook")
	for _, part := range []string{"to leave by 23 March 2026", "1 x dialyser (D-170), pack of 12", "before 6 April 2026", "Ida Brook"} {
		if !strings.Contains(text, part) {
			t.Errorf("%q is not in\n%s", part, text)
		}
	}
	if strings.Contains(text, "dialysis") || !strings.Contains(a.Subject(), "K-77") {
		t.Errorf("%s\n%s", a.Subject(), text)
	}
	// A month of it needs more than one box.
	if a, err = SendAhead(d.h, m, now, unit.NewDate(2026, 4, 4), unit.NewDate(2026, 5, 1), 0); err != nil || a.Lines[0].Packs != 2 {
		t.Errorf("twelve sessions: %+v, %v", a.Lines, err)
	}
	// Ten days ahead it is late already.
	a, err = SendAhead(d.h, m, now, unit.NewDate(2026, 3, 10), unit.NewDate(2026, 3, 17), 0)
	if err != nil || a.SendBy != unit.NewDate(2026, 3, 1) || len(a.Cautions) != 1 || !strings.Contains(a.Cautions[0].Text, "25 February 2026") {
		t.Errorf("ten days ahead: %+v, %v", a, err)
	}
}

func TestSendAheadRefuses(t *testing.T) {
	d, now := stockedDiary(t)
	m := d.h.Member(keeper)
	for name, days := range map[string][2]unit.Date{
		"gone by":          {unit.NewDate(2026, 2, 20), unit.NewDate(2026, 3, 9)},
		"backwards":        {unit.NewDate(2026, 4, 9), unit.NewDate(2026, 4, 8)},
		"too far":          {unit.NewDate(2026, 4, 9), unit.NewDate(2028, 4, 8)},
		"between sessions": {unit.NewDate(2026, 4, 4), unit.NewDate(2026, 4, 5)},
	} {
		if a, err := SendAhead(d.h, m, now, days[0], days[1], 0); !errors.As(err, new(*unit.InputError)) {
			t.Errorf("%s: %+v, %v; want it refused", name, a, err)
		}
	}
	if _, err := SendAhead(d.h, m, now, unit.NewDate(2026, 4, 4), unit.NewDate(2026, 4, 17), -1); err == nil {
		t.Error("fewer than no spare sessions were taken")
	}
}
