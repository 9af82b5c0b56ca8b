package web

import (
	"net/http"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// startBody is the page from which a session begins.
type startBody struct {
	Live, Paper, Elsewhere form
	Why                    string // why none can begin yet, with where to go
	WhyLink                string
	Changed                []record.Change // in the prescription since the last session
	RxID                   string
	Sheet                  session.RunSheet // of setting up, which is counted
	Usual                  time.Duration
	Late                   time.Duration
	Own                    bool // from the person's own sessions, not from usual minutes
	Stale                  []string
	Off                    string // "to be off by", as typed
	StartBy                time.Time
	OffWhy                 string
}

// openingHints say what belongs to a tick of the form that opens a session.
var openingHints = map[string]string{
	"removal_only": "Fluid without dialysis: no bath, no dose, and the day’s dialysis is still owed. If dialysis follows, leave it blank.",
}

// nextSession leads to the session that is open, or to the page that begins one.
func (s *server) nextSession(v visit) (view, error) {
	if open := v.member.Open(); open != nil {
		return s.phasePage(v, open)
	}
	return s.startPage(v, func(f form) form { return f })
}

func (s *server) startPage(v visit, fill func(form) form) (view, error) {
	kind, _ := record.Find("session_opened")
	base := "/p/" + v.member.ID + "/session"
	fresh := func(place, source, submit string, keys ...string) form {
		f := newForm(kind, base, nil).only(keys...).tagged(place + "-" + source)
		f.Hidden = map[string]string{"place": place, "source": source, "session": newID()}
		f.Submit, f.Paper = submit, source == "paper"
		return f.hint(openingHints)
	}
	keys := []string{"carer", "removal_only"}
	if len(v.house.People) > 1 {
		keys = []string{"person_confirmed", "carer", "removal_only"}
	}
	b := startBody{
		Live:      fresh("home", "live", "Start setting up", keys...),
		Paper:     fresh("home", "paper", "Type in a paper session", keys...),
		Elsewhere: fresh("elsewhere", "paper", "Type in a session held elsewhere", append([]string{"where"}, keys...)...),
	}
	if v.Method == http.MethodPost {
		f := &b.Live
		switch {
		case v.PostFormValue("place") == "elsewhere":
			f = &b.Elsewhere
		case v.PostFormValue("source") == "paper":
			f = &b.Paper
		}
		hidden := f.Hidden
		hidden["session"] = v.PostFormValue("session")
		*f = fill(*f)
		f.Hidden = hidden
	}
	rx := v.member.Prescription(unit.DateOf(v.now))
	_, hasMachine := v.house.Machine.Now()
	switch {
	case rx == nil:
		b.Why, b.WhyLink = "Your prescription is not written down yet.", "/p/"+v.member.ID+"/prescription"
	case !hasMachine:
		b.Why, b.WhyLink = "The machine is not described yet.", "/machine"
	default:
		b.RxID = rx.ID
		b.Changed = v.member.Changes(rx)
		b.Stale = v.member.Stale(unit.DateOf(v.now))
	}
	b.Sheet = v.member.SetUpFor(v.member.Next(v.now, removalTicked(v)), v.now)
	pace := session.PaceOf(b.Sheet, v.member.Sessions)
	b.Usual, _, b.Late = session.Usual(b.Sheet, pace)
	b.Own = len(pace.Totals) > 0
	b.startBy(v, rx)
	return view{page: "start", title: "Start a session", here: "session", body: b}, nil
}

// removalTicked reports whether the form came back with the tick that fluid is only removed.
func removalTicked(v visit) bool { return v.PostFormValue("removal_only") != "" }

// startBy works out when setting up must begin for the hands to be free at a
// typed time: the next such time from now on.
func (b *startBody) startBy(v visit, rx *record.Rx) {
	if b.Off = v.URL.Query().Get("off"); b.Off == "" || rx == nil {
		return
	}
	length, _, err := rx.Value.SessionLength()
	if err != nil {
		b.OffWhy = err.Error()
		return
	}
	hm, err := time.Parse("15:04", strings.Replace(strings.TrimSpace(b.Off), ".", ":", 1))
	if err != nil {
		b.OffWhy = "That is not a time of day; type hours and minutes, such as 13:00."
		return
	}
	off := time.Date(v.now.Year(), v.now.Month(), v.now.Day(), hm.Hour(), hm.Minute(), 0, 0, v.now.Location())
	if off.Before(v.now) {
		off = off.AddDate(0, 0, 1)
	}
	begun := off.Add(-time.Duration(length) * time.Minute)
	next := v.member.Next(begun, removalTicked(v))
	up, down := v.member.SetUpFor(next, begun), v.member.SheetFor(next, session.TakeOff)
	b.StartBy = session.StartBy(off, up, down, session.PaceOf(up, v.member.Sessions), session.PaceOf(down, v.member.Sessions), length)
}

// openSession begins a session; its id comes with the form, so that a second
// press begins no second one.
func (s *server) openSession(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("session_opened")
	e, found := s.read(r, kind)
	e.Session = r.PostFormValue("session")
	b := e.Body.(*session.Opened)
	if b.Source == "paper" && r.PostFormValue("clock") == "" {
		found = append(found, record.Finding{Field: "at", Step: record.Refuse, Words: "is still blank: type when setting up began, as it stands on the paper"})
	}
	if err := s.look(r, func(v visit) error {
		if len(v.house.People) == 1 {
			b.Confirmed = true // one person, one record: there is no other name to confuse
		}
		return nil
	}); err != nil {
		return err
	}
	r.PostForm.Set("next", "/p/"+r.PathValue("p")+"/session/"+e.Session)
	return s.settle(w, r, e, found, s.startPage)
}

// sessionPage shows a session as far as it has come.
func (s *server) sessionPage(v visit) (view, error) { return s.phasePage(v, v.session) }

func (s *server) phasePage(v visit, one *session.Session) (view, error) {
	v.session = one
	page := s.sheetPage
	switch phase := one.Phase(); {
	case one.Abandoned(): // its beginning was struck out: there is nothing to go on with
	case phase == session.SettingUp:
		page = s.setUpPage
	case phase == session.Running:
		page = s.runningPage
	case phase == session.ComingOff:
		page = s.comingOffPage
	}
	made, err := page(v)
	made.phase = string(one.Phase())
	return made, err
}

// sheetRow is one session in the list of sheets.
type sheetRow struct {
	ID, Where, Phase string
	At               time.Time
	Night            unit.Date
	Treated          unit.Minutes
	Pre, Post        string
	Removed          string
	Open             bool
}

// sheets lists the sessions, newest first, a page of them at a time.
func (s *server) sheets(v visit) (view, error) {
	const most = 60
	type body struct {
		Rows   []sheetRow
		Before string // to leaf on
	}
	var b body
	before := v.URL.Query().Get("before")
	list := v.member.Sessions
	for i := len(list) - 1; i >= 0; i-- {
		one := list[i]
		opened, at := one.Opened()
		if one.Abandoned() || before != "" && at.UTC().Format(time.RFC3339) >= before {
			continue
		}
		if len(b.Rows) == most {
			b.Before = b.Rows[most-1].At.UTC().Format(time.RFC3339)
			break
		}
		row := sheetRow{ID: one.ID, At: at, Night: session.Night(one), Phase: string(one.Phase()), Open: one.Phase() != session.Done}
		if opened.Place == "elsewhere" {
			row.Where = opened.Where
		}
		if run, ok := session.Follow(one, v.now); ok {
			row.Treated = session.TreatedMinutes(one, v.now)
			if run.Removed != nil {
				row.Removed = run.Removed.String()
			}
		}
		if in, _ := session.Last[session.WeighIn](one); in != nil {
			row.Pre = in.Weight.Digits(1)
		}
		if out, _ := session.Last[session.WeighOut](one); out != nil {
			row.Post = out.Weight.Digits(1)
		}
		b.Rows = append(b.Rows, row)
	}
	return view{page: "sheets", title: "Session sheets", here: "sessions", body: b}, nil
}
