package record

import (
	"slices"
	"strings"
	"time"
	"unicode/utf8"

	"ebbline/session"
	"ebbline/unit"
)

// checkFitness keeps a phone call from being ticked without a word of what was said
// or with nobody at the other end, and a no to everything from standing beside a yes.
func checkFitness(c *Checker) {
	b := c.Entry.Body.(*session.Fitness)
	if b.None && b.Any() {
		c.Refuse("none_of_these", "cannot be: something is ticked. Untick what is gone, or press Save")
	}
	if len(strings.TrimSpace(b.Rang)) > 0 && utf8.RuneCountInString(b.Rang) < 3 {
		c.Refuse("rang", "is too short: whom, and what was said")
		return
	}
	c.reached("rang", b.Rang)
}

// checkStep asks for the word that goes with a step: who else is in the house.
func checkStep(c *Checker) {
	b := c.Entry.Body.(*session.StepDone)
	if b.Step == session.NightHouse && b.State == session.StepIsDone && unit.Legible(b.Note) == 0 {
		c.Refuse("note", "is still blank: write who else is in the house, or “nobody”")
	}
}

// before are the kinds that belong before a treatment or into it, the ones of
// setting up that are not Live.
var before = func() map[string]bool {
	m := map[string]bool{}
	for _, k := range setUpKinds() {
		m[k.Name] = k.Name != "session_opened"
	}
	return m
}()

// wellBefore is how long before a session was opened something that belongs to
// it may have happened: the water was tested, the scale stood on, the page not
// yet opened.
const wellBefore = 3 * time.Hour

// belongs keeps a typed time from landing on the evening before: a clock face
// a few minutes ahead of the present is taken for yesterday’s.
func (c *Checker) belongs() {
	if opened, at := c.Session.Opened(); opened.Source == "live" && c.Entry.At.Before(at.Add(-wellBefore)) {
		c.Refuse("at", "lies on %s, long before this session was opened at %s", c.Entry.At.Format("2 January at 15:04"), at.Format("15:04 on 2 January"))
	}
}

// isOver keeps what is done before a treatment out of a session that has had
// its treatment: the page of an older session, left open on a screen, would
// otherwise take today's weight. With the time it happened it still goes in.
func (c *Checker) isOver() {
	if !before[c.Entry.Kind] || c.paper() {
		return
	}
	if s, ok := c.Entry.Body.(*session.StepDone); ok && s.Phase != session.SetUp {
		return
	}
	if c.Entry.Kind == "catheter_lock" && c.locksAfter() {
		return
	}
	end, over := c.Session.Ended()
	if closed, e := session.Last[session.Closed](c.Session); closed != nil && !over {
		end, over = e.At, true
	}
	if over && c.Entry.At.After(end) {
		c.Refuse("at", "lies after this session ended on %s. Is this an older page? Go to today’s session; for this one, type the time when it happened", end.Format("2 January at 15:04"))
		return
	}
	if began, ok := c.Session.Began(); ok && c.Entry.Kind == "weigh_in" && c.Entry.At.After(began) {
		c.Refuse("at", "lies after the treatment began at %s; the weight before is taken before it", began.Format("15:04"))
	}
}

// lockedWithin is how long after the end of a treatment the lock of its catheter may be
// written. Ours.
const lockedWithin = 3 * time.Hour

// locksAfter reports whether a lock is one that was given at the end of a treatment: it is
// written then and not before the start. Once the session is closed it is written late,
// with the time when it was given: what happens just now belongs to no closed session.
func (c *Checker) locksAfter() bool {
	end, over := c.Session.Ended()
	if closed, e := session.Last[session.Closed](c.Session); closed != nil && c.Entry.At.After(e.At) && c.Entry.Written.Sub(c.Entry.At) < forgotten {
		return false
	}
	return over && c.Session.Treated() && !c.Entry.At.After(end.Add(lockedWithin))
}

// forgotten is how long ago something lies at least that was forgotten and is written
// late: a clock that is typed has no seconds. Ours.
const forgotten = time.Minute

