package main

import (
	"encoding/json"
	"fmt"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
	"ebbline/water"
)

const (
	personID   = "p-quiet-0001"
	personName = "Nika Hrovat"
	zoneName   = "Europe/Ljubljana"
)

// answerAfter is after how many sessions the unit answers.
const answerAfter = 6

// A life is one invented person's record in memory.
type life struct {
	person  person
	unit    string // how their unit meets what is asked
	seed    uint64
	chance  chance
	house   *record.Household
	entries []record.Entry
	zone    *time.Location
	seq     int
	post    float64 // weight after the last session, kg
	session string  // id of the one that is written
	batch   string  // id of the batch in use
	now     time.Time
	look    func(l *life, e record.Entry) // after each entry
	shows   func(e record.Entry) []string // the remarks that an entry should bring
	asked   map[string]bool               // fields of the last entry that were asked about
	out     *json.Encoder                 // where the life is written as lines, nil for nowhere
	err     error
}

// newLife begins a life with the household and the first prescription.
func newLife(p person, how string, seed uint64, eventful bool, out *json.Encoder) *life {
	zone, err := record.LoadZone(zoneName)
	if err != nil {
		panic(err) // the zone table is compiled in
	}
	l := &life{person: p, unit: how, seed: seed, house: record.NewHousehold(), zone: zone, post: p.dry, chance: newChance(seed, p.code, 0)}
	l.out = out
	l.tell(line{Life: p.code, Unit: how, Eventful: eventful})
	begin := time.Date(2026, 1, 4, 9, 0, 0, 0, zone)
	day := unit.DateOf(begin)
	l.write(begin, "demonstration", &record.Demonstration{Note: "every person, place and value in this file is invented"})
	l.write(begin, "person", &record.Person{Name: personName, BirthYear: 1971, Colour: "fern", Number: "Q-0001", Adult: true, Pregnant: p.paper})
	l.write(begin, "kidney_unit", &record.KidneyUnit{Name: "Kidney unit by the ford (invented)", Day: "+000 1 555 02 10", Night: "+000 1 555 02 99", Technician: "+000 1 555 02 44", Ambulance: "112"})
	l.write(begin, "machine", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: string(p.fluid), RemovedShows: p.filtered})
	l.write(begin, "card", &record.Card{Words: "Stop the pump\nClamp both lines\nRing the ambulance, then us", From: "Nurse A. Kos (invented)", GivenOn: day, ReviewBy: day.Add(400)})
	rx := p.prescription(day)
	l.write(begin, "prescription", &rx)
	l.write(begin.Add(time.Minute), "round_done", &record.RoundDone{Item: "rinse", Outcome: "done", Who: "technician (invented)"})
	l.write(begin.Add(2*time.Minute), "residual_test", &record.ResidualTest{For: "peracetic", Value: 500, Below: true, Lot: "RT-07", Expiry: day.Add(300)})
	return l
}

// prescription is the first one: with no figure of the unit's for this person.
func (p person) prescription(day unit.Date) session.Prescription {
	rx := session.Prescription{
		OrderedBy: "Dr B. Zupan (invented)", OrderedOn: day.Add(-3), How: "paper", ValidFrom: day, ReviewBy: day.Add(400),
		Days: p.days, Length: &p.length, DryWeight: kilos(p.dry), DrySetBy: "Dr B. Zupan (invented)", DrySetOn: day.Add(-3), DryReview: day.Add(400),
		Dialyser: "high-flux, 1.7 m²", KoA: ref(unit.Flow(820)), BloodFlow: 310, DialFlow: ref(unit.Flow(500)), BathK: 200, BathCa: 150,
		DialTemp: ref(unit.Temperature(360)), SetConduct: ref(unit.Conductivity(1390)), Heparin: "none",
		Access: p.access, AccessSide: "left_arm", Technique: p.technique, GaugeA: 16, GaugeV: 16, Intake: 300, Washback: 250,
	}
	if p.fluid != session.FluidTap {
		rx.DialFlow = ref(unit.Flow(200))
	}
	if p.heparin {
		rx.Heparin, rx.HepStrength, rx.HepBolus, rx.HepHourly, rx.HepStop = "unfractionated", ref(unit.Strength(1000)), ref(unit.Dose(2000)), ref(unit.DoseRate(600)), ref(unit.Minutes(45))
	}
	if p.sugar {
		rx.GlucoseMarked, rx.SetBy, rx.SetOn = true, rx.OrderedBy, rx.OrderedOn
	}
	if p.filtered != "" {
		rx.Filtration = true
		rx.Substitution, rx.SubstitutionPlace = ref(unit.Litres(1000*substitution)), session.SubstitutedAfter
	}
	if p.flushes > 0 {
		rx.FlushML, rx.FlushEvery = ref(unit.Volume(flushML)), ref(unit.Minutes(p.flushes))
	}
	if p.access == "catheter" {
		rx.AccessSide, rx.GaugeA, rx.GaugeV = "neck_or_chest", 0, 0
		rx.OrderedLock = session.OrderedLock{LockName: "citrate", LockContent: ref(unit.Content(40)), LockArterial: ref(unit.Drawn(180)), LockVenous: ref(unit.Drawn(190))}
	}
	return rx
}

