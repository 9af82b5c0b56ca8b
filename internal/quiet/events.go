package main

import (
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// An event is something that truly goes wrong in an evening. It is said when one of
// its checks has one of its codes, or no codes are named and the check is a look or a
// stop, just before the lines are joined; or when a remark of one of its codes is
// made on the very entry that shows it.
type event struct {
	code, title string
	checks      []string // at the start
	codes       []string // of those checks; empty for any
	remarks     []string // while it runs
	skip        func(person) bool
	make        func(*life, *evening) // puts it into the evening
	row         func(*life, *evening, *session.AgreedPlan) int
	entry       string           // kind of the rows; empty for readings
	note        bool             // its remark is a note, and need be no look
	told        func(*life) bool // it is said elsewhere than by checks and remarks, on the row
	missed      int              // sessions that were not held before it
	stay        bool             // nobody is connected
	// kept reports whether the plan itself keeps it from happening, and shows that.
	kept func(*session.AgreedPlan) bool
}

func catheters(p person) bool { return p.access != "catheter" }
func tap(p person) bool       { return p.fluid != session.FluidTap }
func bags(p person) bool      { return p.fluid != session.FluidBags }
func batches(p person) bool   { return p.fluid != session.FluidBatch }

func needles(p person) bool { return p.access == "catheter" }

// middle is the row of the readings in which something begins: about halfway, with
// two before it.
func (e *evening) middle() int { return max(2, len(e.readings)/2) }

// spare makes sure that rows follow the middle one.
func (l *life) rows(e *evening, n int) {
	for len(e.readings) < n {
		last := e.readings[len(e.readings)-1]
		last.minute += 6
		e.readings = append(e.readings, last)
	}
}

// lows is an upper pressure that is truly a fall for this person: some 50 below the usual
// course, and about 60 for who always runs low.
func (p person) lows(c chance) *unit.Pressure {
	if p.systole < 110 {
		return pressure(c.near(60, 2))
	}
	return pressure(min(p.systole-45, 84) + c.near(0, 1.5))
}

func events() []event {
	return slices.Concat(grave(), treatments(), mild())
}

func grave() []event {
	return []event{
		{code: "thrill", title: "lost thrill", checks: []string{session.CheckAccess}, codes: []string{"access_no_flow", "access_no_thrill", "access_thrill_lost", "access_unheard"}, skip: needles, stay: true,
			make: func(_ *life, e *evening) { e.access.Thrill, e.access.Bruit = "absent", "absent" }},
		{code: "exit", title: "pus at the exit site", checks: []string{session.CheckAccess}, codes: []string{"access_pus"}, skip: catheters, stay: true,
			make: func(_ *life, e *evening) { e.access.Skin = "discharge" }},
		{code: "bath", title: "wrong bath", checks: []string{session.CheckBath}, codes: []string{"bath_k"}, stay: true,
			make: func(l *life, e *evening) {
				if e.bath.K = 300; l.person.fluid == session.FluidBatch {
					l.ownBatch(e, 5*time.Hour)
				}
			}},
		{code: "carbon", title: "failed carbon", checks: []string{session.CheckChlorine}, codes: []string{"chlorine_first_over", "chlorine_over"}, skip: tap, stay: true,
			make: func(l *life, e *evening) {
				e.chlorine.Result, e.chlorine.Below = unit.Concentration(math.Round(l.chance.near(0.16, 0.015)*1000)), false
			}},
		{code: "potassium", title: "weak after a missed session", checks: []string{session.CheckFit, session.CheckGap}, codes: []string{"gap_signs", "fit_first"}, missed: 1, stay: true,
			make: func(_ *life, e *evening) { e.fit = session.Fitness{Weakness: true, HeavyLegs: true} }},
		{code: "under", title: "1.5 kg below dry weight", checks: []string{session.CheckPlan}, codes: []string{"under_dry_ring", "under_dry_look", "under_dry_unwell"}, stay: true,
			make: func(l *life, e *evening) { e.weight = l.person.dry - l.chance.near(1.5, 0.1) }},
		{code: "lot", title: "expired lot", checks: []string{session.CheckLots}, codes: []string{"lots_expired"}, stay: true,
			make: func(_ *life, e *evening) { e.supplies[1].Expiry = unit.DateOf(e.start).Add(-3) }},
		{code: "strength", title: "another heparin strength", checks: []string{session.CheckHeparin}, codes: []string{"heparin_other", "heparin_label_differs"}, stay: true,
			skip: func(p person) bool { return !p.heparin }, make: func(_ *life, e *evening) { e.strength = 5000 }},
		{code: "lock", title: "another lock than ordered", checks: []string{session.CheckLock}, skip: catheters, stay: true,
			make: func(_ *life, e *evening) { e.lock.Content = ref(unit.Content(300)) }},
		{code: "uncleaned", title: "disinfection not done", checks: []string{session.CheckCleaned}, codes: []string{"cleaned_not_written", "cleaned_waiting_unit"}, stay: true,
			make: func(_ *life, e *evening) { e.uncleaned = true }},
		{code: "residue", title: "disinfectant left", checks: []string{session.CheckCleaned}, codes: []string{"residue_left", "residue_chemical"}, stay: true,
			make: func(_ *life, e *evening) { e.residue = true }},
		{code: "stuck", title: "the old lock could not be drawn", checks: []string{session.CheckLock}, codes: []string{"lock_arterial_stuck", "lock_venous_stuck"}, skip: catheters, stay: true,
			make: func(_ *life, e *evening) { e.drawn.Venous = session.CouldNot }},
		{code: "cuff", title: "the cuff of the catheter shows", checks: []string{session.CheckAccess}, codes: []string{"access_cuff"}, skip: catheters, stay: true,
			make: func(_ *life, e *evening) { e.access.Cuff = "showing" }},
		{code: "seal", title: "seal of a bag broken", checks: []string{session.CheckBath}, codes: []string{"bag_seal"}, skip: bags, stay: true,
			make: func(_ *life, e *evening) { e.bath.Seal = session.No }},
		{code: "cloudy", title: "a bag not clear", checks: []string{session.CheckBath}, codes: []string{"bag_cloudy"}, skip: bags, stay: true,
			make: func(_ *life, e *evening) { e.bath.Clear = session.No }},
		{code: "pastuse", title: "batch past its use-by", checks: []string{session.CheckBath}, codes: []string{"batch_past"}, skip: batches, stay: true,
			make: func(l *life, e *evening) { l.ownBatch(e, 49*time.Hour) }},
		{code: "brew", title: "chlorine in the water of a batch", checks: []string{session.CheckChlorine}, codes: []string{"chlorine_first_over", "chlorine_over"}, skip: batches, stay: true,
			make: func(l *life, e *evening) {
				l.ownBatch(e, 5*time.Hour)
				e.tested.Result, e.tested.Below = ref(unit.Concentration(math.Round(l.chance.near(0.16, 0.015)*1000))), false
			}},
		{code: "range", title: "batch out of its range", checks: []string{session.CheckConduct}, codes: []string{"batch_conductivity"}, skip: batches, stay: true,
			make: func(l *life, e *evening) {
				v := conduct(l.chance.near(14.5, 0.05))
				e.fluid.MachineConduct, e.fluid.MeterConduct = v, v+3
			}},
		{code: "sugar0", title: "low sugar before the start", checks: []string{session.CheckGlucose}, codes: []string{"glucose_low"}, skip: unmarked, stay: true,
			make: func(l *life, e *evening) { e.sugars[0].Glucose = sugarOf(l.chance.near(3.2, 0.2)) }},
		{code: "sugar", title: "low sugar while running", remarks: []string{"sugar_low"}, entry: "glucose", skip: unmarked,
			row: func(l *life, e *evening, _ *session.AgreedPlan) int {
				e.sugars[2].Glucose = sugarOf(l.chance.near(3.2, 0.2))
				return 1 // the second while running
			}},
		{code: "hot", title: "hot fluid before the start", checks: []string{session.CheckConduct}, codes: []string{"fluid_hot"}, skip: noFluidCheck, stay: true,
			make: func(l *life, e *evening) { e.fluid.MeterTemp = warmth(l.chance.near(39.4, 0.2)) }},
		{code: "fluid", title: "wrong fluid before the start", checks: []string{session.CheckConduct}, skip: noFluidCheck, stay: true,
			make: func(l *life, e *evening) {
				v := conduct(l.chance.near(15.1, 0.1))
				e.fluid.MachineConduct, e.fluid.MeterConduct = v, v+3
			}},
		{code: "selftest", title: "self-test failed", checks: []string{session.CheckSelfTest}, stay: true,
			make: func(_ *life, e *evening) { e.selfTest.Passed = false }},
		{code: "fever0", title: "fever before the start", checks: []string{session.CheckVitals}, codes: []string{"vitals_temperature_out"}, stay: true,
			make: func(l *life, e *evening) { e.vitals.Temperature = warmth(l.chance.near(38.3, 0.1)) }},
		{code: "low0", title: "very low pressure before the start", checks: []string{session.CheckVitals}, codes: []string{"vitals_sitting_out"}, stay: true,
			make: func(l *life, e *evening) {
				v := l.person.lows(l.chance)
				e.vitals.SitSystolic, e.vitals.SitDiastolic, e.vitals.StandSystolic, e.vitals.StandDiastolic = v, ref(*v*6/10), ref(*v-10), ref(*v*6/10-4)
			}},
		{code: "nightsteps", title: "steps of the night not done", checks: []string{session.CheckNight}, skip: func(p person) bool { return p.start < 20 }, stay: true,
			make: func(_ *life, e *evening) { e.night = false }},
		{code: "fall", title: "a fall of pressure", remarks: []string{"low_pressure", "nadir"},
			row: func(l *life, e *evening, _ *session.AgreedPlan) int { return l.falls(e, e.middle()) }},
		{code: "second", title: "a second fall", remarks: []string{"low_pressure", "nadir"},
			row: func(l *life, e *evening, _ *session.AgreedPlan) int {
				l.rows(e, 6)
				l.falls(e, 2)
				for i := 3; i < 5; i++ {
					e.readings[i].Systolic = pressure(l.person.systole - 4)
					e.readings[i].Diastolic = pressure(0.57 * l.person.systole)
				}
				return l.falls(e, 5)
			}},
		{code: "needle", title: "venous needle slips out", remarks: []string{"venous_fall"}, skip: needles,
			row: func(l *life, e *evening, _ *session.AgreedPlan) int {
				i := e.middle()
				for j := i; j < len(e.readings); j++ {
					e.readings[j].Venous = pressure(float64(*e.readings[i-1].Venous) - l.chance.near(45, 5))
				}
				return i
			}},
		{code: "line", title: "venous line apart", remarks: []string{"venous_fall"},
			row: func(l *life, e *evening, _ *session.AgreedPlan) int {
				i := e.middle()
				e.readings[i].Venous = pressure(l.chance.near(12, 3))
				return i
			}},
		{code: "arterial", title: "arterial needle out", remarks: []string{"arterial_rise"},
			row: func(l *life, e *evening, _ *session.AgreedPlan) int {
				i := e.middle()
				e.readings[i].Arterial = pressure(l.chance.near(-12, 4))
				return i
			}},
		{code: "clot", title: "TMP rising", remarks: []string{"tmp_creeps", "tmp_high"}, note: true,
			row: func(l *life, e *evening, _ *session.AgreedPlan) int {
				l.rows(e, 6)
				for i := range e.readings {
					e.readings[i].TMP = pressure(60 + 22*float64(i) + l.chance.near(0, 2))
				}
				return 3 // the first that lies 50 over four running
			}},
		{code: "fever", title: "fever while running", remarks: []string{"fever"},
			row: func(l *life, e *evening, _ *session.AgreedPlan) int {
				i := e.middle()
				e.readings[i].BodyTemp = warmth(l.chance.near(38.4, 0.1))
				return i
			}},
		{code: "hotrun", title: "hot fluid while running", remarks: []string{"temperature_out"},
			row: func(l *life, e *evening, _ *session.AgreedPlan) int {
				i := e.middle()
				e.readings[i].DialTemp = warmth(l.chance.near(39.4, 0.2))
				return i
			}},
		{code: "fluidrun", title: "wrong fluid while running", remarks: []string{"conductivity_out"},
			row: func(l *life, e *evening, _ *session.AgreedPlan) int {
				i := e.middle()
				e.readings[i].Conduct = ref(conduct(l.chance.near(14.9, 0.1)))
				return i
			}},
		{code: "heart", title: "heart racing", remarks: []string{"pulse_out"},
			row: func(l *life, e *evening, _ *session.AgreedPlan) int {
				i := e.middle()
				e.readings[i].Pulse = ref(unit.Pulse(l.chance.near(140, 4)))
				return i
			}},
	}
}

func unmarked(p person) bool { return !p.sugar }

func noFluidCheck(p person) bool { return p.fluid == session.FluidBags }

// ownBatch gives an evening a batch of its own, made so long before.
func (l *life) ownBatch(e *evening, before time.Duration) {
	e.made = before
	e.tested = session.BatchTested{Method: "photometer", Result: ref(unit.Concentration(20)), Below: true, ReadsDown: ref(unit.Concentration(20)), Point: "first_carbon", Lot: e.chlorine.Lot, Expiry: e.chlorine.Expiry}
}

// falls puts a fall into a row.
func (l *life) falls(e *evening, i int) int {
	v := l.person.lows(l.chance)
	e.readings[i].Systolic, e.readings[i].Diastolic = v, ref(*v*6/10)
	return i
}

// saidOf reports whether an event was said: at the start, or on the entry that shows it.
func (ev event) saidAt(line []session.Check) bool {
	return slices.ContainsFunc(line, func(c session.Check) bool {
		if !slices.Contains(ev.checks, c.ID) || c.State != session.Look && c.State != session.StopHere {
			return false
		}
		return len(ev.codes) == 0 || slices.ContainsFunc(c.Codes, func(code string) bool { return slices.Contains(ev.codes, code) })
	})
}

func (ev event) saidIn(list []session.Remark, entry string) bool {
	return slices.ContainsFunc(list, func(r session.Remark) bool {
		return slices.Contains(ev.remarks, r.Code) && r.Entry == entry && (r.Level == session.LevelLook || ev.note)
	})
}

// branch lives one evening with an event in it, on a copy of a life as it stands
// before that evening. It reports whether the event was said at the next look.
func (l *life) branch(ev event, e *evening) (said bool, b *life, err error) {
	b = &life{person: l.person, unit: l.unit, batch: l.batch, house: record.NewHousehold(), zone: l.zone, post: l.post, chance: newChance(l.seed, l.person.code+ev.code, e.n)}
	one := *e
	one.readings, one.supplies, one.sugars, one.flushes = slices.Clone(e.readings), slices.Clone(e.supplies), slices.Clone(e.sugars), slices.Clone(e.flushes)
	if e.lock != nil {
		lock := *e.lock
		one.lock = &lock
	}
	if ev.make != nil {
		ev.make(b, &one)
	}
	last := -1
	for i, entry := range l.entries {
		if entry.Kind == "disinfection" {
			last = i
		}
	}
	for i, entry := range l.entries {
		if one.uncleaned && i == last {
			continue
		}
		b.join(entry)
	}
	b.seq, b.out = l.seq, l.out
	b.tell(line{Branch: ev.code, Upto: len(l.entries), Uncleaned: one.uncleaned})
	defer b.tell(line{End: true})
	if ev.missed > 0 {
		one.start = one.start.AddDate(0, 0, 7)
	}
	plan := b.setUp(&one)
	if b.err != nil {
		return false, b, b.err
	}
	if ev.stay {
		kept := ev.kept != nil && plan != nil && ev.kept(plan)
		b.tell(line{Start: e.n, Session: b.session, At: b.now, Checks: ev.checks, Kept: kept})
		return kept || ev.saidAt(b.startLine()), b, nil
	}
	shows := ev.row(b, &one, plan)
	b.goOn()
	rows, kind := 0, cmp.Or(ev.entry, "reading")
	b.shows = func(entry record.Entry) []string {
		if entry.Kind == kind && rows == shows {
			return ev.remarks
		}
		return nil
	}
	b.look = func(b *life, entry record.Entry) {
		if entry.Kind != kind {
			return
		}
		if rows == shows {
			said = ev.saidIn(b.remarks(), entry.ID) || ev.told != nil && ev.told(b)
		}
		rows++
	}
	b.run(&one, plan)
	return said, b, b.err
}

// count is how often an event was made, and how often it was said.
type count struct{ made, said int }

// eventsOf makes every event in the last evenings of a life.
func (r *results) eventsOf(p person, how string, seed uint64, out *json.Encoder) error {
	_, _, err := live(p, how, seed, answerAfter+6, out, func(l *life, e *evening) {
		if e.n < answerAfter+4 {
			return
		}
		for _, ev := range events() {
			if ev.skip != nil && ev.skip(p) {
				continue
			}
			said, _, err := l.branch(ev, e)
			if err != nil {
				l.err = fmt.Errorf("%s, %s: %w", p.code, ev.code, err)
				return
			}
			r.event(p.code, ev.code, said)
		}
	})
	return err
}
