package calc

import (
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"
)

// A second reckoning of the shelf, by brute force: whole days from today to the
// last session, counts in half pieces, and packs by trying one more until it
// does. It shares nothing with the room but the words it was written from.
type bruteShelf struct {
	lots       []bruteLot
	per, pack  int // half pieces
	sessions   map[int]int
	last       int // day of the last session; today is 0
	deliveries []int
	lead       int
	reserve    int
}

type bruteLot struct{ count, expires int }

const never = 1 << 30 // a lot that does not expire

// bruteDay is one day: what came of its sessions, and what is in date at its end.
type bruteDay struct{ failed, served, usable, spoilt int }

// live goes through the days up to and with day to, with so many half pieces
// coming on day on, and gives each day and the lots that are left. The morning
// after day to is day to+1: what is past its day then is still among the lots.
func (s bruteShelf) live(to, on, coming int) (days []bruteDay, left []bruteLot) {
	lots := slices.Clone(s.lots)
	for day := 0; day <= to; day++ {
		if day == on {
			lots = append(lots, bruteLot{coming, never})
		}
		var d bruteDay
		for i := range lots {
			if lots[i].expires < day {
				d.spoilt += lots[i].count
				lots[i].count = 0
			}
		}
		for range s.sessions[day] {
			if inDate(lots, day) < s.per {
				d.failed++
				continue
			}
			for range s.per { // one half piece at a time, of the lot that expires first
				first := -1
				for i, l := range lots {
					if l.count > 0 && (first < 0 || l.expires < lots[first].expires) {
						first = i
					}
				}
				lots[first].count--
			}
			d.served++
		}
		d.usable = inDate(lots, day)
		days = append(days, d)
	}
	return days, lots
}

func inDate(lots []bruteLot, day int) (sum int) {
	for _, l := range lots {
		if l.expires >= day {
			sum += l.count
		}
	}
	return sum
}

type bruteAnswer struct{ left, runsOut, wasted, orderBy, packs int }

// answer reads the days off; a day of -1 is none.
func (s bruteShelf) answer() bruteAnswer {
	a := bruteAnswer{runsOut: -1, orderBy: -1}
	days, left := s.live(s.last, -1, 0)
	for day, d := range days {
		if a.runsOut < 0 {
			a.left += d.served
			if d.failed > 0 {
				a.runsOut = day
			}
		}
		a.wasted += d.spoilt
	}
	for _, l := range left { // its last day is the last planned one, and it was not used
		if l.expires <= s.last {
			a.wasted += l.count
		}
	}
	under := slices.IndexFunc(days, func(d bruteDay) bool {
		return d.usable < s.reserve*s.per || s.reserve == 0 && d.failed > 0
	})
	if under < 0 {
		return a
	}
	delivery, until := -1, s.last+1
	for _, d := range s.deliveries { // in order
		if d-s.lead >= 0 && (d <= under || delivery < 0) {
			delivery = d
		}
	}
	if delivery < 0 {
		return a
	}
	for _, d := range slices.Backward(s.deliveries) {
		if d > delivery {
			until = d
		}
	}
	for packs := 0; ; packs++ {
		if !s.lasts(delivery, until, packs) {
			continue
		}
		if packs > 0 {
			a.orderBy, a.packs = delivery-s.lead, packs
		}
		return a
	}
}

// lasts reports whether so many packs serve every session from their delivery up to
// the morning of the one after it, and leave the reserve whole there.
func (s bruteShelf) lasts(delivery, until, packs int) bool {
	days, left := s.live(max(until-1, delivery-1), delivery, packs*s.pack)
	if until <= delivery { // it comes after the last session, and nothing after it
		left = append(left, bruteLot{packs * s.pack, never})
		until = delivery
	}
	for day, d := range days {
		if day >= delivery && d.failed > 0 {
			return false
		}
	}
	return inDate(left, until) >= s.reserve*s.per
}

