package fluid

import (
	"math"
	"math/rand/v2"
	"slices"
)

// A life is a person whose true weights are known: gains that differ from day
// to day of the week, noise of 0.4 to 0.7 kg, now and then a feast or a missed
// session, a dry weight that moves, a scale of its own steps. Of eight, two have
// days on which they begin below the dry weight, and one, who passes water,
// begins about there every day. All invented.
type life struct {
	rng    *rand.Rand
	days   []int      // weekdays of the sessions; nil for every second day
	daily  [7]float64 // kg gained on each weekday
	noise  float64    // kg, of a gain
	dry    float64    // kg
	starts float64    // hour of the day
	length float64    // hours
	step   float64    // kg, what the scale shows
	adds   float64    // kg that come in during a session: drinks and washback

	below *rand.Rand // draws what has to do with lying below the dry weight, and nothing else
	under float64    // share of the sessions that begin 0.1 to 1.0 kg below it, whatever was gained
	turn  int        // from this session on level is what is gained; noGain for never
	level float64    // kg between two sessions, the same after any stretch; below 0 for somebody who passes more than they drink
}

const noGain = math.MaxInt

func newLife(number uint64) *life {
	r := rand.New(rand.NewPCG(number, 77))
	schedules := [][]int{{1, 3, 5}, {2, 4, 6}, {0, 2, 4, 6}, {1, 2, 4, 5}, {1, 2, 3, 5, 6}, nil}
	l := &life{rng: r, days: schedules[r.IntN(len(schedules))]}
	l.dry = math.Round((45+75*r.Float64())*2) / 2
	perDay := l.dry * (0.008 + 0.010*r.Float64())
	for day := range l.daily {
		l.daily[day] = perDay * (1 + 0.15*r.NormFloat64())
	}
	l.daily[0] *= 1.15
	l.daily[6] *= 1.15
	l.noise = 0.4 + 0.3*r.Float64()
	l.starts = 6 + 13*r.Float64()
	l.length = 3 + 4*r.Float64()
	l.step = []float64{0.1, 0.1, 0.1, 0.05}[r.IntN(4)]
	l.below = rand.New(rand.NewPCG(number, 78))
	l.adds, l.turn = 0.3+0.5*l.below.Float64(), noGain
	switch l.below.IntN(8) {
	case 0:
		l.turn, l.level = 0, -0.4+0.6*l.below.Float64()
	case 1, 2:
		l.under = 1.0 / 50
	}
	return l
}

// A weighing is a true weight before a session and what was known then.
type weighing struct {
	pre, lastPost, dry, hours, adds float64
	history                         []Interval
}

// live runs n sessions and shows each true weighing, numbered from 0.
func (l *life) live(n int, see func(i int, w weighing)) {
	const (
		feast, missed, newDryWeight = 0.01, 0.01, 1.0 / 30 // a session
		most                        = 4                    // kg a session takes off
	)
	var history []Interval
	post, ended := l.shown(l.dry), l.starts-48
	for day, i := 0, 0; i < n; day++ {
		if !l.due(day) || l.rng.Float64() < missed {
			continue
		}
		begins := float64(day)*24 + l.starts + 1.5*l.rng.NormFloat64()
		gained := l.noise * l.rng.NormFloat64()
		for hour := ended; hour < begins; hour++ {
			gained += l.daily[(int(hour+168)/24)%7] / 24
		}
		if l.rng.Float64() < feast {
			gained += 0.8 + l.rng.Float64()
		}
		if i >= l.turn {
			gained = l.level + l.noise*l.below.NormFloat64()
		}
		pre := post + gained
		if l.below.Float64() < l.under {
			pre = l.dry - 0.1 - 0.9*l.below.Float64()
		}
		w := weighing{pre: l.shown(pre), lastPost: post, dry: l.dry, adds: l.adds, hours: math.Round((begins-ended)*100) / 100, history: history}
		see(i, w)
		history = append(history, Interval{PreviousPost: kg(post), Pre: kg(w.pre), Hours: w.hours})
		target := l.dry + 0.1 + 0.3*l.rng.NormFloat64()
		// Who begins below the target is filled up by what comes in, and by no more.
		post, ended = l.shown(max(min(target, w.pre+l.adds), w.pre-most)), begins+l.length
		if l.rng.Float64() < newDryWeight {
			l.dry += []float64{-1, -0.5, -0.5, 0.5, 0.5, 1}[l.rng.IntN(6)]
		}
		i++
	}
}

func (l *life) due(day int) bool {
	if l.days == nil {
		return day%2 == 0
	}
	return slices.Contains(l.days, day%7)
}

func (l *life) shown(v float64) float64 { return math.Round(math.Round(v/l.step)*l.step*100) / 100 }

func (w weighing) input(entered float64) WeighInInput {
	return WeighInInput{
		Entered: kg(entered), DryWeight: kg(w.dry), LastPost: new(kg(w.lastPost)), HoursSincePost: &w.hours, History: w.history,
	}
}

// moved is how far a slip moves the goal, which is never below 0 (litres).
func (w weighing) moved(entered float64) float64 {
	return math.Abs(max(0, entered-w.dry+w.adds) - max(0, w.pre-w.dry+w.adds))
}
