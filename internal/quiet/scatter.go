package main

import (
	"hash/fnv"
	"math"
	"math/rand/v2"
)

// How the values of one person scatter.
const (
	// gainMean and gainSD are gains between sessions of three a week, % of dry
	// weight: López-Gómez JM et al., Kidney Int Suppl 2005;(93):S63–8.
	gainMean, gainSD = 3.5, 1.1
	// gainDailyMean and gainDailySD are the same for five or six a week: as much in a
	// week, over twice the sessions. Ours.
	gainDailyMean, gainDailySD = 1.9, 0.8
	// underSpread is the scatter of a beginning weight of who passes urine, kg. Ours.
	underSpread = 0.25

	// standsSD is the scatter of the fall on standing up, mmHg. Ours.
	standsSD = 5

	// leastStanding is the least upper pressure that can be read off somebody who
	// stands, mmHg. Ours.
	leastStanding = 45

	// sugarMean and sugarSD are blood sugars of somebody whose unit marked it, mmol/L.
	// Ours.
	sugarMean, sugarSD = 8.5, 1.2

	pulseMean, pulseBetween, pulseWithin = 72, 5, 4
	warm, warmSD                         = 36.5, 0.2

	venousMean, venousBetween, venousWithin       = 130, 10, 4
	arterialMean, arterialBetween, arterialWithin = -150, 12, 5
	tmpMean, tmpBetween, tmpWithin                = 60, 8, 5
)

// pressureTotal is by how much the upper pressure before a session scatters in one
// person, as a share of the usual one: Chang TI et al., J Hum Hypertens 2014;28:18–24,
// 1,844 people in centres, coefficient of variation 9.9 ± 4.6 %.
const pressureTotal = 0.099

// pressureWithin is the part of it by which a reading lies off its course in a
// session; the rest, from session to session, is what brings it up to the whole:
//
//	between = √(total² − within²)
//
// How it divides is ours: readings scatter by some 4 to 8 % (from memory). Between 0
// and pressureTotal.
var pressureWithin = 0.06

func pressureBetween() float64 {
	return math.Sqrt(pressureTotal*pressureTotal - pressureWithin*pressureWithin)
}

// chance draws the values of a life.
type chance struct{ *rand.Rand }

// near draws about a middle, without the one in a thousand beyond 3.3 standard
// deviations.
func (c chance) near(mean, sd float64) float64 {
	for {
		if z := c.NormFloat64(); math.Abs(z) < 3.3 {
			return mean + sd*z
		}
	}
}

// newChance makes the chances that belong to a name and a number.
func newChance(seed uint64, name string, n int) chance {
	h := fnv.New64a()
	h.Write([]byte(name))
	return chance{rand.New(rand.NewPCG(seed<<16+uint64(n), h.Sum64()))}
}
