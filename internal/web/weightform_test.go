package web

import (
	"testing"

	"ebbline/fluid"
	"ebbline/record"
)

// Slips of digits that nobody typed are left out where something else is said; what
// looks like pounds was typed in the unit of the scale.
func TestDoubtInUnit(t *testing.T) {
	gain := record.WeightReason{Of: fluid.UnusualGain, Words: "is not what you usually gain"}
	digit := record.WeightReason{Of: fluid.OneDigitOff, Words: "looks like one wrong digit"}
	pounds := record.WeightReason{Of: fluid.Pounds, Words: "looks like pounds"}
	for _, tt := range []struct {
		why  []record.WeightReason
		want string
	}{
		{[]record.WeightReason{gain, digit}, "82.5 kg is not what you usually gain"},
		{[]record.WeightReason{digit}, "82.5 kg looks like one wrong digit; was it 81.5 kg"},
		{[]record.WeightReason{gain, pounds}, "82.5 kg is not what you usually gain, and looks like kilograms typed as pounds; was it 81.5 kg"},
		{[]record.WeightReason{gain, digit, pounds}, "82.5 kg is not what you usually gain, and looks like kilograms typed as pounds"},
	} {
		d := record.WeightDoubt{Value: "82.5 kg", Why: tt.why, Likely: "81.5"}
		if got := doubtInUnit(d, inPounds).Words(); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
		if d.Likely != "81.5" || len(d.Why) != len(tt.why) || d.Why[len(tt.why)-1] != tt.why[len(tt.why)-1] {
			t.Errorf("the record's own doubt was changed: %+v", d)
		}
	}
}
