package record

import (
	"encoding/json"
	"strings"
	"testing"
)

// A key inside a line that nothing reads is refused by its name, like one of the
// entry itself; what stands in a record already stays readable.
func TestKeysInsideLines(t *testing.T) {
	b := everyKind(t)
	nested := 0
	for _, e := range b.life {
		raw, err := json.Marshal(e)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := ReadEntry(raw); err != nil {
			t.Errorf("%s as it is: %v", e.Kind, err)
		}
		kind, _ := Find(e.Kind)
		for _, f := range kind.Fields {
			list := `"` + f.Key + `":[{`
			if f.Type() != TypeNested || !strings.Contains(string(raw), list) {
				continue
			}
			nested++
			for key, more := range map[string]string{"strength": `"strength":5000,`, "Lot": `"Lot":"X-9",`} {
				wrong := strings.Replace(string(raw), list, list+more, 1)
				if wrong == string(raw) {
					t.Fatal("nothing was put in")
				}
				_, err := ReadEntry([]byte(wrong))
				if err == nil || !strings.Contains(err.Error(), key) || !strings.Contains(err.Error(), "is not a value of "+e.Kind) && e.Kind != "bloods" {
					t.Errorf("%s %s with %s: %v", e.Kind, f.Key, key, err)
				}
				if _, err := ReadStored([]byte(wrong)); err != nil && e.Kind != "bloods" {
					t.Errorf("%s is in a record with %s: %v", e.Kind, key, err)
				}
			}
		}
	}
	if nested < 5 {
		t.Errorf("only %d entries with lines were tried", nested)
	}
}