func checkVitalsBefore(c *Checker) {
	b := c.Entry.Body.(*session.VitalsBefore)
	c.pair(b.SitSystolic, b.SitDiastolic, "sitting_diastolic_mmhg")
	c.pair(b.StandSystolic, b.StandDiastolic, "standing_diastolic_mmhg")
	c.pair(b.LieSystolic, b.LieDiastolic, "lying_diastolic_mmhg")
	if b.CannotStand && b.StandSystolic != nil {
		c.Refuse("cannot_stand", "is ticked, but a standing pressure is written; leave out the one or the other")
	}
	if b.NoThermometer && b.Temperature != nil {
		c.Refuse("no_thermometer", "is ticked, but a temperature is written; leave out the one or the other")
	}
	if !b.CannotStand && !b.NoThermometer { // either is an answer by itself
		c.something("sitting_systolic_mmhg")
	}
}

func checkVitalsAfter(c *Checker) {
	b := c.Entry.Body.(*session.VitalsAfter)
	c.pair(b.LieSystolic, b.LieDiastolic, "lying_diastolic_mmhg")
	c.pair(b.StandSystolic, b.StandDiastolic, "standing_diastolic_mmhg")
	c.something("lying_systolic_mmhg")
}

// checkHolding refuses an entry that says nothing: it would close the question
// of how long each site was held.
func checkHolding(c *Checker) { c.something("arterial_min") }

// pair holds a lower pressure against its upper one: read off one cuff they
// are at least 10 mmHg apart.
func (c *Checker) pair(upper, lower *unit.Pressure, key string) {
	switch {
	case upper == nil && lower != nil:
		c.Refuse(key, "stands alone; write the upper pressure too")
	case upper != nil && lower != nil && *lower > *upper-10:
		c.Refuse(key, "%s is not 10 or more below the upper pressure of %s", lower, upper)
	}
}

// something refuses an entry in which nothing at all was written.
func (c *Checker) something(field string) {
	for _, f := range c.Kind.Fields {
		if _, given := f.Of(c.Entry.Body); given && f.Type() != TypeYesNo {
			return
		}
	}
	if len(c.Entry.Missing) == 0 {
		c.Refuse(field, "and all the others are still blank")
	}
}

// jump is a change of blood pressure from one reading to the next that a slip
// explains more often than a body does.
const jump = 40

func checkReading(c *Checker) {
	b := c.Entry.Body.(*session.Reading)
	// Who is always under 100 is not asked at every reading.
	if b.Systolic != nil && *b.Systolic < 100 && session.NearStart(c.Session, *b.Systolic, c.Entry.At) {
		c.found = slices.DeleteFunc(c.found, func(f Finding) bool { return f.Field == "systolic_mmhg" && f.Step == Ask })
	}
	c.pair(b.Systolic, b.Diastolic, "diastolic_mmhg")
	if !b.Irregular { // that is a reading by itself
		c.something("systolic_mmhg")
	}
	if b.Arterial != nil && *b.Arterial > 0 {
		c.Ask("arterial_mmhg", "%s is above zero; is it minus? If it is right, type it again", b.Arterial)
	}
	c.apart(b)
	before := c.readingBefore()
	if b.Systolic != nil && before.Systolic != nil && !c.asks("systolic_mmhg") { // one question is enough
		if d := *b.Systolic - *before.Systolic; d > jump || d < -jump {
			c.askRight("systolic_mmhg", "%s was %s at the last reading", b.Systolic, before.Systolic)
		}
	}
	c.removedSoFar(b)
	c.given(b.Given, b.Removed, b.Again)
	if b.Venous != nil && *b.Venous < 50 && b.BloodFlow != nil && *b.BloodFlow > 200 {
		look := c.Session.Rx.InWords("Look at the {needles|connections} and lines first")
		c.Ask("venous_mmhg", "%s is low for a blood flow of %s. %s; if it is right, type it again", b.Venous, b.BloodFlow, look)
	}
	c.bloodFlow(b.BloodFlow)
}

