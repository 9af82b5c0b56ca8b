package record

import (
	"slices"
	"strings"
	"time"
	"unicode"

	"ebbline/session"
	"ebbline/unit"
)

// checkDemonstration keeps invented entries and real ones in different files.
func checkDemonstration(c *Checker) {
	if c.House.Entries() > 0 && !c.House.Demo {
		c.Refuse("note", "cannot be put into a file that holds real entries")
	}
}

// checkKidneyUnit wants a number to dial in every telephone that is given: they stand
// on the emergency card, and one tap dials them. Of words, or of two numbers in one
// field, it says what that tap would dial.
func checkKidneyUnit(c *Checker) {
	u := c.Entry.Body.(*KidneyUnit)
	for _, p := range []struct{ key, number string }{
		{"day_phone", u.Day}, {"night_phone", u.Night}, {"technician_phone", u.Technician}, {"ambulance_phone", u.Ambulance},
	} {
		if p.number != "" && !strings.ContainsFunc(p.number, unicode.IsDigit) {
			c.Refuse(p.key, "%s cannot be dialled: it holds no digit", quote(p.number))
			continue
		}
		switch number, whole := unit.Dial(p.number); {
		case whole || p.number == "":
		case number == "":
			c.Ask(p.key, "%s is not one number alone: no tap would dial it", quote(p.number))
		default:
			c.Ask(p.key, "%s is not one number alone: a tap would dial %s", quote(p.number), number)
		}
	}
}

func checkPerson(c *Checker) {
	p := c.Entry.Body.(*Person)
	if age := c.Entry.Written.Year() - p.BirthYear; age < 0 || age > 120 {
		c.Refuse("birth_year", "%d cannot be a birth year", p.BirthYear)
	}
	c.adultAt(p)
	c.stillPregnant(p)
	for _, m := range c.House.People {
		other, ok := m.Person.Now()
		if m.ID != c.Entry.Person && ok && other.Colour == p.Colour {
			c.Refuse("colour", "is %s’s already; two people on one machine need two colours", other.Name)
		}
	}
}

// surelyChild is up to how many years after that of the birth an adult's prescription is
// asked about each time that the person is written. Ours.
const surelyChild = 16

// adultAt asks about a prescription of an adult for somebody who may be under 18, by
// the birth year: each time up to [surelyChild], else where year or tick are new.
func (c *Checker) adultAt(p *Person) {
	age := c.Entry.Written.Year() - p.BirthYear
	if !p.Adult || age < 0 || age > childUntil {
		return
	}
	if c.Member != nil && age > surelyChild {
		if was, ok := c.Member.Person.Now(); ok && was.Adult && was.BirthYear == p.BirthYear {
			return
		}
	}
	c.Ask("birth_year", "%d, and a prescription of an adult? The figures of adults are then used. If the unit ordered it so, type the year again; if not, untick it", p.BirthYear)
}

