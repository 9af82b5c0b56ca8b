package session

import (
	"testing"

	"ebbline/unit"
)

func TestHistoryOf(t *testing.T) {
	one := ready(t)
	one.Log[1].Body = &Fitness{Hospital: true}
	put(one, on(0), &Connected{})
	put(one, on(240), &CameOff{Returned: "all"})
	put(one, on(260), &WeighOut{Weight: 58_600, Clothing: 500, Scale: "bath"})
	put(one, on(300), &Disinfection{Programme: "heat", Result: "passed"})
	h := HistoryOf([]*Session{one})
	if h.Treated != 1 || h.LastPost == nil || h.Scale != "bath" || *h.Strength != 1000 || h.Hospital.String() != "2026-03-12" ||
		h.Cleaned == nil || len(h.Goals) != 1 || h.Goals[0] != 2600 {
		t.Errorf("%+v", h)
	}

	// A session without a weight after leaves none: the one before is not taken.
	two := newSession(t)
	put(two, evening.AddDate(0, 0, 2), &Opened{Place: "home"})
	put(two, evening.AddDate(0, 0, 2), &Fitness{Stomach: true})
	put(two, on(60*48), &Connected{})
	h = HistoryOf([]*Session{one, two})
	if h.LastPost != nil || h.Cleaned != nil || h.Treated != 2 || h.Stomach.String() != "2026-03-14" || h.Hospital.String() != "2026-03-12" {
		t.Errorf("%+v", h)
	}
	// A weight written as not done is none either.
	put(two, on(60*53), &WeighOut{Scale: "bath"}).Missing = map[string]Missing{"weight_kg": NotDone}
	if h := HistoryOf([]*Session{one, two}); h.LastPost != nil {
		t.Errorf("a weight that was not taken: %v", h.LastPost)
	}
	// One that was opened and never treated hides nothing of the one before.
	never := newSession(t)
	put(never, evening.AddDate(0, 0, 2), &Opened{Place: "home"})
	put(never, evening.AddDate(0, 0, 2), &WeighIn{Weight: 60_000, Scale: "bath"})
	if h := HistoryOf([]*Session{one, never}); h.LastPost == nil || h.LastPost.Weight != 58_600 || !h.LastPostAt.Equal(on(260)) {
		t.Errorf("the weight before a session that was never treated: %v", h.LastPost)
	}
	// A session elsewhere says nothing of this machine's disinfection.
	away := newSession(t)
	put(away, evening.AddDate(0, 0, 4), &Opened{Place: "elsewhere", Where: "the unit"})
	put(away, on(60*96), &Connected{})
	put(away, on(60*100), &WeighOut{Weight: unit.Mass(58_200), Scale: "unit"})
	h = HistoryOf([]*Session{one, away})
	if h.Cleaned == nil || h.LastPost == nil || h.Scale != "unit" {
		t.Errorf("%+v", h)
	}
	if h := HistoryOf(nil); h.Treated != 0 || h.LastPost != nil || h.Strength != nil {
		t.Errorf("from nothing: %+v", h)
	}
}
