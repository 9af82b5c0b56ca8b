package web

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report/chart"
	"ebbline/unit"
)

// bloodsBody is the page of all bloods: the last of them side by side, as units
// like to see them, and every sample.
type bloodsBody struct {
	Base    string
	Columns []bloodsColumn // newest first
	Rows    []bloodsRow
	Samples []sampleRow
	More    string // address of the samples before these
}

// A bloodsColumn is one sample.
type bloodsColumn struct {
	Link, Day, Timing, Lab string
	Haemolysed             bool
}

// A bloodsRow is one analyte over the columns.
type bloodsRow struct {
	Code, Name, Range, Whose string
	Unit                     string // of the newest value; a value in another says so
	Cells                    []bloodsCell
}

// A bloodsCell is one value, or a blank.
type bloodsCell struct {
	Text, Verdict string
	New           bool // first of a new laboratory or assay
}

// A sampleRow is one sample in the list.
type sampleRow struct {
	Blood *record.Blood
	When  string
	What  string
}

// mostColumns is how many samples stand side by side, and mostSamples how many
// the list shows.
const (
	mostColumns = 6
	mostSamples = 60
)

func (s *server) bloodsPage(v visit) (view, error) {
	b := bloodsBody{Base: doseOf(v)}
	var shown []*record.Blood
	for i := len(v.member.Bloods) - 1; i >= 0 && len(shown) < mostColumns; i-- {
		if one := v.member.Bloods[i]; one.Counts() && one.Value.Timing != record.Post {
			shown = append(shown, one)
		}
	}
	for _, one := range shown {
		b.Columns = append(b.Columns, bloodsColumn{
			Link: b.Base + "/bloods/" + one.ID, Day: one.At.In(v.now.Location()).Format("2 Jan 06"), Timing: timingWords[one.Value.Timing],
			Lab: one.Value.Laboratory, Haemolysed: one.Value.Haemolysed,
		})
	}
	for _, a := range unit.Analytes() {
		if row, ok := rowOver(v, a, shown); ok {
			b.Rows = append(b.Rows, row)
		}
	}
	skip := 0
	if from := v.URL.Query().Get("before"); from != "" {
		skip = len(v.member.Bloods)
		for i, one := range v.member.Bloods {
			if one.ID == from {
				skip = len(v.member.Bloods) - i
			}
		}
	}
	for i := len(v.member.Bloods) - 1 - skip; i >= 0; i-- {
		one := v.member.Bloods[i]
		if len(b.Samples) == mostSamples {
			b.More = b.Base + "/bloods?before=" + b.Samples[mostSamples-1].Blood.ID + "#samples"
			break
		}
		what := timingWords[one.Value.Timing]
		if one.Struck != nil {
			what += ", struck out: " + one.Struck.Reason
		}
		b.Samples = append(b.Samples, sampleRow{Blood: one, When: one.At.In(v.now.Location()).Format("2 Jan 2006, 15:04"), What: what})
	}
	return view{page: "dose_bloods", title: "Bloods", here: "dose", body: b}, nil
}

// rowOver gives an analyte over some samples; false when none holds it.
func rowOver(v visit, a unit.Analyte, shown []*record.Blood) (bloodsRow, bool) {
	row := bloodsRow{Code: a.Code, Name: a.Name}
	var newest *record.BloodResult
	lab, assay, at := "", "", -1
	for i, one := range shown {
		r := one.Value.Find(a.Code)
		if r == nil {
			row.Cells = append(row.Cells, bloodsCell{})
			continue
		}
		if newest == nil {
			newest, row.Unit = r, r.Unit
		}
		cell := bloodsCell{Text: r.Text()}
		if r.Unit == row.Unit {
			cell.Text = strings.TrimSuffix(cell.Text, "\u00a0"+r.Unit)
		}
		if j := v.member.LimitsAt(a.Code, one.Since).Judge(*r, one.Value.Timing); j.Outside() {
			cell.Verdict = j.Verdict
		}
		if at >= 0 && (one.Value.Laboratory != lab || r.Assay != assay) {
			row.Cells[at].New = true
		}
		lab, assay, at = one.Value.Laboratory, r.Assay, i
		row.Cells = append(row.Cells, cell)
	}
	if newest == nil {
		return row, false
	}
	limits := v.member.LimitsAt(a.Code, v.now)
	row.Range, row.Whose = limits.Words(*newest), limits.Whose()
	return row, true
}

// analyteBody is the page of one analyte.
type analyteBody struct {
	Base       string
	Code, Name string
	Note       string
	Series     []numberedSeries // newest first
	Picture    *picture
	Range      string
	Whose      string
	All        string // address of every value, when only the last are shown
}

// mostValues is how many values of an analyte are shown at once.
const mostValues = 48

