package web

import (
	"html/template"
	"net/http"
	"slices"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/report/chart"
	"ebbline/session"
	"ebbline/unit"
)

// runningBody is the page of a treatment under way.
type runningBody struct {
	Session     *session.Session
	Base        string
	Run         session.Run
	Plan        *session.AgreedPlan
	Given       *substitution
	Removed     string    // as last read, in the machine's digits
	ByLine      string    // what should be removed by now
	ToCome      string    // still to come off of the goal that is set, as far as was read
	Stays       string    // above dry weight when that is off; empty where nothing does
	ToComeAt    time.Time // when that was read; zero when nothing was
	Pressure    pressureRead
	Check       nextCheck
	Still       *bloodStill // the blood stands in the lines
	Due         *checkDue   // the check is overdue
	NoHeparin   bool        // none was ordered
	Ebb         template.HTML
	EbbNarrow   template.HTML // the same for a narrow column
	EbbTable    chart.Table
	Said        saidNow
	Set         *session.Settings
	SetWhy      string
	Grid        report.Grid
	Reading     form
	TroubleTaps []tap // what goes wrong, and what is done about it
	Feelings    []tap // how the person feels
	Taps        []tap // all else
	Events      []entryRow
	Off         string      // where the treatment ends
	Open        bool        // a trouble is open
	NotOn       string      // why going on is not offered, while it is paused; empty where it is
	StaysOut    string      // the open trouble in which the blood is not given back
	Stop        bool        // heparin is due off
	OffSince    time.Time   // removal is off since then; zero while it is on
	OneNeedle   string      // what is not remarked on with one needle
	LookAt      string      // in which order to look at a reading
	Rest        []paperKind // of a session typed in afterwards
	Allergy     string
	Sugar       *sugarLine
	Flush       *flushTap
}

// lookAt is the order of looking at a reading (common practice).
const lookAt = "{Needles and tape|Connections, clamps}, lines, chamber, dialyser, pressures, then me."

func (s *server) runningPage(v visit) (view, error) {
	return s.runningForm(v, nil)
}

// runningForm is the running page; reading fills in the reading form when one
// was sent that something stands against.
func (s *server) runningForm(v visit, reading func(form) form) (view, error) {
	one := v.session
	base := "/p/" + v.member.ID + "/session/" + one.ID
	b := runningBody{Session: one, Base: base}
	b.Run = v.follow(one)
	b.Plan, _ = session.Agreed(one, v.now)
	b.Still, b.Due = v.still(one), v.due(one)
	b.NoHeparin = one.Rx.NoHeparin()
	b.Said, b.Sugar = saidOf(v, one), sugarOf(v, one)
	b.Flush = flushOf(v, one)
	b.Pressure, b.Check = v.pressure(one), nextCheckOf(b.Run, one, v.now)
	b.OffSince = v.removalOff(one)
	if session.OneNeedle(one) {
		b.OneNeedle = one.Rx.LineWords()
	}
	b.LookAt = one.Rx.InWords(lookAt)
	if set, err := session.SetNow(one, v.now); err == nil {
		b.Set = &set
	} else if plan, _ := session.Agreed(one, v.now); plan == nil {
		b.SetWhy = "No plan was agreed in this session, so nothing is worked out here. Go by your unit's paper."
	} else {
		b.SetWhy = err.Error()
	}
	if rest, ok := session.RestOf(one, v.now); ok {
		b.ToCome, b.ToComeAt = onMachine(one.Machine, rest.Left), rest.At
		if rest.Stays > 0 {
			b.Stays = onMachine(one.Machine, rest.Stays)
		}
	}
	b.byPaper(v)
	if b.Run.Removed != nil {
		b.Removed = onMachine(one.Machine, *b.Run.Removed)
	}
	if b.Run.Expected != nil {
		b.ByLine = onMachine(one.Machine, *b.Run.Expected)
	}
	sheet := household.Sheet(v.house, v.member, one, v.now)
	b.Grid = sheet.Grid
	if sheet.Ebb != nil {
		d := sheet.Ebb.Draw(chart.OnPage("ebb"))
		b.EbbNarrow = template.HTML(sheet.Ebb.Draw(chart.Frame{ID: "ebb-narrow", Width: 360, Height: 280, Text: 14}).SVG())
		b.Ebb, b.EbbTable = template.HTML(d.SVG()), d.Table // drawn by our own chart room, every text escaped there
	}
	kind, _ := record.Find("reading")
	b.Reading = newForm(kind, base+"/reading", nil)
	b.Reading.Submit, b.Reading.Next = "Save the reading", base
	b.Reading = b.Reading.ofFiltration(one).ofHeparin(one).onPaper(one).ofReading(v)
	b.Given = substitutionOf(one, v.now)
	if reading != nil {
		b.Reading = reading(b.Reading)
	}
	b.Stop = heparinDue(b.Run, v.now)
	b.taps(v, base)
	b.chlorineTap(v, base)
	b.bagTap(v, base)
	b.off(base, v.troubles(one))
	b.Open = len(v.troubles(one)) > 0
	for i := len(one.Log) - 1; i >= 0 && len(b.Events) < 8; i-- {
		if e := &one.Log[i]; !e.At.Before(b.Run.Began) && e.Kind != "step" {
			b.Events = append(b.Events, rowOf(base, one, e))
		}
	}
	b.Rest = restOfPaper(one)
	if p, ok := v.member.Person.Now(); ok {
		b.Allergy = p.Allergies
	}
	return view{page: "running", title: "Running", here: "session", body: b}, nil
}

