package record

import (
	"strings"
	"testing"
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// filters makes the order of a book one of haemodiafiltration, and says what its
// machine's figure for the fluid removed means.
func (b *book) filters(shows string) {
	b.t.Helper()
	rx := aPrescription()
	rx.Filtration, rx.Substitution, rx.SubstitutionPlace = true, ptr(unit.Litres(23_000)), session.SubstitutedAfter
	b.must("prescription", "", &rx)
	b.says(shows)
}

// says describes the machine once more.
func (b *book) says(shows string) Entry {
	b.t.Helper()
	return b.must("machine", "", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass", RemovedShows: shows})
}

func counts(removed, given int) *session.Reading {
	return &session.Reading{Removed: ptr(unit.Volume(removed)), Given: ptr(unit.Litres(given))}
}

// The terms of haemodiafiltration need its tick; with it they may be missing.
func TestSubstitutionNeedsHaemodiafiltration(t *testing.T) {
	for _, tt := range []struct {
		name    string
		set     func(*session.Prescription)
		refused []string
		asked   string
	}{
		{"nothing of it", func(*session.Prescription) {}, nil, ""},
		{"the tick alone, as an old record has it", func(rx *session.Prescription) { rx.Filtration = true }, nil, ""},
		{"all of it", func(rx *session.Prescription) {
			rx.Filtration, rx.Substitution, rx.SubstitutionPlace = true, ptr(unit.Litres(23_000)), "mixed"
		}, nil, ""},
		{"a volume without the tick", func(rx *session.Prescription) { rx.Substitution = ptr(unit.Litres(23_000)) }, []string{"substitution_l"}, ""},
		{"a place without the tick", func(rx *session.Prescription) { rx.SubstitutionPlace = "after" }, []string{"substitution_place"}, ""},
		{"another place", func(rx *session.Prescription) { rx.Filtration, rx.SubstitutionPlace = true, "beside" }, []string{"substitution_place"}, ""},
		{"at the lower bound", func(rx *session.Prescription) { rx.Filtration, rx.Substitution = true, ptr(unit.Litres(5_000)) }, nil, ""},
		{"under it", func(rx *session.Prescription) { rx.Filtration, rx.Substitution = true, ptr(unit.Litres(4_900)) }, nil, "substitution_l"},
		{"at the upper bound", func(rx *session.Prescription) { rx.Filtration, rx.Substitution = true, ptr(unit.Litres(80_000)) }, nil, ""},
		{"over it", func(rx *session.Prescription) { rx.Filtration, rx.Substitution = true, ptr(unit.Litres(80_100)) }, nil, "substitution_l"},
		{"millilitres for litres", func(rx *session.Prescription) { rx.Filtration, rx.Substitution = true, ptr(unit.Litres(23_000_000)) }, []string{"substitution_l"}, ""},
	} {
		b := newBook(t)
		rx := aPrescription()
		tt.set(&rx)
		found := Check(b.h, b.entry("prescription", "", &rx))
		for _, key := range tt.refused {
			if !found.Refused() || found.On(key) == "" {
				t.Errorf("%s: %v", tt.name, found)
			}
		}
		switch {
		case tt.asked != "" && (found.Refused() || !strings.Contains(found.On(tt.asked), "type it again")):
			t.Errorf("%s: %v", tt.name, found)
		case tt.asked == "" && tt.refused == nil && len(found) > 0:
			t.Errorf("%s: %v", tt.name, found)
		}
		if tt.name == "a volume without the tick" && !strings.Contains(found.On("substitution_l"), "haemodiafiltration is not ticked. Tick it, or leave this blank") {
			t.Errorf("%s: %v", tt.name, found)
		}
	}
}

// A count of the substitution fluid is asked about as that of the fluid removed is, and
// what came off is computed before it is held against pump and line.
func TestCountsOfHaemodiafiltrationAreAsked(t *testing.T) {
	began := func(r *session.Reading) *session.Reading { r.Again = true; return r }
	gross, net := session.RemovedGross, session.RemovedNet
	for _, tt := range []struct {
		name, means string
		first, body *session.Reading // at 60 and at 120 min; 600 mL/h are planned
		key, words  string           // empty: taken
	}{
		{"gross, on the line", gross, counts(6600, 6000), counts(13_200, 12_000), "", ""},
		{"gross, more than ten litres", gross, counts(6600, 6000), counts(29_200, 28_000), "", ""},
		{"gross, the removed went back", gross, counts(6600, 6000), counts(6500, 6100), "removed_ml", "less than the 6600 of the last reading"},
		{"gross, the other went back", gross, counts(6600, 6000), counts(6700, 5900), "substitution_l", "5.9\u00a0L is less than the 6\u00a0L of the last reading. Did the machine's counts begin again?"},
		{"gross, both began again", gross, counts(6600, 6000), began(counts(2300, 1900)), "", ""},
		{"gross, more than the pump can have", gross, counts(6600, 6000), counts(14_200, 12_000), "removed_ml", "the machine can have taken off about "},
		{"gross, far ahead", gross, counts(6600, 6000), counts(13_500, 12_000), "removed_ml", "1500\u00a0mL in all is far ahead of the 1200\u00a0mL planned by now"},
		{"gross alone: nothing is known of the net", gross, counts(6600, 6000), shows(14_200), "", ""},
		{"the other way round", gross, counts(6600, 6000), counts(12_000, 13_200), "substitution_l", "Are the two the other way round, or is that answer wrong"},
		{"gross, a little more than the removed", gross, counts(6600, 6000), counts(12_000, 12_090), "substitution_l", "Are the two the other way round"},
		{"gross, both began again, the other way round", gross, counts(6600, 6000), began(counts(1900, 2300)), "substitution_l", "Are the two the other way round"},
		{"net, on the line", net, counts(600, 6000), counts(1200, 12_000), "", ""},
		{"net, the other went back", net, counts(600, 6000), counts(1200, 5000), "substitution_l", "Did the machine's counts begin again?"},
		{"net, by the order and a quarter", net, counts(600, 6000), counts(1200, 28_700), "", ""},
		{"net, far over the order", net, counts(600, 6000), counts(1200, 28_800), "substitution_l", "28.8\u00a0L is far over the 23\u00a0L that are ordered for a session. If it is right"},
		{"net, far over it with what the count showed before", net, counts(600, 20_000), began(counts(100, 9000)), "substitution_l", "far over the 23\u00a0L"},
		{"said to be net, and is not", net, counts(600, 6000), counts(9600, 9000), "removed_ml", ""},
		{"not said", "", counts(6600, 6000), counts(9600, 9000), "removed_ml", "is outside 0 to 6000"},
		{"not said, within the bounds", "", counts(600, 5000), counts(5600, 5000), "", ""},
		{"far over what a session can have", gross, counts(6600, 6000), counts(97_200, 96_000), "removed_ml", "is outside 0 to 86000"},
	} {
		b := newBook(t)
		b.filters(tt.means)
		at := b.planned("session-1")
		first := b.at(at, 60, "reading", "session-1", tt.first)
		first.Again = map[string]string{"removed_ml": tt.first.Removed.String()}
		if found := b.try(first); len(found) > 0 {
			t.Fatalf("%s: %v", tt.name, found)
		}
		e := b.at(at, 120, "reading", "session-1", tt.body)
		found := Check(b.h, e)
		if tt.key == "" && len(found) > 0 || tt.key != "" && (found.Refused() || !strings.Contains(found.On(tt.key), tt.words)) {
			t.Errorf("%s: %v", tt.name, found)
		}
		if tt.key != "" && found.On(tt.key) == "" {
			t.Errorf("%s: %s is not asked: %v", tt.name, tt.key, found)
		}
		e.Again = map[string]string{"removed_ml": tt.body.Removed.String()}
		if tt.body.Given != nil {
			e.Again["substitution_l"] = tt.body.Given.String()
		}
		if found := Check(b.h, e); len(found) > 0 {
			t.Errorf("%s, typed again: %v", tt.name, found)
		}
	}
}

// Over the bounds of a machine that shows the net removal a figure is refused, as ever.
func TestGrossBoundsAreOfGrossMachinesAlone(t *testing.T) {
	for means, taken := range map[string]bool{session.RemovedGross: true, session.RemovedNet: false, "": false} {
		b := newBook(t)
		b.filters(means)
		at := b.planned("session-1")
		e := b.at(at, 200, "reading", "session-1", counts(26_000, 24_000))
		if found := Check(b.h, e); found.Refused() == taken {
			t.Errorf("%q: %v", means, found)
		}
		off := b.at(at, 240, "came_off", "session-1", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(26_400)), Given: ptr(unit.Litres(24_000)), WashbackWith: session.WithMachineFluid})
		if found := Check(b.h, off); found.Refused() == taken {
			t.Errorf("%q, at the end: %v", means, found)
		}
	}
}

