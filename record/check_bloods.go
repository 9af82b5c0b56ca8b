package record

import (
	"errors"
	"math"
	"slices"
	"strconv"
	"strings"

	"ebbline/unit"
)

// mostResults is how many results one sample may hold.
const mostResults = 60

func checkBloods(c *Checker) {
	b := c.Entry.Body.(*Bloods)
	c.days(b.ReportedOn, "reported_on")
	if !b.ReportedOn.IsZero() && b.ReportedOn.Before(unit.DateOf(c.Entry.At)) {
		c.Refuse("reported_on", "lies before the sample was drawn")
	}
	if unit.Legible(b.Laboratory) == 0 {
		c.Refuse("laboratory", "is still blank")
	}
	switch {
	case len(b.Results) == 0:
		c.Refuse("results", "are still blank: write at least one")
	case len(b.Results) > mostResults:
		c.Refuse("results", "are more than %d", mostResults)
	}
	seen := map[string]bool{}
	for _, r := range b.Results {
		if seen[r.Analyte] {
			c.Refuse("results."+r.Analyte, "stands in this sample twice")
			continue
		}
		seen[r.Analyte] = true
		c.result(r)
	}
	c.drawnAt(b)
	c.sameAgain(b)
	if !c.found.Refused() {
		c.pairOfUreas(b)
	}
}

// result holds one result against what blood can hold and against the person's
// own last one.
func (c *Checker) result(r BloodResult) {
	key := "results." + r.Analyte
	a, ok := unit.FindAnalyte(r.Analyte)
	switch {
	case !ok:
		c.Refuse("results", "hold %s, which is no analyte; `ebbline schema` lists them under blood_call", quote(r.Analyte))
		return
	case !slices.Contains([]string{"", "=", "<", ">"}, r.Op):
		c.Refuse(key, "%s is not accepted: needs <, > or nothing before the value", quote(r.Op))
		return
	case r.Value == "":
		c.Refuse(key, "is still blank")
		return
	case strings.TrimSpace(r.Unit) == "":
		c.Refuse(key, "%s has no unit: write the one that stands on the report, one of %s", r.Value, strings.Join(a.Symbols(), ", "))
		return
	}
	c.plainText(key, "assay ", r.Assay, 80)
	v, err := a.Canonical(r.Value.Float(), r.Unit)
	if r.Op == "<" && err != nil {
		// Below what the laboratory can tell may be below what blood usually
		// holds; only too high a bound is wrong.
		u, bad := a.Unit(r.Unit)
		if v = u.Factor*r.Value.Float() + u.Offset; bad == nil && v > 0 && v < a.Low {
			err = nil
		}
	}
	var input *unit.InputError
	if errors.As(err, &input) {
		c.Refuse(key, "%s is not accepted: needs %s", strings.Trim(input.Got, `"`), input.Want)
		return
	}
	if _, ok := r.UpperCanonical(); r.Upper != "" && !ok {
		c.Refuse(key, "upper limit %s %s is none that blood can have", r.Upper, r.Unit)
	}
	c.strange(key, a, r, v)
}

// strange asks about a value that a slip explains better than the blood.
func (c *Checker) strange(key string, a unit.Analyte, r BloodResult, v float64) {
	lab, err := a.Unit(r.Unit)
	if err != nil {
		return
	}
	if r.Value.Decimals() >= 3 && lab.Decimals < 2 {
		c.Ask(key, "%s has more decimals than laboratories print for %s. Is the point a thousands mark? If it is right, type it again", r.Value, a.Name)
		return
	}
	if !r.Exact() {
		return
	}
	if in, ok := askRanges[a.Code]; ok && (v < in.Lo || v > in.Hi) {
		said := r.Text() + " is outside " + strings.TrimSuffix(figure(in.Lo, r), "\u00a0"+r.Unit) + " to " + figure(in.Hi, r)
		if other := c.betterUnit(a, r, v); other != "" {
			said += "; it would fit " + other
		}
		c.Ask(key, "%s. If it is right, type it again", said)
		return
	}
	if other := c.betterUnit(a, r, v); other != "" {
		c.Ask(key, "%s is far from your last one and would fit it in %s. If the unit is right, type the value again", r.Text(), other)
	}
}

