package simulate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"ebbline/kinetics"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A BloodTruth is what really was in the person's body, and what each month's
// samples would have shown without an error.
type BloodTruth struct {
	VolumeL         float64 // urea volume at the dry weight
	GenerationMgMin float64
	ClearanceFactor float64 // of what the dialyser's KoA lets expect
	Samples         []SampleTruth
}

// A SampleTruth is one pair of samples without an error.
type SampleTruth struct {
	Session   string
	Pre, Post unit.Urea
	StdKtV    float64 // by definition, over the 14 days up to this session's end
}

// The invented person's own truth.
const (
	trueVolumeL    = 29.6
	trueGeneration = 4.55 // mg of urea nitrogen a minute
	trueFactor     = 0.94
	heightCm       = 164
	firstLab       = "Laboratory at the ford (invented)"
	secondLab      = "Laboratory by the weir (invented)"
)

// labs is the making of the samples. It draws from a source of its own, so
// that bloods change nothing else in a life.
type labs struct {
	rng  *rand.Rand
	n    int
	last time.Month // of the last sample
}

// bloods writes the samples of the last month once their results are there:
// when a Thursday's session of a month that has none yet lies two days back.
func (l *life) bloods(now time.Time) {
	if l.err != nil {
		return
	}
	if l.labs == nil {
		l.labs = &labs{rng: rand.New(rand.NewPCG(uint64(now.Unix()), 0x626c6f6f64))}
		l.Blood = BloodTruth{VolumeL: trueVolumeL, GenerationMgMin: trueGeneration, ClearanceFactor: trueFactor}
		l.report(now, now, "body", &record.Body{Sex: "female", Height: heightCm * 10}, nil)
	}
	m := l.house.Member(personID)
	for i := len(m.Sessions) - 1; i >= 0; i-- {
		s := m.Sessions[i]
		began, ok := s.Began()
		ended, over := s.Ended()
		switch {
		case !ok || !over || now.Sub(ended) < 30*time.Hour:
			continue
		case now.Sub(ended) > 5*24*time.Hour:
			return
		case began.Weekday() != time.Thursday || began.Month() == l.labs.last || began.Day() < 5:
			continue
		}
		l.labs.last = began.Month()
		l.sample(s, now)
		return
	}
}

// sample writes what the laboratory found before and after a session.
func (l *life) sample(s *session.Session, now time.Time) {
	began, _ := s.Began()
	ended, _ := s.Ended()
	truth, ok := l.trueUrea(s)
	if !ok {
		return
	}
	l.Blood.Samples = append(l.Blood.Samples, truth)
	near := func(v, cv float64) float64 { return v * math.Exp(cv*l.labs.rng.NormFloat64()) }
	lab := firstLab
	if len(l.Blood.Samples) > 4 {
		lab = secondLab
	}
	result := func(code string, v float64, decimals int) record.BloodResult {
		a, _ := unit.FindAnalyte(code)
		return record.BloodResult{Analyte: code, Value: unit.Printed(fmt.Sprintf("%.*f", decimals, v)), Unit: a.Units[0].Symbol}
	}
	pre := record.Bloods{Timing: record.Pre, Session: s.ID, Laboratory: lab, ReportedOn: unit.DateOf(now), Results: []record.BloodResult{
		result("urea", near(truth.Pre.MmolPerL(), 0.025), 1),
		result("potassium", near(5.1, 0.06), 1), result("sodium", near(138, 0.01), 0), result("bicarbonate", near(22.5, 0.05), 0),
		result("calcium_corrected", near(2.31, 0.03), 2), result("phosphate", near(1.62, 0.1), 2), result("haemoglobin", near(111, 0.04), 0),
		result("albumin", near(39, 0.03), 0), {Analyte: "crp", Op: "<", Value: "5", Unit: "mg/L"},
	}}
	if len(l.Blood.Samples)%3 == 1 {
		pth := result("pth", near(28, 0.15), 1)
		pth.Upper, pth.Assay = "6.9", "second generation"
		pre.Results = append(pre.Results, pth, result("ferritin", near(390, 0.15), 0), result("transferrin_saturation", near(27, 0.1), 0))
	}
	post := record.Bloods{Timing: record.Post, Session: s.ID, Method: "slow_flow", Laboratory: lab, ReportedOn: unit.DateOf(now), Results: []record.BloodResult{
		result("urea", near(truth.Post.MmolPerL(), 0.03), 1), result("potassium", near(3.6, 0.05), 1),
	}}
	l.report(began.Add(-8*time.Minute), now, "bloods", &pre, nil)
	l.report(ended.Add(2*time.Minute), now.Add(2*time.Minute), "bloods", &post, nil)
	l.ring(now.Add(time.Hour))
}

