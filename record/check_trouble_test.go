package record

import (
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// begun is a book with a session whose treatment runs.
func begun(t *testing.T) *book {
	t.Helper()
	b := newBook(t)
	b.must("session_opened", "session-01", &session.Opened{Place: "home", Source: "paper", Confirmed: true})
	b.must("weigh_in", "session-01", &session.WeighIn{Weight: 74100, Scale: "bathroom", ReadIn: "kg"})
	b.plan("session-01")
	b.must("connected", "session-01", &session.Connected{BloodFlow: ptr(unit.Flow(300))})
	return b
}

// A trouble in which the blood stays out is over on the unit's word, not by a press.
func TestTroubleIsOverOnTheUnitsWord(t *testing.T) {
	b := begun(t)
	open := func(code string) *session.Trouble { return &session.Trouble{Trouble: code, State: session.TroubleOpen} }
	over := func(code, said string) *session.Trouble {
		return &session.Trouble{Trouble: code, State: session.TroubleOver, Said: said}
	}
	b.must("trouble", "session-01", open(session.TroubleAir))
	b.refuses(Refuse, "said", "too short", b.entry("trouble", "session-01", over(session.TroubleAir, "")))
	b.refuses(Refuse, "said", "Nobody was reached", b.entry("trouble", "session-01", over(session.TroubleAir, "no answer")))
	if _, stays := session.BloodStaysOut(b.h.Session("session-01"), b.now); !stays {
		t.Error("the blood may go back though nobody of the unit said so")
	}
	b.must("trouble", "session-01", over(session.TroubleAir, "Sister Holm: the bubble was outside, go on"))
	if o, stays := session.BloodStaysOut(b.h.Session("session-01"), b.now); stays {
		t.Errorf("%s still keeps the blood out", o.Title)
	}
	b.must("trouble", "session-01", open(session.TroubleLow))
	b.must("trouble", "session-01", over(session.TroubleLow, ""))
}

// Each of the three is looked at before the pump starts.
func TestWashbackWantsAllThree(t *testing.T) {
	b := begun(t)
	for _, tt := range []struct {
		one session.WashbackChecked
		key string
	}{
		{session.WashbackChecked{Clamp: true, Venous: true}, "saline_on_arterial_line"},
		{session.WashbackChecked{Saline: true, Venous: true}, "its_clamp_open"},
		{session.WashbackChecked{Saline: true, Clamp: true}, "venous_line_to_me"},
	} {
		b.refuses(Refuse, tt.key, "is not ticked", b.entry("washback_checked", "session-01", &tt.one))
	}
	b.must("washback_checked", "session-01", &session.WashbackChecked{Saline: true, Clamp: true, Venous: true})
}

func TestRemovalOffAndOn(t *testing.T) {
	b := begun(t)
	b.refuses(Refuse, "kind", "removal is not off", b.entry("removal_on", "session-01", &session.RemovalOn{}))
	b.must("removal_off", "session-01", &session.RemovalOff{})
	b.refuses(Refuse, "kind", "removal is off already", b.entry("removal_off", "session-01", &session.RemovalOff{}))
	b.must("removal_on", "session-01", &session.RemovalOn{})

	// Off as the machine showed it: that may be said too, and it may be switched on again.
	b.must("reading", "session-01", &session.Reading{Rate: ptr(unit.Rate(0)), Removed: ptr(unit.Volume(20))})
	b.must("removal_off", "session-01", &session.RemovalOff{})
	b.must("removal_on", "session-01", &session.RemovalOn{})
	b.must("reading", "session-01", &session.Reading{Rate: ptr(unit.Rate(0)), Removed: ptr(unit.Volume(20))})
	b.must("removal_on", "session-01", &session.RemovalOn{})
	// Off as it was said, and on again as a reading shows: it may go off once more.
	b.must("removal_off", "session-01", &session.RemovalOff{})
	b.must("reading", "session-01", &session.Reading{Rate: ptr(unit.Rate(600)), Removed: ptr(unit.Volume(60))})
	b.must("removal_off", "session-01", &session.RemovalOff{})
	// Off again by a reading alone: what was said before it was on says nothing now.
	b.must("reading", "session-01", &session.Reading{Rate: ptr(unit.Rate(600)), Removed: ptr(unit.Volume(70))})
	b.must("reading", "session-01", &session.Reading{Rate: ptr(unit.Rate(0)), Removed: ptr(unit.Volume(80))})
	b.must("removal_off", "session-01", &session.RemovalOff{})
	b.refuses(Refuse, "kind", "removal is off already", b.entry("removal_off", "session-01", &session.RemovalOff{}))
}

// Of each trouble the newest steps count; a figure of a power cut belongs to it alone.
func TestStepsForOneTrouble(t *testing.T) {
	b := newBook(t)
	day := unit.DateOf(b.now)
	steps := func(code, words string) *TroubleSteps {
		return &TroubleSteps{Trouble: code, Words: words, Ring: session.RingUnit, From: "Nurse R (invented)", GivenOn: day, ReviewBy: day.Add(300)}
	}
	b.must("trouble_steps", "", steps(session.TroubleAir, "clamp"))
	b.must("trouble_steps", "", steps(session.TroubleLow, "lie back"))
	b.must("trouble_steps", "", steps(session.TroubleAir, "clamp the venous line"))
	m := b.h.Member("person-one")
	if got := m.StepsFor(session.TroubleAir); got == nil || got.Value.Words != "clamp the venous line" {
		t.Errorf("%+v", got)
	}
	if got := m.StepsFor(session.TroubleFire); got != nil {
		t.Errorf("steps that nobody gave: %+v", got)
	}
	odd := steps(session.TroubleAir, "clamp")
	odd.BackIn = ptr(unit.Minutes(15))
	b.refuses(Refuse, "blood_back_within_min", "belongs to a power cut", b.entry("trouble_steps", "", odd))
	odd = steps(session.TroublePower, "by hand")
	odd.ReviewBy = day.Add(-1)
	b.refuses(Refuse, "review_by", "before the day", b.entry("trouble_steps", "", odd))
	b.refuses(Refuse, "words", "blank", b.entry("trouble_steps", "", steps(session.TroublePower, " ")))
}

// A strike or a correction after which a trouble is open no longer, in which the
// blood stays out, needs a sentence, and names it; any other takes a word (H-138).
func TestEndingATroubleByAStrikeNeedsASentence(t *testing.T) {
	air := session.TroubleAir
	hot := func(c int) *session.Reading { return &session.Reading{DialTemp: ptr(unit.Temperature(c))} }
	for name, tt := range map[string]struct {
		kind  string
		first any
		put   any    // in its place; nil strikes it out
		named string // what the answer names; empty where a word is enough
	}{
		"struck":                 {"trouble", wrong(air), nil, "“Air or foam” is open since"},
		"to another":             {"trouble", wrong(air), wrong(session.TroubleLow), "“Air or foam” is open since"},
		"to over":                {"trouble", wrong(air), outside, "“Air or foam” is open since"},
		"another word":           {"trouble", wrong(air), &session.Trouble{Trouble: air, State: session.TroubleOpen, Words: "foam"}, ""},
		"a hot reading, struck":  {"reading", hot(389), nil, "“Fluid too hot or wrong” is open since"},
		"a hot reading, to cool": {"reading", hot(389), hot(365), "“Fluid too hot or wrong” is open since"},
		"a cool reading":         {"reading", hot(365), nil, ""},
		"steps say it":           {"trouble", wrong(session.TroubleLow), nil, ""},
	} {
		b := atHome(t)
		e := b.entry(tt.kind, "session-01", tt.first)
		if tt.kind == "reading" {
			e.Again = map[string]string{"dialysate_temp_c": "38.9"}
		}
		b.must2(e)
		undo := b.entry("struck", "session-01", &Struck{Entry: e.ID, Reason: "a slip"})
		long := func() { undo.Body = &Struck{Entry: e.ID, Reason: "read off the neighbour's machine"} }
		if tt.put != nil {
			undo = b.entry(tt.kind, "session-01", tt.put)
			undo.At, undo.Corrects, undo.Reason = e.At, e.ID, "a slip"
			long = func() { undo.Reason = "read off the neighbour's machine" }
		}
		if tt.named == "" {
			b.must2(undo)
			continue
		}
		if _, stays := session.BloodStaysOut(b.h.Session("session-01"), b.now); !stays {
			t.Errorf("%s: nothing was open", name)
		}
		b.refuses(Refuse, "reason", tt.named, undo)
		long()
		b.must2(undo)
		if o, stays := session.BloodStaysOut(b.h.Session("session-01"), b.now); stays {
			t.Errorf("%s: %s is still open", name, o.Title)
		}
	}

	// One of two that say it ends nothing.
	b := atHome(t)
	b.must("trouble", "session-01", wrong(air))
	again := b.must("trouble", "session-01", wrong(air))
	b.must("struck", "session-01", &Struck{Entry: again.ID, Reason: "a slip"})

	paper := begun(t)
	e := paper.must("trouble", "session-01", wrong(air))
	paper.must("struck", "session-01", &Struck{Entry: e.ID, Reason: "a slip"})
}
