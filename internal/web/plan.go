package web

import (
	"errors"
	"net/http"
	"net/url"
	"strconv"
	"time"

	"ebbline/fluid"
	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
	"ebbline/unit"
)

// planBody is the weigh-in and plan page: every term, the numbers to dial in,
// and the plan itself as the form sends it back.
type planBody struct {
	Session *session.Session
	Base    string
	Plan    *session.Plan
	Why     string // why there is none
	WhyLink string
	Form    form           // carries every term, hidden
	Adjust  form           // what the person may choose: drinks, saline, length
	Agreed  bool           // this very plan is agreed
	Unit    []report.Phone // the unit's numbers, where the weight is one to ring about

	No    string // why no plan is made here: the unit's paper is typed in its place
	Typed string // what was typed from it

	Longer, Less string   // the same plan over more time, and with less to remove
	StudiedIn    []string // the papers behind the small line of the plan
}

func (s *server) planPage(v visit) (view, error) { return asked(s.planForm)(v) }

func (s *server) planForm(v visit, fill func(form) form) (view, error) {
	base := sessionURL(v.Request)
	b := planBody{Session: v.session, Base: base}
	made := view{page: "plan", title: "Weight and plan", here: "session"}
	if no := v.noPlan(); no != nil {
		b.paper(v, no, fill)
		made.body = b
		return made, nil
	}
	if !v.session.Has("weigh_in") {
		b.Why, b.WhyLink = "There is no weight yet.", base+"/weigh_in?next="+base+"/plan"
		made.body = b
		return made, nil
	}
	choices, problem := choose(v.Request)
	if agreed, _ := session.Last[session.AgreedPlan](v.session); agreed != nil && choices == (session.Choices{}) && session.PlanAgain(v.session, v.now) == "" {
		choices = record.ChoicesOf(agreed) // opened again, the page shows what was agreed
	}
	plan, err := session.MakePlan(v.session, choices, v.member.History(v.session), v.now)
	if err != nil && choices.SetGoal != nil { // more than these terms let through
		if v.Method != http.MethodPost {
			problem = err.Error()
		}
		choices.SetGoal = nil
		plan, err = session.MakePlan(v.session, choices, v.member.History(v.session), v.now)
	}
	if err != nil {
		b.Why, b.WhyLink = "No plan can be made: "+err.Error(), base
		made.body = b
		return made, nil
	}
	b.Plan, b.StudiedIn = &plan, session.StudiedIn()
	b.ways(&plan)
	if u, ok := v.house.Unit.Now(); ok && plan.Dry.Level == fluid.DryStop {
		u.Ambulance, u.Technician = "", ""
		b.Unit = household.Phones(u)
	}
	agreed, _ := session.Last[session.AgreedPlan](v.session)
	// What was sent and is back on this page was not taken, whatever was agreed before.
	b.Agreed = v.Method != http.MethodPost && agreed != nil && session.Agree(plan, planFormOf(plan, agreed, v.session)) == nil
	kind, _ := record.Find("plan")
	f := newForm(kind, base+"/plan", nil)
	f.Hidden = map[string]string{}
	for _, field := range kind.Fields {
		f.Hidden[field.Key] = field.Typed(&plan.AgreedPlan)
	}
	f = f.strange(&plan.AgreedPlan, v.Method == http.MethodPost)
	f.Submit = "I agree to this plan"
	f.Next = base + "/read_back"
	f = f.onPaper(v.session)
	b.Form = fill(f)
	if problem != "" {
		b.Form.Problem = problem
	}
	a := newForm(kind, base+"/plan", map[string]string{
		"intake_ml": plan.Intake.String(), "saline_ml": plan.Saline.String(), "length_min": plan.Length.String(), "set_goal_ml": chosen(choices),
	}).only("intake_ml", "saline_ml", "length_min", "set_goal_ml")
	for i := range a.Inputs {
		if a.Inputs[i].Key == "set_goal_ml" {
			a.Inputs[i].Label = "To dial in, where it is less than the goal"
			if plan.Afterwards {
				a.Inputs[i].Label = "Dialled in, where it was another"
			}
		}
	}
	b.Adjust = a
	made.body = b
	return made, nil
}

// ways are the addresses of the two plans that bring a rate down.
func (b *planBody) ways(p *session.Plan) {
	if p.RateSaid == nil || !p.RateSaid.Stop {
		return
	}
	same := func(length unit.Minutes, goal string) string {
		q := url.Values{"intake_ml": {p.Intake.String()}, "saline_ml": {p.Saline.String()}, "length_min": {length.String()}}
		if goal != "" {
			q.Set("set_goal_ml", goal)
		}
		return b.Base + "/plan?" + q.Encode()
	}
	b.Longer, b.Less = same(p.RateSaid.Longer, ""), same(p.Length, p.RateSaid.Less.String())
}

// chosen is what the person chose to dial in, blank where it is the goal.
func chosen(c session.Choices) string {
	if c.SetGoal == nil {
		return ""
	}
	return c.SetGoal.String()
}

// strange leaves in the fields of a plan that are asked about, once it was
// sent: they are typed a second time like any other. The rest stays hidden.
func (f form) strange(plan *session.AgreedPlan, sent bool) form {
	var asked []string
	for _, in := range f.Inputs {
		if sent && in.Strange(plan) {
			asked = append(asked, in.Key)
			delete(f.Hidden, in.Key)
		}
	}
	return f.only(asked...)
}

