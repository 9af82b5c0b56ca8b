package simulate

import (
	"fmt"
	"math"
	"time"

	"ebbline/record"
	"ebbline/unit"
	"ebbline/water"
)

// samples are planned a week ahead, drawn on the second Sunday of the month,
// sent the day after and answered nine days later.
func (k *keeper) samples(day time.Time) {
	if day.Day() == 2 {
		sunday := day.AddDate(0, 0, (7-int(day.Weekday()))%7)
		k.plan(day, sunday, water.PointProduct, water.ViableCount, water.Endotoxin)
	}
	for _, s := range k.house.Upkeep.Samples() {
		id := s.ID
		switch {
		case s.State == water.SamplePlanned && !unit.DateOf(day).Before(s.PlannedOn):
			since := unit.Hours(4000 + 100*int64(k.rng.IntN(20)))
			k.write(day.Add(50*time.Minute), "water_sample", &record.WaterSample{Sample: id, State: string(water.SampleDrawn), Cooled: true, SinceClean: &since})
		case s.State == water.SampleDrawn && day.Sub(s.DrawnAt) > 12*time.Hour:
			k.write(day, "water_sample", &record.WaterSample{Sample: id, State: string(water.SampleSent), Carrier: "laboratory’s courier"})
			k.write(day.Add(40*time.Minute), "water_sample", &record.WaterSample{Sample: id, State: "reached"})
			k.waiting = append(k.waiting, waitingSample{id, k.truth(day), day.AddDate(0, 0, 8)})
		}
	}
	for len(k.waiting) > 0 && !day.Before(k.waiting[0].back) && k.err == nil {
		k.answer(day, k.waiting[0])
		k.waiting = k.waiting[1:]
	}
	k.followUp(day)
}

func (k *keeper) plan(day, on time.Time, point string, what ...water.Substance) {
	k.sample++
	var words []string
	for _, w := range what {
		words = append(words, string(w))
	}
	k.write(day.Add(20*time.Minute), "water_sample", &record.WaterSample{Sample: fmt.Sprintf("sim-sample-%03d", k.sample), State: string(water.SamplePlanned), Point: point, For: words, PlannedOn: unit.DateOf(on)})
}

// truth is the true count of a sample: low in most months; in the third a film
// has grown, until the ring is disinfected for it.
func (k *keeper) truth(day time.Time) float64 {
	months := day.Sub(k.begin).Hours() / 24 / 30.4
	v := 6 * math.Exp(k.rng.NormFloat64()*0.5)
	if months > 2.2 && months < 3.3 {
		v = 64
	}
	return v
}

// answer writes down the laboratory's result: the count of one plate of one
// millilitre.
func (k *keeper) answer(day time.Time, s waitingSample) {
	k.Upkeep.Samples = append(k.Upkeep.Samples, WaterTruth{s.id, s.count})
	count := water.Result{What: water.ViableCount, Op: water.Equal, Value: math.Round(s.count), Unit: water.CFUPerML}
	if s.count < 1 {
		count = water.Result{What: water.ViableCount, Op: water.Less, Value: 1, Unit: water.CFUPerML}
	}
	b := &record.WaterResult{Sample: s.id, Laboratory: "Laboratory by the bridge (invented)", Edition: water.ISO2019, Use: string(water.Standard),
		Medium: "R2A", Celsius: ptr(unit.Temperature(200)), Days: 7, Plated: ptr(unit.Drawn(100)), Owner: personName,
		Results: []water.Result{count, {What: water.Endotoxin, Op: water.Less, Value: 0.05, Unit: water.EUPerML}}}
	b.Judged, _ = k.house.Upkeep.Judge(b)
	k.write(day.Add(4*time.Hour), "water_result", b)
}

// followUp sees to a result that cannot stand: the ring is disinfected, the unit
// is told, and another sample is planned.
func (k *keeper) followUp(day time.Time) {
	for _, j := range k.house.Upkeep.Results {
		if !j.Open() || day.Sub(j.At) < 40*time.Hour {
			continue
		}
		k.done(day, "ro-disinfection")
		k.write(day.Add(3*time.Hour), "task_closed", &record.TaskClosed{Result: j.ID, Did: "ring and reverse osmosis disinfected, another sample planned", Told: "Nurse A. Kos by telephone: draw again in a week, go on meanwhile"})
		k.plan(day, day.AddDate(0, 0, 7), water.PointProduct, water.ViableCount, water.Endotoxin)
	}
}
