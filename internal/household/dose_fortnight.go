package household

import (
	"math"
	"time"

	"ebbline/kinetics"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A Fortnight is what the last 14 days really achieved, by the model, from the
// sessions as they were done.
type Fortnight struct {
	From, To  time.Time
	Done      []DoneSession
	Running   *DoneSession      // one that was under way when the 14 days began
	Levels    []kinetics.Levels // of each session
	StdKtV    kinetics.KtV      // by definition, over these sessions
	Low, High float64           // of it: 80 of 100 persons who fit the bloods lie between
	PeakMmolL float64
	MeanMmolL float64
	LongestH  float64 // hours without dialysis, up to the present
	Hours     float64 // treated
	// MostAboveL is the most water before a session above the dry weight, and
	// FastestLoss the highest loss of weight in one, mL/h per kg.
	MostAboveL, FastestLoss float64
	Missed                  []unit.Date
	Short                   []ShortSession
	AsOrdered               *Ordered // the same days as prescribed; nil when nothing is missed or short
	Curve                   []CurvePoint
	Cautions                []unit.Caution
	Assumed                 []string
}

// A ShortSession ended before its time.
type ShortSession struct {
	Done    DoneSession
	Ordered float64 // minutes
}

// A CurvePoint is the urea of the blood at one instant.
type CurvePoint struct {
	At    time.Time
	MmolL float64
}

// Ordered is the fortnight as it would have been by the prescription.
type Ordered struct {
	StdKtV, PeakMmolL, MeanMmolL float64
	MostAboveL, FastestLoss      float64
}

// days14 is the stretch of the headline.
const days14 = 14 * 24 * time.Hour

// warmUp is how far before the fortnight the model begins, so that the state
// it begins with comes from sessions and not from an assumption.
const warmUp = 28 * 24 * time.Hour

// FortnightOf follows the last 14 days up to now.
func FortnightOf(m *record.Member, k *Kinetic, now time.Time) (*Fortnight, error) {
	f := &Fortnight{From: now.Add(-days14), To: now}
	all := DoneSessions(m, f.From.Add(-warmUp), now)
	k.give(all)
	if len(all) == 0 {
		return nil, Lacking("There is no session in the last six weeks.")
	}
	begin := f.From.Add(-warmUp)
	if all[0].Began.After(begin) {
		begin = all[0].Began.Add(-time.Minute)
	}
	run, err := k.follow(all, begin, now)
	if err != nil {
		return nil, err
	}
	first := len(all)
	for i, d := range all {
		if !d.Began.Before(f.From) {
			first = min(first, i)
		}
	}
	f.Done, f.Levels = all[first:], run.out.Sessions[first:]
	if first > 0 && all[first-1].Ended.After(f.From) {
		f.Running = &all[first-1]
	}
	f.StdKtV = k.stdOver(f.Levels, k.Pools.GenerationMgMin, k.Pools.VolumeL)
	f.MostAboveL, f.FastestLoss = fluidOf(k, f.Done, f.Levels)
	f.spread(k, all, begin, first, run.in.Start.Outer)
	f.sums(k, run)
	f.curve(k, run)
	f.compare(m, k, all, begin, first)
	f.Cautions = append(f.Cautions, k.Residual.Cautions...)
	for _, d := range f.Done {
		if c := convectionCaution(d.session.Rx, k.Clearance); c != nil {
			f.Cautions = append(f.Cautions, c...)
			break
		}
	}
	if !f.StdKtV.Exists {
		f.Cautions = append(f.Cautions, unit.Caution{Code: "no_session", Text: "There is no session in the last 14 days, so there is no standard Kt/V of them."})
	}
	seen := map[string]bool{}
	for _, d := range f.Done {
		for _, a := range d.Assumed {
			if !seen[a] {
				seen[a] = true
				f.Assumed = append(f.Assumed, a)
			}
		}
	}
	return f, nil
}

// give puts the person's own clearance into sessions.
func (k *Kinetic) give(all []DoneSession) {
	if k.Clearance == FromVolume {
		own := 0.0
		for _, p := range k.Pairs {
			own = p.Done.Clearance
		}
		for i := range all {
			all[i].Clearance = own
		}
	}
	fillClearance(all)
}

// fluidOf looks for the most water before a session and the fastest loss.
func fluidOf(k *Kinetic, done []DoneSession, levels []kinetics.Levels) (above, fastest float64) {
	for i, l := range levels {
		above = max(above, l.PreVolumeL-k.Pools.VolumeL)
		if k.DryKg > 0 {
			fastest = max(fastest, done[i].LostL*1000/(done[i].LengthMin/60)/k.DryKg)
		}
	}
	return above, fastest
}

// A followedRun is a stretch with what the model says of it.
type followedRun struct {
	begin time.Time
	in    kinetics.Recorded
	out   kinetics.Followed
}

// follow runs the model from begin to end, starting in the steady state of the
// sessions themselves repeated.
func (k *Kinetic) follow(all []DoneSession, begin, end time.Time) (followedRun, error) {
	run := followedRun{begin: begin, in: k.recorded(all, begin, end)}
	start, err := k.start(run.in)
	if err != nil {
		return run, err
	}
	run.in.Start = start
	run.out, err = k.Pools.Follow(run.in)
	return run, err
}

// recorded writes sessions as the stretch the model takes.
func (k *Kinetic) recorded(all []DoneSession, begin, end time.Time) kinetics.Recorded {
	r := kinetics.Recorded{LengthMin: end.Sub(begin).Minutes(), StartVolumeL: k.Pools.VolumeL}
	for i, d := range all {
		s := kinetics.RecordedSession{
			StartMin: d.Began.Sub(begin).Minutes(), LengthMin: min(d.LengthMin, d.Ended.Sub(d.Began).Minutes()),
			ClearanceMlMin: d.Clearance * k.Factor, LostL: d.LostL,
		}
		if room := r.LengthMin - s.StartMin; s.StartMin+s.LengthMin > r.LengthMin {
			s.LengthMin = room * (1 - 1e-12) // it ends with the stretch, but for the last digit
		}
		if i == 0 {
			if d.PreKg > 0 && k.DryKg > 0 {
				r.StartVolumeL = max(k.Pools.VolumeL+d.PreKg-k.DryKg, 0.8*k.Pools.VolumeL)
			}
		} else {
			s.GainedL = d.GainedL
		}
		r.Sessions = append(r.Sessions, s)
	}
	if n := len(all); n > 0 {
		// After the last session the usual gain goes on; nobody has weighed yet.
		hours := max(end.Sub(all[n-1].Ended).Hours(), 0)
		r.GainedL = GainRate(all) * hours
	}
	return r
}

// GainRate is the usual gain between sessions in litres an hour.
func GainRate(all []DoneSession) float64 {
	var rate []float64
	for i := 1; i < len(all); i++ {
		if hours := all[i].Began.Sub(all[i-1].Ended).Hours(); hours > 0 {
			rate = append(rate, all[i].GainedL/hours)
		}
	}
	return max(middleOf(rate), 0)
}

// start is the level at which the stretch begins: the mean level before its own
// sessions, found in three turns from a guess. Four weeks of sessions before
// the fortnight make what is left of the guess of no account.
func (k *Kinetic) start(r kinetics.Recorded) (kinetics.PoolLevels, error) {
	at, err := k.Pools.AtRest(0.5, r.StartVolumeL, 0.5)
	if err != nil {
		return at, err
	}
	for range 3 {
		r.Start = at
		f, err := k.Pools.Follow(r)
		if err != nil {
			return at, err
		}
		if f.MeanPre <= 0 {
			return at, nil
		}
		// The mean level before the sessions is the better guess each time.
		if at, err = k.Pools.AtRest(f.MeanPre, r.StartVolumeL, 0.5); err != nil {
			return at, err
		}
	}
	return at, nil
}

// stdOver is the standard Kt/V by definition over sessions.
func (k *Kinetic) stdOver(levels []kinetics.Levels, generation, volume float64) kinetics.KtV {
	if len(levels) == 0 {
		return kinetics.KtV{}
	}
	mean := 0.0
	for _, l := range levels {
		mean += l.Pre / float64(len(levels))
	}
	return kinetics.KtV{Value: generation / mean / (volume * 1000) * 10080, Exists: mean > 0}
}

// spread gives the range of the headline over persons who fit the bloods.
func (f *Fortnight) spread(k *Kinetic, all []DoneSession, begin time.Time, first int, level0 float64) {
	if !f.StdKtV.Exists {
		return
	}
	var values []float64
	for _, d := range k.Estimate.Draws(100) {
		one := *k
		one.Pools, one.Factor = k.Estimate.Pools(d), d.ClearanceFactor
		in := one.recorded(all, begin, f.To)
		var err error
		// The four weeks before the fortnight make the beginning of them of no
		// account, so the likeliest person's level does, in proportion.
		level := level0 * (d.GenerationMgMin / d.VolumeL) / (k.Pools.GenerationMgMin / k.Pools.VolumeL)
		if in.Start, err = one.Pools.AtRest(level, in.StartVolumeL, 0.5); err != nil {
			continue
		}
		run := followedRun{}
		if run.out, err = one.Pools.Follow(in); err != nil {
			continue
		}
		if std := one.stdOver(run.out.Sessions[first:], d.GenerationMgMin, d.VolumeL); std.Exists {
			values = append(values, std.Value)
		}
	}
	f.Low, f.High = eightyOf(values)
}

func (f *Fortnight) sums(k *Kinetic, run followedRun) {
	for i, d := range f.Done {
		f.PeakMmolL = max(f.PeakMmolL, mmolOf(f.Levels[i].Pre))
		f.Hours += d.LengthMin / 60
	}
	last := f.From
	for _, d := range f.Done {
		f.LongestH = max(f.LongestH, d.Began.Sub(last).Hours())
		last = d.Ended
	}
	f.LongestH = max(f.LongestH, f.To.Sub(last).Hours())
	if mean, err := k.Pools.MeanLevel(run.in, f.From.Sub(run.begin).Minutes(), f.To.Sub(run.begin).Minutes()); err == nil && f.From.After(run.begin) {
		f.MeanMmolL = mmolOf(mean)
	} else {
		f.MeanMmolL = mmolOf(run.out.TimeAveraged)
	}
}

func (f *Fortnight) curve(k *Kinetic, run followedRun) {
	points, err := k.Pools.Curve(run.in, 60)
	if err != nil {
		return
	}
	for _, p := range points {
		at := run.begin.Add(time.Duration(p.Min * float64(time.Minute)))
		if !at.Before(f.From) {
			f.Curve = append(f.Curve, CurvePoint{at, mmolOf(p.Levels.Outer)})
		}
	}
}

// mmolOf turns urea nitrogen in mg/mL into mmol/L of urea.
func mmolOf(mgMl float64) float64 { return unit.BUN(100 * mgMl).MmolPerL() }

// shortBy is from how many minutes under the ordered length a session counts as
// shortened.
const shortBy = 15

// compare finds what was missed and cut short, and what the same days would
// have been without that.
func (f *Fortnight) compare(m *record.Member, k *Kinetic, all []DoneSession, begin time.Time, first int) {
	ordered := append([]DoneSession{}, all...)
	for i := first; i < len(all); i++ {
		d := all[i]
		length, known := orderedLength(d.session)
		if known && d.LengthMin < length-shortBy {
			f.Short = append(f.Short, ShortSession{d, length})
			ordered[i].LengthMin = length
			ordered[i].Ended = d.Began.Add(time.Duration(length * float64(time.Minute)))
		}
	}
	f.Missed = missedDays(m, f.From, f.To)
	for _, day := range f.Missed {
		ordered = insertUsual(ordered, day, f.To)
	}
	if len(f.Short)+len(f.Missed) == 0 {
		return
	}
	run, err := k.follow(ordered, begin, f.To)
	if err != nil {
		return
	}
	var levels []kinetics.Levels
	var held []DoneSession
	peak := 0.0
	for i, d := range ordered {
		if !d.Began.Before(f.From) {
			levels, held = append(levels, run.out.Sessions[i]), append(held, d)
			peak = max(peak, mmolOf(run.out.Sessions[i].Pre))
		}
	}
	std := k.stdOver(levels, k.Pools.GenerationMgMin, k.Pools.VolumeL)
	if !std.Exists {
		return
	}
	f.AsOrdered = &Ordered{StdKtV: std.Value, PeakMmolL: peak, MeanMmolL: mmolOf(run.out.TimeAveraged)}
	f.AsOrdered.MostAboveL, f.AsOrdered.FastestLoss = fluidOf(k, held, levels)
	from := max(f.From.Sub(begin).Minutes(), 0)
	if mean, err := k.Pools.MeanLevel(run.in, from, f.To.Sub(begin).Minutes()); err == nil {
		f.AsOrdered.MeanMmolL = mmolOf(mean)
	}
}

func orderedLength(s *session.Session) (float64, bool) {
	if s.Rx == nil {
		return 0, false
	}
	length, _, err := s.Rx.SessionLength()
	return length.Float(), err == nil
}

// missedDays lists the days of a stretch on which a session was ordered and none
// was held, by days and by hours alike; see [session.Order.MissedDays].
func missedDays(m *record.Member, from, to time.Time) []unit.Date {
	return m.Order().MissedDays(record.Held(m.Sessions), unit.DateOf(from), unit.DateOf(to))
}

// insertUsual puts a session like the others on a day on which none was held,
// at the hour they usually begin; what was gained is shared by the two gaps.
func insertUsual(all []DoneSession, day unit.Date, to time.Time) []DoneSession {
	if len(all) == 0 {
		return all
	}
	like := all[len(all)-1]
	length, known := orderedLength(like.session)
	if !known {
		length = like.LengthMin
	}
	began := usualBegin(all).on(day, like.Began.Location())
	d := DoneSession{
		Night: day, Began: began, Ended: began.Add(time.Duration(length * float64(time.Minute))), LengthMin: length,
		Clearance: like.Clearance, session: like.session,
	}
	at := len(all)
	for at > 0 && all[at-1].Began.After(began) {
		at--
	}
	if at == 0 || at > 0 && all[at-1].Ended.After(began) || at < len(all) && all[at].Began.Before(d.Ended) || d.Ended.After(to) {
		return all // there is no room for it
	}
	out := append([]DoneSession{}, all[:at]...)
	whole := GainRate(all) * began.Sub(all[at-1].Ended).Hours()
	if at < len(all) {
		share := began.Sub(all[at-1].Ended).Hours() / all[at].Began.Sub(all[at-1].Ended).Hours()
		whole = all[at].GainedL * share
	}
	d.GainedL, d.LostL = whole, whole
	out = append(out, d)
	for i, rest := range all[at:] {
		if i == 0 {
			rest.GainedL -= whole
			rest.LostL = math.Max(rest.LostL-whole, 0)
		}
		out = append(out, rest)
	}
	return out
}
