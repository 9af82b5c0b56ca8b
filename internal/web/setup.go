package web

import (
	"net/http"
	"slices"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
)

// setUpBody is the page of setting up: two lanes, the start line, the times.
type setUpBody struct {
	Session    *session.Session
	Base       string
	Opened     session.Opened
	At         time.Time
	Sheet      session.RunSheet
	State      session.SheetState
	Hands      []stepView
	Machine    []stepView
	Waiting    []stepView
	Done       []stepView
	Timers     []session.StepState
	Expected   session.Expected
	Start      []checkView
	Stops      bool       // a check stands at stop and was not gone past
	Stopped    []stopView // the checks that stand at stop
	Ring       string     // what the ambulance is rung about first
	Phones     []report.Phone
	UnitPhones []report.Phone // by day and at night; the ambulance too where pain in the chest was told
	Ready      bool           // every check of the start line is passed
	Connect    form
	Plan       *session.AgreedPlan
	PlanText   string // the goal as the machine wants it typed
	Again      string // why the plan no longer stands
	Off        time.Time
	Paper      bool
	Rest       []paperKind // for a paper session: what can be typed in
	Night      []stepView  // for a paper session of a night: its steps
	Allergy    string
	Catheter   bool        // no needles
	Batches    *whichBatch // asks for the batch of this session
}

// stepView is one step with what the page needs to tick it.
type stepView struct {
	session.StepState
	Link  string // to the form that ticks it
	Tick  form   // to tick it by hand
	State string
	Asks  string // a word that goes with the tick: the label of its field
	Not   string // what is said of it when it is left out
}

// stopView is a check that stands at stop, as the top of the page names it.
type stopView struct{ ID, Title, Words string }

// checkView is one check of the start line with its override form.
type checkView struct {
	session.Check
	Links    []stepLink // to the forms that answer it
	Wrong    []stepLink // to what decided a stop, where that was typed wrong
	Override form
	Rang     *form  // to write down a call, where one answers a stop
	Unit     string // where the number to ring is written, when it is not there yet
	Mark     string // the shape that stands for the state
}

// checkKinds tells which form answers a check.
var checkKinds = map[string]string{
	session.CheckFit: "fitness", session.CheckAccess: "access_check", session.CheckWeighed: "weigh_in", session.CheckVitals: "vitals_before",
	session.CheckChlorine: "chlorine", session.CheckSelfTest: "self_test", session.CheckConduct: "fluid_check", session.CheckBath: "bath_label",
	session.CheckLots: "supply", session.CheckHeparin: "heparin_drawn", session.CheckLock: "catheter_lock", session.CheckGlucose: "glucose", session.CheckPlan: "plan",
}

var marks = map[session.CheckState]string{session.Ready: "✓", session.Look: "!", session.OpenYet: "…", session.StopHere: "✕"}