// planFormOf is the agreed plan as the page would send it.
func planFormOf(plan session.Plan, agreed *session.AgreedPlan, one *session.Session) session.PlanForm {
	f := plan.Form(one.Rx)
	f.AgreedPlan = *agreed
	if shown, err := one.Machine.ShowGoal(agreed.SetGoal); err == nil {
		f.GoalShown = shown
	}
	return f
}

// choose reads what the person chose for this plan: from the address when the
// page is asked for, from the form when the plan is sent.
func choose(r *http.Request) (session.Choices, string) {
	var c session.Choices
	var problem string
	read := func(key string, into func(string) error) {
		text := r.FormValue(key)
		if text == "" {
			return
		}
		if err := into(text); err != nil {
			problem = err.Error()
		}
	}
	read("intake_ml", func(t string) error { v := new(unit.Volume); c.Intake = v; return v.UnmarshalText([]byte(t)) })
	read("saline_ml", func(t string) error { v := new(unit.Volume); c.Saline = v; return v.UnmarshalText([]byte(t)) })
	read("set_goal_ml", func(t string) error { v := new(unit.Volume); c.SetGoal = v; return v.UnmarshalText([]byte(t)) })
	read("length_min", func(t string) error { v := new(unit.Minutes); c.Length = v; return v.UnmarshalText([]byte(t)) })
	if problem != "" {
		return session.Choices{}, problem
	}
	return c, ""
}

// agreePlan records the plan that the page showed. The record makes its own
// and takes the page's only when the two agree in every term.
func (s *server) agreePlan(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("plan")
	if r.PostFormValue("next") == "" {
		r.PostForm.Set("next", sessionURL(r)+"/read_back")
	}
	return s.send(w, r, kind, s.planForm)
}

// readBackBody asks what the machine shows.
type readBackBody struct {
	Session *session.Session
	Base    string
	Plan    *session.AgreedPlan
	Goal    string // as the machine should show it
	Digits  string
	Length  string
	Form    form
	Differ  []session.Difference
	Again   string // why the plan no longer stands
	Shown   *session.ReadBack
}

func (s *server) readBackPage(v visit) (view, error) { return asked(s.readBackForm)(v) }

func (s *server) readBackForm(v visit, fill func(form) form) (view, error) {
	base := sessionURL(v.Request)
	b := readBackBody{Session: v.session, Base: base}
	plan, planned := session.ToDial(v.session)
	if plan == nil {
		return s.planForm(v, func(f form) form { return f })
	}
	b.Plan, b.Again = plan, session.PlanAgain(v.session, v.now)
	b.Goal, _ = v.session.Machine.ShowGoal(plan.SetGoal)
	b.Length = span(time.Duration(plan.Length) * time.Minute)
	kind, _ := record.Find("read_back")
	f := newForm(kind, base+"/read_back", nil).only("shown", "machine_length_min")
	for i := range f.Inputs {
		if f.Inputs[i].Key == "shown" {
			in := &f.Inputs[i]
			in.Label, in.Measured = "Fluid goal, as the machine shows it", true
			in.Unit = v.session.Machine.GoalUnit
			if showsLitres(v.session.Machine) {
				in.Places = v.session.Machine.GoalDecimals
			}
		}
	}
	f.Submit, f.Next, f.Back = "This is what it shows", base, base
	f = f.onPaper(v.session)
	b.Form = fill(f)
	if shown, e := session.Last[session.ReadBack](v.session); shown != nil {
		if !e.At.Before(planned.At) {
			b.Shown = shown
			if _, d, err := session.CompareGoal(*plan, v.session.Machine, shown.Shown); err == nil && d != nil {
				b.Differ = append(b.Differ, *d)
			}
			if shown.Length != nil {
				if d := session.CompareLength(*plan, *shown.Length); d != nil {
					b.Differ = append(b.Differ, *d)
				}
			}
		}
	}
	return view{page: "readback", title: "Read back", here: "session", body: b}, nil
}

// readBack records what the machine shows. Typed in the machine's own unit, it
// is turned into millilitres here; a difference stays on the page.
func (s *server) readBack(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("read_back")
	differs := false
	var unread *unit.InputError
	if err := s.look(r, func(v visit) error {
		plan, _ := session.ToDial(v.session)
		goal, err := v.session.Machine.ReadGoal(r.PostFormValue("shown"))
		if err != nil || plan == nil {
			errors.As(err, &unread)
			return nil
		}
		r.PostForm.Set("machine_goal_ml", strconv.FormatInt(int64(goal), 10))
		_, d, _ := session.CompareGoal(*plan, v.session.Machine, r.PostFormValue("shown"))
		differs = d != nil
		var length unit.Minutes
		if err := length.UnmarshalText([]byte(r.PostFormValue("machine_length_min"))); err == nil {
			differs = differs || session.CompareLength(*plan, length) != nil
		}
		return nil
	}); err != nil {
		return err
	}
	r.PostForm.Set("next", sessionURL(r))
	if differs {
		r.PostForm.Set("next", sessionURL(r)+"/read_back")
	}
	e, found := s.read(r, kind)
	if unread != nil && r.PostFormValue("shown") != "" { // a blank field says so by itself
		found = append(dropField(found, "machine_goal_ml"), record.Finding{
			Field: "shown", Step: record.Refuse, Words: refusal(unread),
		})
	}
	return s.settle(w, r, e, found, s.readBackForm)
}

func whole(n int) string {
	if n == 0 {
		return ""
	}
	return strconv.Itoa(n)
}
