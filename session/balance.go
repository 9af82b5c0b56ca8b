package session

import (
	"math"
	"slices"
	"strings"
	"time"

	"ebbline/unit"
)

// A Balance sets what the scale lost beside what was removed and added. They
// should agree; when they drift apart over sessions, the scale or the machine's
// fluid removal needs a look.
//
//	by scale = (pre − clothing) − (post − clothing)
//	by fluid = removed − drinks − saline − washback       (1 L = 1 kg)
//
// Food eaten, sweat and breath are in the difference.
type Balance struct {
	At         time.Time
	ByScale    unit.Mass
	ByFluid    unit.Mass
	Difference unit.Mass // by scale − by fluid; above 0 when the scale lost more
	Grade      string    // agrees, differs or look
	Words      string
	Without    []string // what is not known and so could not be counted; then there is no grade
}

// How far a balance may be off: ours, after the accuracy that scales and
// machines have together (from memory).
const (
	balanceAgrees  unit.Mass = 300
	balanceDiffers unit.Mass = 500
)

// BalanceOf gives the balance of a session that has come off. ok is false
// before that. Where a term is missing it is named and nothing is graded; a
// term never counts as zero because it was not written.
func BalanceOf(s *Session) (b Balance, ok bool) {
	off, ended := Last[CameOff](s)
	if off == nil {
		return Balance{}, false
	}
	b.At = ended.At
	pre, e := Last[WeighIn](s)
	if pre == nil || e.Missing["weight_kg"] != "" {
		b.Without = append(b.Without, "weight before")
	}
	post, e := Last[WeighOut](s)
	if post == nil || e.Missing["weight_kg"] != "" {
		b.Without = append(b.Without, "weight after")
	}
	if pre != nil && post != nil && !SameScale(pre.Scale, post.Scale) {
		b.Without = append(b.Without, "both weights on one scale")
	}
	removed := RemovedInAll(s)
	if removed == nil {
		b.Without = append(b.Without, lackingOf(s, off))
	}
	washback := off.Washback
	if washback == nil && off.Returned == "none" {
		washback = new(unit.Volume)
	}
	if washback == nil {
		b.Without = append(b.Without, "washback")
	}
	if len(b.Without) > 0 {
		b.Words = "Not known: " + strings.Join(b.Without, ", ") + "."
		return b, true
	}
	b.ByScale = (pre.Weight - pre.Clothing) - (post.Weight - post.Clothing)
	b.ByFluid, _ = LostByFluid(s)
	b.Difference = b.ByScale - b.ByFluid
	b.grade()
	return b, true
}

// LostByFluid is what the body lost by the fluids of a session that has come off; false
// where the total removed is not known. A washback that is not written counts as none.
func LostByFluid(s *Session) (unit.Mass, bool) {
	off, ended := Last[CameOff](s)
	removed := RemovedInAll(s)
	if off == nil || removed == nil {
		return 0, false
	}
	drunk, saline := addedBy(s, ended.At)
	lost := *removed - drunk - saline
	if off.Washback != nil {
		lost -= *off.Washback
	}
	return unit.Mass(lost), true
}

// lackingOf names what is lacking of the total removed.
func lackingOf(s *Session, off *CameOff) string {
	switch {
	case off.Removed == nil:
		return "the machine's total removed"
	case s.RemovedShows() == RemovedGross && off.Given != nil:
		return "what came off: the machine's total is less than the substitution fluid in it"
	case s.RemovedShows() == RemovedGross:
		return "the substitution fluid, which is in the machine's total"
	}
	return "whether the substitution fluid is in the machine's total"
}

func (b *Balance) grade() {
	side := "more"
	if b.Difference < 0 {
		side = "less"
	}
	off := max(b.Difference, -b.Difference)
	switch {
	case off <= balanceAgrees:
		b.Grade, b.Words = "agrees", "Scale and fluid agree to "+off.Text()+"."
	case off <= balanceDiffers:
		b.Grade, b.Words = "differs", "Scale lost "+off.Text()+" "+side+" than the fluid says. Food, clothes?"
	default:
		b.Grade, b.Words = "look", "Scale lost "+off.Text()+" "+side+" than the fluid says. Look at clothes, food, drinks, scale."
	}
}