// ring answers what is critical, as the person would.
func (l *life) ring(now time.Time) {
	for _, c := range l.house.Member(personID).CriticalOpen() {
		l.report(now, now, "blood_call", &record.BloodCall{Bloods: c.Blood.ID, Analyte: c.Result.Analyte, Rang: "Nurse A. Kos (invented)",
			Said: "Read the value to her. She asked about food and the last session, and wants a sample before the next one."}, nil)
	}
}

// report writes an entry that is typed later than it happened.
func (l *life) report(at, written time.Time, kind string, body any, again map[string]string) {
	if l.err != nil {
		return
	}
	l.labs.n++
	e := record.Entry{
		ID: fmt.Sprintf("sim-b-%05d", l.labs.n), Kind: kind, At: at.Truncate(time.Second).In(l.zone), Zone: zoneName,
		Written: written.UTC().Truncate(time.Second), By: personName, Device: "simulated", Person: personID, Body: body, Again: again,
	}
	found := record.Check(l.house, e)
	if len(found) > 0 && !found.Refused() {
		e.Again = map[string]string{}
		k, _ := record.Find(kind)
		for _, f := range found {
			e.Again[f.Field], _ = k.Typed(body, f.Field)
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

// trueUrea runs the model through all sessions so far and gives the levels
// around this one.
func (l *life) trueUrea(s *session.Session) (SampleTruth, bool) {
	r, ids, dry := l.lived()
	p := kinetics.UsualShape(0).Pools(trueVolumeL, trueGeneration)
	r.StartVolumeL = trueVolumeL + dry
	var err error
	if r.Start, err = p.AtRest(0.55, r.StartVolumeL, 0.6); err != nil {
		l.err = err
		return SampleTruth{}, false
	}
	f, err := p.Follow(r)
	if err != nil {
		l.err = err
		return SampleTruth{}, false
	}
	for i, id := range ids {
		if id != s.ID {
			continue
		}
		mean, n := 0.0, 0.0
		for j := i; j >= 0 && r.Sessions[i].StartMin+r.Sessions[i].LengthMin-r.Sessions[j].StartMin <= 14*1440; j-- {
			mean, n = mean+f.Sessions[j].Pre, n+1
		}
		return SampleTruth{
			Session: id, Pre: unit.BUN(100 * f.Sessions[i].Pre), Post: unit.BUN(100 * f.Sessions[i].Post),
			StdKtV: trueGeneration / (mean / n) / (trueVolumeL * 1000) * 10080,
		}, true
	}
	return SampleTruth{}, false
}

// lived gives the sessions so far as the model of urea takes them, their ids,
// and by how much the weight at the first lay above the dry weight.
func (l *life) lived() (r kinetics.Recorded, ids []string, aboveDry float64) {
	var zero time.Time
	post := 0.0
	for _, s := range l.house.Member(personID).Sessions {
		began, ok := s.Began()
		ended, over := s.Ended()
		in, _ := session.Last[session.WeighIn](s)
		out, _ := session.Last[session.WeighOut](s)
		if !ok || !over || in == nil || out == nil {
			continue
		}
		if zero.IsZero() {
			zero, post = began, in.Weight.Float()
			aboveDry = post - dryKg
		}
		length := session.TreatedFor(s, ended).Minutes()
		lost := in.Weight.Float() - out.Weight.Float()
		koa := s.Rx.KoA.Float() * kinetics.InVivoShare
		flow := s.Rx.BloodFlow.Float()
		k, err := kinetics.DiffusiveClearance(koa, flow, s.Rx.DialFlow.Float())
		if err != nil {
			l.err = err
			return r, nil, 0
		}
		total, err := kinetics.TotalClearance(k.Value, flow, max(lost, 0)*1000/length)
		if err != nil {
			l.err = err
			return r, nil, 0
		}
		r.Sessions = append(r.Sessions, kinetics.RecordedSession{
			StartMin: began.Sub(zero).Minutes(), LengthMin: length, ClearanceMlMin: total * trueFactor,
			GainedL: in.Weight.Float() - post, LostL: lost,
		})
		ids, post = append(ids, s.ID), out.Weight.Float()
		r.LengthMin = ended.Sub(zero).Minutes() + 1
	}
	return r, ids, aboveDry
}
