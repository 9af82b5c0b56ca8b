package web

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report/chart"
	"ebbline/unit"
)

// weekBody sets another week beside today's.
type weekBody struct {
	Base     string
	Why      string // why no week can be weighed
	Problem  string // what is wrong with the one that was asked for
	Days     []dayBox
	Every    string
	Length   string
	Blood    string
	Dialflow string
	KoA      string
	Start    string
	Now      *household.WeekOutcome
	Other    *household.WeekOutcome
	Rows     []compareRow
	Question form
	Address  string // of this very comparison, to send or to keep
	Single   bool
	Around   string
	From     []string
	Cautions []unit.Caution
}

type dayBox struct {
	Value, Label string
	On           bool
}

// A compareRow is one figure of two weeks.
type compareRow struct {
	Name, Now, NowRange, Other, OtherRange string
	Hint                                   string
	Look                                   bool // the other passes a limit
}

// drawsHere is how many persons a page of two weeks is weighed with.
const drawsHere = 1000

// weekOfQuery reads the week from the address; what is not in it is as today.
func weekOfQuery(q url.Values, now household.Week) (household.Week, error) {
	w := now
	if days, given := q["day"]; given || q.Get("every_hours") != "" {
		w.Days, w.EveryHours = nil, 0
		for _, d := range days {
			i := slices.Index(weekdayCodes, d)
			if i < 0 {
				return w, unit.Refuse("days", d, "mon tue wed thu fri sat sun")
			}
			w.Days = append(w.Days, time.Weekday((i+1)%7))
		}
		if text := strings.TrimSpace(q.Get("every_hours")); text != "" {
			n, err := strconv.Atoi(text)
			if err != nil {
				return w, unit.Refuse("every_hours", text, "a whole number of hours")
			}
			w.EveryHours = n
		}
	}
	for _, f := range []struct {
		key string
		to  *float64
	}{{"length_min", &w.LengthMin}, {"blood_flow_ml_min", &w.BloodFlow}, {"dialysate_flow_ml_min", &w.Dialysate}, {"koa_ml_min", &w.KoA}} {
		text := strings.TrimSpace(q.Get(f.key))
		if text == "" {
			continue
		}
		v, err := unit.ParsePrinted(text)
		if err != nil {
			return w, unit.Refuse(f.key, text, "a number")
		}
		*f.to = v.Float()
	}
	if text := strings.TrimSpace(q.Get("start")); text != "" {
		at, err := time.Parse("15:04", strings.Replace(text, ".", ":", 1))
		if err != nil {
			return w, unit.Refuse("start", text, "hours and minutes, such as 18:00")
		}
		w.Start = at.Hour()*60 + at.Minute()
	}
	return w, w.Check()
}

var weekdayCodes = []string{"mon", "tue", "wed", "thu", "fri", "sat", "sun"}
var weekdayLabels = []string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}

// queryOf writes a week as an address does.
func queryOf(w household.Week) string {
	q := url.Values{}
	for _, d := range w.Days {
		q.Add("day", weekdayCodes[(int(d)+6)%7])
	}
	if w.EveryHours > 0 {
		q.Set("every_hours", strconv.Itoa(w.EveryHours))
	}
	for key, v := range map[string]float64{"length_min": w.LengthMin, "blood_flow_ml_min": w.BloodFlow, "dialysate_flow_ml_min": w.Dialysate, "koa_ml_min": w.KoA} {
		if v > 0 {
			q.Set(key, round0(v))
		}
	}
	q.Set("start", fmt.Sprintf("%02d:%02d", w.Start/60, w.Start%60))
	return q.Encode()
}

func round0(v float64) string { return strconv.FormatFloat(v, 'f', 0, 64) }

// fill puts a week into the fields.
func (b *weekBody) fill(w household.Week) {
	b.Days = nil
	for i, code := range weekdayCodes {
		b.Days = append(b.Days, dayBox{code, weekdayLabels[i], slices.Contains(w.Days, time.Weekday((i+1)%7))})
	}
	if w.EveryHours > 0 {
		b.Every = strconv.Itoa(w.EveryHours)
	}
	b.Length, b.Blood, b.Start = round0(w.LengthMin), round0(w.BloodFlow), fmt.Sprintf("%02d:%02d", w.Start/60, w.Start%60)
	if w.Dialysate > 0 {
		b.Dialflow = round0(w.Dialysate)
	}
	if w.KoA > 0 {
		b.KoA = round0(w.KoA)
	}
}