// A count of substitution fluid in a session of ordinary haemodialysis is asked about.
func TestSubstitutionOutsideHaemodiafiltration(t *testing.T) {
	b := newBook(t)
	at := b.planned("session-1")
	e := b.at(at, 60, "reading", "session-1", counts(600, 6000))
	if found := Check(b.h, e); found.Refused() || !strings.Contains(found.On("substitution_l"), "not ordered as haemodiafiltration") {
		t.Errorf("%v", found)
	}
}

// What the figure means holds for the session under way as soon as it is said. A session
// that was closed before stays as it was closed, whatever is answered, struck out or
// corrected later.
func TestWhatTheFigureMeansIsSaidLater(t *testing.T) {
	b := newBook(t)
	b.filters("")
	means := func(id string) string { return b.h.Session(id).RemovedShows() }
	at := b.planned("session-1") // over before it was asked
	if found := b.try(b.at(at, 240, "came_off", "session-1", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300))})); len(found) > 0 {
		t.Fatal(found)
	}
	b.now = at.Add(48 * time.Hour)
	b.must("closed", "session-1", &session.Closed{})
	at = b.planned("session-2")
	if means("session-1") != "" || means("session-2") != "" {
		t.Fatalf("%q, %q before it was said", means("session-1"), means("session-2"))
	}
	b.now = at.Add(10 * time.Minute)
	b.says(session.RemovedNet)
	if means("session-1") != session.RemovedNet || means("session-2") != session.RemovedNet { // nobody had been asked
		t.Errorf("%q, %q", means("session-1"), means("session-2"))
	}
	wrong := b.says(session.RemovedGross) // the first answer was wrong
	if means("session-1") != session.RemovedNet || means("session-2") != session.RemovedGross {
		t.Errorf("said again: %q, %q", means("session-1"), means("session-2"))
	}
	blank := b.says("") // described again by somebody who left it out
	if means("session-2") != session.RemovedGross {
		t.Errorf("left out: %q", means("session-2"))
	}
	strike := func(e Entry) {
		out := b.entry("struck", "", &Struck{Entry: e.ID, Reason: "it was written by mistake"})
		out.Person = ""
		if found := b.try(out); len(found) > 0 {
			t.Fatal(found)
		}
	}
	strike(blank) // every session is looked at again
	if means("session-1") != session.RemovedNet || means("session-2") != session.RemovedGross {
		t.Errorf("looked at again: %q, %q", means("session-1"), means("session-2"))
	}
	strike(wrong)
	if means("session-2") != session.RemovedNet {
		t.Errorf("struck out: %q", means("session-2"))
	}
	b.must("machine", "", &session.Machine{Name: "upstairs", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass", RemovedShows: session.RemovedGross})
	if means("session-2") != session.RemovedNet {
		t.Errorf("another machine: %q", means("session-2"))
	}
}

// Unit asks once for what the order does not say, and for what the machine's figure means.
func TestUnitAsksAboutHaemodiafiltration(t *testing.T) {
	b := newBook(t)
	asked := func(words string) bool {
		return strings.Contains(strings.Join(b.h.Member("person-one").Asked(unit.DateOf(b.now)), "\n"), words)
	}
	const volume, means = "how much substitution fluid a session has", "figure for the fluid removed hold the substitution fluid too"
	if asked(volume) || asked(means) {
		t.Error("asked without haemodiafiltration")
	}
	rx := aPrescription()
	rx.Filtration = true
	b.must("prescription", "", &rx)
	if !asked(volume) || !asked(means) {
		t.Error("not asked")
	}
	b.filters(session.RemovedNet)
	if asked(volume) || asked(means) {
		t.Error("asked though both are written")
	}
}

// A figure is read by what was said when it was written down: another answer in a run is
// remarked on and changes nothing that was read before, and one that is corrected once the
// session is closed changes nothing of it at all.
func TestAnAnswerChangesNoFigureOfBefore(t *testing.T) {
	for _, how := range []string{"said again", "corrected", "struck out"} {
		b := newBook(t)
		b.filters(session.RemovedGross)
		at := b.planned("session-1")
		last := b.says(session.RemovedNet)
		change := func() {
			switch how {
			case "said again":
				b.says(session.RemovedGross)
			case "corrected":
				e := b.entry("machine", "", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass", RemovedShows: session.RemovedGross})
				e.Corrects, e.Reason = last.ID, "the technician says it is in it"
				b.insist(e)
			default:
				e := b.entry("struck", "", &Struck{Entry: last.ID, Reason: "the technician says it is in it"})
				e.Person = ""
				b.insist(e)
			}
		}
		b.now = at.Add(time.Hour)
		b.insist(b.at(at, 60, "reading", "session-1", counts(600, 6000)))
		removed := func(minutes int) int {
			s := b.h.Session("session-1")
			return int(session.Counted(s, at.Add(time.Duration(minutes)*time.Minute)).Removed)
		}
		b.now = at.Add(90 * time.Minute)
		change()
		if got := removed(60); got != 600 {
			t.Errorf("%s: what was read before is %d now", how, got)
		}
		s := b.h.Session("session-1")
		said := 0
		for _, r := range session.Remarks(s, at.Add(119*time.Minute)) {
			if r.Code == "removed_means" && strings.Contains(r.Words, "with the substitution fluid, before without the substitution fluid") {
				said++
			}
		}
		if said != 1 {
			t.Errorf("%s: said %d times: %v", how, said, s.Shown)
		}
		b.now = at.Add(2 * time.Hour)
		b.insist(b.at(at, 120, "reading", "session-1", counts(13_200, 12_000)))
		if got := removed(120); got != 1200 {
			t.Errorf("%s: what is read after it is %d", how, got)
		}
		b.now = at.Add(4 * time.Hour)
		b.insist(b.at(at, 240, "came_off", "session-1", &session.CameOff{Returned: "all", Washback: ptr(unit.Volume(300)), Removed: ptr(unit.Volume(26_400)), Given: ptr(unit.Litres(24_000)), WashbackWith: session.WithMachineFluid}))
		b.must("closed", "session-1", &session.Closed{})
		total := func() int { return int(*session.RemovedInAll(b.h.Session("session-1"))) }
		if total() != 2400 || removed(60) != 600 {
			t.Errorf("%s: %d in all", how, total())
		}
		if how == "said again" {
			last = b.life[len(b.life)-1]
			for _, e := range b.life {
				if e.Kind == "machine" {
					last = e
				}
			}
			e := b.entry("machine", "", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass", RemovedShows: session.RemovedNet})
			e.Corrects, e.Reason = last.ID, "it is not in it after all"
			b.insist(e)
		}
		b.says(session.RemovedNet)
		if total() != 2400 || removed(60) != 600 || removed(120) != 1200 {
			t.Errorf("%s, once it was closed: %d, %d, %d in all", how, removed(60), removed(120), total())
		}
	}
}
