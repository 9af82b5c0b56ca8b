package session

import (
	"testing"
	"time"

	"ebbline/unit"
)

// A harmless correction typed while the treatment runs, with the time of the correction,
// leaves the start line as it stood: the check that was answered stays so.
func TestTheStartLineStaysAsItStood(t *testing.T) {
	state := func(s *Session, h History, check string, now int) CheckState {
		for _, c := range StartLine(s, h, on(now)) {
			if c.ID == check {
				return c.State
			}
		}
		return ""
	}
	for _, tt := range []struct {
		check  string
		change func(s *Session, w, at time.Time)
		want   CheckState // with the time of the correction
	}{
		{CheckChlorine, func(s *Session, w, at time.Time) { rewritten(s, w, at, func(b *Chlorine) { b.Result = 30 }) }, Ready},
		{CheckChlorine, func(s *Session, w, at time.Time) {
			rewritten(s, w, at, func(b *Chlorine) { b.Result, b.Below = 400, false }) // the run says it
		}, Ready},
		{CheckConduct, func(s *Session, w, at time.Time) { rewritten(s, w, at, func(b *FluidCheck) {}) }, Ready},
		{CheckBath, func(s *Session, w, at time.Time) { rewritten(s, w, at, func(b *BathLabel) {}) }, Ready},
		{CheckBath, func(s *Session, w, at time.Time) { rewritten(s, w, at, func(b *BathLabel) { b.K = 0 }) }, StopHere},
		{CheckVitals, func(s *Session, w, at time.Time) {
			rewritten(s, w, at, func(b *VitalsBefore) { b.Pulse = ref(unit.Pulse(71)) })
		}, Ready},
		{CheckFit, func(s *Session, w, at time.Time) { rewritten(s, w, at, func(b *Fitness) {}) }, Ready},
		{CheckAccess, func(s *Session, w, at time.Time) { rewritten(s, w, at, func(b *AccessCheck) {}) }, Ready},
		{CheckHeparin, func(s *Session, w, at time.Time) { rewritten(s, w, at, func(b *HeparinDrawn) {}) }, Ready},
	} {
		s, h := connected(t), known()
		before := state(s, h, tt.check, 50)
		tt.change(s, on(60), on(60))
		for _, now := range []int{61, 120} {
			if got := state(s, h, tt.check, now); got != tt.want || before != Ready {
				t.Errorf("%s: %s before, %s at %d, want %s", tt.check, before, got, now, tt.want)
			}
		}
	}
	s, h := connected(t), known() // from paper the times are what was typed last
	rewritten(s, on(60), on(60), func(b *Chlorine) {})
	edit(s, func(b *Opened) { b.Source = "paper" })
	if got := state(s, h, CheckChlorine, 70); got == Ready {
		t.Errorf("from paper: %s", got)
	}
}