func (s *server) setUpPage(v visit) (view, error) {
	one := v.session
	opened, at := one.Opened()
	base := "/p/" + v.member.ID + "/session/" + one.ID
	sheet := v.member.SetUpFor(one, v.now)
	h := v.member.History(one)
	b := setUpBody{
		Session: one, Base: base, Opened: opened, At: at, Sheet: sheet, Paper: fromPaper(one),
		Expected: session.Expect(sheet, one, h, session.PaceOf(sheet, v.member.Earlier(one)), v.now),
	}
	if p, ok := v.member.Person.Now(); ok {
		b.Allergy = p.Allergies
	}
	b.Catheter = one.Rx.ByCatheter()
	b.State = session.ProgressWith(sheet, one, h, v.now)
	b.lanes(base)
	b.nightOnPaper(v)
	b.Timers = b.State.Timers()
	checks := session.StartLine(one, h, v.now)
	b.Ready = session.AllPassed(checks)
	for _, c := range checks {
		b.Start = append(b.Start, checkOf(v, c, base))
	}
	b.Ring = session.AmbulanceFirst(checks)
	for _, c := range session.Stopped(checks) {
		b.Stopped = append(b.Stopped, stopView{c.ID, c.Title, without(c.Words, b.Ring)})
	}
	b.Stops = len(b.Stopped) > 0
	if u, ok := v.house.Unit.Now(); ok {
		u.Technician = ""
		b.Phones = household.Phones(u)
		if !session.AmbulanceToo(checks) {
			u.Ambulance = ""
		}
		b.UnitPhones = household.Phones(u)
	}
	if plan, _ := session.ToDial(one); plan != nil {
		b.Plan = plan
		b.PlanText, _ = one.Machine.ShowGoal(plan.SetGoal)
		b.Again = session.PlanAgain(one, v.now)
		b.Off = b.Expected.Median.Add(time.Duration(plan.Length) * time.Minute)
	} else if one.Rx != nil {
		if length, _, err := one.Rx.SessionLength(); err == nil {
			b.Off = b.Expected.Median.Add(time.Duration(length) * time.Minute)
		}
	}
	kind, _ := record.Find("connected")
	b.Connect = newForm(kind, base+"/connected", nil).only("blood_flow_ml_min")
	b.Connect.Submit = "Lines joined, pump started"
	b.Connect = b.Connect.onPaper(one)
	b.Rest, b.Batches = restOfPaper(one), batchAsked(v, base)
	title := "Setting up"
	if b.Paper {
		title = "Typing in a session"
	}
	return view{page: "setup", title: title, here: "session", body: b}, nil
}

// without takes out of a check's words what the ambulance is rung about, which stands
// above them already: as it is said there, and as another check ends it sooner.
func without(words, ring string) string {
	if ring == "" {
		return words
	}
	short, _, _ := strings.Cut(ring, ";")
	words = strings.Replace(words, ring, "", 1)
	return strings.TrimSpace(strings.Replace(words, short+".", "", 1))
}

// lanes sorts the steps by what can be done with them now.
func (b *setUpBody) lanes(base string) {
	for _, st := range b.State.Steps {
		view := stepOf(st, base, b.Sheet.Phase)
		switch {
		case st.Over():
			b.Done = append(b.Done, view)
		case st.State == session.StepWaiting:
			b.Waiting = append(b.Waiting, view)
		}
	}
	for _, st := range b.State.Lane(session.LaneHands) {
		b.Hands = append(b.Hands, stepOf(st, base, b.Sheet.Phase))
	}
	for _, st := range b.State.Lane(session.LaneMachine) {
		b.Machine = append(b.Machine, stepOf(st, base, b.Sheet.Phase))
	}
}

func stepOf(st session.StepState, base, phase string) stepView {
	kind, _ := record.Find("step")
	f := newForm(kind, base+"/step", nil).only()
	f.Hidden = map[string]string{"phase": phase, "step": st.ID}
	v := stepView{StepState: st, Tick: f, State: st.State, Not: "not done"}
	if st.Tick == session.TickValue && st.Entry != "" {
		v.Link = base + "/" + st.Entry
	}
	if st.ID == session.NightHouse {
		v.Asks = "Who, or “nobody”"
	}
	return v
}

func checkOf(v visit, c session.Check, base string) checkView {
	view := checkView{Check: c, Mark: marks[c.State]}
	person, _, _ := strings.Cut(base, "/session/")
	back := "?next=" + base
	if kind := checkKinds[c.ID]; kind != "" {
		view.Links = []stepLink{{"Write it down", base + "/" + kind}}
	}
	view.Links = append(view.Links, fluidLinks(v, c, base)...)
	switch c.ID {
	case session.CheckPlan:
		view.Links = planLinks(c, base)
	case session.CheckLock:
		view.Links = lockLinks(c, base)
	case session.CheckWaiting:
		view.Links = []stepLink{{"Write it down", person + "/round"}}
	case session.CheckCleaned:
		view.Links = []stepLink{
			{"Residue test", person + "/round/residual" + back}, {"Rinsed", person + "/round/done/rinse" + back},
			{"Disinfection", base + "/disinfection"},
		}
	}
	if c.Rings {
		f := rangForm(v, base).tagged("rang-" + c.ID)
		view.Rang = &f
	}
	if u, _ := v.house.Unit.Now(); u.Technician == "" && strings.Contains(c.Words, "Ring the technician") {
		view.Unit = person + "/unit"
	}
	if c.State == session.StopHere {
		view.Wrong = typedWrong(v, c, base)
	}
	if !c.Passed() {
		kind, _ := record.Find("override")
		view.Override = newForm(kind, base+"/override", nil).only("reason").tagged("override-" + c.ID)
		view.Override.Hidden = map[string]string{"check": c.ID}
		view.Override.Submit = "Go on in spite of it"
	}
	return view
}

