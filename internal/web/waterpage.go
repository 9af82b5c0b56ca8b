package web

import (
	"html/template"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/report/chart"
	"ebbline/trend"
	"ebbline/unit"
	"ebbline/water"
)

// waterBody is the page of water and fluid: what waits, samples and their
// results, the plant's readings, and the courses of what wears out.
type waterBody struct {
	Base    string
	Tasks   []taskView
	Carbon  *carbonView
	Remarks []unit.Caution
	Samples []sampleView // under way
	Judged  []sampleView
	More    int // judged samples that are not shown
	Trends  []trendView
	Plant   []plantView
	Rules   record.WaterRules
	RuleSet bool
	HeldTo  string // what water is held to
	Repeat  string
	Idle    string
	Limits  []record.Dated[record.WaterLimit]
	Notices []noticeView
	Tests   []residueView
	Batch   bool // fluid is made in batches here
	Batches []batchView
	Editing bool
}

// sampleView is one sample as the page shows it.
type sampleView struct {
	household.SampleRow
	Looked string
	Next   []stepLink // what can be written of it now
	Rows   []judgedView
	Link   string // to its result as an entry
	Method string
	Within int // figures within their limit that are not shown one by one
	All    []judgedView
}

type stepLink struct{ Words, Link string }

// judgedView is one figure against its limit.
type judgedView struct {
	What, Figure, Limit, Edition string
	Verdict                      water.Verdict
	Word                         string
	Cautions                     []unit.Caution
}

// trendView is one course with its picture.
type trendView struct {
	household.WaterTrend
	Last  string
	Says  string
	Chart template.HTML
	Table chart.Table
}

type plantView struct {
	household.PlantRow
	Values []labelled
	Link   string
}

type noticeView struct {
	record.Noticed
	Open bool
	Link string
	Over string // to say that it is over
}

type residueView struct {
	record.Dated[record.ResidualTest]
	Negative bool
	Bound    water.Bound
	Link     string
}

// verdictWords say a verdict beside its sign; neither is told by colour alone.
var verdictWords = map[water.Verdict]string{
	water.Within: "✓ within", water.Action: "! act", water.Over: "✕ over", water.CannotTell: "? cannot tell",
}

// shownSamples is how many samples that are over and done with the page shows.
const shownSamples = 6

func (s *server) waterPage(v visit) (view, error) {
	base := "/p/" + v.member.ID
	b := waterBody{Base: base, Remarks: household.WaterRemarks(v.house, v.now)}
	all := v.URL.Query().Get("all") != ""
	done := 0
	for _, t := range household.WaterTasks(v.house, v.now) {
		b.Tasks = append(b.Tasks, taskView{t, base + "/round/task/" + t.Result.ID, report.Phone{Number: t.Phone}.Dial()})
	}
	b.Carbon = carbonOf(v)
	for _, row := range household.SampleRows(v.house, v.now) {
		if row.State == water.SampleJudged || row.State == water.SampleLost {
			if done++; done > shownSamples && !all {
				b.More++
				continue
			}
		}
		if one := sampleViewOf(row, base); one.Link != "" {
			b.Judged = append(b.Judged, one)
		} else {
			b.Samples = append(b.Samples, one)
		}
	}
	for i, t := range household.WaterTrends(v.house, v.member, v.now) {
		b.Trends = append(b.Trends, trendOf(t, i, v.now))
	}
	for _, r := range household.PlantRows(v.house) {
		if len(b.Plant) == 10 && !all {
			break
		}
		b.Plant = append(b.Plant, plantView{r, plantValues(r), base + "/kept/" + r.ID})
	}
	b.Batch, b.Batches = usesBatch(v), batchesOf(v)
	b.rules(v, base)
	return view{page: "water", title: "Water", here: "round", body: b}, nil
}