// lastValues leaves the last values of some series.
func lastValues(all []household.BloodSeries, from time.Time) (list []household.BloodSeries, cut bool) {
	for _, s := range all {
		points := slices.DeleteFunc(slices.Clone(s.Points), func(p household.BloodPoint) bool { return p.Blood.At.Before(from) })
		cut = cut || len(points) < len(s.Points)
		if s.Points = points; len(points) > 0 {
			list = append(list, s)
		}
	}
	return list, cut
}

// A numberedSeries is a series with the number it has in the picture.
type numberedSeries struct {
	household.BloodSeries
	Label  string
	Points []household.BloodPoint // newest first
}

func (s *server) analytePage(v visit) (view, error) {
	a, ok := unit.FindAnalyte(v.PathValue("analyte"))
	if !ok {
		return view{}, notFound{"no such analyte"}
	}
	b := analyteBody{Base: doseOf(v), Code: a.Code, Name: a.Name, Note: a.Note}
	var all []household.BloodSeries
	for _, one := range household.BloodSeriesOf(v.member) {
		if one.Analyte.Code == a.Code {
			all = append(all, one)
		}
	}
	var at []time.Time
	for _, s := range all {
		for _, p := range s.Points {
			at = append(at, p.Blood.At)
		}
	}
	slices.SortFunc(at, time.Time.Compare)
	if len(at) > mostValues && v.URL.Query().Get("all") == "" {
		var cut bool
		if all, cut = lastValues(all, at[len(at)-mostValues]); cut {
			b.All = b.Base + "/analyte/" + a.Code + "?all=yes"
		}
	}
	if len(all) > 0 {
		b.draw(v, all)
	}
	return view{page: "dose_analyte", title: a.Name, here: "dose", body: b}, nil
}

// draw makes the picture, each series with a shape of its own, so that a change
// of laboratory is a break in the line, and the tables.
func (b *analyteBody) draw(v visit, all []household.BloodSeries) {
	last := all[len(all)-1]
	limits := v.member.LimitsAt(b.Code, v.now)
	b.Range, b.Whose = limits.Words(record.BloodResult{Analyte: b.Code, Unit: last.Unit}), limits.Whose()
	for _, l := range []*record.BloodLimit{limits.Low, limits.High} {
		if l != nil && l.Own() {
			b.Whose = "not set by your unit: " + l.Source
		}
	}
	c := chart.Lines{Title: b.Name, Unit: last.Unit, Zone: v.now.Location(), Decimals: last.Decimals()}
	shapes := []chart.Shape{chart.Circle, chart.Square, chart.Diamond, chart.Up, chart.Down, chart.Cross}
	count, values := map[string]int{}, 0
	for _, s := range all {
		count[s.Timing]++
	}
	number := map[string]int{}
	for i, s := range all {
		number[s.Timing]++
		name := map[string]string{record.Pre: "before", record.Post: "after", record.Other: "other"}[s.Timing]
		if count[s.Timing] > 1 {
			name = fmt.Sprintf("%s %d", name, number[s.Timing])
		}
		line := chart.Series{Name: name, Shape: shapes[i%len(shapes)], Tone: chart.Ink}
		if s.Timing == record.Post {
			line.Tone, line.Hollow = chart.Soft, true
		}
		one := numberedSeries{BloodSeries: s, Label: name}
		for _, p := range s.Points {
			at := chart.Reading{At: p.Blood.At, Value: inUnit(s, p.Value, last.Unit)}
			if !p.Result.Exact() {
				at.Gap = p.Result.Text()
			}
			line.Readings = append(line.Readings, at)
			values++
		}
		one.Points = slices.Clone(s.Points)
		slices.Reverse(one.Points)
		b.Series = append(b.Series, one)
		c.Series = append(c.Series, line)
	}
	// Those before a session first, of each the newest.
	order := map[string]int{record.Pre: 0, record.Other: 1, record.Post: 2}
	slices.Reverse(b.Series)
	slices.SortStableFunc(b.Series, func(x, y numberedSeries) int { return order[x.Timing] - order[y.Timing] })
	if low, high := limits.Low, limits.High; low != nil && high != nil && !low.TimesUpper {
		word := "range set by your unit"
		if low.Own() || high.Own() {
			word = "range not set by your unit"
		}
		c.Band = &chart.Band{Low: inFirst(b.Code, low.At, last.Unit), High: inFirst(b.Code, high.At, last.Unit), Word: word}
	}
	if values >= 2 {
		d := drawn(c.Draw(doseFrame("analyte")))
		b.Picture = &d
	}
}

// inUnit brings a value of a series into another unit of its analyte.
func inUnit(s household.BloodSeries, value float64, to string) float64 {
	if out, err := s.Analyte.Convert(value, s.Unit, to); err == nil {
		return out
	}
	return value
}

// inFirst brings a bound in the first unit of an analyte into another.
func inFirst(code string, at float64, to string) float64 {
	a, _ := unit.FindAnalyte(code)
	if out, err := a.Convert(at, a.Units[0].Symbol, to); err == nil {
		return out
	}
	return at
}