// weekPage shows one other week beside today's. The weeks are weighed outside
// the record's lock, since a thousand persons take a moment.
func (s *server) weekPage(w http.ResponseWriter, r *http.Request) {
	b, err := s.weighOne(r)
	if err == nil {
		err = s.render(w, r, func(v visit) (view, error) {
			b.Base = doseOf(v)
			if b.Other != nil {
				kind, _ := record.Find("question")
				b.Question = newForm(kind, b.Base+"/week/question", map[string]string{"words": b.Question.Problem})
				b.Question.Next, b.Question.Submit = "/p/"+v.member.ID+"/unit#questions", "Keep this question"
			}
			return view{page: "dose_week", title: "Another week", here: "dose", body: b}, nil
		})
	}
	if err != nil {
		s.answer(w, r, err)
	}
}

func (s *server) weighOne(r *http.Request) (weekBody, error) {
	var b weekBody
	var book *household.WeekBook
	var lack household.Lacking
	err := s.look(r, func(v visit) error {
		var err error
		book, err = household.WeekBookOf(v.house, v.member, v.now)
		return err
	})
	switch {
	case errors.As(err, &lack):
		b.Why = string(lack)
		return b, nil
	case err != nil:
		return b, err
	}
	b.Single, b.Around, b.From, b.Cautions = book.Single, book.AroundIs, book.Person.From, book.Cautions
	now, err := book.Outcome(book.Now, s.draws)
	if err != nil {
		b.Why = "Today’s week cannot be weighed: " + err.Error() + "."
		return b, nil
	}
	b.Now = &now
	asked, err := weekOfQuery(r.URL.Query(), book.Now)
	b.fill(asked)
	var input *unit.InputError
	switch {
	case errors.As(err, &input):
		b.Problem = fieldWords[input.Field] + ": " + input.Got + " is not accepted: needs " + input.Want + "."
		return b, nil
	case err != nil:
		return b, err
	case asked.Same(book.Now) && asked.Start == book.Now.Start:
		return b, nil // nothing was asked for yet
	}
	other, err := book.Outcome(asked, s.draws)
	if errors.As(err, &input) {
		b.Problem = "It cannot be weighed: needs " + input.Want + "."
		return b, nil
	} else if err != nil {
		return b, err
	}
	b.Other, b.Address = &other, "week?"+queryOf(asked)
	b.Rows = compareRows(book, now, other)
	b.Question.Problem = book.Question(other) // carried to the form that is made with the page
	return b, nil
}

var fieldWords = map[string]string{
	"length_min": "Length", "blood_flow_ml_min": "Blood flow", "dialysate_flow_ml_min": "Dialysate flow", "koa_ml_min": "KoA of the dialyser",
	"days": "Days", "every_hours": "Every so many hours", "start": "Beginning",
}