func (l *life) member() *record.Member { return l.house.Member(personID) }

// write holds an entry against the record and adds it; what is asked about is typed
// again.
func (l *life) write(at time.Time, kind string, body any) { l.entry(at, kind, body, nil) }

func (l *life) entry(at time.Time, kind string, body any, missing map[string]session.Missing) {
	if l.err != nil {
		return
	}
	k, ok := record.Find(kind)
	if !ok {
		l.err = fmt.Errorf("%s is no kind of entry", kind)
		return
	}
	l.seq++
	e := record.Entry{
		ID: fmt.Sprintf("quiet-%06d", l.seq), Kind: kind, At: at.Truncate(time.Second).In(l.zone), Zone: zoneName,
		Written: at.Add(20 * time.Second).UTC().Truncate(time.Second), By: personName, Device: "simulated", Missing: missing, Body: body,
	}
	if !k.House {
		e.Person = personID
	}
	if k.Session {
		e.Session = l.session
	}
	found := record.Check(l.house, e)
	l.asked = map[string]bool{}
	if len(found) > 0 && !found.Refused() {
		e.Again = map[string]string{}
		for _, f := range found {
			field, _ := k.Field(f.Field)
			l.asked[f.Field] = true
			e.Again[f.Field] = field.Text(body)
		}
		found = record.Check(l.house, e)
	}
	if len(found) > 0 {
		l.err = fmt.Errorf("%s, %s at %s: %w", l.person.code, kind, at.Format(time.RFC3339), found)
		return
	}
	l.join(e)
}

// join adds an entry that was held against the record, and looks.
func (l *life) join(e record.Entry) {
	if l.err != nil {
		return
	}
	if l.err = l.house.Apply(e); l.err != nil {
		return
	}
	l.entries = append(l.entries, e)
	told := line{Entry: &e, Run: l.look != nil}
	if l.shows != nil {
		told.Remarks = l.shows(e)
	}
	l.tell(told)
	if l.look != nil {
		l.look(l, e)
	}
}

// startsOf are the days on which a prescription has its sessions, from a day on.
func (l *life) starts(n int) []time.Time {
	var list []time.Time
	codes := []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}
	for day := time.Date(2026, 1, 5, l.person.start, 0, 0, 0, l.zone); len(list) < n; day = day.AddDate(0, 0, 1) {
		for _, code := range l.person.days {
			if code == codes[day.Weekday()] {
				list = append(list, day.Add(time.Duration(10*(len(list)%4))*time.Minute))
			}
		}
	}
	return list
}

// answers lets the unit answer what is asked of it, before a session.
func (l *life) answers(before time.Time) {
	if l.err != nil || l.unit == unitSilent {
		return
	}
	day := unit.DateOf(before)
	rx := l.member().Prescription(day).Value
	a := asksOf(&rx, l.member())
	if a.idle {
		rules := record.WaterRules{Edition: water.ISO2019, Use: string(water.Standard), SetBy: "Dr B. Zupan (invented), from the maker’s instructions", SetOn: day, IdleNone: l.unit == unitNone}
		if !rules.IdleNone {
			rules.MaxIdle = ref(unit.Hours(7200))
		}
		l.write(before.Add(-4*time.Hour), "water_rules", &rules)
	}
	if !l.person.answer(&rx, day, l.unit, a) {
		return
	}
	rx.OrderedOn, rx.ValidFrom = day, day
	l.write(before.Add(-4*time.Hour), "prescription", &rx)
	if l.err == nil {
		list := l.member().Prescriptions
		l.write(before.Add(-3*time.Hour), "change_seen", &record.ChangeSeen{Prescription: list[len(list)-1].ID})
	}
}

// goOn lets the person go on past what holds the start up: they ring where the
// start line asks for it, and write a reason for the rest.
func (l *life) goOn() {
	if l.err != nil {
		return
	}
	line := func() []session.Check {
		s := l.house.Session(l.session)
		return session.HoldingUp(session.StartLine(s, l.member().History(s), l.now))
	}
	for _, c := range line() {
		if c.Rings {
			l.write(l.now, "rang", &session.Rang{Whom: "kidney unit, by day", Said: "Nurse Kos: go on as it is"})
			break
		}
	}
	for _, c := range line() {
		l.write(l.now, "override", &session.Override{Check: c.ID, Reason: "looked at twice, the unit knows of it and said to go on"})
	}
}
