package session

import (
	"testing"

	"ebbline/unit"
)

// A value told to be too hot or wrong is one whose reading opens the trouble, and no
// other, beside what is set and without.
func TestFluidToldIsWhatOpensTheTrouble(t *testing.T) {
	said := 0
	for _, set := range []*unit.Conductivity{nil, ref(unit.Conductivity(1380))} {
		for v := unit.Conductivity(1150); v <= 1600; v += 5 {
			for _, temp := range []unit.Temperature{370, 385, 386} {
				s := fallen(t)
				rx := *s.Rx
				rx.SetConduct, s.Rx = set, &rx
				put(s, on(10), &Reading{Conduct: &v, DialTemp: &temp})
				wrong, hot := FluidTold(s, &v, &temp)
				if hot != (temp == 386) {
					t.Errorf("%s told hot: %v", temp.Text(), hot)
				}
				if open := len(OpenTroubles(s, on(10))) > 0; open != (wrong || hot) {
					t.Errorf("%s and %s: told %v and %v, open %v", v.Text(), temp.Text(), wrong, hot, open)
				}
				if wrong {
					said++
				}
			}
		}
	}
	if said == 0 {
		t.Error("no conductivity was told wrong")
	}
	if wrong, hot := FluidTold(&Session{}, nil, nil); wrong || hot {
		t.Error("nothing was told of nothing")
	}
}