func checkPrescription(c *Checker) {
	p := c.Entry.Body.(*session.Prescription)
	when(c, p)
	if p.Length == nil && (p.Dialysate == nil || p.DialFlow == nil) {
		c.Refuse("length_min", "is still blank; write the length, or litres of dialysate with its flow")
	}
	if p.Length != nil && p.Dialysate != nil {
		c.Refuse("dialysate_l", "cannot stand beside a session length; the unit orders the one or the other")
	}
	switch light := p.DryWeight < session.LightWeight; {
	case light && p.Rate == nil:
		c.Ask("dry_weight_kg", "%s kg is under %s kg, and your unit's largest removal rate is not written: no plan is made then, you go by your unit's paper. If it is right, type it again", p.DryWeight, session.LightWeight)
	case light && p.MaxRemoval == nil:
		c.Refuse("rate_limit_ml_h_kg", "is there, the largest removal is needed too: under %s kg this program has no limits of its own to fall back on", session.LightWeight)
	}
	if p.Limits.Any() {
		if unit.Legible(p.SetBy) == 0 {
			c.Refuse("limits_set_by", "is still blank; a limit needs the name of the nurse or doctor who set it")
		}
		if p.SetOn.IsZero() {
			c.Refuse("limits_set_on", "is still blank")
		}
	}
	setsNone(c, p)
	if p.How == "phone" && !p.ReadBack {
		c.Refuse("read_back", "is not ticked: read the change back to the caller before it is written down")
	}
	heparin(c, p)
	flushes(c, p)
	sugar(c, p)
	needles(c, p)
	filtration(c, p)
	if unit.Legible(p.LockName) == 0 && p.OrderedLock != (session.OrderedLock{}) {
		c.Refuse("lock", "is still blank, but a strength or a volume of it is written")
	}
	c.days(p.OrderedOn, "ordered_on", p.DrySetOn, "dry_weight_set_on", p.SetOn, "limits_set_on", p.RateNoneOn, "rate_limit_none_on",
		p.FallNoneOn, "act_systolic_none_on", p.PulseNoneOn, "start_pulse_none_on")
	if p.ReviewBy.Before(p.ValidFrom) {
		c.Refuse("review_by", "lies before the day it is valid from")
	}
	if p.DryReview.Before(p.DrySetOn) {
		c.Refuse("dry_weight_review_by", "lies before the day it was set")
	}
	if old := c.Member.Prescription(c.today()); old != nil && c.Entry.Corrects == "" {
		// A dry weight moves by small steps; a bigger one is likelier a slip.
		if d := p.DryWeight - old.Value.DryWeight; d > 2000 || d < -2000 {
			c.Ask("dry_weight_kg", "%s kg is %s kg away from the last one. If it is right, type it again", p.DryWeight, abs(d))
		}
	}
}

// setsNone holds "the unit sets none" against the figure itself: both cannot be
// true, and it needs who said it and when.
func setsNone(c *Checker, p *session.Prescription) {
	for _, n := range []struct {
		key    string
		by     string
		on     unit.Date
		set    bool
		figure string
	}{
		{"rate_limit_none", p.RateNoneBy, p.RateNoneOn, p.Rate != nil, "a largest removal rate"},
		{"act_systolic_none", p.FallNoneBy, p.FallNoneOn, p.FallBelow != nil || p.FallBy != nil, "a figure for low pressure"},
		{"start_pulse_none", p.PulseNoneBy, p.PulseNoneOn, p.PulseLow != nil && p.PulseHigh != nil, "the pair for the pulse"},
	} {
		switch said := strings.TrimSpace(n.by) != ""; {
		case n.by == "" && n.on.IsZero():
		case n.set:
			c.Refuse(n.key+"_by", "cannot stand beside %s; leave one of the two blank", n.figure)
		case !said:
			c.Refuse(n.key+"_by", "is still blank; write the name of the nurse or doctor who said that the unit sets none")
		case n.on.IsZero():
			c.Refuse(n.key+"_on", "is still blank; write the day it was said")
		}
	}
}

func abs(m unit.Mass) unit.Mass {
	if m < 0 {
		return -m
	}
	return m
}

// days refuses dates that lie after today; pairs of date and key.
func (c *Checker) days(pairs ...any) {
	for i := 0; i+1 < len(pairs); i += 2 {
		d, key := pairs[i].(unit.Date), pairs[i+1].(string)
		if c.today().Before(d) {
			c.Refuse(key, "%s has not come yet", d.Long())
		}
	}
}

func (c *Checker) today() unit.Date { return unit.DateOf(c.Entry.Written.In(c.Entry.At.Location())) }

