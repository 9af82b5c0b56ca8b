package record

import (
	"errors"
	"slices"
	"strings"

	"ebbline/fluid"
	"ebbline/session"
	"ebbline/unit"
)

func checkWeighIn(c *Checker) {
	w := c.Entry.Body.(*session.WeighIn)
	if w.Clothing >= w.Weight {
		c.Refuse("clothing_kg", "cannot weigh as much as the person")
		return
	}
	if c.Session.Rx == nil {
		c.Refuse("kind", "there is no prescription to weigh against")
		return
	}
	judged, err := c.judgeWeight(w)
	if err != nil {
		c.Refuse("weight_kg", "%s", err)
		return
	}
	d := doubtOf(w, judged)
	switch judged.Verdict {
	case fluid.Refuse:
		c.doubt(Refuse, d)
	case fluid.Ask:
		d.Do = "Step on the scale again, then type what it shows"
		c.doubt(Ask, d)
	}
	if h := c.Member.History(c.Session); h.Scale != "" && !session.SameScale(h.Scale, w.Scale) {
		c.Ask("scale", "is another one than last time (%s): a new scale needs a side-by-side weighing. If it is right, type it again", h.Scale)
	}
}

// checkPlan makes the plan again from the record and takes the one that was
// sent only when the two agree in every term.
func checkPlan(c *Checker) {
	sent := c.Entry.Body.(*session.AgreedPlan)
	if c.Session.Phase() != session.SettingUp && c.Entry.Corrects == "" && !c.paper() {
		c.Refuse("kind", "the treatment has begun; write down a changed goal instead")
		return
	}
	own, err := session.MakePlan(c.Session, ChoicesOf(sent), c.Member.History(c.Session), c.Entry.At)
	if no := (*session.NoPlan)(nil); errors.As(err, &no) {
		c.Refuse("kind", "no plan is made here. %s", strings.TrimSuffix(no.Words(), "."))
		return
	}
	if err != nil {
		c.refuseError("goal_ml", err)
		return
	}
	if own.WeighAgain && !c.paper() {
		c.Refuse("pre_weight_kg", "is more than an hour old: weigh again")
	}
	form := own.Form(c.Session.Rx)
	form.AgreedPlan = *sent
	var differ *fluid.Disagreement
	if err := session.Agree(own, form); errors.As(err, &differ) {
		c.Refuse(differ.Field, "is %s by the record and %s by what was sent; neither may be used. Make the plan again", differ.Planned, differ.Rechecked)
	} else if err != nil {
		c.refuseError("goal_ml", err)
	}
}

// ChoicesOf returns what the person chose when this plan was made; everything
// else in it follows from the record.
func ChoicesOf(p *session.AgreedPlan) session.Choices {
	return session.Choices{Intake: &p.Intake, Saline: &p.Saline, Length: &p.Length, SetGoal: &p.SetGoal}
}

func (c *Checker) refuseError(field string, err error) {
	var input *unit.InputError
	if errors.As(err, &input) {
		if input.Field != "" {
			field = input.Field
		}
		c.Refuse(field, "%s is not accepted: needs %s", input.Got, input.Want)
		return
	}
	c.Refuse(field, "%s", err)
}

// paper reports whether the session is typed in from paper or was held elsewhere:
// then what happened is written down, not guarded.
func (c *Checker) paper() bool {
	if c.Session == nil {
		return false
	}
	o, _ := c.Session.Opened()
	return o.Afterwards()
}

func checkReadBack(c *Checker) {
	b := c.Entry.Body.(*session.ReadBack)
	if plan, _ := session.ToDial(c.Session); plan == nil {
		c.Refuse("kind", "no plan is agreed yet")
		return
	}
	goal, err := c.Session.Machine.ReadGoal(b.Shown)
	if err != nil {
		c.refuseError("shown", err)
	} else if goal != b.Goal {
		c.Refuse("machine_goal_ml", "%s is not what %s means on this machine", b.Goal.Text(), quote(b.Shown))
	}
}

func checkOverride(c *Checker) {
	b := c.Entry.Body.(*session.Override)
	if !session.GoodReason(b.Reason) {
		c.Refuse("reason", "is too short: say in a sentence why you go on (at least %d characters)", session.ReasonLength)
	}
	for _, line := range c.startLine() {
		if line.ID == b.Check {
			return
		}
	}
	c.Refuse("check", "%s is not a check of the start line", quote(b.Check))
}

