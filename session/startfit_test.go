package session

import (
	"reflect"
	"testing"
)

// Each tick of "how am I?" but the no to all of them is a yes: one that was left out
// here would let "no to all of these" stand beside it.
func TestAnyTickIsAYes(t *testing.T) {
	if (&Fitness{None: true, Rang: "the unit", Note: "slept badly"}).Any() {
		t.Error("nothing is ticked")
	}
	ticks := 0
	for _, f := range reflect.VisibleFields(reflect.TypeFor[Fitness]()) {
		if f.Type.Kind() != reflect.Bool || f.Name == "None" {
			continue
		}
		ticks++
		var b Fitness
		reflect.ValueOf(&b).Elem().FieldByIndex(f.Index).SetBool(true)
		if !b.Any() {
			t.Errorf("%s is no yes", f.Name)
		}
	}
	if ticks < 15 {
		t.Errorf("only %d ticks", ticks)
	}
}
