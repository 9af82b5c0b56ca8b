package session

import "time"

// OneNeedle reports whether both lines run to one needle or lumen: line pressures
// then rise and fall by themselves, so a fall or rise of them is not remarked on.
// What lies out of its bounds still is.
func OneNeedle(s *Session) bool { return s.Rx != nil && s.Rx.SingleNeedle }

// NoVenous reports whether a machine that uses bags has shown no venous pressure up
// to now: the page then says to look at both needles ([NoVenousWords]) in place of
// asking for a value that is not there. One reading with it ends that.
func NoVenous(s *Session, now time.Time) bool {
	none := s.Machine.Kind == "low_volume"
	Each(s, func(b *Reading, e *Event) {
		if b.Venous != nil && !e.At.After(now) {
			none = false
		}
	})
	return none
}
