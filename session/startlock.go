package session

import (
	"strings"

	"ebbline/unit"
)

// lock is what is to stay in the catheter after this session against what was
// ordered (hazard H-141). It is read before the start, while another vial can still
// be had; it has nothing to do with the heparin of the session itself.
//
// The old lock is drawn out first, whatever was ordered: a lock is in there. Where the
// unit ordered none, that no new one was read is a look.
func (l startLine) lock(v *verdict) {
	if v.skip = !l.rx.ByCatheter(); v.skip {
		return
	}
	switch {
	case judged(l, v, startLine.lockInHand) != nil:
		l.lockHeparin(v)
	case l.rx.OrderedLock.none():
		v.look(nil, "lock_not_ordered")
	default:
		v.open(nil, "lock_open")
	}
	v.findings = append(v.findings, l.oldLock()...)
	l.beforeCaps(v)
}

// lockHeparin finds heparin in the lock where the person told of something that holds
// the session's heparin, in whatever answer: some of a lock reaches the blood.
func (l startLine) lockHeparin(v *verdict) {
	b, _ := lastBy[CatheterLock](l.s, l.at)
	if b == nil || b.Strength == nil && !strings.Contains(strings.ToLower(b.Name), "heparin") {
		return
	}
	Each(l.s, func(fit *Fitness, e *Event) {
		if why := heldFor(fit); why != "" && !e.At.After(l.at) {
			v.look(e, "lock_heparin", why)
		}
	})
}

// lockInHand judges one reading of vial and lumens. Another than ordered stops until
// the right one was read, and stays in sight then; a call alone answers it no more
// than it does a wrong bath: who was told to use it writes that as the reason.
func (l startLine) lockInHand(v *verdict, b *CatheterLock, e *Event) {
	l.shelfSays(v, e)
	for _, d := range LockDifferences(l.rx.OrderedLock, b, nil) {
		v.stop(e, d.code, d.Got, d.Other).stays(looked)
	}
	if !b.Expiry.IsZero() && b.Expiry.Before(unit.DateOf(l.at)) {
		v.stop(e, "lock_expired", b.Expiry.Long()).stays(looked)
	}
	o := l.rx.OrderedLock
	var lacks []string
	for _, one := range []struct {
		what    string
		ordered bool
	}{
		{"name", o.LockName != ""}, {"strength", o.strength() != ""},
		{"arterial volume", o.LockArterial != nil}, {"venous volume", o.LockVenous != nil},
	} {
		if !one.ordered {
			lacks = append(lacks, one.what)
		}
	}
	switch {
	case o.none():
		v.look(e, "lock_unordered", b.values().what())
	case len(lacks) > 0:
		v.look(e, "lock_part", strings.Join(lacks, ", "))
	}
	if !v.any() { // “as ordered” is said of this reading only
		v.ready("lock_ready", b.Text())
	}
}
