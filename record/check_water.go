package record

import (
	"encoding/json"
	"errors"
	"slices"
	"strconv"
	"strings"

	"ebbline/unit"
	"ebbline/water"
)

func checkWaterReading(c *Checker) {
	b := c.Entry.Body.(*WaterReading)
	c.something("product_conductivity_us_cm")
	chain := []struct {
		key   string
		value *unit.Gauge
	}{{"feed_kpa", b.Feed}, {"after_sediment_kpa", b.AfterSediment}, {"after_softener_kpa", b.AfterSoftener}, {"after_carbon_kpa", b.AfterCarbon}, {"after_second_carbon_kpa", b.AfterCarbon2}, {"after_prefilter_kpa", b.AfterPrefilter}}
	var before *unit.Gauge
	for _, g := range chain {
		if g.value == nil {
			continue
		}
		if before != nil {
			if _, err := water.PressureDrop(before.Float(), g.value.Float(), "kPa"); err != nil {
				c.Refuse(g.key, "%s is above %s before it: are the gauges read the wrong way round?", g.value.Text(), before.Text())
			}
		}
		before = g.value
	}
	if b.FeedConduct != nil && b.ProductConduct != nil && *b.ProductConduct > *b.FeedConduct {
		c.Refuse("product_conductivity_us_cm", "%s is above the %s before the reverse osmosis: are the two read the wrong way round?", b.ProductConduct.Text(), b.FeedConduct.Text())
	}
	c.counters(b.MachineHours, b.PlantLitres)
}

// counters asks about a counter that runs backwards: a slip, or a machine that
// was changed.
func (c *Checker) counters(hours *unit.Hours, litres *unit.Litres) {
	lastHours, lastLitres := c.House.Upkeep.countersBefore(c.Entry)
	if hours != nil && lastHours != nil && *hours < *lastHours {
		c.Ask("machine_h", "%s is less than the %s written last. If the machine was changed, type it again", hours.Text(), lastHours.Text())
	}
	if litres != nil && lastLitres != nil && *litres < *lastLitres {
		c.Ask("plant_l", "%s is less than the %s written last. If the plant was changed, type it again", litres.Text(), lastLitres.Text())
	}
}

// countersBefore gives what the counters showed last before an entry.
func (u *Upkeep) countersBefore(e Entry) (hours *unit.Hours, litres *unit.Litres) {
	for _, r := range u.CounterReadings() {
		if r.ID == e.Corrects || r.At.After(e.At) {
			continue
		}
		if r.Hours != nil {
			hours = r.Hours
		}
		if r.Litres != nil {
			litres = r.Litres
		}
	}
	return hours, litres
}

func checkWaterSample(c *Checker) {
	b := c.Entry.Body.(*WaterSample)
	if !goodID.MatchString(b.Sample) {
		c.Refuse("sample", "%s is not an id; needs 8 to 64 letters, digits, points, dashes", quote(b.Sample))
		return
	}
	for _, w := range b.For {
		if !slices.Contains(water.Substances(), water.Substance(w)) {
			c.Refuse("for", "%s is nothing a laboratory looks for here", quote(w))
		}
	}
	old, known := c.House.Upkeep.Sample(b.Sample)
	if b.State == string(water.SamplePlanned) {
		switch {
		case known && c.Entry.Corrects == "":
			c.Refuse("sample", "was planned already")
		case b.Point == "":
			c.Refuse("point", "is still blank: where it is to be drawn")
		case len(b.For) == 0:
			c.Refuse("for", "is still blank: what is to be looked for")
		case b.PlannedOn.IsZero():
			c.Refuse("planned_on", "is still blank")
		}
		return
	}
	switch {
	case !known:
		c.Refuse("sample", "%s was never planned", quote(b.Sample))
	case c.Entry.Corrects != "":
	case b.State == "reached":
		if old.DrawnAt.IsZero() || c.Entry.At.Before(old.DrawnAt) {
			c.Refuse("state", "is “reached the laboratory”, but it had not been drawn then")
		}
	default:
		if _, err := old.Step(water.SampleState(b.State), c.Entry.At); err != nil {
			c.refuseError("state", err)
		}
	}
}

// mostFigures is how many figures one result may hold.
const mostFigures = 60

func checkWaterResult(c *Checker) {
	b := c.Entry.Body.(*WaterResult)
	u := &c.House.Upkeep
	sample, known := u.Sample(b.Sample)
	switch {
	case !known:
		c.Refuse("sample", "%s was never planned: plan and draw it first", quote(b.Sample))
		return
	case c.Entry.Corrects != "":
	case sample.State != water.SampleDrawn && sample.State != water.SampleSent:
		c.Refuse("sample", "is %s: a result belongs to one that was drawn", sample.State)
		return
	}
	c.blank("laboratory", b.Laboratory)
	switch {
	case len(b.Results) == 0:
		c.Refuse("results", "are still blank: write at least one")
		return
	case len(b.Results) > mostFigures:
		c.Refuse("results", "are more than %d", mostFigures)
		return
	}
	seen := map[water.Substance]bool{}
	for _, r := range b.Results {
		if seen[r.What] {
			c.Refuse("results", "hold %s twice", quote(string(r.What)))
		}
		seen[r.What] = true
	}
	if fluid := b.Edition == water.Fluid2019; fluid != (sample.Point == water.PointFluid) {
		c.Refuse("edition", "%s does not go with a sample of %s", b.Edition, sample.Point)
	}
	judged, err := u.judge(b, c.House.placed(c.Entry).place) // a correction by what held in the place of the first
	if err != nil {
		c.figureError(err)
		return
	}
	if _, told := b.Method(); seen[water.ViableCount] && (!told || b.Medium == "" || b.Celsius == nil || b.Days == 0 || b.Plated == nil) {
		c.Refuse("medium", "with its temperature, days and volume is needed for a count: ask the laboratory, since the method decides the count as much as the water does")
	}
	if len(b.Judged) > 0 && !sameJSON(b.Judged, judged) {
		c.Refuse("judged", "is not what the limits in force give; make it again")
	}
	c.farOff(judged)
	c.heldTo(b, sample.Point)
	if slices.ContainsFunc(judged, func(j water.Judgement) bool { return j.Verdict != water.Within }) && unit.Legible(b.Owner) == 0 {
		c.Refuse("owner", "is still blank: not every figure lies within its limit, so somebody has to see to it")
	}
}