// compareRows sets the figures side by side.
func compareRows(book *household.WeekBook, now, other household.WeekOutcome) []compareRow {
	var rows []compareRow
	add := func(name, hint string, f func(o household.WeekOutcome) (string, string)) *compareRow {
		a, ar := f(now)
		c, cr := f(other)
		rows = append(rows, compareRow{Name: name, Hint: hint, Now: a, NowRange: ar, Other: c, OtherRange: cr})
		return &rows[len(rows)-1]
	}
	likely := func(value, low, high float64, decimals int) (string, string) {
		f := func(v float64) string { return strconv.FormatFloat(v, 'f', decimals, 64) }
		return f(value), f(low) + " to " + f(high)
	}
	plain := func(get func(o household.WeekOutcome) string) func(household.WeekOutcome) (string, string) {
		return func(o household.WeekOutcome) (string, string) { return get(o), "" }
	}
	one := func(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }
	add("Standard Kt/V a week", targetHint(other), func(o household.WeekOutcome) (string, string) {
		return likely(o.StdKtV.Value, o.StdKtV.Low, o.StdKtV.High, 2)
	})
	add("Minimum reached", "of 100 persons who fit your bloods, each by the minimum of its own schedule", plain(func(o household.WeekOutcome) string {
		return round0(100*o.Share) + " of 100"
	}))
	add("Highest urea, mmol/L", "before the session after the longest gap", func(o household.WeekOutcome) (string, string) {
		return likely(o.PeakMmolL.Value, o.PeakMmolL.Low, o.PeakMmolL.High, 1)
	})
	add("Mean urea, mmol/L", "", func(o household.WeekOutcome) (string, string) {
		return likely(o.MeanMmolL.Value, o.MeanMmolL.Low, o.MeanMmolL.High, 1)
	})
	if other.Phosphate.Has {
		add("Phosphate", "before sessions; direction and size only, with food and binders as they are; the model misses a rise late in the session that some people show. Never a reason to change a binder by oneself.", func(o household.WeekOutcome) (string, string) {
			if o.Same(book.Now) || !o.Phosphate.Has {
				return "as now", ""
			}
			return o.Phosphate.Says, fmt.Sprintf("%.0f to %.0f %% of now", 100*o.Phosphate.Low, 100*o.Phosphate.High)
		})
	}
	rate := add("Removal rate, mL/h/kg", "session by session at your usual gain, with drinks in the session and washback", plain(func(o household.WeekOutcome) string {
		var list []string
		for _, r := range o.Rates {
			list = append(list, r.Day+" "+one(r.RatePer))
		}
		return strings.Join(list, ", ")
	}))
	rate.NowRange, rate.OtherRange, rate.Look = now.Over, other.Over, other.Over != ""
	add("Longest time without, h", "", plain(func(o household.WeekOutcome) string { return round0(o.GapH) }))
	add("Hours a week on the machine", "", plain(func(o household.WeekOutcome) string { return one(o.OnH) }))
	add("Hours a week with all around it", "setting up and coming off by "+book.AroundIs, plain(func(o household.WeekOutcome) string { return one(o.AroundH) }))
	add("Free evenings", "18 to 21 o’clock", plain(func(o household.WeekOutcome) string { return strconv.Itoa(o.Evenings) + " of 7" }))
	if now.Dialysate > 0 && other.Dialysate > 0 {
		add("Dialysate, L a week", "", plain(func(o household.WeekOutcome) string { return round0(o.Dialysate) }))
	}
	if now.Water > 0 && other.Water > 0 {
		add("Water to the machine, L a week", "with half an hour of flow a session for rinsing (ours); your water plant sends more than that to the drain", plain(func(o household.WeekOutcome) string { return round0(o.Water) }))
	}
	add("Sets of supplies a month", "dialyser, lines, needles: one set each session", plain(func(o household.WeekOutcome) string { return one(o.PerMonth) }))
	return rows
}

func targetHint(o household.WeekOutcome) string {
	if o.ByUnit {
		return "your unit wants at least " + two(o.Minimum)
	}
	if o.Target.Measure == "spktv" {
		return "at three a week the guideline judges the single session instead: spKt/V of at least 1.2, aim 1.4; here " + two(o.SpKtV.Value) + ". Not set by your unit"
	}
	return fmt.Sprintf("the guideline’s figure is at least %.1f, aim %.1f; not set by your unit", o.Target.Minimum, o.Target.Target)
}

// weeksBody is the page of weeks that meet the target.
type weeksBody struct {
	Base    string
	Why     string
	Wish    string
	NoGap   bool
	Picture *picture
	Rows    []weekRow
	Found   int
	All     int
	Rate    string
}

// A weekRow is one week of the list.
type weekRow struct {
	Outcome household.WeekOutcome
	Link    string
	Now     bool
	Gentler bool // lower flows reach it too
}

// mostWeeks is how many weeks the list shows.
const mostWeeks = 10

