package household

import (
	"fmt"
	"time"

	"ebbline/kinetics"
	"ebbline/record"
	"ebbline/unit"
)

// A Kinetic person is what the model of urea takes of somebody: what their
// bloods say of the volume and the generation, with honest ranges, and where
// everything else comes from.
type Kinetic struct {
	Estimate kinetics.Estimate
	Pools    kinetics.Pools // the likeliest, with the generation of the last months
	Factor   float64        // by which every clearance is to be taken
	Shape    kinetics.Shape

	WatsonL   float64 // body water by height and weight; 0 when those are not known
	DryKg     float64
	Pairs     []SampledPair // what it rests on, in order of time
	Clearance ClearanceSource
	Residual  ResidualClearance
	From      []string // each source in a sentence part
}

// A ClearanceSource says where the clearances come from.
type ClearanceSource string

// The two sources of a clearance.
const (
	FromKoA    ClearanceSource = "the KoA of the prescription at the flows written down"
	FromVolume ClearanceSource = "the bloods, with the body water by height and weight, since no KoA is written down"
)

// A SampledPair is a session with urea before and after, and what the estimate
// says of it.
type SampledPair struct {
	Done      DoneSession
	Pre, Post *record.Blood
	PreUrea   unit.Urea
	PostUrea  unit.Urea
	Judged    kinetics.JudgedDraw
	drawn     kinetics.MonthlyDraw
}

// Fits reports whether the pair was used for the estimate.
func (p SampledPair) Fits() bool { return p.Judged.Verdict == kinetics.SampleFits }

// pairsBack is how many months of samples an estimate rests on at most: people
// change, and so does their volume.
const pairsBack = 12

// cycleMin is the fortnight before a sample, which the estimate takes as kept
// up.
const cycleMin = 14 * 1440.0

// A Lacking says why there is no figure, in a sentence that says what to do.
type Lacking string

func (m Lacking) Error() string { return string(m) }

// KineticOf estimates a person from the record as it stands. The error is a
// [Lacking] when something must be written down first.
func KineticOf(m *record.Member, now time.Time) (*Kinetic, error) {
	k := &Kinetic{Factor: 1}
	k.residual(m, now)
	k.body(m, now)
	all := DoneSessions(m, now.AddDate(-1, -2, 0), now)
	k.pairs(m, all)
	if len(k.Pairs) == 0 {
		return nil, Lacking("There is no pair of ureas yet, before and after one session. Write down the bloods of a month.")
	}
	if err := k.clearances(all); err != nil {
		return nil, err
	}
	for i := range k.Pairs {
		k.Pairs[i].draw(all)
	}
	if err := k.estimate(); err != nil {
		return k, err
	}
	if k.byModel(m) {
		// What the kidneys clear is part of the model: once more with it.
		return k, k.estimate()
	}
	return k, nil
}

func (k *Kinetic) body(m *record.Member, now time.Time) {
	rx := m.Prescription(unit.DateOf(now))
	if rx == nil {
		return
	}
	k.DryKg = rx.Value.DryWeight.Float()
	b, ok := m.Body()
	p, known := m.Person.Now()
	if !ok || !known {
		return
	}
	// Only the year of birth is kept; half a year off moves a man's water by
	// 0.05 L.
	age := float64(now.Year() - p.BirthYear)
	w, err := kinetics.Watson(kinetics.Person{Sex: kinetics.Sex(b.Sex), AgeY: age, HeightCm: b.Height.Float(), WeightKg: k.DryKg, Diabetes: b.Diabetes})
	if err == nil {
		k.WatsonL = w.Value
	}
}

// pairs finds the sessions with a urea on both sides.
func (k *Kinetic) pairs(m *record.Member, all []DoneSession) {
	for _, d := range all {
		pre, post := m.SampleOf(d.ID, record.Pre, "urea"), m.SampleOf(d.ID, record.Post, "urea")
		if pre == nil || post == nil {
			continue
		}
		u, ok := pre.Value.Urea()
		w, also := post.Value.Urea()
		if ok && also {
			k.Pairs = append(k.Pairs, SampledPair{Done: d, Pre: pre, Post: post, PreUrea: u, PostUrea: w})
		}
	}
	if n := len(k.Pairs); n > pairsBack {
		k.Pairs = k.Pairs[n-pairsBack:]
	}
}

// clearances gives every session a clearance: what its dialyser lets expect,
// or, without a KoA, what the last bloods say of it.
func (k *Kinetic) clearances(all []DoneSession) error {
	k.Clearance = FromKoA
	for _, p := range k.Pairs {
		if p.Done.Clearance == 0 {
			k.Clearance = FromVolume
		}
	}
	if k.Clearance == FromKoA {
		fillClearance(all)
		return nil
	}
	if k.WatsonL == 0 {
		return Lacking("The KoA of the dialyser is not in the prescription, and sex and height are not written down: one of the two is needed.")
	}
	last := k.Pairs[len(k.Pairs)-1]
	sp, err := kinetics.SinglePool(kinetics.Sampled{
		Pre: last.PreUrea, Post: last.PostUrea, LengthMin: last.Done.LengthMin, RemovedL: max(last.Done.LostL, 0), PostWeightKg: k.DryKg, PerWeek: 3, DaysSincePrevious: 2,
	})
	if err != nil {
		return Lacking("The last pair of ureas gives no dose: " + err.Error())
	}
	ml, err := kinetics.ClearanceFor(sp.Value, last.Done.LengthMin, k.WatsonL)
	if err != nil {
		return Lacking("The last pair of ureas gives no clearance: " + err.Error())
	}
	for i := range all {
		all[i].Clearance = ml
	}
	for i := range k.Pairs {
		k.Pairs[i].Done.Clearance = ml
	}
	return nil
}

