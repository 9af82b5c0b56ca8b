package simulate

import (
	"fmt"
	"math/rand/v2"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// Options say which household to invent.
type Options struct {
	Seed   uint64
	Months int       // how far back the record goes
	Until  time.Time // the present of the household, in its zone
	Open   bool      // leave one session running at that present
}

// A Life is an invented household: the entries as its people wrote them, and
// the truth behind them.
type Life struct {
	Entries []record.Entry
	Truth   []Truth // one for each session, in order
	Person  string  // id of the person
	Open    string  // id of the session that is running, if one was asked for
	Asked   int     // values that were asked about and were right
	Slips   int     // wrong values that were asked about and put right
	Missed  int     // wrong values that went in unasked
	Upkeep  UpkeepTruth
	Blood   BloodTruth
}

// Truth is what really was in one session.
type Truth struct {
	Session   string
	At        time.Time
	PreWeight unit.Mass // what the scale showed
	Typed     unit.Mass // what was typed first
	Slip      string    // kind of slip, or empty
	DryWeight unit.Mass // the weight at which the person truly is dry
	Under     unit.Mass // how far the session began below it; 0 when it did not
	ScaleBias unit.Mass
	Venous    float64 // running venous pressure at the prescribed flow, mmHg
	Missed    bool    // planned but not held
}

// life is the making of one.
type life struct {
	Life
	rng   *rand.Rand
	under *rand.Rand // draws the evenings below the dry weight, and nothing else
	house *record.Household
	zone  *time.Location
	seq   int
	post  float64 // true weight after the last session, kg
	last  time.Time
	labs  *labs
	keep  *keeper
	shelf []record.ShelfItem // as it lay there on a day
	laid  unit.Date          // that day
	err   error
}

// The invented person, her unit and her machine.
const (
	personID   = "p-vida-hribar"
	personName = "Vida Hribar"
	zoneName   = "Europe/Ljubljana"
	scaleName  = "bathroom scale"
	dryKg      = 63.5
	lengthMin  = 250
)

// underDays is the share of the sessions that begin 0.1 to 1.0 kg below the dry
// weight: a day on which little is eaten and drunk.
const underDays = 1.0 / 40

// reviewDays is how long an invented prescription stands.
const reviewDays = 400

// Zone returns the zone that the invented household lives in.
func Zone() *time.Location {
	z, err := record.LoadZone(zoneName)
	if err != nil {
		panic(err) // the zone table is compiled in
	}
	return z
}

// Make invents a household. The same options give the same entries.
func Make(o Options) (*Life, error) {
	l := &life{rng: rand.New(rand.NewPCG(o.Seed, 0x6562626c696e65)), under: rand.New(rand.NewPCG(o.Seed, 0x647279)), house: record.NewHousehold(), zone: Zone(), post: dryKg + 0.2}
	l.Person = personID
	until := o.Until.In(l.zone)
	begin := until.AddDate(0, -o.Months, 0)
	l.people(begin.AddDate(0, 0, -1))
	l.keep = newKeeper(l, o.Seed, begin)
	l.keep.start()
	changed := begin.AddDate(0, o.Months*2/3, 0)
	days := sessionDays(begin, until)
	for i, day := range days {
		if l.err != nil {
			return nil, l.err
		}
		start := time.Date(day.Year(), day.Month(), day.Day(), 16, 20+l.rng.IntN(50), 0, 0, l.zone)
		if start.Add(7*time.Hour).After(until) || o.Open && start.Add(openGap).After(until) {
			break
		}
		if !changed.After(start) && o.Months > 1 {
			l.phonedChange(start.Add(-6 * time.Hour))
			changed = until.AddDate(1, 0, 0)
		}
		l.keep.upTo(start)
		l.renew(start.Add(-6 * time.Hour))
		if l.rng.Float64() < 0.02 {
			l.Truth = append(l.Truth, Truth{At: start, Missed: true})
			continue
		}
		l.keep.ready(start)
		l.bloods(start.Add(-2 * time.Hour))
		l.session(start, float64(i)/float64(len(days)), false)
	}
	l.keep.upTo(until.Add(-6 * time.Hour))
	if o.Open && l.err == nil {
		l.keep.ready(until.Add(-2*time.Hour - 25*time.Minute))
		l.session(until.Add(-2*time.Hour-25*time.Minute), 1, true)
	}
	return &l.Life, l.err
}

// openGap keeps the session before the one that is left running two days away,
// so that the demonstration has a usual gain to take off.
const openGap = 46 * time.Hour

// sessionDays are the evenings of the prescription: Monday, Tuesday, Thursday
// and Saturday.
func sessionDays(from, to time.Time) []time.Time {
	var days []time.Time
	for d := from; d.Before(to); d = d.AddDate(0, 0, 1) {
		switch d.Weekday() {
		case time.Monday, time.Tuesday, time.Thursday, time.Saturday:
			days = append(days, d)
		}
	}
	return days
}

// write holds an entry against the record and adds it. A value that is asked
// about is typed again unless fix puts it right.
func (l *life) write(at time.Time, kind, sessionID string, body any, fix func() bool) {
	if l.err != nil {
		return
	}
	person := personID
	switch kind {
	case "demonstration", "kidney_unit", "machine":
		person = ""
	}
	l.entry(person, at, time.Duration(5+l.rng.IntN(40))*time.Second, kind, sessionID, body, fix)
}

// entry is write for whomever it belongs to, written down so much later.
func (l *life) entry(person string, at time.Time, later time.Duration, kind, sessionID string, body any, fix func() bool) {
	if l.err != nil {
		return
	}
	l.seq++
	e := record.Entry{
		ID: fmt.Sprintf("sim-%07d", l.seq), Kind: kind, At: at.Truncate(time.Second).In(l.zone), Zone: zoneName,
		Written: at.Add(later).UTC().Truncate(time.Second),
		By:      personName, Device: "simulated", Person: person, Session: sessionID, Body: body,
	}
	found := record.Check(l.house, e)
	if len(found) > 0 && !found.Refused() && fix != nil && fix() {
		l.Slips++
		found = record.Check(l.house, e)
	}
	if len(found) > 0 && !found.Refused() {
		l.Asked++
		e.Again = map[string]string{}
		k, _ := record.Find(kind)
		for _, f := range found {
			field, _ := k.Field(f.Field)
			e.Again[f.Field] = field.Text(body)
		}
		found = record.Check(l.house, e)
	}
	if len(found) > 0 {
		l.err = fmt.Errorf("simulate: %s at %s: %w", kind, at.Format(time.RFC3339), found)
		return
	}
	if l.err = l.house.Apply(e); l.err == nil {
		l.Entries = append(l.Entries, e)
	}
}

// people writes down the household: who, the unit, the machine, the
// prescription and the card.
func (l *life) people(at time.Time) {
	day := unit.DateOf(at)
	l.write(at, "demonstration", "", &record.Demonstration{Note: "every person, place and value in this file is invented"}, nil)
	l.write(at, "person", "", &record.Person{Name: personName, BirthYear: 1969, Colour: "fern", Number: "DEMO-0417", Adult: true, Allergies: "plasters with zinc oxide", Carer: "Matej"}, nil)
	l.write(at, "kidney_unit", "", &record.KidneyUnit{Name: "Kidney unit under the hill (invented)", Day: "+000 1 555 01 10", Night: "+000 1 555 01 99", Technician: "+000 1 555 01 44", Ambulance: "112"}, nil)
	l.write(at, "machine", "", &session.Machine{Name: "the machine", GoalUnit: "L", GoalDecimals: 2, Kind: "single_pass"}, nil)
	l.write(at, "card", "", &record.Card{Words: "Stop the pump\nClamp both lines\nLook at both needles, press where it bleeds\nLie flat, legs up\nDo not give back blood that has air in it\nRing the ambulance, then us", From: "Nurse A. Kos (invented)", GivenOn: day, ReviewBy: day.Add(reviewDays)}, nil)
	rx := Prescription(day)
	l.write(at, "prescription", "", &rx, nil)
	l.troubles(at)
}

// Prescription is the invented one, as it stood at the beginning.
func Prescription(day unit.Date) session.Prescription {
	length := unit.Minutes(lengthMin)
	dial := unit.Flow(500)
	koa := unit.Flow(820)
	temp := unit.Temperature(360)
	cond := unit.Conductivity(1390)
	strength, bolus, hourly, stop := unit.Strength(1000), unit.Dose(2000), unit.DoseRate(600), unit.Minutes(45)
	rate, most := unit.RatePerKg(1100), unit.Volume(3200)
	tol, low, high, every := unit.Conductivity(30), unit.Pressure(100), unit.Pressure(180), unit.Minutes(60)
	below, fall := unit.Pressure(95), unit.Pressure(30)
	chlorine := unit.Concentration(100)
	return session.Prescription{
		OrderedBy: "Dr B. Zupan (invented)", OrderedOn: day.Add(-3), How: "paper", ValidFrom: day, ReviewBy: day.Add(reviewDays),
		Days: []string{"mon", "tue", "thu", "sat"}, Length: &length, DryWeight: unit.Mass(dryKg * 1000),
		DrySetBy: "Dr B. Zupan (invented)", DrySetOn: day.Add(-3), DryReview: day.Add(reviewDays),
		Dialyser: "high-flux, 1.7 m²", KoA: &koa, BloodFlow: 310, DialFlow: &dial, BathK: 200, BathCa: 150, DialTemp: &temp, SetConduct: &cond,
		Heparin: "unfractionated", HepStrength: &strength, HepBolus: &bolus, HepHourly: &hourly, HepStop: &stop,
		Access: "fistula", AccessSide: "left_arm", Technique: "rope_ladder", GaugeA: 16, GaugeV: 16, Intake: 300, Washback: 250,
		Limits: session.Limits{SetBy: "Dr B. Zupan (invented)", SetOn: day.Add(-3), Rate: &rate, MaxRemoval: &most, Chlorine: &chlorine, ConductTol: &tol,
			SystolicLow: &low, SystolicHi: &high, FallBelow: &below, FallBy: &fall, CheckEvery: &every},
	}
}

// renew writes the prescription anew, unchanged, when its review has come.
func (l *life) renew(at time.Time) {
	if l.err != nil {
		return
	}
	day := unit.DateOf(at)
	rx := l.house.Member(personID).Prescription(day).Value
	if day.Before(rx.ReviewBy) {
		return
	}
	rx.OrderedBy, rx.OrderedOn, rx.How, rx.ReadBack = rx.DrySetBy, day, "paper", false
	rx.ValidFrom, rx.DrySetOn = day, day
	rx.ReviewBy, rx.DryReview = day.Add(reviewDays), day.Add(reviewDays)
	l.write(at, "prescription", "", &rx, nil)
}

// phonedChange lowers the dry weight by telephone; the paper comes later.
func (l *life) phonedChange(at time.Time) {
	day := unit.DateOf(at)
	m := l.house.Member(personID)
	rx := m.Prescription(day).Value
	rx.OrderedOn, rx.ValidFrom, rx.How, rx.ReadBack = day, day, "phone", true
	rx.OrderedBy = "Nurse A. Kos (invented)"
	rx.DryWeight -= 500
	rx.DrySetOn, rx.DrySetBy = day, "Dr B. Zupan (invented)"
	rx.ReviewBy, rx.DryReview = day.Add(reviewDays), day.Add(reviewDays)
	l.write(at, "prescription", "", &rx, nil)
	id := m.Prescriptions[len(m.Prescriptions)-1].ID
	l.write(at.Add(time.Minute), "change_seen", "", &record.ChangeSeen{Prescription: id}, nil)
	l.write(at.Add(2*time.Hour), "paper_confirms", "", &record.PaperConfirms{Prescription: id, SignedBy: "Dr B. Zupan (invented)", SignedOn: day}, nil)
}
