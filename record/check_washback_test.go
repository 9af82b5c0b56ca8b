package record

import (
	"testing"
	"time"

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

var (
	wentBack = &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(250))}
	stayed   = &session.CameOff{Returned: "none"}
	outside  = &session.Trouble{Trouble: session.TroubleAir, State: session.TroubleOver, Said: "Sister Holm: it was outside"}
)

// A trouble that is over asks nothing, nor one that was not there yet when the end
// was written down, nor on a paper one that came after the end.
func TestBloodGivenBackIsNotAskedAbout(t *testing.T) {
	over := atHome(t)
	over.must("trouble", "session-01", wrong(session.TroubleAir))
	over.must("trouble", "session-01", outside)
	over.must("came_off", "session-01", wentBack)

	later := atHome(t)
	e := later.entry("came_off", "session-01", wentBack)
	later.must("trouble", "session-01", wrong(session.TroubleAir))
	if found := Check(later.h, e); len(found) > 0 {
		t.Errorf("before anything was wrong: %v", found)
	}

	paper := begun(t)
	ended := paper.entry("came_off", "session-01", wentBack)
	paper.must("trouble", "session-01", wrong(session.TroubleAir))
	ended.Written = paper.now.Add(time.Hour)
	if found := Check(paper.h, ended); len(found) > 0 {
		t.Errorf("on a paper, after the end: %v", found)
	}
}

// Dated before the trouble that is open when it is written, it is asked about all the
// same; so is a look at the lines, which is not taken. On a paper it is asked about
// what was open at the end by the times on it (H-138).
func TestBloodGivenBackBeforeATroubleIsAskedAbout(t *testing.T) {
	b := atHome(t)
	before := b.entry("came_off", "session-01", wentBack)
	look := b.entry("washback_checked", "session-01", &session.WashbackChecked{Saline: true, Clamp: true, Venous: true})
	b.must("trouble", "session-01", wrong(session.TroubleAir))
	before.Written, look.Written = b.now.Add(time.Minute).UTC(), b.now.Add(time.Minute).UTC()
	b.refuses(Ask, "returned", "Air or foam", before)
	b.refuses(Refuse, "kind", "Air or foam", look)
	before.Again = map[string]string{"returned": "all"}
	if found := Check(b.h, before); len(found) > 0 {
		t.Errorf("said again: %v", found)
	}

	// Over by now, but open at the time that it is given.
	b = atHome(t)
	b.must("trouble", "session-01", wrong(session.TroubleAir))
	then := b.entry("came_off", "session-01", wentBack)
	b.must("trouble", "session-01", outside)
	then.Written = b.now.Add(time.Minute).UTC()
	b.refuses(Ask, "returned", "Air or foam", then)

	paper := begun(t)
	paper.must("trouble", "session-01", wrong(session.TroubleAir))
	paper.must("washback_checked", "session-01", &session.WashbackChecked{Saline: true, Clamp: true, Venous: true})
	paper.refuses(Ask, "returned", "Air or foam", paper.entry("came_off", "session-01", wentBack))
}

// A correction that says first that blood was given back is asked about like the end
// itself, on a paper too; the truth is written down by saying it again. One that
// leaves it given back, or says that it was not, asks nothing (H-138).
func TestCorrectionToBloodGivenBackIsAskedAbout(t *testing.T) {
	for name, open := range map[string]func(*testing.T) *book{"as it happens": atHome, "on a paper": begun} {
		for _, tt := range []struct {
			from, to *session.CameOff
			asked    bool
		}{
			{stayed, wentBack, true}, {stayed, &session.CameOff{Returned: "part"}, true}, {stayed, stayed, false},
			{wentBack, &session.CameOff{Returned: "part"}, false}, {wentBack, stayed, false},
		} {
			b := open(t)
			b.must("trouble", "session-01", wrong(session.TroubleAir))
			first := b.entry("came_off", "session-01", tt.from)
			first.Again = map[string]string{"returned": tt.from.Returned}
			b.must2(first)
			put := b.entry("came_off", "session-01", tt.to)
			put.Corrects, put.Reason, put.At = first.ID, "I looked at the wrong box", first.At
			if tt.asked {
				b.refuses(Ask, "returned", "Air or foam", put)
				put.Again = map[string]string{"returned": tt.to.Returned}
			}
			if found := Check(b.h, put); len(found) > 0 {
				t.Errorf("%s, from %s to %s: %v", name, tt.from.Returned, tt.to.Returned, found)
			}
		}
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
