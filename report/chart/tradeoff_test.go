package chart

import (
	"encoding/xml"
	"math"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"ebbline/report/internal/golden"
)

func weeks() TradeOff {
	return TradeOff{
		Title: "Weeks that meet the target", Across: "hours a week", Up: "highest removal rate, mL/h/kg", Decimals: [2]int{1, 1}, Limit: 10, LimitSay: "limit your unit set, 10",
		Points: []Choice{
			{X: 20, Y: 9.5, Name: "4 × 4 h", Says: "4 sessions of 4 h 00", Named: true, Mine: true, Shape: Square},
			{X: 22, Y: 6.1, Name: "5 × 3 h", Says: "5 sessions of 3 h 00", Named: true, Shape: Diamond},
			{X: 36, Y: 3.2, Name: "4 × 8 h", Says: "4 sessions of 8 h 00", Named: true},
			{X: 17, Y: 12.8, Name: "3 × 4 h", Says: "3 sessions of 4 h 30", Thin: true, Shape: Up},
			{X: 30, Y: 7.5, Says: "5 sessions of 4 h 30", Shape: Diamond},
			{X: 22, Y: 6.1, Says: "the same again", Shape: Diamond},
		},
	}
}

func TestTradeOff(t *testing.T) {
	d := weeks().Draw(OnPage("weeks"))
	golden.Check(t, "tradeoff.svg", d.SVG())
	if got := weeks().Front(); !slices.Equal(got, []int{0, 1, 2}) {
		t.Errorf("beaten by no other are %v, want the first three", got)
	}
	if len(d.Table.Rows) != 3 || !strings.Contains(d.Desc, "Today’s: 20.0 and 9.5") {
		t.Errorf("%q, %d rows", d.Desc, len(d.Table.Rows))
	}
}

// Nothing on the front is beaten by a point that counts, and everything else
// that counts is.
func TestFrontIsBeatenByNone(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var w TradeOff
		for range rapid.IntRange(0, 30).Draw(r, "points") {
			w.Points = append(w.Points, Choice{X: float64(rapid.IntRange(0, 8).Draw(r, "x")), Y: float64(rapid.IntRange(0, 8).Draw(r, "y")), Thin: rapid.Bool().Draw(r, "thin")})
		}
		front := w.Front()
		beats := func(a, b Choice) bool { return !a.Thin && a.X <= b.X && a.Y <= b.Y && (a.X < b.X || a.Y < b.Y) }
		for i, p := range w.Points {
			beaten := slices.ContainsFunc(w.Points, func(q Choice) bool { return beats(q, p) })
			switch {
			case slices.Contains(front, i) && (beaten || p.Thin):
				r.Errorf("%+v is on the front", p)
			case !slices.Contains(front, i) && !p.Thin && !beaten && !slices.ContainsFunc(front, func(k int) bool { return w.Points[k].X == p.X && w.Points[k].Y == p.Y }):
				r.Errorf("%+v is beaten by none and not on the front", p)
			}
		}
	})
}

func TestTradeOffOfNothing(t *testing.T) {
	for name, w := range map[string]TradeOff{
		"nothing": {}, "one": {Points: []Choice{{X: 1, Y: 1, Mine: true, Name: "one"}}}, "not a number": {Points: []Choice{{X: math.NaN(), Y: math.Inf(1)}}},
	} {
		svg := w.Draw(OnPage("w")).SVG()
		if strings.Contains(svg, "NaN") || strings.Contains(svg, "Inf") || xml.Unmarshal([]byte(svg), new(struct{ XMLName xml.Name })) != nil {
			t.Errorf("%s: %s", name, svg)
		}
	}
}
