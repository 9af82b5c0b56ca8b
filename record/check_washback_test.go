package record

import (
	"testing"

	"ebbline/session"
	"ebbline/unit"
)

// atHome is a book with a session written as it happens, whose treatment runs.
func atHome(t *testing.T) *book {
	t.Helper()
	b := begun(t)
	opened, _ := session.First[session.Opened](b.h.Session("session-01"))
	opened.Source = "live" // without the whole start line
	return b
}

func wrong(code string) *session.Trouble {
	return &session.Trouble{Trouble: code, State: session.TroubleOpen}
}

// Blood that was given back while it was to stay out is asked about, and written
// down when it is said again; what stayed out is not asked about (H-138).
func TestBloodGivenBackIsAskedAbout(t *testing.T) {
	off := func(returned string, ml *unit.Volume) *session.CameOff {
		return &session.CameOff{Returned: returned, Washback: ml}
	}
	for name, tt := range map[string]struct {
		off   *session.CameOff
		field string // asked about; empty where nothing is
		again string
	}{
		"all":              {off("all", ptr(unit.Volume(250))), "returned", "all"},
		"part":             {off("part", nil), "returned", "part"},
		"none, but saline": {off("none", ptr(unit.Volume(50))), "washback_ml", "50"},
		"none":             {off("none", nil), "", ""},
	} {
		for _, one := range session.Troubles() {
			b := atHome(t)
			b.must("trouble", "session-01", wrong(one.Code))
			e := b.entry("came_off", "session-01", tt.off)
			if !one.StaysOut() || tt.field == "" {
				if found := Check(b.h, e); len(found) > 0 {
					t.Errorf("%s, %s: %v", one.Code, name, found)
				}
				continue
			}
			b.refuses(Ask, tt.field, one.Title, e)
			b.refuses(Ask, tt.field, one.Blood.Words(), e)
			e.Again = map[string]string{tt.field: tt.again}
			if found := Check(b.h, e); len(found) > 0 {
				t.Errorf("%s, %s, said again: %v", one.Code, name, found)
			}
		}
	}
}

// A paper says what was, a trouble that is over asks nothing, one that came later
// neither, and a correction of the end stays possible.
func TestBloodGivenBackIsNotAskedAbout(t *testing.T) {
	all := &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(250))}
	paper := begun(t)
	paper.must("trouble", "session-01", wrong(session.TroubleAir))
	paper.must("washback_checked", "session-01", &session.WashbackChecked{Saline: true, Clamp: true, Venous: true})
	paper.must("came_off", "session-01", all)

	over := atHome(t)
	over.must("trouble", "session-01", wrong(session.TroubleAir))
	over.must("trouble", "session-01", &session.Trouble{Trouble: session.TroubleAir, State: session.TroubleOver, Said: "Sister Holm: it was outside"})
	over.must("came_off", "session-01", all)

	later := atHome(t)
	e := later.entry("came_off", "session-01", all)
	later.must("trouble", "session-01", wrong(session.TroubleAir))
	if found := Check(later.h, e); len(found) > 0 {
		t.Errorf("before anything was wrong: %v", found)
	}

	b := atHome(t)
	b.must("trouble", "session-01", wrong(session.TroubleAir))
	b.must("came_off", "session-01", &session.CameOff{Returned: "none"})
	first, at := session.Last[session.CameOff](b.h.Session("session-01"))
	if first == nil {
		t.Fatal("it did not end")
	}
	put := b.entry("came_off", "session-01", all)
	put.Corrects, put.Reason, put.At = at.ID, "it was given back, I looked at the wrong box", at.At
	if found := Check(b.h, put); len(found) > 0 {
		t.Errorf("the correction: %v", found)
	}
}

// While the blood stays out nothing is looked at before the pump starts: it does not.
func TestNoLookWhileTheBloodStaysOut(t *testing.T) {
	ticks := &session.WashbackChecked{Saline: true, Clamp: true, Venous: true}
	out := 0
	for _, one := range session.Troubles() {
		b := atHome(t)
		b.must("trouble", "session-01", wrong(one.Code))
		if !one.StaysOut() {
			b.must("washback_checked", "session-01", ticks)
			continue
		}
		out++
		b.refuses(Refuse, "kind", one.Title, b.entry("washback_checked", "session-01", ticks))
	}
	if out < 7 {
		t.Errorf("only %d", out)
	}
}
