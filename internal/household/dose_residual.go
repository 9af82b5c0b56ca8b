package household

import (
	"fmt"
	"math"
	"time"

	"ebbline/kinetics"
	"ebbline/record"
	"ebbline/unit"
)

// A ResidualClearance is what the kidneys still clear, and how it is known.
type ResidualClearance struct {
	MlMin    float64 // 0 when none may be counted
	Words    string
	Cautions []unit.Caution

	collection *record.Dated[record.Residual] // that may be counted; nil when none may
	byUnit     bool                           // the unit gave the mean urea of the blood
}

// residual reads the last collection of urine. One older than 90 days is not
// counted, and that is said.
func (k *Kinetic) residual(m *record.Member, now time.Time) {
	k.Residual = ResidualAt(m, now)
}

// ResidualAt gives the residual urea clearance that may be counted at a moment.
// Where the unit did not work out the mean urea of the blood, the plain mean of
// the samples after and before the sessions around the collection stands in,
// which reads high; where there are none, nothing is counted.
func ResidualAt(m *record.Member, now time.Time) ResidualClearance {
	r, old := m.Residual(now)
	if old != nil {
		age := unit.DateOf(now).Sub(unit.DateOf(old.At))
		words := fmt.Sprintf("none counted: the last collection is %d days old, and it counts for 90 (KDOQI 2015, from memory)", age)
		return ResidualClearance{Words: words, Cautions: []unit.Caution{{Code: "residual_old", Text: "Residual clearance is taken as none: the last collection of urine was on " +
			unit.DateOf(old.At).Long() + ", more than 90 days ago. Ask your unit whether to collect again."}}}
	}
	if r == nil {
		return ResidualClearance{Words: "none measured, taken as none"}
	}
	urine, err := r.Value.Urine()
	if err != nil {
		return ResidualClearance{Words: "none: the urine cannot be read"}
	}
	out := ResidualClearance{collection: r}
	mean, known := r.Value.Mean()
	if out.byUnit = known; known {
		out.reckon(urine, mean, "mean urea as the unit worked it out")
		return out
	}
	mean, c, known := plainMean(m, r)
	if !known {
		out.Words = "none counted: the mean urea of the blood over the collection is not known"
		return out
	}
	out.reckon(urine, mean, "plain mean of the ureas around it")
	out.Cautions = append(out.Cautions, c)
	return out
}

// reckon works out the clearance from the mean urea of the blood.
func (r *ResidualClearance) reckon(urine, mean unit.Urea, how string) {
	v := r.collection.Value
	f, err := kinetics.ResidualClearance(kinetics.Collection{UrineMl: v.Volume.Float(), UrineUrea: urine, Minutes: v.Length.Float(), MeanUrea: mean})
	if err != nil {
		r.MlMin, r.Words = 0, "none counted: "+err.Error()
		return
	}
	r.MlMin, r.Cautions = f.Value, f.Cautions
	r.Words = fmt.Sprintf("%s mL/min, collection of %s, %s", figure(f.Value, 1), unit.DateOf(r.collection.At).Long(), how)
}

// byModel takes the mean urea of the collection from the model of the person,
// where the unit did not give it: the plain mean of two samples lies below the
// mean of the time between them. It reports whether anything changed.
func (k *Kinetic) byModel(m *record.Member) bool {
	r := k.Residual.collection
	if r == nil || k.Residual.byUnit {
		return false
	}
	urine, err := r.Value.Urine()
	if err != nil {
		return false
	}
	from := r.At.Add(-time.Duration(r.Value.Length) * time.Minute)
	begin := from.Add(-warmUp)
	all := DoneSessions(m, begin, r.At)
	if len(all) < 3 {
		return false
	}
	k.give(all)
	if all[0].Began.After(begin) {
		begin = all[0].Began.Add(-time.Minute)
	}
	if !begin.Before(from) {
		return false
	}
	run, err := k.follow(all, begin, r.At)
	if err != nil {
		return false
	}
	mean, err := k.Pools.MeanLevel(run.in, from.Sub(begin).Minutes(), r.At.Sub(begin).Minutes())
	if err != nil || mean <= 0 {
		return false
	}
	k.Residual.Cautions = nil
	k.Residual.reckon(urine, unit.BUN(100*mean), "mean urea by the model")
	return true
}

// plainMean is the mean of the last urea before the collection and the first
// after its end, each at most three days off.
func plainMean(m *record.Member, r *record.Dated[record.Residual]) (unit.Urea, unit.Caution, bool) {
	begin := r.At.Add(-time.Duration(r.Value.Length) * time.Minute)
	var post, next unit.Urea
	for _, b := range m.Bloods {
		u, ok := b.Value.Urea()
		if !ok || !b.Counts() {
			continue
		}
		if d := begin.Sub(b.At); d > -6*time.Hour && d < 72*time.Hour && b.Value.Timing == record.Post {
			post = u
		}
		if d := b.At.Sub(r.At); d > -6*time.Hour && d < 72*time.Hour && b.Value.Timing == record.Pre && next == 0 {
			next = u
		}
	}
	if post == 0 || next == 0 {
		return 0, unit.Caution{}, false
	}
	mean, c, err := kinetics.MeanUreaPlain(post, next)
	return mean, c, err == nil
}

// figure writes a derived figure with so many decimals.
func figure(v float64, decimals int) string {
	if math.Abs(v) < 0.5*math.Pow(10, -float64(decimals)) {
		v = 0 // no "-0.0"
	}
	return fmt.Sprintf("%.*f", decimals, v)
}
