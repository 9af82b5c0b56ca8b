package fluid

import (
	"math"
	"math/rand/v2"
	"testing"
)

// gains makes a history of n intervals of the given hours in turn, with gains
// of start + perHour·hours and some noise.
func gains(n int, stretches []float64, start, perHour, noise float64) []Interval {
	r := rand.New(rand.NewPCG(1, 2))
	var list []Interval
	for i := range n {
		h := stretches[i%len(stretches)]
		list = append(list, Interval{PreviousPost: kg(72), Pre: kg(72 + start + perHour*h + noise*r.NormFloat64()), Hours: h})
	}
	return list
}

func TestUsualGainFindsTheLine(t *testing.T) {
	for _, tt := range []struct {
		name                  string
		history               []Interval
		hours                 float64
		centre, within        float64
		deviation, devBetween float64
	}{
		{"two stretches, the short", gains(80, []float64{44, 44, 68}, 0, 0.045, 0.5), 44, 1.98, 0.2, 0.5, 0.1},
		{"two stretches, the long", gains(80, []float64{44, 44, 68}, 0, 0.045, 0.5), 68, 3.06, 0.2, 0.5, 0.1},
		{"one stretch only, another asked", gains(80, []float64{44}, 0, 0.045, 0.5), 68, 3.06, 0.5, 0.65, 0.15},
		{"a meal at each end", gains(80, []float64{20, 44, 68}, 0.4, 0.03, 0.3), 44, 1.72, 0.15, 0.3, 0.06},
		{"five intervals", gains(5, []float64{44, 68}, 0, 0.045, 0.2), 44, 1.98, 0.4, 0.45, 0.15},
	} {
		centre, deviation, ok := usualGain(tt.history, &tt.hours)
		if !ok || math.Abs(centre-tt.centre) > tt.within || math.Abs(deviation-tt.deviation) > tt.devBetween {
			t.Errorf("%s: %.2f ± %.2f kg, %v; want %.2f ± %.2f", tt.name, centre, deviation, ok, tt.centre, tt.deviation)
		}
	}
}

func TestUsualGainNeedsEnough(t *testing.T) {
	if _, _, ok := usualGain(gains(enough-1, []float64{44}, 0, 0.045, 0.5), new(44.0)); ok {
		t.Error("four intervals were enough")
	}
	if _, _, ok := usualGain(nil, nil); ok {
		t.Error("no history was enough")
	}
}

// Only the latest intervals count: a year ago the person drank more.
func TestUsualGainForgets(t *testing.T) {
	history := append(gains(300, []float64{44}, 0, 0.09, 0.3), gains(recent, []float64{44}, 0, 0.045, 0.3)...)
	if centre, _, _ := usualGain(history, new(44.0)); math.Abs(centre-1.98) > 0.15 {
		t.Errorf("%.2f kg, want 1.98 as of late", centre)
	}
}

// The deviation is that of a new weight: of weights that follow the same line,
// a known part lies within it.
func TestUsualGainIsCalibrated(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	inside, all := 0, 0
	for range 400 {
		var history []Interval
		noise, stretches := 0.4+0.3*r.Float64(), []float64{44, 44, 68}
		gain := func(i int) (float64, float64) {
			h := stretches[i%3] + r.NormFloat64()
			return h, 0.045*h + noise*r.NormFloat64()
		}
		for i := range 40 {
			h, g := gain(i)
			history = append(history, Interval{PreviousPost: kg(72), Pre: kg(72 + g), Hours: h})
		}
		for i := range 20 {
			h, g := gain(i)
			centre, deviation, _ := usualGain(history, &h)
			all++
			if math.Abs(g-centre) <= deviation {
				inside++
			}
		}
	}
	// Of a normal variable 68 % lie within one deviation; the scale of a t
	// with 8 degrees of freedom is a little below the deviation.
	if share := float64(inside) / float64(all); share < 0.62 || share > 0.70 {
		t.Errorf("%.1f %% within one deviation", 100*share)
	}
}

// A line through few intervals is itself uncertain, and more so far from them.
func TestUsualGainOfFewIsWider(t *testing.T) {
	stretches := []float64{40, 44, 48, 68}
	few, many := gains(6, stretches, 0, 0.045, 0.5), gains(120, stretches, 0, 0.045, 0.5)
	over := func(history []Interval, at float64) float64 {
		var h, g []float64
		for _, iv := range history {
			h, g = append(h, iv.Hours), append(g, iv.Pre.Float()-iv.PreviousPost.Float())
		}
		_, deviation, _ := usualGain(history, &at)
		return deviation / fit(h, g).scale
	}
	if w := over(few, 48); w < 1.05 || w > 1.2 {
		t.Errorf("of six intervals the deviation is %.3f of the scale", w)
	}
	if over(few, 68) <= over(few, 48) {
		t.Error("the end of the line is as certain as its middle")
	}
	if w := over(many, 48); w < 1 || w > 1.02 {
		t.Errorf("of 120 intervals the deviation is %.3f of the scale", w)
	}
}

func TestMedian(t *testing.T) {
	for _, tt := range []struct {
		of   []float64
		want float64
	}{{[]float64{3}, 3}, {[]float64{4, 1}, 2.5}, {[]float64{9, 1, 5}, 5}} {
		if got := median(tt.of); got != tt.want {
			t.Errorf("median of %v = %v", tt.of, got)
		}
	}
}
