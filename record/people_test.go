package record

import (
	"testing"
	"time"
)

// A child is somebody who may be under 18 and whose prescription is none of an adult.
func TestChild(t *testing.T) {
	at := time.Date(2026, 11, 3, 18, 0, 0, 0, time.UTC)
	for _, tt := range []struct {
		born  int
		adult bool
		want  bool
	}{
		{2015, false, true}, {2008, false, true}, {2007, false, false}, {1958, false, false},
		{2015, true, false}, {1958, true, false},
	} {
		if got := (Person{BirthYear: tt.born, Adult: tt.adult}).child(at); got != tt.want {
			t.Errorf("born %d, adult prescription %v: child %v, want %v", tt.born, tt.adult, got, tt.want)
		}
	}
}