func when(c *Checker, p *session.Prescription) {
	codes := session.DayCodes()
	for _, d := range p.Days {
		if !slices.Contains(codes[:], d) {
			c.Refuse("days", "%s is not a day; needs mon tue wed thu fri sat sun", quote(d))
		}
	}
	switch {
	case len(p.Days) == 0 && p.EveryHours == 0:
		c.Refuse("days", "is still blank; tick the days, or write every how many hours")
	case len(p.Days) > 0 && p.EveryHours > 0:
		c.Refuse("every_hours", "cannot stand beside days; the unit orders the one or the other")
	}
}

func heparin(c *Checker, p *session.Prescription) {
	some := p.HepBolus != nil || p.HepHourly != nil
	switch {
	case p.Heparin == "none" && some:
		c.Refuse("heparin", "is “none”, but a dose is written")
	case p.Heparin != "none" && !some:
		c.Refuse("heparin_bolus_iu", "is still blank; write the dose that is ordered, 0 if there is no bolus")
	case p.Heparin != "none" && p.HepStrength == nil:
		c.Refuse("heparin_strength_iu_ml", "is still blank")
	case p.Heparin == "low_molecular" && p.HepHourly != nil && *p.HepHourly > 0:
		c.Refuse("heparin_hourly_iu_h", "does not go with low-molecular-weight heparin, which is one dose at the start")
	}
}

func needles(c *Checker, p *session.Prescription) {
	switch {
	case p.ByCatheter() && p.Technique != "none":
		c.Refuse("technique", "does not go with a catheter; needs “no needles”")
	case !p.ByCatheter() && p.Technique == "none":
		c.Refuse("technique", "is “no needles”, but the access is a %s", p.Access)
	case p.Access == "graft" && p.Technique == "buttonhole":
		c.Refuse("technique", "buttonhole does not go with a graft")
	case !p.ByCatheter() && (p.GaugeA == 0 || p.GaugeV == 0):
		c.Refuse("arterial_needle_gauge", "is still blank; write both gauges")
	}
}

func checkPaper(c *Checker) {
	b := c.Entry.Body.(*PaperConfirms)
	if r := c.ordered(b.Prescription); r != nil && r.Value.How != "phone" {
		c.Refuse("prescription_id", "%s is not a phoned prescription of this person", quote(b.Prescription))
	}
	c.days(b.SignedOn, "signed_on")
}

func checkSeen(c *Checker) {
	c.ordered(c.Entry.Body.(*ChangeSeen).Prescription)
}

// ordered gives the prescription that an entry is about, or refuses the entry
// and gives nil. A correction may leave it as it was.
func (c *Checker) ordered(id string) *Rx {
	r := c.Member.Rx(id)
	switch {
	case r == nil:
		c.Refuse("prescription_id", "%s is not a prescription of this person", quote(id))
	case r.Struck != nil && c.Entry.Corrects == "":
		c.Refuse("prescription_id", "names a prescription that was struck out or corrected since; look at the one that stands")
	default:
		return r
	}
	return nil
}

func checkSheet(c *Checker) {
	if err := c.Entry.Body.(*SheetEdited).Validate(); err != nil {
		c.Refuse("steps", "cannot be kept: %s", err)
	}
}

// strikeStands answers somebody who would take a strike back.
const strikeStands = "is a strike, which stands as it is. If what it took out was right after all, write that down again"

func checkStruck(c *Checker) {
	b := c.Entry.Body.(*Struck)
	at, ok := c.House.entries[b.Entry]
	switch {
	case !ok:
		c.Refuse("entry_id", "%s is not in the record", quote(b.Entry))
	case at.kind == "struck":
		c.Refuse("entry_id", strikeStands)
	case at.kind == "demonstration" || at.kind == "person":
		c.Refuse("entry_id", "is an entry that cannot be struck out; write a new one instead")
	case at.person != c.Entry.Person:
		c.Refuse("entry_id", "belongs to somebody else")
	case c.House.Newest(b.Entry) != b.Entry:
		c.Refuse("entry_id", "was corrected before; strike out the newer one")
	case at.struck:
		c.Refuse("entry_id", "was struck out already; nothing more is to be done")
	case c.Entry.Session != "" && c.Entry.Session != at.session:
		c.Refuse("session", "is not the one that the entry belongs to")
	case at.kind == "prescription" && c.runsBy(b.Entry):
		c.Refuse("entry_id", "is what the treatment that is running now goes by. Write a new prescription or correct this one; strike it out once the session is closed")
	case at.kind == "closed":
		if open := c.openBeside(c.House.Session(at.session)); open != nil {
			_, began := open.Opened()
			c.Refuse("entry_id", "would open that session again while the one begun on %s is open; close that one first", began.Format("2 January at 15:04"))
		}
	}
	if tooShort(b.Reason) {
		c.Refuse("reason", "is missing: say in a word or two why")
	}
}

