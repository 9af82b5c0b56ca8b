package simulate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"time"

	"ebbline/record"
	"ebbline/unit"
	"ebbline/water"
)

// UpkeepTruth is what is really so of water and shelf behind what was written.
type UpkeepTruth struct {
	Samples []WaterTruth
	Carbon  []time.Time            // when the carbon was changed
	Drift   map[string]unit.Pieces // used and never booked, by item, over the whole record
	Stocked map[string]unit.Pieces // what truly lies on the shelf at the end
}

// WaterTruth is what truly was in one sample of water.
type WaterTruth struct {
	ID    string
	Count float64 // CFU/mL
}

// keeper is the making of the household's round, water and shelf. It has chances
// of its own, so that what it draws moves nothing in the sessions.
type keeper struct {
	*life
	rng     *rand.Rand
	day     time.Time // the next day to live through
	begin   time.Time
	carbon  time.Time // when it was changed last
	due     map[string]time.Time
	sample  int
	waiting []waitingSample
	stock   map[string]*pile
	order   *orderOut
	lotNo   int
	hours   float64
	litres  float64
	runs    int // sessions counted so far
}

// waitingSample is a sample that the laboratory has.
type waitingSample struct {
	id    string
	count float64
	back  time.Time
}

func newKeeper(l *life, seed uint64, begin time.Time) *keeper {
	k := &keeper{life: l, due: map[string]time.Time{}, rng: rand.New(rand.NewPCG(seed, 0x726f756e64)), begin: begin, day: time.Date(begin.Year(), begin.Month(), begin.Day(), 10, 0, 0, 0, l.zone), carbon: begin.AddDate(0, 0, -90), stock: map[string]*pile{}, hours: 3120, litres: 214_000}
	l.Upkeep.Drift = map[string]unit.Pieces{}
	return k
}

// write keeps an entry that belongs to nobody in particular.
func (k *keeper) write(at time.Time, kind string, body any) {
	k.writeFor("", at, kind, body)
}

func (k *keeper) writeFor(person string, at time.Time, kind string, body any) {
	k.life.entry(person, at, time.Duration(5+k.rng.IntN(40))*time.Second, kind, "", body, nil)
}

// start writes down the household as it is before the first session: its
// supplier, its shelf, the unit's rules, and when each thing was done last.
func (k *keeper) start() {
	at := k.begin.AddDate(0, 0, -1).Add(40 * time.Minute)
	idle, repeat := unit.Hours(6000), unit.Hours(0)
	day := unit.DateOf(at)
	k.write(at, "water_rules", &record.WaterRules{Edition: water.ISO2019, Use: string(water.Standard), Repeat: &repeat, MaxIdle: &idle, SetBy: "Dr B. Zupan (invented)", SetOn: day.Add(-3), Supplier: "on the list of the water works, by telephone"})
	k.write(at, "needlestick_card", &record.NeedlestickCard{Card: record.Card{Words: "Let it bleed, do not suck\nWash with soap under running water\nCover it\nRing the unit within the hour, day or night\nTake this card and the last virus tests with you", From: "Nurse A. Kos (invented)", GivenOn: day, ReviewBy: day.Add(400)}})
	for item, before := range map[string]int{
		"service": 100, "electrical": 100, "uv": 60, "cuff": 40, "thermometer": 90, "chemistry": 150, "feed": 120, "ultrafilter": 61, "sediment": 20, "ro-disinfection": 16,
		"scale": 12, "meter": 9, "clinic": 30, "report": 25, "hepatitis": 80, "retraining": 165, "visit": 60, "drill": 10, "emergency-box": 60, "carbon": 90,
		"membrane": 410, "chlorine-check": 30, "opened-reagent": 20, "opened-heparin": 9, "opened-antiseptic": 2,
	} {
		k.due[item] = at.AddDate(0, 0, -before)
	}
	for _, r := range k.house.Upkeep.Rounds() {
		last, ok := k.due[r.ID]
		if !ok {
			continue
		}
		person := ""
		if record.IsPersonal(r.ID) {
			person = personID
		}
		k.lifeAt(at, last, person, r.ID)
	}
	k.life.entry("", at, 20*time.Second, "round_item", "", &record.RoundItem{Item: "chemical", Name: "Chemical disinfection of the machine", Months: 1, Off: true, SetBy: "the machine's book (invented)", SetOn: day}, nil)
	k.startShelf(at)
	k.installed(at.Add(2 * time.Minute))
}

