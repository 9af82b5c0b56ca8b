package unit

import (
	"encoding/json"
	"errors"
	"testing"
)

func TestParsePrinted(t *testing.T) {
	for in, want := range map[string]Printed{
		"5.4": "5.4", "5,4": "5.4", " 5.40 ": "5.40", "0": "0", "0.07": "0.07", "0,125": "0.125", "007": "7", "1234": "1234", "1.234": "1.234", "1234,567": "1234.567",
	} {
		if got, err := ParsePrinted(in); err != nil || got != want {
			t.Errorf("ParsePrinted(%q) = %q, %v; want %q", in, got, err, want)
		}
	}
	for _, in := range []string{"", "-1", "+1", "1e3", "1,234", "12,345", "1.2.3", "1 234", "1'234", "٥", "5.", ".5", "NaN", "5 mmol/L", "<5", "0x1f", "1234567890123"} {
		var refused *InputError
		if got, err := ParsePrinted(in); !errors.As(err, &refused) {
			t.Errorf("ParsePrinted(%q) = %q, %v; want it refused", in, got, err)
		}
	}
}

// The digits of a report survive the file, and a number is read like a text.
func TestPrintedKeepsItsDigits(t *testing.T) {
	var v struct{ A, B, C Printed }
	if err := json.Unmarshal([]byte(`{"A":"5.40","B":5.40,"C":""}`), &v); err != nil {
		t.Fatal(err)
	}
	if v.A != "5.40" || v.B != "5.40" || v.C != "" {
		t.Errorf("read %+v", v)
	}
	if out, err := json.Marshal(v.A); err != nil || string(out) != `"5.40"` {
		t.Errorf("written %s, %v", out, err)
	}
	if v.A.Float() != 5.4 || v.A.Decimals() != 2 || v.C.Float() != 0 {
		t.Errorf("%v has %d decimals, nothing is %v", v.A.Float(), v.A.Decimals(), v.C.Float())
	}
	for _, bad := range []string{`{"A":-5}`, `{"A":1e3}`, `{"A":true}`, `{"A":[1]}`, `{"A":"five"}`} {
		if err := json.Unmarshal([]byte(bad), &v); err == nil {
			t.Errorf("%s was taken as %q", bad, v.A)
		}
	}
}