// off leads to where the treatment ends: over what is looked at before the blood goes
// back, and not by that way while an open trouble keeps it out.
func (b *runningBody) off(base string, open []session.OpenTrouble) {
	b.Off = base + "/washback"
	if fromPaper(b.Session) {
		b.Off = base + "/came_off"
		return
	}
	if i := slices.IndexFunc(open, session.OpenTrouble.StaysOut); i >= 0 {
		b.Off, b.StaysOut = base+"/came_off", open[i].Title
	}
}

// onMachine writes an amount in the digits of the machine, rounded to its last digit;
// an amount under zero as one over it.
func onMachine(m session.Machine, v unit.Volume) string {
	for _, step := range []unit.Volume{1, 10, 100, 1000} {
		half := step / 2
		if v < 0 {
			half = -half
		}
		if shown, err := m.ShowGoal((v + half) / step * step); err == nil {
			return shown
		}
	}
	return v.Text()
}

// tapEvent records a one-tap event and comes back to the running page.
func (s *server) tapEvent(w http.ResponseWriter, r *http.Request) error {
	kind, ok := record.Find(r.PathValue("kind"))
	if !ok || !kind.Live {
		return notFound{"no such event"}
	}
	r.PostForm.Set("next", sessionURL(r))
	return s.send(w, r, kind, s.kindForm)
}

// comingOffBody is the page from washback to the closed record.
type comingOffBody struct {
	Session  *session.Session
	Base     string
	Ended    time.Time
	How      *howEnded
	Run      session.Run
	Open     []session.OpenItem // of which nobody has said anything
	Goal     string             // as the machine shows it
	Removed  string             // in the machine's digits too
	Before   *unit.Mass         // without clothes
	After    *unit.Mass
	Dry      *unit.Mass
	Sheet    session.RunSheet
	State    session.SheetState
	Steps    []stepView
	Done     []stepView
	Forms    []offForm
	Closing  session.Closing
	Drift    session.Shift
	Lately   []string
	Close    form
	Expected session.Expected
	Rest     []paperKind // of a session typed in afterwards

	Catheter  bool
	Lock      []string // what is wrong with the lock that was given
	LockRings []report.Phone
	Closed    []stepView // what closes a catheter, not ticked yet and on no sheet of the household's

	Sugar     string   // that the blood sugar after the treatment is low or high
	SugarWas  []string // what was low or high of it before the last one
	Low       string   // that a pressure after the treatment is low
	LowPhones []report.Phone
	GivenBack []string // what was open when blood was given back
	NeverOver []string // what went wrong and was never over, and what was felt and not answered
	OpenRings []report.Phone
}

// lowAfter says what is low after the treatment, with the numbers of both; where one of
// them is for the ambulance, that stands first.
func (b *comingOffBody) lowAfter(v visit) {
	ring := ""
	words, low := session.AfterLow(b.Session)
	if low {
		t, _ := session.TroubleOf(session.TroubleLow)
		b.Low, ring = words, household.Rings(v.house, v.member, t)
	}
	if said, is := session.AfterSugar(b.Session, v.now); is {
		b.Sugar, ring = said.Words, session.RingAmbulance
	}
	for _, said := range session.AfterSugars(b.Session, v.now) {
		if said.Words != b.Sugar {
			b.SugarWas = append(b.SugarWas, said.Words)
		}
	}
	if ring != "" {
		b.LowPhones = phonesFor(v, ring)
	}
}

// offForm is one thing to write down while coming off.
type offForm struct {
	Kind *record.Kind
	Link string
	Done bool
	Asks bool // the session should hold it; a note it need not
	Rows []entryRow
}

var offKinds = []string{"holding", "vitals_after", "glucose", "weigh_out", "circuit", "disinfection", "note"}

func (s *server) comingOffPage(v visit) (view, error) {
	return s.comingOffForm(v, func(f form) form { return f })
}

