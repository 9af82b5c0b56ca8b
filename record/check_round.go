package record

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"time"

	"ebbline/unit"
	"ebbline/water"
)

var goodItem = regexp.MustCompile(`^[a-z0-9][a-z0-9-]{1,39}$`)

func checkRoundItem(c *Checker) {
	b := c.Entry.Body.(*RoundItem)
	if !goodItem.MatchString(b.Item) {
		c.Refuse("item", "%s is not an id; needs 2 to 40 small letters, digits and dashes", quote(b.Item))
	}
	c.blank("name", b.Name)
	c.blank("set_by", b.SetBy)
	c.days(b.SetOn, "set_on")
	if !b.Off && b.Days == 0 && b.Months == 0 && b.Sessions == 0 && b.Hours == nil && b.Litres == nil {
		c.Refuse("days", "and the other intervals are still blank: write at least one")
	}
}

// MoreRounds are what recurs beside what the water room lists.
func MoreRounds() []water.Round {
	practice := "common practice"
	return []water.Round{
		{ID: "waste", Name: "Clinical waste collected", Every: water.Every{Days: 14}, Coming: water.Every{Days: 3}, Source: practice + ": weekly to fortnightly", Status: water.FromMemory},
		{ID: "opened", Name: "Opened bottles looked through: heparin, saline, antiseptic, chlorine reagent", Every: water.Every{Days: 7}, Coming: water.Every{Days: 1}, Source: practice, Status: water.FromMemory},
		{ID: "opened-heparin", Name: "Heparin vial, from the day it was opened", Every: water.Every{Days: 28}, Coming: water.Every{Days: 3}, Source: practice + ": 28 days for a vial of many doses, or as its label says", Status: water.FromMemory},
		{ID: "opened-antiseptic", Name: "Antiseptic, from the day it was opened", Every: water.Every{Days: 28}, Coming: water.Every{Days: 3}, Source: practice + ": 28 days, or as its label says", Status: water.FromMemory},
		{ID: "opened-reagent", Name: "Chlorine reagent or strips, from the day they were opened", Every: water.Every{Months: 3}, Coming: water.Every{Days: 14}, Source: practice + ": 3 months, or as the pack says", Status: water.FromMemory},
		{ID: "chlorine-check", Name: "Chlorine test tried on water that must show something, such as tap water", Every: water.Every{Months: 3}, Coming: water.Every{Days: 14}, Source: "our own proposal: a test that never shows anything proves nothing", Status: water.FromMemory},
	}
}

// Rounds gives all that recurs in this household, by the default list as the
// household's own entries change it, in the order of the list.
func (u *Upkeep) Rounds() []water.Round { return u.roundsAt(time.Time{}) }

// roundsAt is [Upkeep.Rounds] as it stood at a moment; the zero moment is now.
func (u *Upkeep) roundsAt(now time.Time) []water.Round {
	list := slices.Concat(water.DefaultRounds(), MoreRounds())
	for _, d := range u.RoundItems {
		if d.Struck != nil || !now.IsZero() && d.At.After(now) {
			continue
		}
		b := d.Value
		at := slices.IndexFunc(list, func(r water.Round) bool { return r.ID == b.Item })
		if b.Off {
			if at >= 0 {
				list = slices.Delete(list, at, at+1)
			}
			continue
		}
		r := water.Round{ID: b.Item, Name: b.Name, StartLine: b.StartLine, Status: water.Given, Source: "set by " + b.SetBy + " on " + b.SetOn.Long(),
			Every: water.Every{Days: b.Days, Months: b.Months, Sessions: b.Sessions}, Coming: water.Every{Days: b.Coming}}
		if b.Hours != nil {
			r.Every.Hours = b.Hours.Float()
		}
		if b.Litres != nil {
			r.Every.Litres = b.Litres.Float()
		}
		if at >= 0 {
			list[at] = r
		} else {
			list = append(list, r)
		}
	}
	return list
}

// personalRounds are those that belong to one person and not to the machine.
var personalRounds = []string{"bloods", "clinic", "report", "prescription", "residual", "hepatitis", "retraining", "visit", "drill", "cuff", "thermometer"}

// IsPersonal reports whether something that recurs belongs to one person.
func IsPersonal(item string) bool { return slices.Contains(personalRounds, item) }

// calibrations are the items that check an instrument, with the keys of what was
// known and of what was shown.
var calibrations = map[string][2]string{
	"scale": {"known_kg", "shown_kg"}, "cuff": {"known_mmhg", "shown_mmhg"}, "thermometer": {"known_c", "shown_c"}, "meter": {"known_ms_cm", "shown_ms_cm"},
}