// installed writes down what a machine needs on which nobody was treated yet: a
// rinse, and a residue test that shows nothing. It draws no chance, so that the
// rest of the life stays as it was.
func (k *keeper) installed(at time.Time) {
	k.life.entry("", at, 20*time.Second, "round_done", "", &record.RoundDone{Item: "rinse", Outcome: "done", Who: "technician (invented)"}, nil)
	k.life.entry("", at.Add(time.Minute), 20*time.Second, "residual_test", "", &record.ResidualTest{For: "peracetic", Value: 500, Below: true, Lot: "RT-07", Expiry: unit.DateOf(at).Add(300)}, nil)
}

// opened is what is thrown away so many days after it was opened, and what is
// tried out as often. It draws no chance, so that the rest of the life stays as
// it was.
var opened = []struct {
	item string
	days int
}{{"opened-heparin", 27}, {"opened-antiseptic", 25}, {"opened-reagent", 84}, {"chlorine-check", 85}}

func (k *keeper) openNew(day time.Time) {
	for _, o := range opened {
		if day.Sub(k.due[o.item]) >= time.Duration(o.days)*24*time.Hour {
			k.life.entry("", day.Add(130*time.Minute), 20*time.Second, "round_done", "", &record.RoundDone{Item: o.item, Outcome: "done", Who: personName}, nil)
			k.due[o.item] = day
		}
	}
}

// lifeAt writes down at one moment that something was done at an earlier one.
func (k *keeper) lifeAt(written, done time.Time, person, item string) {
	k.life.entry(person, done, written.Sub(done), "round_done", "", k.doneBody(item), nil)
	k.due[item] = done
}

// upTo lives through the days up to a moment.
func (k *keeper) upTo(to time.Time) {
	for ; k.day.Before(to) && k.err == nil; k.day = k.day.AddDate(0, 0, 1) {
		k.count()
		k.daily(k.day)
	}
}

// ready disinfects the machine again when it has stood for long, as after a
// session that was missed.
func (k *keeper) ready(start time.Time) {
	if !k.last.IsZero() && start.Sub(k.last) > 50*time.Hour {
		k.write(start.Add(-time.Hour), "round_done", &record.RoundDone{Item: "heat", Outcome: "done", Who: personName, Note: "stood long"})
	}
}

// count lets the counters run on with the sessions held since.
func (k *keeper) count() {
	for ; k.runs < len(k.Truth); k.runs++ {
		if !k.Truth[k.runs].Missed {
			k.hours += 5.6
			k.litres += 285
		}
	}
}

// daily does what falls on a day: weekly rounds on Sundays, samples, deliveries,
// counts, and now and then something that breaks.
func (k *keeper) daily(day time.Time) {
	n := int(day.Sub(k.begin).Hours()/24 + 0.5)
	k.samples(day)
	k.shelfDay(day)
	if day.Weekday() == time.Sunday {
		k.plant(day)
		k.write(day.Add(30*time.Minute), "round_done", &record.RoundDone{Item: "citric", Outcome: "done", Who: personName})
		k.write(day.Add(35*time.Minute), "round_done", &record.RoundDone{Item: "fridge", Outcome: "done", ShownTemp: ptr(unit.Temperature(38 + k.rng.IntN(16))), Who: personName})
		k.write(day.Add(40*time.Minute), "round_done", &record.RoundDone{Item: "opened", Outcome: "done", Who: personName})
	}
	for _, r := range regular {
		if day.Sub(k.due[r.item]) >= time.Duration(r.days)*24*time.Hour {
			k.done(day, r.item)
		}
	}
	k.openNew(day)
	if day.Sub(k.carbon) >= carbonDays*24*time.Hour {
		k.carbon = day
		k.Upkeep.Carbon = append(k.Upkeep.Carbon, day)
		k.done(day, "carbon")
	}
	switch {
	case n%14 == 3:
		k.write(day.Add(time.Hour), "sharps_bin", &record.SharpsBin{Did: "collected"})
	case n%82 == 5:
		k.write(day.Add(time.Hour), "sharps_bin", &record.SharpsBin{Did: "opened"})
	}
	k.troubles(day, n)
}

// regular is what this household does by the calendar, some of it a little late.
var regular = []struct {
	item string
	days int
}{{"scale", 30}, {"meter", 29}, {"sediment", 45}, {"ro-disinfection", 28}, {"ultrafilter", 84}, {"clinic", 58}, {"report", 60}, {"emergency-box", 88}}

// carbonDays is how long a carbon filter is used.
const carbonDays = 145

// done writes down what was done on a day, for the person where it is hers.
func (k *keeper) done(day time.Time, item string) {
	person := ""
	if record.IsPersonal(item) {
		person = personID
	}
	k.writeFor(person, day.Add(2*time.Hour), "round_done", k.doneBody(item))
	k.due[item] = day
}