func (s *server) comingOffForm(v visit, fill func(form) form) (view, error) {
	one := v.session
	base := "/p/" + v.member.ID + "/session/" + one.ID
	sheet := v.member.SheetFor(one, session.TakeOff)
	b := comingOffBody{
		Session: one, Base: base, Sheet: sheet, State: session.Progress(sheet, one, v.now),
		Closing: session.Close(one, v.now), Drift: session.Drift(balances(v.member, one)),
		Lately:   session.Lately(upTo(v.member, one)),
		Expected: session.Expect(sheet, one, session.History{}, session.PaceOf(sheet, v.member.Earlier(one)), v.now),
	}
	b.Ended, _ = one.Ended()
	b.How = howItEnded(one, base)
	b.numbers(v.now)
	for _, item := range b.Closing.Open {
		if item.IsOpen() {
			b.Open = append(b.Open, item)
		}
	}
	b.closedOff(v)
	off, _ := session.Last[session.CameOff](one)
	b.GivenBack = session.GivenBackWords(one)
	b.NeverOver, b.OpenRings = stillWrong(v, one)
	b.lowAfter(v)
	for _, st := range b.State.Steps {
		view := stepOf(st, base, sheet.Phase)
		if st.Entry == "came_off" && off != nil && !off.GivesBack() {
			view.Not = "not given back"
		}
		if st.Over() {
			b.Done = append(b.Done, view)
		} else {
			b.Steps = append(b.Steps, view)
		}
	}
	for _, name := range offKindsOf(one.Rx) {
		kind, _ := record.Find(name)
		f := offForm{Kind: kind, Link: base + "/" + name, Done: writtenOff(one, name), Asks: name != "note"}
		if name == "glucose" {
			f.Done, f.Asks = sugarAfter(one, v.now), one.Rx.MarkedGlucose()
		}
		for i := range one.Log {
			if one.Log[i].Kind == name {
				f.Rows = append(f.Rows, rowOf(base, one, &one.Log[i]))
			}
		}
		b.Forms = append(b.Forms, f)
	}
	kind, _ := record.Find("closed")
	b.Close = newForm(kind, base+"/closed", nil)
	b.Close.Submit, b.Close.Next = "Close this session", base
	if len(b.NeverOver) > 0 && !fromPaper(one) {
		b.Close.Submit = "Close it with this still open"
	}
	b.Rest = restOfPaper(one)
	b.Close = fill(b.Close)
	return view{page: "off", title: "Coming off", here: "session", body: b}, nil
}

// stillWrong says what is open when a session is closed: troubles that are not over, and
// what was felt and nobody answered; with whom to ring, the ambulance first where one of
// them is for it.
func stillWrong(v visit, one *session.Session) (list []string, rings []report.Phone) {
	list = session.NeverOverWords(one)
	ring := session.RingUnit
	for _, t := range session.NeverOver(one) {
		if household.Rings(v.house, v.member, t.TroubleType) == session.RingAmbulance {
			ring = session.RingAmbulance
		}
	}
	for _, r := range session.Unanswered(one, v.now) {
		list, ring = append(list, clockFace(r.At)+": "+strings.TrimSuffix(r.Words, ".")), session.RingAmbulance
	}
	if len(list) > 0 {
		rings = phonesFor(v, ring)
	}
	return list, rings
}

// numbers are the headlines of the page.
func (b *comingOffBody) numbers(now time.Time) {
	one := b.Session
	b.Run, _ = session.Follow(one, now)
	if b.Run.Goal > 0 {
		b.Goal, _ = one.Machine.ShowGoal(b.Run.Goal)
	}
	if b.Run.Removed != nil {
		b.Removed = onMachine(one.Machine, *b.Run.Removed)
	}
	net := func(weight, clothing unit.Mass) *unit.Mass {
		if weight == 0 {
			return nil // not weighed, for a reason
		}
		weight -= clothing
		return &weight
	}
	if in, _ := session.Last[session.WeighIn](one); in != nil {
		b.Before = net(in.Weight, in.Clothing)
	}
	if out, _ := session.Last[session.WeighOut](one); out != nil {
		b.After = net(out.Weight, out.Clothing)
	}
	if one.Rx != nil && one.Rx.DryWeight > 0 {
		b.Dry = &one.Rx.DryWeight
	}
}

// driftOver is how many sessions the fluid balance is followed over.
const driftOver = 40

// upTo gives a person's sessions up to this one, it the last.
func upTo(m *record.Member, one *session.Session) []*session.Session {
	return slices.Concat(m.Earlier(one), []*session.Session{one})
}

// balances gathers the fluid balances of the last sessions, this one the last.
func balances(m *record.Member, one *session.Session) []session.Balance {
	list := upTo(m, one)
	if len(list) > driftOver {
		list = list[len(list)-driftOver:]
	}
	var all []session.Balance
	for _, s := range list {
		if b, ok := session.BalanceOf(s); ok {
			all = append(all, b)
		}
	}
	return all
}