// checkConnected lets no treatment begin by any road while a check of the
// start line is neither ready nor passed with a reason.
func checkConnected(c *Checker) {
	if ended, over := c.Session.Ended(); over && c.Entry.At.After(ended) {
		c.Refuse("at", "lies after the treatment ended at %s", ended.Format("15:04"))
	}
	c.bloodFlow(c.Entry.Body.(*session.Connected).BloodFlow)
	if c.paper() || c.Entry.Corrects != "" {
		return
	}
	for _, line := range session.HoldingUp(c.startLine()) {
		c.Refuse("kind", "%s: %s", line.Title, strings.TrimSuffix(line.Words, "."))
	}
	if c.found.Refused() || !c.Entry.At.Before(c.Entry.Written) {
		return
	}
	// A start that is dated back must not pass what has come to light since.
	for _, line := range session.Stopped(session.StartLine(c.Session, c.Member.History(c.Session), c.Entry.Written)) {
		if line.Since.After(c.Entry.At) && !line.Since.After(c.Entry.Written) {
			c.Refuse("kind", "%s, written since: %s", line.Title, strings.TrimSuffix(line.Words, "."))
		}
	}
}

// startLine is the start line as it stands at the moment of the entry.
func (c *Checker) startLine() []session.Check {
	return session.StartLine(c.Session, c.Member.History(c.Session), c.Entry.At)
}

func checkHeparin(c *Checker) {
	b := c.Entry.Body.(*session.HeparinDrawn)
	if c.Session.Rx == nil {
		return
	}
	rx := c.Session.Rx
	c.volume("bolus_ml", b.Bolus, b.Strength, b.BolusVol)
	c.volume("line_ml", b.Line, b.Strength, b.LineVol)
	if rx.NoHeparin() {
		c.noHeparin(b)
		return
	}
	if rx.HepBolus != nil && b.Bolus != *rx.HepBolus {
		c.Ask("bolus_iu", "%s IU is not the prescribed %s IU. If it is what was drawn up, type it again", b.Bolus, rx.HepBolus)
	}
	if again := session.LabelAgain(rx, *b, c.Member.History(c.Session).Strength); again != "" {
		c.Refuse("label_read_again_iu_ml", "is needed: %s", strings.TrimSuffix(again, "."))
	}
}

// checkLock asks for a second typing of what is another than ordered or, where the
// unit ordered none, than last time (hazard H-141). It is taken then, and stops at
// the start line.
func checkLock(c *Checker) {
	b := c.Entry.Body.(*session.CatheterLock)
	if b.Strength == nil && b.Content == nil {
		c.Refuse("strength_percent", "is still blank: type the strength on the vial, in per cent or in IU/mL")
	}
	rx := c.Session.Rx
	if rx == nil {
		return
	}
	for _, d := range session.LockDifferences(rx.OrderedLock, b, c.Member.History(c.Session).Lock) {
		was := "last time it was"
		if d.Ordered {
			was = "ordered is"
		}
		for _, key := range d.Keys {
			c.Ask(key, "%s, %s %s. Read it again, aloud; if it is right, type it again", d.Got, was, d.Other)
		}
	}
}

// volume holds a drawn volume against dose ÷ strength, to the hundredth of a
// millilitre a syringe can show.
func (c *Checker) volume(key string, dose unit.Dose, strength unit.Strength, drawn unit.Drawn) {
	if want := drawn.Near(float64(dose) / float64(strength)); want != drawn {
		c.Refuse(key, "%s is not %s at %s, which is %s", drawn.Text(), dose.Text(), strength.Text(), want.Text())
	}
}

func checkAnaesthetic(c *Checker) {
	b := c.Entry.Body.(*session.AnaestheticDrawn)
	if c.Session.Rx == nil {
		return
	}
	sum, err := session.SumAnaesthetic(c.with())
	switch {
	case err != nil:
		c.refuseError("volume_ml", err)
	case sum.Over:
		c.Refuse("volume_ml", "%s is too much: %s (%s)", b.Volume.Text(), sum.Words, sum.Whose)
	}
}

// with returns a copy of the session in which the entry stands already.
func (c *Checker) with() *session.Session {
	s := *c.without()
	s.Log = slices.Clone(s.Log)
	s.Add(event(c.House.placed(c.Entry)))
	return &s
}

// without returns the session without what the entry corrects.
func (c *Checker) without() *session.Session {
	if c.Entry.Corrects == "" {
		return c.Session
	}
	s := *c.Session
	s.Log = slices.Clone(s.Log)
	s.Remove(c.Entry.Corrects)
	return &s
}
