// Package access follows the person's vascular access: which needle sites have
// rested and which pair comes next, whether pressures at like conditions have
// moved, how long the holes bled, and the static pressure test. It also holds the
// one rule by which the access is judged before a session.
//
// It computes from what is passed in and advises nothing: it says "show this
// to the unit". Rest times, steps and thresholds are defaults from common
// practice that the unit replaces.
package access