func (b *waterBody) rules(v visit, base string) {
	u := &v.house.Upkeep
	b.Rules, b.RuleSet = u.RulesNow()
	use, filtered := v.house.HeldTo(v.today())
	if b.HeldTo = string(use) + " water"; filtered {
		b.HeldTo += " because of haemodiafiltration"
	}
	repeat := household.ChlorineRule(v.house)
	b.Repeat = "not asked for, " + repeat.Whose()
	if repeat.Every > 0 {
		b.Repeat = "every " + span(repeat.Every) + ", " + repeat.Whose()
	}
	b.Idle = span(water.DefaultDisinfectionRule().MaxIdle) + ", program default, said and not held up"
	if b.RuleSet && b.Rules.MaxIdle != nil {
		b.Idle = span(time.Duration(b.Rules.MaxIdle.Float()*float64(time.Hour))) + ", set by " + b.Rules.SetBy + " on " + b.Rules.SetOn.Long()
	}
	for _, l := range u.Limits {
		if l.Struck == nil {
			b.Limits = append(b.Limits, l)
		}
	}
	for _, n := range slices.Backward(v.house.NoticesAt(v.now)) {
		one := noticeView{Noticed: n, Open: n.Notice.Open(v.today()), Link: base + "/kept/" + n.ID}
		if n.To.IsZero() {
			one.Over = base + "/round/notice/" + n.ID + "/over"
		}
		b.Notices = append(b.Notices, one)
	}
	for i := len(u.Residuals) - 1; i >= 0 && len(b.Tests) < 5; i-- {
		if d := u.Residuals[i]; d.Struck == nil {
			_, bound := d.Value.Negative()
			b.Tests = append(b.Tests, residueView{d, d.Value.Shows(d.At), bound, base + "/kept/" + d.ID})
		}
	}
}

func sampleViewOf(row household.SampleRow, base string) sampleView {
	v := sampleView{SampleRow: row}
	var looked []string
	for _, w := range row.For {
		looked = append(looked, w.Label())
	}
	v.Looked = strings.Join(looked, ", ")
	if len(looked) > 6 {
		v.Looked = "full chemical analysis, " + strconv.Itoa(len(looked)) + " substances"
	}
	at := base + "/round/sample/" + row.ID
	switch row.State {
	case water.SamplePlanned:
		v.Next = []stepLink{{"Drawn", at + "/drawn"}, {"Given up", at + "/lost"}}
	case water.SampleDrawn:
		v.Next = []stepLink{{"Sent", at + "/sent"}, {"The result is here", at + "/result"}, {"Lost or spoilt", at + "/lost"}}
	case water.SampleSent:
		v.Next = []stepLink{{"The result is here", at + "/result"}, {"Reached the laboratory", at + "/reached"}, {"Lost", at + "/lost"}}
	}
	if row.Result != nil {
		v.Link = base + "/kept/" + row.Result.ID
		for _, j := range row.Result.Judgements {
			v.Rows = append(v.Rows, judgedOf(j))
		}
		if len(v.Rows) > fewRows { // a full analysis: what does not lie within stands out
			v.All = v.Rows
			v.Rows = slices.DeleteFunc(slices.Clone(v.All), func(j judgedView) bool { return j.Verdict == water.Within })
			v.Within = len(v.All) - len(v.Rows)
		}
		if m, told := row.Result.Value.Method(); told && m.Medium != "" {
			v.Method = m.Medium + ", " + m.Celsius.Text() + ", " + trimmed(m.Days) + " days, " + trimmed(m.VolumeML) + " mL"
		}
	}
	return v
}

// fewRows is how many figures of one sample are shown one by one.
const fewRows = 4

