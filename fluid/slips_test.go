package fluid

import (
	"flag"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// The keys beside each digit: on a number pad, and in the row of a keyboard.
var (
	padKeys = map[byte]string{'0': "12", '1': "024", '2': "0135", '3': "26", '4': "157", '5': "2468", '6': "359", '7': "48", '8': "579", '9': "68"}
	rowKeys = map[byte]string{'1': "2", '2': "13", '3': "24", '4': "35", '5': "46", '6': "57", '7': "68", '8': "79", '9': "80", '0': "9"}
)

// slipsOf makes every slip of each kind from a true weight.
func slipsOf(pre float64) map[string][]float64 {
	typed := strconv.FormatFloat(pre, 'f', -1, 64)
	if !strings.Contains(typed, ".") {
		typed += ".0"
	}
	slips := map[string][]float64{}
	add := func(kind, text string) {
		if v, err := strconv.ParseFloat(text, 64); err == nil && v != pre && v <= EnteredKg().High {
			slips[kind] = append(slips[kind], v)
		}
	}
	point := strings.Index(typed, ".")
	digits := typed[:point] + typed[point+1:]
	with := func(i int, digit string) string {
		d := digits[:i] + digit + digits[i+1:]
		return d[:point] + "." + d[point:]
	}
	for i := range len(digits) {
		for digit := range 10 {
			add("one digit", with(i, strconv.Itoa(digit)))
		}
		for _, key := range padKeys[digits[i]] {
			add("key beside, pad", with(i, string(key)))
		}
		for _, key := range rowKeys[digits[i]] {
			add("key beside, row", with(i, string(key)))
		}
		if i > 0 {
			d := digits[:i-1] + string(digits[i]) + string(digits[i-1]) + digits[i+1:]
			add("swapped", d[:point]+"."+d[point:])
		}
		add("left out", typed[:i]+typed[i+1:])
		add("doubled", typed[:i+1]+typed[i:])
	}
	add("point lost", digits)
	add("point early", digits[:point-1]+"."+digits[point-1:])
	add("pounds", fmt.Sprintf("%.1f", pre/0.45359237))
	add("stone", fmt.Sprintf("%.1f", pre/6.35029318))
	st := math.Floor(pre / 6.35029318)
	add("stone", fmt.Sprintf("%.0f.%.0f", st, math.Floor((pre-6.35029318*st)/0.45359237))) // 11 st 6 as 11.6
	return slips
}

// From where on a slip must be asked about, and from where one is counted.
const bigSlipL, smallSlipL = 1.5, 0.8

// A measurement counts what was asked about, of the weights with known truth.
type measurement struct {
	trueAsked, trueAll   int
	underAsked, underAll int            // of these, below the dry weight
	asked, of            map[string]int // big slips by kind
	smallAsked, smallAll int            // those between smallSlipL and bigSlipL, of all kinds
}

// measure judges the true weights of many lives from session to session, and
// every slip of each twentieth of them. It changes each life first.
func measure(tb testing.TB, first, lives uint64, from, to int, change func(*life)) measurement {
	m := measurement{asked: map[string]int{}, of: map[string]int{}}
	reasons := func(w weighing, entered float64) []Reason {
		got, err := WeighIn(w.input(entered))
		if err != nil {
			tb.Fatalf("%v kg: %v", entered, err)
		}
		if (got.Verdict == Accept) != (len(got.Reasons) == 0) {
			tb.Fatalf("%v kg: %s because of %v", entered, got.Verdict, got.Reasons)
		}
		return got.Reasons
	}
	for n := range lives {
		l := newLife(first + n)
		change(l)
		l.live(to, func(i int, w weighing) {
			if i < from {
				return
			}
			m.trueAll++
			under := w.pre < w.dry-1e-9
			if under {
				m.underAll++
			}
			if len(reasons(w, w.pre)) > 0 {
				m.trueAsked++
				if under {
					m.underAsked++
				}
			}
			if (i+int(n))%20 != 0 {
				return
			}
			for kind, slips := range slipsOf(w.pre) {
				for _, entered := range slips {
					asked := 0
					if len(reasons(w, entered)) > 0 {
						asked = 1
					}
					switch moved := w.moved(entered) + 1e-9; {
					case moved >= bigSlipL:
						m.of[kind]++
						m.asked[kind] += asked
					case moved >= smallSlipL:
						m.smallAll++
						m.smallAsked += asked
					}
				}
			}
		})
	}
	return m
}

func (m measurement) trueShare() float64 { return float64(m.trueAsked) / float64(m.trueAll) }

// otherShare is that of the true weights at and above the dry weight.
func (m measurement) otherShare() float64 {
	return float64(m.trueAsked-m.underAsked) / float64(m.trueAll-m.underAll)
}

func (m measurement) share(kind string) float64 { return float64(m.asked[kind]) / float64(m.of[kind]) }

// overall is the mean of the kinds, each counting alike: the number of slips
// that can be made of a weight says nothing about how often each is made.
func (m measurement) overall() float64 {
	total := 0.0
	for kind := range m.of {
		total += m.share(kind)
	}
	return total / float64(len(m.of))
}

// worst is the kind of slip that is asked about least often.
func (m measurement) worst() (kind string, share float64) {
	share = 1
	for _, k := range slices.Sorted(maps.Keys(m.of)) {
		if m.share(k) <= share {
			kind, share = k, m.share(k)
		}
	}
	return kind, share
}

func (m measurement) log(t *testing.T, what string) {
	kind, share := m.worst()
	t.Logf("%s: true weights asked about %.2f %% of %d (%.1f %% of all lie below the dry weight, %.1f %% of those are asked about, %.2f %% of the others); "+
		"slips of 1.5 L and more asked about %.2f %%, worst %.2f %%, %s",
		what, 100*m.trueShare(), m.trueAll, 100*float64(m.underAll)/float64(m.trueAll), 100*float64(m.underAsked)/float64(m.underAll), 100*m.otherShare(),
		100*m.overall(), 100*share, kind)
	for _, kind := range slices.Sorted(maps.Keys(m.of)) {
		t.Logf("    %-16s %6.2f %% of %d", kind, 100*m.share(kind), m.of[kind])
	}
	t.Logf("    from %.1f to %.1f L, of all kinds: %.1f %% of %d", smallSlipL, bigSlipL, 100*float64(m.smallAsked)/float64(m.smallAll), m.smallAll)
}

// Other lives, to see whether the figures stand where nobody has looked:
//
//	go test ./fluid -run SlipsAreAskedAbout -v -args -first-life 31000000 -lives 150
var (
	firstLife = flag.Uint64("first-life", 400_000, "number of the first life of TestSlipsAreAskedAbout")
	lives     = flag.Uint64("lives", 80, "how many lives TestSlipsAreAskedAbout measures")
)

// The aim: of slips that move the goal by 1.5 L or more at least 97 % are asked
// about, of every kind; of true weights at most 2 %. The lives are others than
// those on which the thresholds were chosen, in the same invented world.
func TestSlipsAreAskedAbout(t *testing.T) {
	t.Parallel()
	m := measure(t, *firstLife, *lives, 25, 110, asBorn)
	m.log(t, "after 25 sessions")
	if m.trueAll < 5000 || len(m.of) != 10 {
		t.Fatalf("only %d true weights and %d kinds of slip", m.trueAll, len(m.of))
	}
	if m.trueShare() > 0.02 {
		t.Errorf("%.2f %% of true weights are asked about, the aim is 2", 100*m.trueShare())
	}
	for kind := range m.of {
		if m.of[kind] < 200 || m.share(kind) < 0.97 {
			t.Errorf("%s: %.2f %% of %d asked about, the aim is 97", kind, 100*m.share(kind), m.of[kind])
		}
	}
}

func asBorn(*life) {}

// People who begin below their dry weight. Where that is usual, or is so from some
// day on, the aim holds as for anybody else: what is usual is not asked about, and
// a slip is. Of days that are like no other of the person's most are asked about,
// and one such day in fifty takes the share of true weights past the 2 %: a
// weight of such a day lies where slips lie, and nothing in it tells the two
// apart. One in ten widens the person's own band besides, so that more slips pass.
// The other weights of these people are asked about no more than ever.
func TestSlipsBelowDry(t *testing.T) {
	t.Parallel()
	days := func(share float64) func(*life) {
		return func(l *life) { l.under, l.turn = share, noGain }
	}
	near := func(level float64) func(*life) {
		return func(l *life) { l.under, l.turn, l.level = 0, 0, level }
	}
	for _, tt := range []struct {
		name          string
		change        func(*life)
		from, to      int
		below         float64 // at least this share of the weights lies below the dry weight
		asked, others float64 // of all true weights, and of those not below, at most
		slips         float64 // of each kind, at least
	}{
		{"one session in ten 0.1 to 1.0 kg under", days(0.10), 25, 110, 0.10, 0.08, 0.012, 0.92},
		{"one in fifty", days(0.02), 25, 110, 0.02, 0.03, 0.012, 0.97},
		{"one in a hundred", days(0.01), 25, 110, 0.01, 0.0225, 0.013, 0.97},
		{"about 0.4 kg under as a rule", near(-0.3), 25, 110, 0.70, 0.02, 0.02, 0.97},
		{"about at the dry weight as a rule", near(0.1), 25, 110, 0.30, 0.02, 0.02, 0.97},
		{"about half a kilogram above as a rule", near(0.6), 25, 110, 0.05, 0.02, 0.02, 0.97},
		// From the 60th on: the first five of the new kind are asked about.
		{"about 0.4 kg under from one day on, from the sixth", func(l *life) { l.under, l.turn, l.level = 0, 60, -0.3 }, 66, 110, 0.70, 0.02, 0.03, 0.97},
	} {
		m := measure(t, *firstLife+550_000, *lives/2, tt.from, tt.to, tt.change)
		m.log(t, tt.name)
		if share := float64(m.underAll) / float64(m.trueAll); share < tt.below {
			t.Errorf("%s: only %.1f %% of the weights lie below the dry weight", tt.name, 100*share)
		}
		if m.trueShare() > tt.asked || m.otherShare() > tt.others {
			t.Errorf("%s: %.2f %% true, %.2f %% of those not below", tt.name, 100*m.trueShare(), 100*m.otherShare())
		}
		for kind, of := range m.of {
			least := tt.slips
			if of < 1500 {
				least -= 0.01 // of some hundreds the share scatters by nearly a percent
			}
			if of >= 100 && m.share(kind) < least {
				t.Errorf("%s: %s, %.2f %% of %d asked about", tt.name, kind, 100*m.share(kind), of)
			}
		}
	}
}

// Where gains scatter most, and where people come nearest to their dry weight,
// the aim for each kind is not met; how far off it is stays bounded.
func TestSlipsInHarderLives(t *testing.T) {
	t.Parallel()
	for name, change := range map[string]func(*life){
		"gains that scatter by 0.7 kg": func(l *life) { l.noise = 0.7 },
		"six sessions a week":          func(l *life) { l.days = []int{1, 2, 3, 4, 5, 6} },
		"weekdays that differ by half": func(l *life) {
			l.days = nil
			for day := range l.daily {
				l.daily[day] *= 1 + 0.4*math.Sin(float64(2*day))
			}
		},
	} {
		m := measure(t, 800_000, 30, 25, 110, change)
		m.log(t, name)
		if m.trueShare() > 0.03 || m.overall() < 0.98 || m.share("one digit") < 0.94 || m.share("swapped") < 0.94 {
			t.Errorf("%s: %.2f %% true, %.2f %% of slips, %.2f %% of one digit, %.2f %% of swaps", name,
				100*m.trueShare(), 100*m.overall(), 100*m.share("one digit"), 100*m.share("swapped"))
		}
	}
}

// With little or no history the bounds are not the person's own: more true
// weights are asked about and fewer slips.
func TestSlipsWithLittleHistory(t *testing.T) {
	t.Parallel()
	first := measure(t, 500_000, 200, 0, enough, asBorn)
	first.log(t, "first five sessions")
	// Without a history every weight below the dry weight is asked about, those of
	// people who always begin there too.
	if first.otherShare() > 0.10 || first.overall() < 0.95 || first.underAll == 0 || first.underAsked != first.underAll {
		t.Errorf("first sessions: %.2f %% true at and above dry weight, %d of %d below, %.2f %% slips",
			100*first.otherShare(), first.underAsked, first.underAll, 100*first.overall())
	}
	next := measure(t, 600_000, 200, enough, 25, asBorn)
	next.log(t, "sessions 6 to 25")
	if next.trueShare() > 0.03 || next.overall() < 0.97 {
		t.Errorf("next sessions: %.2f %% true, %.2f %% slips", 100*next.trueShare(), 100*next.overall())
	}
}

// BenchmarkSlips reports the two shares of the aim, and the time of a judgement.
func BenchmarkSlips(b *testing.B) {
	var m measurement
	for b.Loop() {
		m = measure(b, 700_000, 20, 25, 110, asBorn)
	}
	b.ReportMetric(100*m.trueShare(), "%true-asked")
	b.ReportMetric(100*m.overall(), "%slips-asked")
	judged := m.trueAll
	for kind := range m.of {
		judged += m.of[kind]
	}
	b.ReportMetric(b.Elapsed().Seconds()*1e6/float64(b.N)/float64(judged), "µs/weight")
}
