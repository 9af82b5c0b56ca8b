package household

import (
	"math"
	"slices"
	"time"

	"ebbline/kinetics"
	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// A DoneSession is a session that took place, as the model of urea takes it.
type DoneSession struct {
	ID           string
	Night        unit.Date
	Began, Ended time.Time
	LengthMin    float64 // treated, without the pauses
	BloodFlow    float64 // mL/min, mean over the treated time
	FlowAssumed  bool    // only the prescribed blood flow is known for most of it
	Dialysate    float64 // mL/min, as prescribed; 0 when not known
	KoA          float64 // as prescribed; 0 when not known
	Clearance    float64 // mL/min of urea that these let expect; 0 when one is not known
	PreKg        float64 // without clothes; 0 when not written
	PostKg       float64
	LostL        float64 // weight before less weight after, 1 kg = 1 L
	GainedL      float64 // weight before less weight after the session before
	Assumed      []string
	Elsewhere    bool

	session *session.Session
}

// DoneSessions gives the sessions that began in a stretch of time and have
// ended, in order, without those that only removed fluid: they are no dialysis. Weights that nobody wrote are filled in from the machine's
// total, else from what is usual in the stretch, and named in Assumed.
func DoneSessions(m *record.Member, from, to time.Time) []DoneSession {
	var list []DoneSession
	for _, s := range m.Sessions {
		began, ok := s.Began()
		ended, over := s.Ended()
		if s.Abandoned() || s.RemovalOnly() || !ok || !over || began.Before(from) || ended.After(to) {
			continue
		}
		d := DoneSession{ID: s.ID, Night: session.Night(s), Began: began, Ended: ended, session: s}
		d.LengthMin = session.TreatedFor(s, ended).Minutes()
		if d.LengthMin <= 0 || len(list) > 0 && began.Before(list[len(list)-1].Ended) {
			continue // paused for the whole of it, or written twice
		}
		o, _ := s.Opened()
		d.Elsewhere = o.Place == "elsewhere"
		d.flows()
		d.weights()
		list = append(list, d)
	}
	fillWater(list)
	for i := range list {
		list[i].clear()
	}
	return list
}

// flows reads what ran through the dialyser.
func (d *DoneSession) flows() {
	rx := d.session.Rx
	if run, ok := session.Follow(d.session, d.Ended); ok && run.Blood > 0 {
		d.BloodFlow = run.Blood * 1000 / d.LengthMin
		d.FlowAssumed = run.BloodAssumed.Minutes() > d.LengthMin/2
	}
	if rx == nil {
		return
	}
	if d.BloodFlow == 0 {
		d.BloodFlow, d.FlowAssumed = rx.BloodFlow.Float(), true
	}
	if rx.DialFlow != nil {
		d.Dialysate = rx.DialFlow.Float()
	} else if rx.Dialysate != nil {
		d.Dialysate = rx.Dialysate.Float() * 1000 / d.LengthMin
	}
	if rx.KoA != nil {
		d.KoA = rx.KoA.Float()
	}
}

// clear works out the clearance that the dialyser lets expect: its KoA as found
// with blood, at these flows, with what the removal carries along.
func (d *DoneSession) clear() {
	if d.KoA <= 0 || d.BloodFlow <= 0 || d.Dialysate <= 0 {
		return
	}
	removal := min(max(d.LostL, 0)*1000/d.LengthMin, d.BloodFlow/2)
	if k, err := ExpectedClearance(d.KoA, d.BloodFlow, d.Dialysate, removal); err == nil {
		d.Clearance = k
	}
}

// ExpectedClearance gives the clearance of urea in mL/min that a dialyser of a
// maker's KoA should give with blood, at a blood flow, a dialysate flow and a
// removal of fluid, all in mL/min. Ranges as in [kinetics.DiffusiveClearance].
func ExpectedClearance(koa, blood, dialysate, removal float64) (float64, error) {
	vivo, err := kinetics.InVivoKoA(koa, kinetics.InVivoShare)
	if err != nil {
		return 0, err
	}
	k, err := kinetics.DiffusiveClearance(vivo, blood, dialysate)
	if err != nil {
		return 0, err
	}
	return kinetics.TotalClearance(k.Value, blood, removal)
}

func (d *DoneSession) weights() {
	if in, e := session.Last[session.WeighIn](d.session); in != nil && e.Missing["weight_kg"] == "" {
		d.PreKg = (in.Weight - in.Clothing).Float()
	}
	if out, e := session.Last[session.WeighOut](d.session); out != nil && e.Missing["weight_kg"] == "" {
		d.PostKg = (out.Weight - out.Clothing).Float()
	}
}

// fillWater works out what each session lost and what was gained before it.
func fillWater(list []DoneSession) {
	var lost, rate []float64
	for i := range list {
		d := &list[i]
		if d.PreKg > 0 && d.PostKg > 0 {
			lost = append(lost, d.PreKg-d.PostKg)
		}
		if i > 0 && d.PreKg > 0 && list[i-1].PostKg > 0 {
			if hours := d.Began.Sub(list[i-1].Ended).Hours(); hours > 0 {
				rate = append(rate, (d.PreKg-list[i-1].PostKg)/hours)
			}
		}
	}
	usualLost, usualRate := middleOf(lost), middleOf(rate)
	for i := range list {
		d := &list[i]
		switch {
		case d.PreKg > 0 && d.PostKg > 0:
			d.LostL = d.PreKg - d.PostKg
		default:
			if l, ok := d.byMachine(); ok {
				d.LostL = l
				d.Assumed = append(d.Assumed, "weight lost, from the machine’s total")
			} else {
				d.LostL = usualLost
				d.Assumed = append(d.Assumed, "weight lost, as usual")
			}
		}
		if i == 0 {
			continue
		}
		before := list[i-1]
		if d.PreKg > 0 && before.PostKg > 0 {
			d.GainedL = d.PreKg - before.PostKg
		} else {
			d.GainedL = usualRate * max(d.Began.Sub(before.Ended).Hours(), 0)
			d.Assumed = append(d.Assumed, "weight gained, as usual")
		}
	}
}

// byMachine gives the weight lost from what the machine removed, less what was
// drunk and given.
func (d *DoneSession) byMachine() (float64, bool) {
	off, _ := session.Last[session.CameOff](d.session)
	removed := session.RemovedInAll(d.session)
	run, ok := session.Follow(d.session, d.Ended)
	if removed == nil || !ok {
		return 0, false
	}
	added := run.Drunk + run.Saline
	if off.Washback != nil {
		added += *off.Washback
	}
	return (*removed - added).Float() / 1000, true
}

func middleOf(v []float64) float64 {
	if len(v) == 0 {
		return 0
	}
	v = slices.Sorted(slices.Values(v))
	if n := len(v); n%2 == 0 {
		return (v[n/2-1] + v[n/2]) / 2
	}
	return v[len(v)/2]
}

// nominalDays is the count of days between the beginnings of two sessions, as
// the constants of the single-pool Kt/V want it.
func nominalDays(before, began time.Time) float64 {
	return max(math.Round(began.Sub(before).Hours()/24), 1)
}