// A Shift is what the balances of the last sessions say together.
type Shift struct {
	Flagged bool
	Mean    float64 // kg, of the window that flagged, or of the last five
	Usual   float64 // kg, what is usual for this person and was taken off
	Over    int     // sessions in that window
	Words   string
}

// The rules of a drift, chosen on simulated runs (see the test): a bias of
// 0.4 kg is to show by its fifth session, and scatter of 0.2 kg alone in
// hardly any run. Ours.
const (
	driftWindow  = 5
	driftMean    = 0.27 // kg
	driftShort   = 3
	driftShortKg = 0.45 // kg
	usualFrom    = 10   // sessions that make a usual difference
	usualMost    = 0.2  // kg; a larger one is not a habit but a fault
	usualSure    = 2.5  // standard errors from nothing before it is taken off
	usualScatter = 0.25 // kg; the bounds widen in proportion from there
)

// Drift looks for a lasting difference between scale and fluid in the balances
// of a person's sessions, oldest first; those without a grade are left out. It
// flags when the mean of the last five lies 0.27 kg or more from what is usual
// for the person, or that of the last three 0.45 kg or more. The usual is the
// median of the sessions before them, from ten on, when it is surely not
// nothing and up to 0.2 kg; a person whose balances scatter by more than
// 0.25 kg has bounds as much wider.
func Drift(history []Balance) Shift {
	var kg []float64
	for _, b := range history {
		if b.Grade != "" {
			kg = append(kg, b.Difference.Float())
		}
	}
	if len(kg) < driftShort {
		return Shift{Over: len(kg), Words: "Too few sessions to say."}
	}
	usual, wider := usualDifference(kg[:max(0, len(kg)-driftWindow)])
	shift := Shift{Usual: usual, Over: min(driftWindow, len(kg))}
	shift.Mean = mean(kg[len(kg)-shift.Over:]) - usual
	short := mean(kg[len(kg)-driftShort:]) - usual
	switch {
	case len(kg) >= driftWindow && math.Abs(shift.Mean) >= driftMean*wider:
		shift.Flagged = true
	case math.Abs(short) >= driftShortKg*wider:
		shift.Flagged, shift.Mean, shift.Over = true, short, driftShort
	}
	if !shift.Flagged {
		shift.Words = "No drift between scale and fluid."
		return shift
	}
	side := "more"
	if shift.Mean < 0 {
		side = "less"
	}
	shift.Words = "Scale lost " + unit.Mass(math.Round(math.Abs(shift.Mean)*1000)).Digits(1) + "\u00a0kg " + side +
		" than the fluid says, over the last sessions. Check the scale with a known mass; tell the technician."
	return shift
}

// usualDifference gives the person's own offset and by how much the bounds
// are wider for their own scatter.
func usualDifference(earlier []float64) (usual, wider float64) {
	wider = 1
	if len(earlier) < usualFrom {
		return 0, wider
	}
	recent := slices.Sorted(slices.Values(earlier[max(0, len(earlier)-2*usualFrom):]))
	mid := quantile(recent, 0.5)
	away := make([]float64, len(recent))
	for i, v := range recent {
		away[i] = math.Abs(v - mid)
	}
	slices.Sort(away)
	scatter := 1.4826 * quantile(away, 0.5) // standard deviation of a normal scatter
	wider = max(1, scatter/usualScatter)
	// A median of n scatters by √(π/2n) of one value's scatter.
	unsure := scatter * math.Sqrt(math.Pi/2/float64(len(recent)))
	if math.Abs(mid) > usualMost || math.Abs(mid) < usualSure*unsure {
		return 0, wider
	}
	return mid, wider
}

func mean(v []float64) float64 {
	sum := 0.0
	for _, x := range v {
		sum += x
	}
	return sum / float64(len(v))
}