// doneBody is what is written of something that was done. The scale shows a
// little less than there is, the meter a little more.
func (k *keeper) doneBody(item string) *record.RoundDone {
	b := &record.RoundDone{Item: item, Outcome: "done"}
	switch item {
	case "scale":
		b.KnownMass, b.ShownMass = ptr(unit.Mass(20000)), ptr(unit.Mass(20000-100*int64(k.rng.IntN(2))))
	case "meter":
		b.KnownConduct, b.ShownConduct = ptr(unit.Conductivity(1400)), ptr(unit.Conductivity(1400+int64(k.rng.IntN(6))))
	case "ro-disinfection":
		b.Programme = "heat"
	case "ultrafilter", "sediment", "carbon":
		k.lotNo++
		b.Lot = fmt.Sprintf("F-%c%02d", 'A'+k.lotNo%26, k.lotNo%97)
		b.PlantLitres = ptr(unit.Litres(math.Round(k.litres) * 1000))
	case "service", "electrical", "uv", "cuff", "thermometer", "chemistry", "feed":
		b.Who = "technician (invented)"
	}
	return b
}

// troubles are what breaks: a notice from the water works, two faults that are
// mended, one that is not.
func (k *keeper) troubles(day time.Time, n int) {
	switch n {
	case 47:
		k.write(day, "utility_notice", &record.UtilityNotice{From: unit.DateOf(day), To: unit.DateOf(day).Add(2), Words: "mains flushed in our street, letter of the water works"})
	case 61:
		k.write(day, "fault", &record.Fault{Words: "conductivity alarm twice while it warmed up, gone after a restart", Did: "rinsed and started again", Rang: "technician: write down if it comes again"})
	case 75:
		about := ""
		for _, d := range k.house.Upkeep.Faults {
			about = d.ID
		}
		k.write(day, "fault", &record.Fault{Words: "technician changed the conductivity cell", About: about, Mended: true})
	case 168:
		k.write(day, "fault", &record.Fault{Words: "a drip under the cabinet of the reverse osmosis, one drop a minute", Did: "a bowl under it", Rang: "technician comes on Friday"})
	}
}

// plant reads the water plant: pressures that rise slowly over the sediment
// filter, a membrane that lets a little more through each month.
func (k *keeper) plant(day time.Time) {
	age := day.Sub(k.begin).Hours() / 24
	since := day.Sub(k.due["sediment"]).Hours() / 24
	feed := 395 + k.rng.NormFloat64()*6
	sediment := feed - 12 - since*0.7
	gauge := func(v float64) *unit.Gauge { return ptr(unit.Gauge(math.Round(v/5) * 50)) }
	product := 8.4 + age*0.006 + k.rng.NormFloat64()*0.25
	k.write(day, "water_reading", &record.WaterReading{
		Feed: gauge(feed), AfterSediment: gauge(sediment), AfterSoftener: gauge(sediment - 18), AfterCarbon: gauge(sediment - 33 - age*0.03), AfterPrefilter: gauge(sediment - 42 - age*0.03),
		Hardness: ptr(unit.Hardness(math.Round(math.Max(1.8, 3.5+k.rng.NormFloat64()*1.2) * 10))), Salt: map[bool]string{true: "low", false: "enough"}[k.rng.Float64() < 0.04],
		FeedConduct: ptr(unit.Trace(math.Round(462+k.rng.NormFloat64()*9) * 10)), ProductConduct: ptr(unit.Trace(math.Round(product * 10))),
		FeedTemp: ptr(unit.Temperature(math.Round((20 + 2*math.Sin(age/58) + k.rng.NormFloat64()*0.4) * 10))), MachineHours: ptr(unit.Hours(math.Round(k.hours*10) * 10)), PlantLitres: ptr(unit.Litres(math.Round(k.litres) * 1000)),
	})
}

// chlorineAt is the true total chlorine behind the first carbon, mg/L: next to
// none in a new one, rising as it is used up.
func (k *keeper) chlorineAt(at time.Time) float64 {
	return 0.012 * math.Exp(0.0138*at.Sub(k.carbon).Hours()/24)
}

// chlorine is what a photometer shows of it, to the hundredth; below two
// hundredths it shows nothing.
func (k *keeper) chlorine(at time.Time) (shown unit.Concentration, below bool) {
	v := math.Round((k.chlorineAt(at)+k.rng.NormFloat64()*0.004)*100) / 100
	if v < 0.02 {
		return 20, true
	}
	return unit.Concentration(math.Round(v * 1000)), false
}
