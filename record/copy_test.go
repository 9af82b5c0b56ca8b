package record

import (
	"reflect"
	"slices"
	"testing"
)

// What is folded into a copy is what it would be in the record, and leaves no trace
// there, for strikes and corrections of every kind.
func TestCopyLeavesNoTrace(t *testing.T) {
	b := everyKind(t)
	tried := 0
	for _, e := range b.life {
		if e.Kind == "struck" || e.Kind == "person" || e.Kind == "demonstration" || b.h.newer[e.ID] != "" || b.h.entries[e.ID].struck {
			continue
		}
		strike := later(b.life, e, "the-strike-of-it")
		strike.Kind, strike.Body = "struck", &Struck{Entry: e.ID, Reason: "to see"}
		fix := later(b.life, e, "the-correction-of-it")
		fix.Kind, fix.Corrects, fix.Reason, fix.Body, fix.At, fix.Zone = e.Kind, e.ID, "to see", e.Body, e.At, e.Zone
		for _, one := range []Entry{strike, fix} {
			tried++
			c := b.h.copy()
			if err := c.Apply(one); err != nil {
				t.Fatal(err)
			}
			want := fold(t, append(slices.Clone(b.life), one))
			if d := Difference(Picture{}.Of(c), Picture{}.Of(want)); d != "" {
				t.Errorf("%s of %s:\n%s", one.Kind, e.Kind, d)
			}
		}
	}
	if !reflect.DeepEqual(b.h, fold(t, b.life)) {
		t.Error("a copy left a trace")
	}
	if tried < 100 {
		t.Errorf("only %d were tried", tried)
	}
}