// farOff asks about a figure so far from its limit that a wrong unit explains
// it better: micrograms for milligrams make a thousand.
func (c *Checker) farOff(judged []water.Judgement) {
	var far []string
	for _, j := range judged {
		ratio := j.InUnit / j.Limit.Max
		chemical := j.Limit.Unit == water.MgPerL
		if chemical && (ratio > 100 || j.Result.Op == water.Equal && ratio > 0 && ratio < 0.001) {
			far = append(far, j.Result.What.Label()+" "+strconv.FormatFloat(j.Result.Value, 'g', -1, 64)+" "+string(j.Result.Unit))
		}
	}
	if len(far) > 0 {
		c.Ask("laboratory", "reports %s, which is very far from the limit: is the unit right? If it is, type the laboratory's name again", strings.Join(far, ", "))
	}
}

func (c *Checker) figureError(err error) {
	var input *unit.InputError
	if errors.As(err, &input) {
		what, _, _ := strings.Cut(err.Error(), ":")
		c.Refuse("results", "%s: %s is not accepted: needs %s", what, input.Got, input.Want)
		return
	}
	c.Refuse("results", "%s", err)
}

func sameJSON(a, b any) bool {
	x, err1 := json.Marshal(a)
	y, err2 := json.Marshal(b)
	return err1 == nil && err2 == nil && string(x) == string(y)
}

func checkTaskClosed(c *Checker) {
	b := c.Entry.Body.(*TaskClosed)
	j := c.House.Upkeep.Result(b.Result)
	carbon := func(f CarbonFailure) bool { return f.ID == b.Result }
	switch {
	case j == nil && (c.Entry.Corrects != "" || slices.ContainsFunc(c.House.CarbonFailures(c.Entry.At), carbon)):
		// A first carbon that let chlorine through is put away in the same way.
	case j == nil:
		c.Refuse("result_id", "%s is no result in this record", quote(b.Result))
	case j.Struck != nil && c.Entry.Corrects == "":
		c.Refuse("result_id", "names a result that was struck out or corrected since; look at the one that stands")
	case j.Stands():
		c.Refuse("result_id", "left nothing to see to")
	case j.Closed != nil && j.Closed.ID != c.Entry.Corrects:
		c.Refuse("result_id", "was followed up already")
	}
	c.said("did", b.Did, "what was done")
	c.said("told", b.Told, "whom you told, and what was said")
}

func checkSetBy(c *Checker) {
	b := c.Entry.Body.(*WaterRules)
	c.blank("set_by", b.SetBy)
	c.days(b.SetOn, "set_on")
	if b.IdleNone && b.MaxIdle != nil {
		c.Refuse("idle_none", "is ticked, but a time is written; leave out the one or the other")
	}
	if b.Edition == water.Fluid2019 {
		c.Refuse("edition", "is of dialysis fluid; needs a table of water")
	}
}

func checkWaterLimit(c *Checker) {
	b := c.Entry.Body.(*WaterLimit)
	c.blank("set_by", b.SetBy)
	c.days(b.SetOn, "set_on")
	e, err := water.FindEdition(water.DefaultEdition)
	if err == nil {
		_, err = e.WithUnit(b.SetBy, b.SetOn.String(), water.Limit{
			What: water.Substance(b.What), Use: water.Use(b.Use), Max: b.Max.Float(), Action: b.Action.Float(), Unit: water.Unit(b.Unit),
		})
	}
	if err != nil {
		c.refuseError("max", err)
	}
}

func checkResidue(c *Checker) {
	b := c.Entry.Body.(*ResidualTest)
	if !b.Expiry.IsZero() && b.Expiry.Before(unit.DateOf(c.Entry.At)) {
		c.Ask("expiry", "was %s: an expired strip shows nothing, and the start line will ask again. If it was used all the same, type the date again", b.Expiry.Long())
	}
}

func checkNotice(c *Checker) {
	b := c.Entry.Body.(*UtilityNotice)
	if !b.To.IsZero() && b.To.Before(b.From) {
		c.Refuse("to", "lies before the day it began")
	}
	c.said("words", b.Words, "what is done to the water, or what was seen")
	if b.About == "" {
		return
	}
	about := c.House.Newest(b.About)
	switch i := slices.IndexFunc(c.House.Upkeep.Notices, func(d Dated[UtilityNotice]) bool { return d.ID == about && d.Struck == nil && d.Value.About == "" }); {
	case i < 0:
		c.Refuse("about", "%s is no notice in this record", quote(b.About))
	case b.To.IsZero():
		c.Refuse("to", "is still blank: the last day of it")
	case b.To.Before(c.House.Upkeep.Notices[i].Value.From):
		c.Refuse("to", "lies before the day it began")
	}
}