// fillClearance gives sessions of which a flow is not known the middle of the
// others.
func fillClearance(all []DoneSession) {
	var known []float64
	for _, d := range all {
		if d.Clearance > 0 {
			known = append(known, d.Clearance)
		}
	}
	for i := range all {
		if all[i].Clearance == 0 {
			all[i].Clearance = middleOf(known)
			all[i].Assumed = append(all[i].Assumed, "clearance, as usual")
		}
	}
}

// draw writes the fortnight up to a sampled session as a cycle that begins
// with it.
func (p *SampledPair) draw(all []DoneSession) {
	p.drawn = kinetics.MonthlyDraw{Pre: p.PreUrea.NitrogenMgPerML(), Post: p.PostUrea.NitrogenMgPerML()}
	p.drawn.Cycle.LengthMin = cycleMin
	var treated, lost float64
	var first []kinetics.CycleSession
	for _, d := range all {
		before := p.Done.Began.Sub(d.Began).Minutes()
		if before < 0 || before > cycleMin-12*60 {
			continue // later, or this session's own place in the cycle before
		}
		s := kinetics.CycleSession{LengthMin: d.LengthMin, ClearanceMlMin: d.Clearance, RemovedL: max(d.LostL, 0)}
		treated, lost = treated+s.LengthMin, lost+s.RemovedL
		if before > 0 {
			s.StartMin = cycleMin - before
			first = append(first, s)
		} else {
			p.drawn.Cycle.Sessions = append(p.drawn.Cycle.Sessions, s)
		}
	}
	p.drawn.Cycle.Sessions = append(p.drawn.Cycle.Sessions, first...)
	if rx := p.Done.session.Rx; rx != nil && float64(len(p.drawn.Cycle.Sessions)) < rx.PerWeek() {
		// Not half of what is ordered: the record begins here, or sessions are
		// not written down. The prescription is the better guess.
		p.drawn.Cycle = prescribedCycle(p.Done)
		p.Done.Assumed = append(p.Done.Assumed, "the fortnight before, as prescribed")
		return
	}
	// What the scale lost is less than what was removed by what was gained
	// meanwhile.
	for i := range p.drawn.Cycle.Sessions {
		s := &p.drawn.Cycle.Sessions[i]
		s.RemovedL += lost / (cycleMin - treated) * s.LengthMin
	}
}

// prescribedCycle is the schedule ordered for a session, every session like
// this one, beginning with it.
func prescribedCycle(d DoneSession) kinetics.Cycle {
	rx := d.session.Rx
	one := kinetics.CycleSession{LengthMin: d.LengthMin, ClearanceMlMin: d.Clearance, RemovedL: max(d.LostL, 0)}
	if rx.EveryHours > 0 {
		return kinetics.Cycle{LengthMin: float64(rx.EveryHours) * 60, Sessions: []kinetics.CycleSession{one}}
	}
	c := kinetics.Cycle{LengthMin: 7 * 1440, Sessions: []kinetics.CycleSession{one}}
	for after := 1; after < 7 && len(c.Sessions) < len(rx.Days); after++ {
		if rx.OnDay(d.Night.Add(after)) {
			one.StartMin = float64(after) * 1440
			c.Sessions = append(c.Sessions, one)
		}
	}
	return c
}

func (k *Kinetic) estimate() error {
	k.Shape = kinetics.UsualShape(k.Residual.MlMin)
	k.From = append([]string{"clearance: " + string(k.Clearance)}, "pools: a third of the water outside the cells and 16 mL/min between the pools for each litre (from memory)", "residual clearance: "+k.Residual.Words)
	var prior *kinetics.VolumePrior
	if k.WatsonL > 0 {
		// A volume found by urea runs some 10 % below the equation.
		prior = &kinetics.VolumePrior{VolumeL: 0.9 * k.WatsonL, Spread: 0.15}
		k.From = append(k.From, fmt.Sprintf("before the bloods: nine tenths of %.1f L by Watson, give or take 15 %%", k.WatsonL))
	}
	draws := make([]kinetics.MonthlyDraw, len(k.Pairs))
	for i, p := range k.Pairs {
		draws[i] = p.drawn
	}
	var err error
	k.Estimate, err = kinetics.EstimatePerson(k.Shape, draws, kinetics.UsualErrors(), prior)
	for i := range k.Estimate.Judged {
		k.Pairs[i].Judged = k.Estimate.Judged[i]
	}
	if err != nil {
		return Lacking("None of the pairs of ureas can be right as written. What was found stands beside each.")
	}
	k.Factor = k.Estimate.ClearanceFactor.Value
	k.Pools = k.Shape.Pools(k.Estimate.VolumeL.Value, k.lately())
	k.From = append(k.From, fmt.Sprintf("volume and generation: %s of ureas, the last of %s", count(k.Estimate.Used, "pair", "pairs"), k.lastUsed().Done.Night.Long()))
	return nil
}

// lately is the generation of the last three months that were used.
func (k *Kinetic) lately() float64 {
	sum, n := 0.0, 0.0
	for i := len(k.Pairs) - 1; i >= 0 && n < 3; i-- {
		if g := k.Pairs[i].Judged.GenerationMgMin; g > 0 {
			sum, n = sum+g, n+1
		}
	}
	if n == 0 {
		return k.Estimate.GenerationMgMin.Value
	}
	return sum / n
}

func (k *Kinetic) lastUsed() SampledPair {
	for i := len(k.Pairs) - 1; i >= 0; i-- {
		if k.Pairs[i].Fits() {
			return k.Pairs[i]
		}
	}
	return SampledPair{}
}

func count(n int, one, many string) string {
	if n == 1 {
		return "one " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
