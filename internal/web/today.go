package web

import (
	"fmt"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
	"ebbline/unit"
)

// todayBody is what the next session needs, and nothing else.
type todayBody struct {
	Base    string
	Open    *openSession
	Ring    []criticalRow // critical bloods about which nobody is rung yet
	Due     *household.Due
	When    string // the due day, as people say it
	Order   string // what the prescription says about when
	Ways    []standing
	Asked   []askedLine // what the prescription does not say and the unit is asked for
	Look    household.Outlook
	Allowed string // what may be drunk until then
	PerDay  string
	Gap     string // between the last session and the next
	Off     string // what would come off at the last weight
	Under   string // how far that lies below the dry weight; empty where it does not
	Since   string // how long it is since the last session, and what was missed
	Waited  bool   // so long that it is to be looked at, or stops
	Overdue bool   // the section of what is overdue says it
	Ahead   string // what the ambulance is rung about first
	Left    []leftOpen
	LeftOf  time.Time
	Phones  []report.Phone
	Unit    string
}

type openSession struct {
	ID    string
	Phase session.Phase
	Since time.Time // the phase
	Old   bool      // of another day: somebody forgot to close it
}

// standing is something in the way of the next session.
type standing struct{ Words, Do, Link string }

type leftOpen struct{ What, Link string }

func (s *server) todayPage(v visit) (view, error) {
	b := todayBody{Base: "/p/" + v.member.ID, Ring: criticalRows(v.member)}
	if u, ok := v.house.Unit.Now(); ok {
		u.Technician = "" // mends the machine
		b.Phones, b.Unit = household.Phones(u), u.Name
	}
	if open := v.member.Open(); open != nil {
		_, at := open.Opened()
		b.Open = &openSession{ID: open.ID, Phase: open.Phase(), Old: v.now.Sub(at) > 18*time.Hour}
		if began, ok := open.Began(); ok {
			at = began
		}
		if ended, ok := open.Ended(); ok {
			at = ended
		}
		b.Open.Since = at.In(v.now.Location())
	}
	b.Ahead = household.AmbulanceFirst(v.member, v.now)
	if g, ok := household.SinceLast(v.member, v.now); ok && !g.First() {
		said := g.Said()
		b.Since, b.Waited = said.Words, said.State != session.Ready
	}
	if due, ok := household.NextDue(v.member, v.now); ok {
		b.Due = &due
		b.Overdue = due.Overdue != 0 && (b.Open == nil || b.Open.Old)
		b.When, b.Gap = dueWords(due, v.now), gapWords(due.Gap)
		b.Look = household.LookAhead(v.house, v.member, due, v.now)
		if a := b.Look.Allowance; a != nil {
			b.Allowed, b.PerDay = litres(a.AllowanceMl), litres(a.AllowanceMlDay)
		}
		if off := b.Look.Off; off != nil {
			b.Off = unit.Litres(int64(off.GoalMl)).Text()
			if off.BelowDry {
				b.Under = unit.Mass(-off.AboveDryMl).Text() // weights are whole grams
			}
		}
	}
	if rx := v.prescribed(); rx != nil {
		b.Order = daysText(rx.Days)
		if rx.EveryHours > 0 {
			b.Order = fmt.Sprintf("every %d hours from start to start", rx.EveryHours)
		}
	}
	b.Asked = askedLines(v)
	b.inTheWay(v)
	b.leftOpen(v)
	return view{page: "today", title: "Today", here: "today", body: b}, nil
}

// litres writes millilitres as people measure them out, down to the next 50.
func litres(ml float64) string {
	v := unit.Volume(int64(ml) / 50 * 50)
	return unit.Litres(v).Text()
}

// dueWords says a due moment as people say it.
func dueWords(d household.Due, now time.Time) string {
	day := d.Day.Time(time.UTC).Format("Monday 2 January")
	switch d.Day.Sub(unit.DateOf(now)) {
	case 0:
		day = "Today"
	case 1:
		day = "Tomorrow"
	case -1:
		day = "Yesterday"
	}
	if !d.Timed {
		return day
	}
	return day + ", about " + d.At.Round(5*time.Minute).Format("15:04")
}

// gapWords writes the time between two sessions in days and hours.
func gapWords(d time.Duration) string {
	hours := int(d.Round(time.Hour) / time.Hour)
	switch {
	case hours <= 0:
		return ""
	case hours < 48:
		return fmt.Sprintf("%d hours", hours)
	case hours%24 == 0:
		return fmt.Sprintf("%d days", hours/24)
	}
	return fmt.Sprintf("%d days and %d hours", hours/24, hours%24)
}

// inTheWay lists what must be done, or known, before the next session.
func (b *todayBody) inTheWay(v visit) {
	add := func(words, do, link string) { b.Ways = append(b.Ways, standing{words, do, link}) }
	here := "?next=" + b.Base + "/"
	if len(v.member.Prescriptions) == 0 {
		add("Your prescription is not written down yet.", "Write it down", b.Base+"/prescription/new")
	} else if v.member.Prescription(v.today()) == nil {
		add("No version of your prescription holds today.", "Look at it", b.Base+"/prescription")
	}
	if _, ok := v.house.Machine.Now(); !ok {
		add("The machine is not described yet.", "Describe it", b.Base+"/machine"+here)
	}
	if m, ok := v.house.Machine.Now(); ok && m.FluidUnsaid() {
		add("It is not said whether your fluid is ready bags or a batch you make.", "Say which", b.Base+"/unit#house")
	}
	if _, ok := v.house.Unit.Now(); !ok {
		add("No telephone number of your unit is written down.", "Write it down", b.Base+"/kidney-unit"+here)
	}
	if b.Open != nil && b.Open.Old {
		add("The session begun on "+b.Open.Since.Format("Monday 2 January")+" was never closed.", "Go on with it", b.Base+"/session/"+b.Open.ID)
	}
	for _, words := range v.member.Stale(v.today()) {
		add(words, "See the unit page", b.Base+"/unit")
	}
	if rx := v.member.Prescription(v.today()); rx != nil && len(v.member.Changes(rx)) > 0 {
		add("The prescription changed since your last session; it is shown before the next one begins.", "Read it now", b.Base+"/prescription")
	}
	for _, o := range household.StandsInTheWay(v.house, v.member, v.now) {
		add(o.Words, o.Do, b.Base+"/"+o.Part)
	}
}

// leftOpen lists what the last treated session still lacks.
func (b *todayBody) leftOpen(v visit) {
	last := v.member.Before(v.now)
	if last == nil || last.Phase() != session.Done {
		return
	}
	_, at := last.Opened()
	b.LeftOf = at.In(v.now.Location())
	for _, item := range session.OpenItems(last) {
		if !item.IsOpen() || item.Kind == "step" { // nobody ticks afterwards what was to be looked at then
			continue
		}
		link := b.Base + "/session/" + last.ID + "/" + item.Kind
		if item.Entry != "" {
			link = b.Base + "/session/" + last.ID + "/entry/" + item.Entry
		} else if _, ok := record.Find(item.Kind); !ok {
			link = b.Base + "/session/" + last.ID
		}
		b.Left = append(b.Left, leftOpen{item.What, link})
	}
}
