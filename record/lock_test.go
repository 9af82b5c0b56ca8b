package record

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

func citrateLock() session.OrderedLock {
	return session.OrderedLock{LockName: "citrate", LockContent: ptr(unit.Content(400)), LockArterial: ptr(unit.Drawn(160)), LockVenous: ptr(unit.Drawn(170))}
}

// byCatheter orders a catheter with this lock from the day of the book on.
func (b *book) byCatheter(order session.OrderedLock) {
	b.t.Helper()
	rx := aPrescription()
	rx.Access, rx.AccessSide, rx.Technique, rx.GaugeA, rx.GaugeV = "catheter", "neck_or_chest", "none", 0, 0
	rx.OrderedLock = order
	b.must("prescription", "", &rx)
}

// What is another than ordered is typed a second time, the same, before it is
// written down; what was not ordered, when it is another than last time (H-141).
func TestLockIsTypedTwiceWhenItDiffers(t *testing.T) {
	b := newBook(t)
	b.byCatheter(citrateLock())
	exp := unit.DateOf(b.now).Add(300)
	right := session.CatheterLock{Name: "Citrate 4 %", Content: ptr(unit.Content(400)), Arterial: 160, Venous: 170, Lot: "K-1", Expiry: exp}
	b.open("session-01")
	b.must("catheter_lock", "session-01", &right)
	for _, tt := range []struct {
		name  string
		set   func(*session.CatheterLock)
		again map[string]string // as it must be typed the second time
	}{
		{"ten times the strength", func(l *session.CatheterLock) { l.Content = ptr(unit.Content(4000)) }, map[string]string{"strength_percent": "40"}},
		{"a digit more", func(l *session.CatheterLock) { l.Content = ptr(unit.Content(401)) }, map[string]string{"strength_percent": "4.01"}},
		{"the other unit", func(l *session.CatheterLock) { l.Content, l.Strength = nil, ptr(unit.Strength(5000)) }, map[string]string{"strength_iu_ml": "5000"}},
		{"heparin beside it", func(l *session.CatheterLock) { l.Strength = ptr(unit.Strength(500)) }, map[string]string{"strength_iu_ml": "500", "strength_percent": "4"}},
		{"arterial 1.7", func(l *session.CatheterLock) { l.Arterial = 170 }, map[string]string{"arterial_ml": "1.7"}},
		{"swapped", func(l *session.CatheterLock) { l.Arterial, l.Venous = 170, 160 }, map[string]string{"arterial_ml": "1.7", "venous_ml": "1.6"}},
		{"another name", func(l *session.CatheterLock) { l.Name = "heparin" }, map[string]string{"name": "heparin"}},
	} {
		body := right
		tt.set(&body)
		e := b.entry("catheter_lock", "session-01", &body)
		found := Check(b.h, e)
		for key := range tt.again {
			if !strings.Contains(found.On(key), "ordered is") {
				t.Errorf("%s: nothing is asked about %s: %v", tt.name, key, found)
			}
		}
		if len(found) != len(tt.again) || found.Refused() {
			t.Errorf("%s: %v", tt.name, found)
		}
		e.Again = map[string]string{}
		for key := range tt.again {
			e.Again[key] = "9"
		}
		if found = Check(b.h, e); len(found) != len(tt.again) {
			t.Errorf("%s, otherwise the second time: %v", tt.name, found)
		}
		e.Again = tt.again
		if found = Check(b.h, e); len(found) != 0 {
			t.Errorf("%s, the same: %v", tt.name, found)
		}
	}
	none := right
	none.Content = nil
	b.refuses(Refuse, "strength_percent", "is still blank", b.entry("catheter_lock", "session-01", &none))
	volume := right
	volume.Arterial = 0
	b.refuses(Refuse, "arterial_ml", "needs 0.3 to 5", b.entry("catheter_lock", "session-01", &volume))
	undated := right
	undated.Expiry = unit.Date{}
	b.refuses(Refuse, "expiry", "blank", b.entry("catheter_lock", "session-01", &undated))
}

