package session

import (
	"testing"
	"time"
)

// tenYears is a record of 2,000 sessions as long as ordinary ones.
func tenYears(b *testing.B) []*Session {
	one := synthetic(b, 1)
	all := make([]*Session, 2000)
	for i := range all {
		copied := *one
		copied.Log = append([]Event(nil), one.Log...)
		all[i] = &copied
	}
	b.ResetTimer()
	return all
}

func BenchmarkHistoryOf(b *testing.B) {
	all := tenYears(b)
	for b.Loop() {
		HistoryOf(all)
	}
}

func BenchmarkPaceOf(b *testing.B) {
	all, sheet := tenYears(b), DefaultSetUp()
	for b.Loop() {
		PaceOf(sheet, all)
	}
}

func BenchmarkRunningPage(b *testing.B) {
	s := tenYears(b)[0]
	now := evening.Add(4 * time.Hour)
	for b.Loop() {
		Follow(s, now)
		Remarks(s, now)
		EbbOf(s, now)
		if _, err := SetNow(s, now); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkClose(b *testing.B) {
	s := tenYears(b)[0]
	for b.Loop() {
		Close(s, evening.Add(6*time.Hour))
	}
}
