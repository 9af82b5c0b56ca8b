package chart

import (
	"slices"
	"testing"
	"time"
)

// Two values of one instant are two rows of the table: a low pressure typed in the minute
// of a reading is in the figures too.
func TestEveryValueIsInTheFigures(t *testing.T) {
	at := time.Date(2026, 3, 3, 18, 0, 0, 0, time.UTC)
	bp := []Between{{At: at, Low: 70, High: 124}, {At: at, Low: 34, High: 62}, {At: at.Add(time.Minute), Low: 60, High: 101}}
	d := Pressures(time.UTC, at, at.Add(time.Hour), []Reading{{At: at, Value: -150}}, nil, bp, nil).Draw(OnPage("p"))
	var rows []string
	for _, r := range d.Table.Rows {
		rows = append(rows, r[0]+" "+r[2]+" "+r[3])
	}
	if want := []string{"18:00 −150 124/70", "18:00  62/34", "18:01  101/60"}; !slices.Equal(rows, want) {
		t.Errorf("%q, want %q", rows, want)
	}
}