// bloodFlow asks about a blood flow that lies more than a fifth away from the ordered
// one, once for each value: a reading of what the start was confirmed with is not asked.
func (c *Checker) bloodFlow(read *unit.Flow) {
	if c.Session.Rx == nil || read == nil || c.asks("blood_flow_ml_min") {
		return
	}
	began := false
	session.Each(c.Session, func(b *session.Connected, e *session.Event) {
		began = began || e.ID != c.Entry.Corrects && b.BloodFlow != nil && *b.BloodFlow == *read
	})
	if set := c.Session.Rx.BloodFlow; !began && (*read*5 < set*4 || *read*5 > set*6) {
		c.askOnce("blood_flow_ml_min", "%s is more than a fifth away from the prescribed %s. If it is right, type it again", read, set)
	}
}

// farApart is how far the two blood pressures of a reading may lie apart before a digit
// of one of them is taken for a slip, in mmHg. Ours: 40 to 60 is usual, and stiff
// arteries reach 100.
const farApart = 120

// apart asks about an upper pressure that lies far over the lower one: 174/41 may be
// 74/41.
func (c *Checker) apart(b *session.Reading) {
	if b.Systolic == nil || b.Diastolic == nil || c.asks("systolic_mmhg") {
		return
	}
	if d := *b.Systolic - *b.Diastolic; d > farApart {
		c.askRight("systolic_mmhg", "%s over %s is %d apart. Measure again if you can", b.Systolic, b.Diastolic, d)
	}
}

// asks reports whether something about a value is asked already.
func (c *Checker) asks(field string) bool {
	return slices.ContainsFunc(c.found, func(f Finding) bool { return f.Field == field && f.Step == Ask })
}

// askOnce asks unless the same value was asked about and stood by earlier in
// this session: a pump turned down for the night is not questioned every hour.
func (c *Checker) askOnce(field, format string, args ...any) {
	f, _ := c.Kind.Field(field)
	now := f.Text(c.Entry.Body)
	for i := range c.Session.Log {
		e := &c.Session.Log[i]
		if e.Kind == c.Kind.Name && e.Struck == nil && !e.At.After(c.Entry.At) && f.Text(e.Body) == now {
			return
		}
	}
	c.Ask(field, format, args...)
}

// readingBefore gathers the last value of each pressure before this reading.
func (c *Checker) readingBefore() session.Reading {
	var last session.Reading
	session.Each(c.Session, func(r *session.Reading, e *session.Event) {
		if e.At.After(c.Entry.At) || e.ID == c.Entry.Corrects {
			return
		}
		if r.Systolic != nil {
			last.Systolic = r.Systolic
		}
	})
	return last
}

func checkPause(c *Checker) {
	if c.pausedAt() {
		c.Refuse("kind", "the treatment is paused already")
	}
}

func checkResume(c *Checker) {
	if !c.pausedAt() {
		c.Refuse("kind", "the treatment is not paused")
	}
}

// pausedAt reports whether the treatment stands still at the entry's moment.
func (c *Checker) pausedAt() bool {
	paused := false
	for _, e := range c.Session.Log {
		if e.Struck != nil || e.At.After(c.Entry.At) || e.ID == c.Entry.Corrects {
			continue
		}
		switch e.Body.(type) {
		case *session.Pause:
			paused = true
		case *session.Resume:
			paused = false
		}
	}
	return paused
}

func checkGoalChanged(c *Checker) {
	b := c.Entry.Body.(*session.GoalChanged)
	if done := session.Counted(c.without(), c.Entry.At); b.Goal < done.Removed {
		c.Ask("goal_ml", "%s mL is less than the %s mL removed already. Is it in litres? If the machine shows it, type it again", b.Goal, done.Removed)
	}
	if b.Unit != "" {
		c.unitsWord("unit_said", b.Unit, "who of your unit", "so")
	}
	if rx := c.Session.Rx; rx != nil && rx.MaxRemoval != nil && b.Goal > *rx.MaxRemoval {
		c.Ask("goal_ml", "%s mL is above the %s mL your unit set on %s. If the machine shows it, type it again", b.Goal, rx.MaxRemoval, rx.SetOn.Long())
	}
	if words := session.AgainstChange(c.without(), b, c.Entry.At); words != "" {
		c.Ask("goal_ml", "%s If the machine shows it, type it again", words)
	}
}

