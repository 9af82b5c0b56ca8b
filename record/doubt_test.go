package record

import (
	"strings"
	"testing"

	"ebbline/fluid"
	"ebbline/session"
)

// A doubt says its parts in order, and a finding says the doubt.
func TestWeightDoubtWords(t *testing.T) {
	lo := 80.0
	likely := 82.5
	w := &session.WeighIn{Weight: 28500}
	judged := fluid.Weighed{Reasons: []fluid.Reason{fluid.BelowDry, fluid.UnusualGain, fluid.DigitsSwapped}}
	d := doubtOf(w, judged)
	if got := d.Words(); got != "28.5 kg lies below the dry weight, and by far, and looks like two digits swapped" {
		t.Error(got)
	}
	judged.UsualLowKg, judged.LikelyKg = &lo, &likely
	d = doubtOf(w, judged)
	d.Do = "Look again"
	if got := d.Words(); got != "28.5 kg lies below the dry weight, and is not what you usually gain, and looks like two digits swapped; was it 82.5 kg? Look again" {
		t.Error(got)
	}
	var c Checker
	c.doubt(Ask, d)
	if one := c.found[0]; one.Words != d.Words() || one.Weight == nil || one.Field != "weight_kg" || one.Reason() != one.Words {
		t.Errorf("%+v", one)
	}
}

// Each reason of a weight has words, and says by itself which slip it is.
func TestWeightReasons(t *testing.T) {
	digits, units := 0, 0
	for of, words := range reasons {
		r := WeightReason{of, words}
		if words == "" {
			t.Errorf("%s has no words", of)
		}
		if r.Digit() {
			digits++
		}
		if r.InPounds() || r.InStone() {
			units++
		}
		if r.InPounds() != strings.Contains(words, "pounds") || r.InStone() != strings.Contains(words, "stone") {
			t.Errorf("%s is %q", of, words)
		}
	}
	if digits != 3 || units != 2 {
		t.Errorf("%d slips of digits and %d other units", digits, units)
	}
}

// A value that is asked about says why by itself, and the request to type it again
// after that.
func TestAskRight(t *testing.T) {
	var c Checker
	c.askRight("systolic_mmhg", "%d is low", 74)
	if one := c.found[0]; one.Reason() != "74 is low" || one.Words != "74 is low. If it is right, type it again" || one.Step != Ask {
		t.Errorf("%+v", one)
	}
	c.Ask("systolic_mmhg", "%d is low", 74)
	if one := c.found[1]; one.Reason() != one.Words {
		t.Errorf("%+v", one)
	}
}