// weeksPage shows the weeks that meet the target, by what the person cares
// about.
func (s *server) weeksPage(w http.ResponseWriter, r *http.Request) {
	b, err := s.weighMany(r.Context(), r)
	if err == nil {
		err = s.render(w, r, func(v visit) (view, error) {
			b.Base = doseOf(v)
			return view{page: "dose_weeks", title: "Weeks that meet the target", here: "dose", body: b}, nil
		})
	}
	if err != nil {
		s.answer(w, r, err)
	}
}

func (s *server) weighMany(ctx context.Context, r *http.Request) (weeksBody, error) {
	q := r.URL.Query()
	b := weeksBody{Wish: string(household.FewestHours), NoGap: q.Get("no_gap") != ""}
	if wish := q.Get("wish"); wish == string(household.Gentlest) || wish == string(household.FreeEvenings) {
		b.Wish = wish
	}
	var book *household.WeekBook
	var lack household.Lacking
	err := s.look(r, func(v visit) error {
		var err error
		book, err = household.WeekBookOf(v.house, v.member, v.now)
		return err
	})
	switch {
	case errors.As(err, &lack):
		b.Why = string(lack)
		return b, nil
	case err != nil:
		return b, err
	}
	all, err := book.Compare(ctx, book.Candidates(), s.draws, nil)
	if err != nil {
		return b, err
	}
	wanted := household.Wanted(all, household.Wish(b.Wish), b.NoGap)
	b.Found, b.All = len(wanted), len(all)
	for _, o := range wanted {
		at := slices.IndexFunc(b.Rows, func(r weekRow) bool { return r.Outcome.LengthMin == o.LengthMin && r.Outcome.When() == o.When() })
		switch {
		case at >= 0:
			b.Rows[at].Gentler = true // the same hours at lower flows
		case len(b.Rows) < mostWeeks:
			b.Rows = append(b.Rows, weekRow{Outcome: o, Link: "week?" + queryOf(o.Week), Now: o.Same(book.Now)})
		}
	}
	p := drawn(tradeOff(book, all, wanted, b.NoGap).Draw(chart.Frame{ID: "weeks", Width: 640, Height: 420, Text: 16}))
	b.Picture = &p
	return b, nil
}

// tradeOff draws hours against removal rate. Hollow are the weeks that do not
// meet the target, pass a limit of the unit, or leave a gap that was not wanted.
func tradeOff(book *household.WeekBook, all, wanted []household.WeekOutcome, noGap bool) chart.TradeOff {
	t := chart.TradeOff{Title: "Hours against removal rate", Across: "hours a week with all around it", Up: "highest removal rate, mL/h/kg", Decimals: [2]int{1, 1}}
	if l := book.Rx.Rate; l != nil {
		t.Limit, t.LimitSay = l.Float(), "limit your unit set, "+l.String()
	}
	in := func(o household.WeekOutcome) bool {
		return slices.ContainsFunc(wanted, func(x household.WeekOutcome) bool { return x.Same(o.Week) })
	}
	shapes := map[float64]chart.Shape{3: chart.Up, 3.5: chart.Down, 4: chart.Square, 5: chart.Diamond, 6: chart.Circle}
	for _, o := range all {
		says := fmt.Sprintf("%s; standard Kt/V %s", o.Long(), two(o.StdKtV.Value))
		t.Points = append(t.Points, chart.Choice{X: o.AroundH, Y: o.MaxRate, Name: o.Short(), Says: says, Shape: shapes[o.PerWeek()], Thin: !in(o), Mine: o.Same(book.Now)})
	}
	// A few names are enough to find one's way; the table has them all.
	front := t.Front()
	for k, i := range front {
		p := &t.Points[i]
		p.Named = true
		if k != 0 && k != len(front)/2 && k != len(front)-1 {
			p.Name = ""
		}
	}
	return t
}

// askWeek keeps a week as a question for the unit.
func (s *server) askWeek(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("question")
	oneLineEnd(r)
	return s.send(w, r, kind, func(v visit, fill func(form) form) (view, error) {
		f := newForm(kind, v.URL.Path, nil)
		f.Next, f.Back, f.Submit = "/p/"+v.member.ID+"/unit#questions", doseOf(v)+"/week", "Keep this question"
		return view{page: "slip", title: "A question for the unit", here: "dose", body: slipBody{Form: fill(f)}}, nil
	})
}