// Where no lock is ordered, last time's is what another one is held against.
func TestLockThatNobodyOrdered(t *testing.T) {
	b := newBook(t)
	b.byCatheter(session.OrderedLock{})
	first := session.CatheterLock{Name: "citrate", Content: ptr(unit.Content(400)), Arterial: 160, Venous: 170, Lot: "K-1", Expiry: unit.DateOf(b.now).Add(300)}
	b.must("session_opened", "session-01", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.must("catheter_lock", "session-01", &first)
	b.must("closed", "session-01", &session.Closed{})
	b.open("session-02")
	b.must("catheter_lock", "session-02", &first)
	other := first
	other.Content = ptr(unit.Content(3000))
	e := b.entry("catheter_lock", "session-02", &other)
	b.refuses(Ask, "strength_percent", "last time it was 4", e)
	e.Again = map[string]string{"strength_percent": "30"}
	if found := b.try(e); len(found) != 0 {
		t.Error(found)
	}
}

// A prescription without the keys of a lock is as it was: taken, and written without
// them. One with a strength or a volume needs the name.
func TestPrescriptionWithAndWithoutALock(t *testing.T) {
	b := newBook(t)
	rx := aPrescription()
	raw, err := json.Marshal(&rx)
	if err != nil || strings.Contains(string(raw), "lock") {
		t.Errorf("%s %v", raw, err)
	}
	b.must("prescription", "", &rx)
	for _, order := range []session.OrderedLock{{LockStrength: ptr(unit.Strength(5000))}, {LockContent: ptr(unit.Content(400))}, {LockArterial: ptr(unit.Drawn(160))}, {LockVenous: ptr(unit.Drawn(170))}} {
		one := aPrescription()
		one.OrderedLock = order
		b.refuses(Refuse, "lock", "still blank", b.entry("prescription", "", &one))
	}
	b.byCatheter(session.OrderedLock{LockName: "citrate"})
	b.byCatheter(citrateLock())
	strange := aPrescription()
	strange.OrderedLock = citrateLock()
	strange.LockContent = ptr(unit.Content(4670))
	b.refuses(Ask, "lock_strength_percent", "outside 1 to 30", b.entry("prescription", "", &strange))
}

// The lock is written when it is given too, after the treatment has ended: within three
// hours, and once the session is closed with a time that has passed, so that yesterday's
// page takes none of today's.
// What else belongs before a treatment stays out.
func TestLockAfterTheEnd(t *testing.T) {
	b := newBook(t)
	b.byCatheter(citrateLock())
	exp := unit.DateOf(b.now).Add(300)
	lock := func() Entry {
		return b.entry("catheter_lock", "session-01", &session.CatheterLock{Name: "citrate", Content: ptr(unit.Content(400)), Arterial: 160, Venous: 170, Lot: "K-1", Expiry: exp})
	}
	b.open("session-01")
	b.now = b.now.Add(time.Minute)
	s := b.h.Session("session-01")
	for _, c := range session.HoldingUp(session.StartLine(s, b.h.Member(s.Person).History(s), b.now)) {
		b.must("override", "session-01", &session.Override{Check: c.ID, Reason: "not what this test is about"})
	}
	b.must("connected", "session-01", &session.Connected{})
	b.now = b.now.Add(4 * time.Hour)
	b.must("came_off", "session-01", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(500))})
	b.now = b.now.Add(10 * time.Minute)
	if found := Check(b.h, lock()); len(found) > 0 {
		t.Errorf("ten minutes after the end: %v", found)
	}
	b.refuses(Refuse, "at", "lies after this session ended", b.entry("lock_drawn", "session-01", &session.LockDrawn{Arterial: session.Drawn, Venous: session.Drawn}))
	ended, _ := s.Ended()
	b.now = ended.Add(5 * time.Hour)
	late := lock()
	late.At = ended.Add(3 * time.Hour)
	if found := Check(b.h, late); len(found) > 0 {
		t.Errorf("three hours after the end: %v", found)
	}
	late.At = late.At.Add(time.Second)
	b.refuses(Refuse, "at", "lies after this session ended", late)
	b.now = ended.Add(20 * time.Minute)
	b.must("closed", "session-01", &session.Closed{})
	b.now = b.now.Add(20 * time.Minute)
	b.refuses(Refuse, "at", "lies after this session ended", lock())
	for _, when := range []struct {
		after time.Duration // the end; the session was closed 21 min after it
		taken bool
	}{{10 * time.Minute, true}, {25 * time.Minute, true}, {41 * time.Minute, true}, {41*time.Minute + time.Second, false}} {
		b.now = ended.Add(41 * time.Minute) // written one minute later
		e := lock()
		e.At = ended.Add(when.after)
		if found := Check(b.h, e); (len(found) == 0) != when.taken {
			t.Errorf("given %v after the end, written %v after it: %v", when.after, e.Written.Sub(ended), found)
		}
	}
	drawn := b.entry("lock_drawn", "session-01", &session.LockDrawn{Arterial: session.Drawn, Venous: session.Drawn})
	drawn.At = ended.Add(25 * time.Minute)
	b.refuses(Refuse, "at", "lies after this session ended", drawn)
	b.now = ended.Add(60 * time.Minute)
	given := lock()
	given.At = ended.Add(10 * time.Minute)
	given.Body.(*session.CatheterLock).Content = ptr(unit.Content(3000))
	b.refuses(Ask, "strength_percent", "ordered is 4", given)
	given.Again = map[string]string{"strength_percent": "30"}
	if found := b.try(given); len(found) > 0 {
		t.Fatal(found)
	}
	written, e := session.LockAfter(b.h.Session("session-01"))
	if written == nil || !e.At.Equal(given.At) {
		t.Errorf("%+v is not the lock given", written)
	}
	if d, late := e.Late(); !late || d != 51*time.Minute {
		t.Errorf("it is not marked as written late: %v", d)
	}
	if said := session.LockAtEnd(b.h.Session("session-01"), b.h.Member("person-one").History(b.h.Session("session-01"))); len(said) != 1 || !strings.Contains(said[0], "ordered 4") {
		t.Errorf("it is not judged: %q", said)
	}
}