func trimmed(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

func judgedOf(j water.Judgement) judgedView {
	sign := "≤"
	if j.Limit.Exclusive {
		sign = "<"
	}
	limit := sign + " " + trimmed(j.Limit.Max) + "\u00a0" + string(j.Limit.Unit)
	if j.Limit.Basis != "" {
		limit += " as " + string(j.Limit.Basis)
	}
	if j.Limit.Action > 0 {
		limit += ", act from " + trimmed(j.Limit.Action)
	}
	edition := j.Limit.Edition
	switch {
	case j.Limit.Kind == water.IsUnitSet:
		edition = "set by " + j.Limit.Setter + ", " + j.Limit.Date
	case j.Limit.Status == water.FromMemory:
		edition += " (from memory)"
	}
	return judgedView{What: j.Result.What.Label(), Figure: figureText(j.Result), Limit: limit, Edition: edition, Verdict: j.Verdict, Word: verdictWords[j.Verdict], Cautions: j.Cautions}
}

// trendOf draws a course with its limit.
func trendOf(t household.WaterTrend, i int, now time.Time) trendView {
	v := trendView{WaterTrend: t}
	line := chart.Lines{Title: t.Name, Unit: t.Unit, Zone: now.Location(), Decimals: t.Decimals, Zero: t.Above, Now: now}
	series := chart.Series{Name: t.Name, Shape: chart.Circle, Tone: chart.Water}
	for k, p := range t.Points {
		r := chart.Reading{At: t.At[k], Value: p.Value}
		if p.Op != water.Equal {
			r.Gap = string(p.Op) + " " + trimmed(p.Value)
		}
		series.Readings = append(series.Readings, r)
	}
	line.Series = []chart.Series{series}
	if t.Above {
		line.Band = &chart.Band{Low: 0, High: t.Limit, Word: "limit " + trimmed(t.Limit)}
	} else {
		line.Band = &chart.Band{Low: t.Limit, High: 100, Word: "at least " + trimmed(t.Limit)}
	}
	d := line.Draw(chart.Frame{ID: "trend-" + strconv.Itoa(i), Width: 720, Height: 240, Text: 15})
	v.Chart, v.Table = template.HTML(d.SVG()), d.Table // drawn by our own chart room, every text escaped there
	last := t.Points[len(t.Points)-1]
	v.Last = figureText(water.Result{Op: last.Op, Value: last.Value, Unit: water.Unit(t.Unit)}) + " on " + last.On.Long()
	v.Says = forecastWords(t)
	return v
}

// forecastWords say a course: when it meets its limit, or why that cannot be
// told.
func forecastWords(t household.WaterTrend) string {
	f := t.Forecast
	switch {
	case f.Already:
		return "On its course it stands at its limit of " + trimmed(t.Limit) + " or beyond."
	case f.OnWay:
		words := "On its present course it meets " + trimmed(t.Limit) + " about " + f.Likely.Long() + ", between " + f.Soonest.Long() + " and " + f.Latest.Long() + "."
		if !t.Steeper.IsZero() {
			words += " If it goes on steepening: about " + t.Steeper.Long() + "."
		}
		return words
	case f.Says == trend.TooFew && f.Left > 0:
		return "Too few to say: " + strconv.Itoa(f.Left) + " of " + strconv.Itoa(len(t.Points)) + " readings lie below what the method can see."
	case f.Says == trend.TooFew:
		return "Too few readings to say."
	case f.Says == trend.Steady:
		return "No change shown, which is not the same as none."
	}
	return "It moves away from its limit."
}

func plantValues(r household.PlantRow) []labelled {
	kind, _ := record.Find("water_reading")
	list := valuesOf(kind, &r.Value, nil)
	for _, d := range r.Drops {
		list = append(list, labelled{"Lost over the " + d.Over, strconv.FormatFloat(d.KPa, 'f', 0, 64) + "\u00a0kPa, " + strconv.FormatFloat(d.PSI, 'f', 1, 64) + "\u00a0psi"})
	}
	if r.Rejection != nil {
		list = append(list, labelled{"Rejection", strconv.FormatFloat(*r.Rejection, 'f', 1, 64) + "\u00a0%"})
	}
	return list
}

// planSampleForm plans a sample: where, what for, when.
func planSampleForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "Before disinfection, the worst moment; cooled, and at the laboratory within a day (ISO 23500-1, from memory)."
	f = f.only("point", "planned_on").hide("sample", v.posted("sample", "sample-"+newID()[:10])).hide("state", string(water.SamplePlanned))
	f.Submit = "Plan it"
	return f, nil
}

// looked are the choices of what a planned sample is for.
var looked = []struct {
	Value, Label string
	What         []water.Substance
}{
	{"microbes", "microbes and endotoxin", []water.Substance{water.ViableCount, water.Endotoxin}},
	{"count", "microbes alone", []water.Substance{water.ViableCount}},
	{"endotoxin", "endotoxin alone", []water.Substance{water.Endotoxin}},
	{"chemistry", "the full chemical analysis", chemistry()},
}

func chemistry() []water.Substance {
	return slices.DeleteFunc(water.Substances(), func(s water.Substance) bool { return s == water.ViableCount || s == water.Endotoxin })
}

// lookedFor turns the choice into the substances.
func lookedFor(r *http.Request) {
	for _, l := range looked {
		if l.Value == r.PostFormValue("looked") {
			var words []string
			for _, s := range l.What {
				words = append(words, string(s))
			}
			r.PostForm.Set("for", strings.Join(words, " "))
		}
	}
}

// sampleStep takes a sample a step on its way.
func sampleStep(state string) func(v visit, f form, b *slipBody) (form, error) {
	return func(v visit, f form, b *slipBody) (form, error) {
		one, ok := v.house.Upkeep.Sample(v.PathValue("sample"))
		if !ok {
			return f, notFound{"no such sample"}
		}
		b.Rows = []labelled{{"Sample", one.Point}, {"Planned for", one.PlannedOn.Long()}, {"So far", string(one.State)}}
		keys := map[string][]string{"drawn": {"cooled", "since_disinfection_h"}, "sent": {"carrier"}, "reached": nil, "lost": {"note"}}[state]
		f = f.only(keys...).hide("sample", one.ID).hide("state", state)
		f.Submit = map[string]string{"drawn": "It is drawn", "sent": "It is sent", "reached": "It has reached the laboratory", "lost": "It is lost"}[state]
		if state == "lost" {
			b.Notes = append(b.Notes, "Plan another in its place.")
		}
		return f, nil
	}
}