func checkCameOff(c *Checker) {
	b := c.Entry.Body.(*session.CameOff)
	began, ok := c.Session.Began()
	switch {
	case !ok:
		c.Refuse("kind", "the treatment has not begun")
	case c.Entry.At.Before(began):
		c.Refuse("at", "lies before the treatment began at %s", began.Format("15:04"))
	}
	if b.Returned == "all" && b.Washback == nil && c.Entry.Missing["washback_ml"] == "" {
		c.Refuse("washback_ml", "is still blank")
	}
	c.bloodBack(b)
	c.given(b.Given, b.Removed, false)
	if b.Removed == nil {
		return
	}
	s := c.without()
	before := session.Counted(s, c.Entry.At)
	if *b.Removed < before.Shown {
		c.Ask("removed_ml", "%s is less than the %s of the last reading. If it is right, type it again", b.Removed, before.Shown)
	}
	total, told := before.With(b)
	if run, under := session.Follow(s, c.Entry.At); told && under && run.Expected != nil {
		if most := *run.Expected*5/4 + 300; total > most {
			c.Ask("removed_ml", "%s is far above what the plan would have taken off by now. If the machine shows it, type it again", b.Removed)
		}
	} else if told && under && run.Goal > 0 && total > run.Goal*5/4+300 { // of a profile, which has no line
		c.Ask("removed_ml", "%s is far above the goal of %s. If the machine shows it, type it again", b.Removed, run.Goal.Text())
	}
}

// far is how far a weight after may lie from what was expected before it is
// asked about.
const far = 1500 // g

// farFor is the same for the person of a session: under [session.LightWeight] so much
// less as the dry weight is. Ours.
func farFor(s *session.Session) unit.Mass {
	if s.Rx == nil || s.Rx.DryWeight <= 0 || s.Rx.DryWeight >= session.LightWeight {
		return far
	}
	return far * s.Rx.DryWeight / session.LightWeight
}

func checkWeighOut(c *Checker) {
	b := c.Entry.Body.(*session.WeighOut)
	if b.Weight == 0 {
		if c.Entry.Missing["weight_kg"] == "" {
			c.Refuse("weight_kg", "is still blank; type it, or say why there is none")
		}
		return
	}
	in, _ := session.Last[session.WeighIn](c.Session)
	if in == nil {
		return
	}
	if !session.SameScale(b.Scale, in.Scale) {
		c.Ask("scale", "is another one than before the session (%s); the two weights cannot be set against each other. If it is right, type it again", in.Scale)
	}
	expected := in.Weight
	if plan, _ := session.ToDial(c.Session); plan != nil {
		expected -= unit.Mass(plan.SetGoal - plan.Intake - plan.Washback - plan.Saline - plan.Flushes)
	}
	far, byGoal, removed := farFor(c.Session), abs(b.Weight-expected), ""
	if lost, known := session.LostByFluid(c.Session); known {
		expected = in.Weight - lost
		if removed = " by the " + session.RemovedInAll(c.Session).Text() + " removed"; byGoal <= far {
			removed += ", and fits the goal: read that total again too"
		}
	}
	if d := abs(b.Weight - expected); d > far {
		c.Ask("weight_kg", "%s kg is %s kg away from what was expected%s. If it is right, type it again", b.Weight, d, removed)
	}
}

func checkClosed(c *Checker) {
	b := c.Entry.Body.(*session.Closed)
	if c.Session.Treated() && !c.Session.Has("came_off") {
		c.Refuse("kind", "the treatment has not ended yet; write down how it ended first")
	}
	if b.MachineTreated == nil || !c.Session.Treated() {
		return
	}
	if treated, apart := session.TimeApart(c.Session, *b.MachineTreated, c.Entry.At); apart {
		c.Ask("machine_treated_min", "%s min, but by your entries the treatment lasted %s. Is a pause not written? If the machine shows it, type it again", b.MachineTreated, treated)
	}
}
