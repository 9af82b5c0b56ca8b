package record

import (
	"ebbline/session"
	"ebbline/unit"
)

// checkPaperPlan takes the unit's paper in the place of a plan only where none is
// made here: else it would be a way past every term that is computed and compared. Of a
// session typed in afterwards it is taken always: it happened.
func checkPaperPlan(c *Checker) {
	p := c.Entry.Body.(*session.PaperPlan)
	if c.Session.Phase() != session.SettingUp && c.Entry.Corrects == "" && !c.paper() {
		c.Refuse("kind", "the treatment has begun; write down a changed goal instead")
		return
	}
	if c.Entry.Corrects == "" && !c.paper() && c.Member.NoPlanFor(c.Session, c.Entry.Written) == nil {
		c.Refuse("kind", "is not needed: a plan can be made here. Go to “Weight and plan”")
	}
	if unit.Legible(p.From) == 0 {
		c.Refuse("from", "is still blank: write whose paper it is, and of which day")
	}
	if p.Rate != nil && int64(*p.Rate)*int64(p.Length) < int64(p.Goal)*60 {
		mean := (int64(p.Goal)*60 + int64(p.Length) - 1) / int64(p.Length)
		c.Refuse("rate_ml_h", "is too low for it to be the highest: %s in this time is %d mL/h on average", p.Goal.Text(), mean)
	}
	c.paperDialled(p)
	c.paperBeyondWeight(p)
}

// paperDialled keeps a correction after the start from saying that another goal, length
// or highest rate was on the paper than the one that was read back and started with.
func (c *Checker) paperDialled(p *session.PaperPlan) {
	began, treated := c.Session.Began()
	e := c.Session.Find(c.Entry.Corrects)
	if c.Entry.Corrects == "" || c.paper() || !treated || e == nil || e.At.After(began) {
		return
	}
	was := e.Body.(*session.PaperPlan)
	const stays = "the treatment began with that, so it stays as it is; what is set otherwise since then is a changed goal"
	if p.Goal != was.Goal {
		c.Refuse("goal_ml", "was %s: %s", was.Goal.Text(), stays)
	}
	if p.Length != was.Length {
		c.Refuse("length_min", "was %s: %s", was.Length.Text(), stays)
	}
	if was.Rate != nil && (p.Rate == nil || *p.Rate > *was.Rate) {
		c.Refuse("rate_ml_h", "was %s when the treatment began, and is not raised now: ring your unit", was.Rate.Text())
	}
}

// paperBeyondWeight asks about a goal that is further above the weight over dry weight
// than drinks, washback and flushes explain ([farFor]): one zero too many on the paper of
// a child is within every figure that is not the unit's.
func (c *Checker) paperBeyondWeight(p *session.PaperPlan) {
	in, e := session.Last[session.WeighIn](c.Session)
	if in == nil || e.Missing["weight_kg"] != "" || c.Session.Rx == nil || c.Session.Rx.DryWeight <= 0 {
		return
	}
	over := in.Weight - in.Clothing - c.Session.Rx.DryWeight
	if far := farFor(c.Session); unit.Mass(p.Goal) > max(over, 0)+far {
		c.Ask("goal_ml", "is %s, and the weight typed is %s kg %s the dry weight. Read paper and scale again; if it is right, type it again",
			p.Goal.Text(), abs(over), map[bool]string{true: "above", false: "under"}[over >= 0])
	}
}
