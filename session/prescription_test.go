package session

import (
	"reflect"
	"testing"

	"ebbline/unit"
)

// Each limit by itself makes Any true, one that is added later too; who set
// them and when are no limits.
func TestAnyLimit(t *testing.T) {
	if (Limits{SetBy: "Dr Q (invented)", SetOn: unit.NewDate(2026, 3, 3)}).Any() {
		t.Error("a name and a date count as a limit")
	}
	kind := reflect.TypeFor[Limits]()
	tried := 0
	for i := range kind.NumField() {
		if kind.Field(i).Type.Kind() != reflect.Pointer {
			continue
		}
		var l Limits
		f := reflect.ValueOf(&l).Elem().Field(i)
		f.Set(reflect.New(f.Type().Elem()))
		tried++
		if !l.Any() {
			t.Errorf("%s alone is not seen as a limit", kind.Field(i).Name)
		}
	}
	if tried < 10 {
		t.Errorf("only %d limits were tried", tried)
	}
}
