package chart

import (
	"encoding/xml"
	"math"
	"strings"
	"testing"
	"time"

	"ebbline/report/internal/golden"
)

// saw is an invented fortnight of urea: a fall in each session, a rise between,
// one session not held.
func saw(t *testing.T) Urea {
	zone := zoneOf(t, "Europe/Lisbon")
	from := time.Date(2026, 3, 1, 20, 0, 0, 0, zone)
	u := Urea{Zone: zone, From: from, To: from.AddDate(0, 0, 14), Unit: "mmol/L"}
	level, last := 14.0, from
	for day := range 7 {
		at := from.AddDate(0, 0, 2*day).Add(22 * time.Hour)
		if day == 3 {
			u.Missed = append(u.Missed, at)
			continue
		}
		level += at.Sub(last).Hours() * 0.22
		u.Curve = append(u.Curve, Reading{At: at, Value: level})
		if day == 4 {
			u.Measured = append(u.Measured, Reading{At: at.Add(-10 * time.Minute), Value: level + 0.6}, Reading{At: at.Add(4 * time.Hour), Value: level*0.32 - 0.2})
		}
		level *= 0.32
		u.Curve = append(u.Curve, Reading{At: at.Add(4 * time.Hour), Value: level})
		u.Sessions = append(u.Sessions, Span{From: at, To: at.Add(4 * time.Hour)})
		last = at.Add(4 * time.Hour)
	}
	return u
}

func TestUrea(t *testing.T) {
	d := saw(t).Draw(OnPage("urea"))
	golden.Check(t, "urea.svg", d.SVG())
	if got := strings.Count(d.SVG(), "measured "); got < 2 {
		t.Errorf("%d samples say what they are", got)
	}
	for _, words := range []string{"6 sessions", "Not held: 1 session", "2 samples"} {
		if !strings.Contains(d.Desc, words) {
			t.Errorf("the description %q lacks %q", d.Desc, words)
		}
	}
	if len(d.Table.Rows) != 2*6+2+1 {
		t.Errorf("%d rows, want two for each session, one for each sample, one for the one not held", len(d.Table.Rows))
	}
	for i := 1; i < len(d.Table.Rows); i++ {
		if len(d.Table.Rows[i]) != 3 || d.Table.Rows[i][0] == "" {
			t.Errorf("row %d: %q", i, d.Table.Rows[i])
		}
	}
}

func TestUreaOfNothing(t *testing.T) {
	for name, u := range map[string]Urea{
		"nothing":       {},
		"no values":     {From: time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC), To: time.Date(2026, 3, 15, 0, 0, 0, 0, time.UTC), Unit: "mmol/L"},
		"not a number":  {From: time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC), To: time.Date(2026, 3, 15, 0, 0, 0, 0, time.UTC), Curve: []Reading{{At: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), Value: math.NaN()}}},
		"only measured": {From: time.Date(2026, 3, 1, 0, 0, 0, 0, time.UTC), To: time.Date(2026, 3, 15, 0, 0, 0, 0, time.UTC), Measured: []Reading{{At: time.Date(2026, 3, 2, 0, 0, 0, 0, time.UTC), Value: 20}}},
	} {
		svg := u.Draw(OnPage("u")).SVG()
		if strings.Contains(svg, "NaN") || xml.Unmarshal([]byte(svg), new(struct{ XMLName xml.Name })) != nil {
			t.Errorf("%s: %s", name, svg)
		}
	}
}