// lockLinks lead to what answers the check of a catheter's locks: the old one drawn out,
// the new one read.
func lockLinks(c session.Check, base string) (list []stepLink) {
	if c.State == session.Ready {
		return nil
	}
	return []stepLink{{"Old lock drawn", base + "/lock_drawn"}, {"New lock read", base + "/catheter_lock"}}
}

// planLinks lead to what answers a check of the plan: what the machine shows is typed
// on the page that reads it back, all else is a plan.
func planLinks(c session.Check, base string) (list []stepLink) {
	back := []string{"plan_goal", "plan_length", "plan_not_read", "paper_goal", "paper_length"}
	if slices.Contains(c.Codes, "plan_shows") {
		list = append(list, stepLink{"Say it at the machine", "/machine?next=" + base})
	}
	if slices.ContainsFunc(c.Codes, func(code string) bool { return slices.Contains(back, code) }) {
		list = append(list, stepLink{"Read it back", base + "/read_back"})
	}
	if slices.ContainsFunc(c.Codes, func(code string) bool { return code != "plan_shows" && !slices.Contains(back, code) }) || len(list) == 0 {
		list = append(list, stepLink{"Write it down", base + "/plan"})
	}
	return list
}

// tickStep ticks one step of the run sheet.
func (s *server) tickStep(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("step")
	next := local(r.PostFormValue("next")) // a form that leads on by itself
	if next == "" {
		var err error
		if next, err = s.backToStep(r); err != nil {
			return err
		}
	}
	r.PostForm.Set("next", next)
	return s.send(w, r, kind, func(v visit, fill func(form) form) (view, error) {
		f := fill(newForm(kind, sessionURL(r)+"/step", nil))
		return view{page: "entry", title: kind.Title, here: "session", body: entryBody{Form: f, Kind: kind, Back: sessionURL(r)}}, nil
	})
}

// overrideCheck passes a check of the start line with a written reason.
func (s *server) overrideCheck(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("override")
	r.PostForm.Set("next", sessionURL(r)+"#check-"+r.PostFormValue("check"))
	return s.send(w, r, kind, func(v visit, fill func(form) form) (view, error) {
		f := newForm(kind, sessionURL(r)+"/override", nil).only("reason")
		f.Hidden = map[string]string{"check": v.PostFormValue("check")}
		f = fill(f)
		return view{page: "entry", title: kind.Title, here: "session", body: entryBody{Form: f, Kind: kind, Back: sessionURL(r)}}, nil
	})
}

// connect begins the treatment, when the start line lets it.
func (s *server) connect(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("connected")
	r.PostForm.Set("next", sessionURL(r))
	return s.send(w, r, kind, func(v visit, fill func(form) form) (view, error) {
		f := fill(newForm(kind, sessionURL(r)+"/connected", nil))
		f.Submit = "Lines joined, pump started"
		return view{page: "entry", title: kind.Title, here: "session", body: entryBody{Form: f, Kind: kind, Back: sessionURL(r)}}, nil
	})
}

// sessionURL is the address of the session that a request names.
func sessionURL(r *http.Request) string {
	return strings.Join([]string{"", "p", r.PathValue("p"), "session", r.PathValue("s")}, "/")
}