// askRanges are the values outside which a slip is likelier than the truth, in
// the first unit of the analyte. Our own proposal.
var askRanges = map[string]Range{
	"potassium": {3.5, 6}, "phosphate": {0.5, 2.5}, "urea": {1.5, 45}, "calcium": {1.8, 3}, "calcium_corrected": {1.8, 3}, "calcium_ionised": {0.9, 1.5},
	"sodium": {125, 150}, "bicarbonate": {14, 34}, "haemoglobin": {70, 150}, "albumin": {22, 50}, "creatinine": {100, 1800},
	"magnesium": {0.5, 1.6}, "glucose": {3, 25}, "transferrin_saturation": {5, 70}, "haematocrit": {20, 50},
}

// betterUnit names another unit of the analyte in which the same number lies
// much nearer to the person's last value than it does as written.
func (c *Checker) betterUnit(a unit.Analyte, r BloodResult, v float64) string {
	last, ok := c.lastOf(a.Code)
	if !ok || v <= 0 {
		return ""
	}
	away := func(x float64) float64 { return math.Abs(math.Log(x / last)) }
	if away(v) < math.Log(1.8) {
		return "" // near enough as written
	}
	best, at := "", away(v)-math.Log(1.6)
	for _, u := range a.Units {
		w, err := a.Canonical(r.Value.Float(), u.Symbol)
		if err == nil && w > 0 && away(w) < at {
			best, at = u.Symbol, away(w)
		}
	}
	return best
}

// lastOf gives the person's last value of an analyte drawn at the same point
// of a session, in its first unit.
func (c *Checker) lastOf(analyte string) (float64, bool) {
	timing := c.Entry.Body.(*Bloods).Timing
	for i := len(c.Member.Bloods) - 1; i >= 0; i-- {
		b := c.Member.Bloods[i]
		if !b.Counts() || b.ID == c.Entry.Corrects || b.Value.Timing != timing || !b.At.Before(c.Entry.At) {
			continue
		}
		if r := b.Value.Find(analyte); r != nil && r.Exact() {
			if v, ok := r.Canonical(); ok && v > 0 {
				return v, true
			}
		}
	}
	return 0, false
}

// drawnAt ties a sample before or after a session to that session.
func (c *Checker) drawnAt(b *Bloods) {
	at := c.Entry.At
	if b.Timing == Other {
		if b.Session != "" {
			c.Refuse("session_id", "is given, but the sample was drawn neither before nor after a session")
		}
		return
	}
	if b.Session == "" {
		c.Refuse("session_id", "is missing: a sample before or after a session names it, within 12 hours of it")
		return
	}
	s := c.House.Session(b.Session)
	if s == nil || s.Person != c.Entry.Person {
		c.Refuse("session_id", "%s is no session of this person", quote(b.Session))
		return
	}
	from, to, ok := around(s)
	switch {
	case !ok:
		c.Refuse("session_id", "names a session that never came to treatment")
	case at.Before(from.Add(-near)) || at.After(to.Add(near)):
		c.Refuse("at", "%s is more than 12 hours from that session; was it the day it was reported?", at.Format("15:04 on 2 January"))
	case b.Timing == Pre && at.After(to):
		c.Refuse("timing", "is “before a session”, but it was drawn after the session had ended")
	case b.Timing == Post && at.Before(from):
		c.Refuse("timing", "is “after a session”, but it was drawn before the session began")
	}
	if b.Timing == Post && b.Find("urea") != nil && b.Method == "" {
		c.Refuse("sampling_method", "is still blank: how a urea after the session was drawn decides what it means")
	}
}

// sameAgain refuses a sample that is in the record already, as a second import
// of one report brings.
func (c *Checker) sameAgain(b *Bloods) {
	for _, old := range c.Member.Bloods {
		if !old.Counts() || old.ID == c.Entry.Corrects || old.Value.Timing != b.Timing {
			continue
		}
		for _, r := range b.Results {
			if old.Value.Find(r.Analyte) == nil {
				continue
			}
			switch {
			case old.At.Equal(c.Entry.At):
				c.Refuse("results."+r.Analyte, "of this moment is in the record already; correct that one")
			case r.Analyte == "urea" && b.Session != "" && old.Value.Session == b.Session:
				c.Refuse("results.urea", "%s this session is in the record already; correct that one", map[string]string{Pre: "before", Post: "after"}[b.Timing])
			}
		}
	}
}