// runsBy reports whether a treatment that is held live runs by a prescription now.
func (c *Checker) runsBy(id string) bool {
	return slices.ContainsFunc(c.Member.Sessions, func(s *session.Session) bool {
		return s.PrescriptionID == id && live(s) && s.Treated() && s.Phase() != session.Done
	})
}

// checkOpened keeps one live session at a time for each person, and paper
// sessions from being opened over it.
func checkOpened(c *Checker) {
	b := c.Entry.Body.(*session.Opened)
	was := c.openedBefore()
	if open := c.stillOpen(); open != nil && b.Source == "live" && was.Source != "live" {
		_, at := open.Opened()
		c.Refuse("kind", "the session begun on %s is still open; close it first", at.Format("2 January at 15:04"))
	}
	if c.Member.Prescription(unit.DateOf(c.Entry.At)) == nil {
		c.Refuse("kind", "there is no prescription for this day; write it down first")
	}
	if _, ok := c.House.Machine.Now(); !ok && b.Place == "home" {
		c.Refuse("kind", "the machine is not described yet; do that first")
	}
	if !b.Confirmed && len(c.House.People) > 1 {
		c.Refuse("person_confirmed", "is not ticked: two people use this machine, so say that this is your page")
	}
	if was.Source == "live" && was.Place == "home" && (b.Source != "live" || b.Place != "home") && !c.Session.Treated() {
		if stopped := session.Stopped(session.StartLine(c.Session, c.Member.History(c.Session), c.Entry.Written)); len(stopped) > 0 {
			c.Refuse("source", "stays as it is while the start line stands at stop (%s): ring, or go past it with a reason, first", stopped[0].Title)
		}
	}
	if was.Source == "live" && b.Source != "live" && c.Session.Phase() == session.Running {
		c.Refuse("source", "stays as it is while the treatment runs; end it first")
	}
	if late := c.Entry.Written.Sub(c.Entry.At); b.Source == "live" && was.Source != "live" && late > 12*time.Hour {
		c.Refuse("source", "is “as it happens”, but it began %s ago; choose “typed in from paper”", late.Round(time.Hour))
	}
	if b.Place == "elsewhere" && unit.Legible(b.Where) == 0 {
		c.Refuse("where", "is still blank; say where it was held")
	}
}

// openedBefore is what a correction takes the place of; the zero value for a new
// session.
func (c *Checker) openedBefore() session.Opened {
	if c.Session == nil {
		return session.Opened{}
	}
	was, _ := c.Session.Opened()
	return was
}

// stillOpen gives a session of the person, other than the entry's own, that is
// not closed, or nil. A correction of a closed one holds up nothing.
func (c *Checker) stillOpen() *session.Session {
	if c.Session != nil && c.Session.Phase() == session.Done {
		return nil
	}
	return c.openBeside(c.Session)
}

// openBeside gives a session of the person, other than this one, that is not
// closed, or nil.
func (c *Checker) openBeside(one *session.Session) *session.Session {
	for _, s := range slices.Backward(c.Member.Sessions) {
		if s != one && !s.Abandoned() && s.Phase() != session.Done {
			return s
		}
	}
	return nil
}