// Calibration names the two values that checking an instrument takes, and false
// for what is no instrument.
func Calibration(item string) (known, shown string, ok bool) {
	keys, ok := calibrations[item]
	return keys[0], keys[1], ok
}

// fridgeLow and fridgeHigh are what a fridge for medicines shows (common practice, 2
// to 8 °C).
const fridgeLow, fridgeHigh unit.Temperature = 20, 80

func checkRoundDone(c *Checker) {
	b := c.Entry.Body.(*RoundDone)
	known := slices.ContainsFunc(c.House.Upkeep.Rounds(), func(r water.Round) bool { return r.ID == b.Item }) ||
		slices.ContainsFunc(Happenings(), func(one Happening) bool { return one.ID == b.Item })
	if !known {
		c.Refuse("item", "%s is nothing that recurs here; write a round_item first", quote(b.Item))
		return
	}
	if IsPersonal(b.Item) && c.Entry.Person == "" && len(c.House.People) > 1 {
		c.Refuse("person", "is missing: say whose it is")
	}
	if b.Programme != "" && b.Item != "ro-disinfection" {
		c.Refuse("programme", "belongs to the disinfection of the water treatment; that of the machine has an item for each")
	}
	if _, is := programmes[b.Item]; is {
		c.linesOff()
	}
	given := func(key string) bool {
		f, _ := c.Kind.Field(key)
		_, ok := f.Of(b)
		return ok
	}
	for item, keys := range calibrations {
		switch {
		case item != b.Item && given(keys[0]):
			c.Refuse(keys[0], "does not belong to %s", quote(b.Item))
		case item != b.Item && given(keys[1]) && !(b.Item == "fridge" && keys[1] == "shown_c"):
			c.Refuse(keys[1], "does not belong to %s", quote(b.Item))
		case item == b.Item && given(keys[0]) != given(keys[1]):
			c.Refuse(keys[1], "belongs with what is known: write both, or neither where a workshop did it")
		}
	}
	if b.Item == "fridge" {
		if b.ShownTemp == nil {
			c.Refuse("shown_c", "is still blank: what the fridge shows")
		} else if *b.ShownTemp < fridgeLow || *b.ShownTemp > fridgeHigh {
			c.Ask("shown_c", "%s is outside 2 to 8 °C. If it is right, type it again; what lay in it is asked about at the unit before it is used", b.ShownTemp.Text())
		}
	}
	c.counters(b.MachineHours, b.PlantLitres)
}

func checkFault(c *Checker) {
	b := c.Entry.Body.(*Fault)
	c.said("words", b.Words, "what happened")
	first := c.House.Newest(b.About)
	if b.About != "" && !slices.ContainsFunc(c.House.Upkeep.Faults, func(d Dated[Fault]) bool { return d.ID == first && d.Struck == nil }) {
		c.Refuse("about", "%s is no fault in this record", quote(b.About))
	}
}

var goodSecret = regexp.MustCompile(`^[a-z2-7]{26,64}$`)

func checkCalendarSecret(c *Checker) {
	b := c.Entry.Body.(*CalendarSecret)
	if !goodSecret.MatchString(b.Secret) {
		c.Refuse("secret", "is not a secret that the program made; ask for a new address")
	}
	for _, one := range c.House.Upkeep.Calendars {
		if one.Value.Secret == b.Secret && c.Entry.Corrects == "" {
			c.Refuse("secret", "was used before; ask for a new address")
		}
	}
}

// A CounterReading is what the counters of machine and plant showed.
type CounterReading struct {
	ID     string
	At     time.Time
	Hours  *unit.Hours
	Litres *unit.Litres
}

// CounterReadings lists all of them, oldest first.
func (u *Upkeep) CounterReadings() []CounterReading {
	var list []CounterReading
	for _, d := range u.Readings {
		if d.Struck == nil && (d.Value.MachineHours != nil || d.Value.PlantLitres != nil) {
			list = append(list, CounterReading{d.ID, d.At, d.Value.MachineHours, d.Value.PlantLitres})
		}
	}
	for _, d := range u.Done {
		if d.Struck == nil && (d.Value.MachineHours != nil || d.Value.PlantLitres != nil) {
			list = append(list, CounterReading{d.ID, d.At, d.Value.MachineHours, d.Value.PlantLitres})
		}
	}
	slices.SortStableFunc(list, func(a, b CounterReading) int { return cmp.Or(a.At.Compare(b.At), strings.Compare(a.ID, b.ID)) })
	return list
}