func drawBrute(r *rand.Rand) bruteShelf {
	s := bruteShelf{per: 1 + r.IntN(6), pack: 1 + r.IntN(30), sessions: map[int]int{}, lead: r.IntN(12), reserve: r.IntN(9)}
	if r.IntN(3) == 0 {
		s.per = 2 // one piece, the usual
	}
	for day, n := r.IntN(4), 1+r.IntN(45); n > 0; n-- {
		s.sessions[day]++
		s.last = day
		day += []int{1, 1, 2, 2, 2, 3, 0, 7}[r.IntN(8)]
	}
	for day, step := r.IntN(20)-3, 1+r.IntN(28); day < s.last+30 && r.IntN(12) > 0; day += step {
		s.deliveries = append(s.deliveries, day)
	}
	for range r.IntN(5) {
		l := bruteLot{r.IntN(60), never}
		if r.IntN(3) > 0 {
			l.expires = r.IntN(s.last+25) - 5
		}
		s.lots = append(s.lots, l)
	}
	return s
}

var bruteToday = time.Date(2026, time.February, 20, 0, 0, 0, 0, time.UTC)

func bruteDate(day int) string { return bruteToday.AddDate(0, 0, day).Format(time.DateOnly) }

func (s bruteShelf) input() string {
	var lots, sessions, deliveries []string
	for _, l := range s.lots {
		lot := fmt.Sprintf(`{"count":%g`, float64(l.count)/2)
		if l.expires != never {
			lot += fmt.Sprintf(`,"expires":%q`, bruteDate(l.expires))
		}
		lots = append(lots, lot+"}")
	}
	for day := 0; day <= s.last; day++ {
		for range s.sessions[day] {
			sessions = append(sessions, fmt.Sprintf("%q", bruteDate(day)))
		}
	}
	for _, d := range s.deliveries {
		deliveries = append(deliveries, fmt.Sprintf("%q", bruteDate(d)))
	}
	list := func(l []string) string { return "[" + strings.Join(l, ",") + "]" }
	return fmt.Sprintf(`{"items":[{"item":"x","on_hand":%s,"per_session":%g,"pack":%g}],"today":%q,"session_dates":%s,"delivery_dates":%s,"order_lead_days":%d,"reserve_sessions":%d}`,
		list(lots), float64(s.per)/2, float64(s.pack)/2, bruteDate(0), list(sessions), list(deliveries), s.lead, s.reserve)
}

// Sessions left, the day it runs out, what is wasted, the last day to order and
// the packs are those of a brute-force life day by day, over thousands of shelves
// drawn at random.
func TestStockAgainstBruteForce(t *testing.T) {
	topic, _ := Find("stock")
	r := rand.New(rand.NewPCG(4, 3))
	orders, spoilt, out := 0, 0, 0
	for i := range 6000 {
		s := drawBrute(r)
		in := s.input()
		got, err := topic.Answer(strings.NewReader(in))
		if err != nil {
			t.Fatalf("%s: %v", in, err)
		}
		text, err := json.Marshal(got.Out)
		if err != nil {
			t.Fatal(err)
		}
		var have stockOut
		if err := json.Unmarshal(text, &have); err != nil {
			t.Fatal(err)
		}
		date := func(day int) any {
			if day < 0 {
				return nil
			}
			return bruteDate(day)
		}
		want, it := s.answer(), have.Items[0]
		if it.SessionsLeft != want.left || it.RunsOut != date(want.runsOut) || it.Wasted != float64(want.wasted)/2 || it.OrderBy != date(want.orderBy) || it.OrderPacks != want.packs {
			t.Fatalf("shelf %d: %+v; want %d left, out %v, %g wasted, order by %v, %d packs\n%s", i, it, want.left, date(want.runsOut), float64(want.wasted)/2, date(want.orderBy), want.packs, in)
		}
		orders, spoilt, out = orders+min(want.packs, 1), spoilt+min(want.wasted, 1), out+min(want.runsOut+1, 1)
	}
	t.Logf("of 6,000 shelves %d run out, %d lose pieces to their date, %d order", out, spoilt, orders)
	if orders < 1000 || spoilt < 1000 || out < 1000 {
		t.Errorf("too few of a kind to say anything: %d run out, %d lose pieces, %d order", out, spoilt, orders)
	}
}
