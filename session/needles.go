package session

// OneNeedle reports whether both lines run to one needle or lumen: line pressures
// then rise and fall by themselves, so a fall or rise of them is not remarked on.
// What lies out of its bounds still is.
func OneNeedle(s *Session) bool { return s.Rx != nil && s.Rx.SingleNeedle }
