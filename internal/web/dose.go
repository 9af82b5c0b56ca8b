package web

import (
	"html/template"
	"net/http"
	"strconv"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/report/chart"
)

// doseRoutes are the addresses of the bloods and the dose.
func (s *server) doseRoutes(mux *http.ServeMux, page func(string, pageFunc), post func(string, postFunc)) {
	page("/p/{p}/dose", s.dosePage)
	page("/p/{p}/dose/bloods", s.bloodsPage)
	page("/p/{p}/dose/bloods/new", asked(s.sampleForm))
	post("/p/{p}/dose/bloods/new", s.recordSample)
	page("/p/{p}/dose/bloods/{b}", s.samplePage)
	page("/p/{p}/dose/bloods/{b}/correct", asked(s.sampleForm))
	post("/p/{p}/dose/bloods/{b}/correct", s.recordSample)
	page("/p/{p}/dose/analyte/{analyte}", s.analytePage)
	page("/p/{p}/dose/import", s.importPage)
	post("/p/{p}/dose/import", s.readImport)
	post("/p/{p}/dose/import/accept", s.acceptImport)
	mux.HandleFunc("GET /p/{p}/dose/week", s.weekPage)
	mux.HandleFunc("GET /p/{p}/dose/weeks", s.weeksPage)
	post("/p/{p}/dose/week/question", s.askWeek)
	for address, p := range s.doseSlips() {
		page(address, asked(p.page))
		post(address, s.recordSlip(p))
	}
}

// doseFrame is the room of a chart on these pages: narrow enough for its words
// to be read on a telephone.
func doseFrame(id string) chart.Frame { return chart.Frame{ID: id, Width: 540, Height: 300, Text: 17} }

// A picture is a chart with its figures.
type picture struct {
	SVG   template.HTML
	Words string
	Table chart.Table
}

func drawn(d *chart.Drawing) picture {
	return picture{template.HTML(d.SVG()), d.Desc, d.Table} // drawn by our own chart room, every text escaped there
}

// doseBody is the page Dose.
type doseBody struct {
	Base     string
	View     household.DoseView
	Newest   *household.SampledDose
	Critical []criticalRow
	Phones   []report.Phone
	Value    string // of the headline
	Range    string
	Apart    string
	Curve    *picture
	AtBloods *picture // the same around the last bloods
	Months   *picture
	Early    bool // the record is too short for the fortnight to mean much
}

// A criticalRow is a critical result as a page shows it.
type criticalRow struct {
	Words, Whose, Call, Sample string
	Drawn                      time.Time
}

func criticalRows(m *record.Member) []criticalRow {
	var rows []criticalRow
	base := "/p/" + m.ID + "/dose"
	for _, c := range m.CriticalOpen() {
		rows = append(rows, criticalRow{Words: c.Words(), Whose: c.Whose(), Drawn: c.Blood.At, Sample: base + "/bloods/" + c.Blood.ID, Call: base + "/call/" + c.Blood.ID + "/" + c.Result.Analyte})
	}
	return rows
}

func (s *server) dosePage(v visit) (view, error) {
	b := doseBody{Base: "/p/" + v.member.ID + "/dose", View: household.DoseOf(v.member, v.now), Critical: criticalRows(v.member)}
	b.Newest = b.View.Newest()
	if u, ok := v.house.Unit.Now(); ok {
		b.Phones = household.Phones(u)
	}
	if f := b.View.Fortnight; f != nil {
		if f.StdKtV.Exists {
			b.Value = two(f.StdKtV.Value)
			b.Range = two(f.Low) + " to " + two(f.High)
		}
		p := drawn(ureaChart(f, b.View.Person, v.now.Location()).Draw(doseFrame("urea")))
		b.Curve = &p
	}
	if f := b.View.AtBloods; f != nil {
		p := drawn(ureaChart(f, b.View.Person, v.now.Location()).Draw(doseFrame("urea-bloods")))
		b.AtBloods = &p
	}
	if c, ok := monthsChart(b.View, v.now.Location()); ok {
		p := drawn(c.Draw(doseFrame("months")))
		b.Months = &p
	}
	return view{page: "dose", title: "Dose", here: "dose", body: b}, nil
}

func two(v float64) string { return strconv.FormatFloat(v, 'f', 2, 64) }

// ureaChart is the curve of the fortnight with the samples that fall into it.
func ureaChart(f *household.Fortnight, k *household.Kinetic, zone *time.Location) chart.Urea {
	c := chart.Urea{Zone: zone, From: f.From, To: f.To, Unit: "mmol/L"}
	for _, p := range f.Curve {
		c.Curve = append(c.Curve, chart.Reading{At: p.At, Value: p.MmolL})
	}
	if d := f.Running; d != nil {
		c.Sessions = append(c.Sessions, chart.Span{From: d.Began, To: d.Ended})
	}
	for _, d := range f.Done {
		c.Sessions = append(c.Sessions, chart.Span{From: d.Began, To: d.Ended})
	}
	for _, p := range k.Pairs {
		if p.Done.Began.After(f.From) {
			c.Measured = append(c.Measured, chart.Reading{At: p.Pre.At, Value: p.PreUrea.MmolPerL()}, chart.Reading{At: p.Post.At, Value: p.PostUrea.MmolPerL()})
		}
	}
	for _, day := range f.Missed {
		c.Missed = append(c.Missed, day.Time(zone).Add(18*time.Hour))
	}
	return c
}

// monthsChart sets the months' figure that the schedule is judged by beside
// what is wanted of it. It is not drawn before there are two months.
func monthsChart(v household.DoseView, zone *time.Location) (chart.Lines, bool) {
	newest := v.Newest()
	if newest == nil || newest.Judged.Measure == "" {
		return chart.Lines{}, false
	}
	key := newest.Judged.Measure
	line := chart.Range{Name: "5 % in the sample", Tone: chart.Soft}
	points := chart.Series{Name: newest.Figure(key).Name, Shape: chart.Circle, Tone: chart.Ink}
	for i := len(v.Months) - 1; i >= 0; i-- {
		for j := len(v.Months[i].Sampled) - 1; j >= 0; j-- {
			s := v.Months[i].Sampled[j]
			f := s.Figure(key)
			if !f.Has || s.Spoilt {
				continue
			}
			points.Readings = append(points.Readings, chart.Reading{At: s.Pair.Done.Began, Value: f.Value})
			if f.High > f.Low {
				line.Between = append(line.Between, chart.Between{At: s.Pair.Done.Began, Low: f.Low, High: f.High})
			}
		}
	}
	if len(points.Readings) < 2 {
		return chart.Lines{}, false
	}
	points.Name = "" // the title has it
	c := chart.Lines{
		Title: newest.Figure(key).Name + " by month", Unit: newest.Figure(key).Name, Zone: zone, Decimals: newest.Figure(key).Decimals,
		Series: []chart.Series{points}, Ranges: []chart.Range{line},
	}
	low, high, whose := newest.Judged.Minimum, newest.Target.Target, "guideline, not set by your unit"
	if newest.Judged.ByUnit {
		high, whose = low, "your unit’s minimum"
	}
	if low == 0 {
		return c, true // the unit sets it, and has not
	}
	if high < low {
		high = low
	}
	c.Band = &chart.Band{Low: low, High: high, Word: whose}
	return c, true
}