// pairOfUreas holds the urea after a session against the one before it.
func (c *Checker) pairOfUreas(b *Bloods) {
	r := b.Find("urea")
	if r == nil || b.Session == "" {
		return
	}
	timing := map[string]string{Pre: Post, Post: Pre}[b.Timing]
	var other *Blood
	for _, one := range c.Member.Bloods {
		if one.Counts() && one.ID != c.Entry.Corrects && one.Value.Session == b.Session && one.Value.Timing == timing && one.Value.Find("urea") != nil {
			other = one
		}
	}
	if other == nil {
		return
	}
	o := other.Value.Find("urea")
	a, _ := unit.FindAnalyte("urea")
	u, err := a.Unit(r.Unit)
	w, err2 := a.Unit(o.Unit)
	if err != nil || err2 != nil {
		return
	}
	if u != w {
		c.Refuse("results.urea", "is in %s and the other sample of this session in %s: one of the two units is wrong, or one was converted by hand. Write both as printed, in one unit", r.Unit, o.Unit)
		return
	}
	pre, post := o.Value.Float(), r.Value.Float()
	if b.Timing == Pre {
		pre, post = post, pre
	}
	if !r.Exact() || !o.Exact() {
		return
	}
	switch urr := 1 - post/pre; {
	case post >= pre:
		c.Refuse("results.urea", "after the session (%s) is not below the one before it (%s). Are the tubes swapped?", plain(post), plain(pre))
	case urr < 0.4 || urr > 0.9:
		c.Ask("results.urea", "%s makes the fall of urea in the session %s %%, outside 40 to 90 %%. Tubes swapped, drawn late, or thinned with saline? If it is right, type it again", r.Value, strconv.FormatFloat(100*urr, 'f', 0, 64))
	}
}

func checkBloodCall(c *Checker) {
	b := c.Entry.Body.(*BloodCall)
	c.said("rang", b.Rang, "whom you rang")
	c.said("said", b.Said, "what was said")
	sample := c.Member.Blood(b.Bloods)
	if sample == nil {
		c.Refuse("bloods_id", "%s is no sample of this person", quote(b.Bloods))
		return
	}
	if !sample.Counts() && c.Entry.Corrects == "" {
		c.Refuse("bloods_id", "names a sample that was struck out or corrected since; look at the one that stands")
		return
	}
	r := sample.Value.Find(b.Analyte)
	if r == nil {
		c.Refuse("analyte", "is not in that sample")
		return
	}
	if c.Member.LimitsAt(b.Analyte, sample.Since).Judge(*r, sample.Value.Timing).Critical == "" {
		c.Refuse("analyte", "%s is not critical by the limits of that day; write a question for the unit instead", r)
	}
}

func checkBloodRange(c *Checker) {
	b := c.Entry.Body.(*BloodRange)
	c.days(b.SetOn, "set_on")
	a, ok := unit.FindAnalyte(b.Analyte)
	if !ok {
		return // the table has said so
	}
	if _, err := a.Unit(b.Unit); err != nil {
		c.refuseError("unit", err)
		return
	}
	read := func(key string, p unit.Printed) float64 {
		if p == "" {
			return math.NaN()
		}
		v, err := a.Canonical(p.Float(), b.Unit)
		if err != nil {
			c.refuseError(key, err)
		}
		return v
	}
	low, high := read("low", b.Low), read("high", b.High)
	under, over := read("critical_low", b.CriticalLow), read("critical_high", b.CriticalHigh)
	if b.Low == "" && b.High == "" && b.CriticalLow == "" && b.CriticalHigh == "" {
		c.Refuse("low", "and all the others are still blank")
	}
	// Comparing with NaN is false, so a bound that is not given is in no order.
	for _, wrong := range []struct {
		is         bool
		key, words string
	}{
		{low >= high, "high", "is not above the lower one"},
		{under > low, "critical_low", "lies above the lower end of the range"},
		{over < high, "critical_high", "lies below the upper end of the range"},
		{under >= over, "critical_high", "is not above the one from which to ring on the low side"},
	} {
		if wrong.is {
			c.Refuse(wrong.key, "%s", wrong.words)
		}
	}
}

func checkResidual(c *Checker) {
	b := c.Entry.Body.(*Residual)
	if _, err := b.Urine(); err != nil {
		c.refuseError("urine_urea", err)
	}
	switch {
	case b.MeanUrea == "":
	case b.MeanUnit == "":
		c.Refuse("mean_blood_urea_unit", "is still blank")
	default:
		a, _ := unit.FindAnalyte("urea")
		if _, err := a.Canonical(b.MeanUrea.Float(), b.MeanUnit); err != nil {
			c.refuseError("mean_blood_urea", err)
		}
	}
}
