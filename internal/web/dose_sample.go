package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/session"
	"ebbline/unit"
)

// monthly are the analytes of a month's bloods, in the order of a report; the
// rest stand below them.
var monthly = []string{"urea", "potassium", "sodium", "bicarbonate", "calcium_corrected", "phosphate", "haemoglobin", "albumin", "creatinine", "ferritin", "transferrin_saturation", "pth", "crp"}

// sampleBody is the form of one blood sample.
type sampleBody struct {
	Form    form
	Timing  input
	Day     input
	Clock   input
	Method  input
	Lab     input
	Report  input
	Haemo   input
	Note    input
	Monthly []resultRow
	Others  []resultRow
	More    bool // something stands in the others
	Labs    []string
	Labels  map[string]string
}

// A resultRow is one analyte of the form.
type resultRow struct {
	input
	Code   string
	Hint   string
	Unit   string // chosen
	Units  []record.Choice
	Upper  string
	Assay  string
	Limits bool // the laboratory's upper limit matters
}

func sampleKey(code string) string { return "results." + code }

// sampleForm is the form of a sample: empty, as typed, or for a correction as
// it stands in the record.
func (s *server) sampleForm(v visit, fill func(form) form) (view, error) {
	kind, _ := record.Find("bloods")
	base := doseOf(v)
	f := newForm(kind, v.URL.Path, nil)
	f.Next, f.Back, f.Submit = base, base, "Keep this sample"
	units := v.lastUnits()
	var old *record.Blood
	if id := v.PathValue("b"); id != "" {
		if old = v.member.Blood(id); old == nil || !old.Counts() {
			return view{}, notFound{"no such sample; perhaps it was corrected since"}
		}
	}
	for _, a := range unit.Analytes() {
		f.Inputs = append(f.Inputs, input{Field: record.Field{Key: sampleKey(a.Code), Label: a.Name}})
	}
	uppers, assays := map[string]string{}, map[string]string{}
	if old == nil {
		for i := range f.Inputs {
			if f.Inputs[i].Key == "laboratory" {
				f.Inputs[i].Value = v.lastLab()
			}
		}
	} else {
		given := filled(kind, &old.Value)
		for i := range f.Inputs {
			in := &f.Inputs[i]
			if code, is := strings.CutPrefix(in.Key, "results."); !is {
				in.Value = given[in.Key]
			} else if r := old.Value.Find(code); r != nil {
				in.Value = strings.TrimSpace(strings.TrimPrefix(r.Op, "=") + " " + r.Value.String())
				units[code], uppers[code], assays[code] = r.Unit, r.Upper.String(), r.Assay
			}
		}
		at := old.At.In(v.now.Location())
		f.Clock, f.Day = at.Format("15:04"), at.Format(time.DateOnly)
		f.Corrects, f.Submit, f.Back = old.ID, "Correct it", base+"/bloods/"+old.ID
	}
	f = fill(f)
	b := sampleBody{Form: f, Labs: v.labs()}
	sent := v.Method == http.MethodPost
	for i, in := range f.Inputs {
		switch in.Key {
		case "timing":
			b.Timing = in
		case "sampling_method":
			b.Method = in
		case "laboratory":
			b.Lab = in
		case "reported_on":
			b.Report = in
		case "haemolysed":
			b.Haemo = in
		case "note":
			b.Note = in
		}
		code, is := strings.CutPrefix(in.Key, "results.")
		if !is {
			continue
		}
		row := resultRow{input: f.Inputs[i], Code: code, Unit: units[code], Upper: uppers[code], Assay: assays[code]}
		if sent {
			row.Unit, row.Upper, row.Assay = v.PostFormValue("unit."+code), v.PostFormValue("upper."+code), v.PostFormValue("assay."+code)
		}
		row.describe()
		if slices.Contains(monthly, code) {
			b.Monthly = append(b.Monthly, row)
		} else {
			b.Others = append(b.Others, row)
			b.More = b.More || row.Value != "" || row.Problem != ""
		}
	}
	slices.SortFunc(b.Monthly, func(x, y resultRow) int { return slices.Index(monthly, x.Code) - slices.Index(monthly, y.Code) })
	title := "Bloods"
	if old != nil {
		title = "Correct a sample"
	}
	return view{page: "dose_sample_form", title: title, here: "dose", body: b}, nil
}

// describe fills in what the table of analytes says.
func (r *resultRow) describe() {
	a, _ := unit.FindAnalyte(r.Code)
	r.Hint = a.Note
	for _, s := range a.Symbols() {
		r.Units = append(r.Units, record.Choice{Value: s, Label: labSymbol(a, s)})
	}
	if len(r.Units) == 1 {
		r.Unit = r.Units[0].Value
	}
	r.Limits = r.Code == "pth" || r.Code == "alkaline_phosphatase"
}

// lastUnits are the units the person's laboratory last used, by analyte: what a
// report looks like is no measurement.
func (v visit) lastUnits() map[string]string {
	units := map[string]string{}
	lab := v.lastLab()
	for _, b := range v.member.Bloods {
		if b.Counts() && b.Value.Laboratory == lab {
			for _, r := range b.Value.Results {
				units[r.Analyte] = r.Unit
			}
		}
	}
	return units
}

func (v visit) lastLab() string {
	for i := len(v.member.Bloods) - 1; i >= 0; i-- {
		if v.member.Bloods[i].Counts() {
			return v.member.Bloods[i].Value.Laboratory
		}
	}
	return ""
}

// labs are the laboratories so far.
func (v visit) labs() []string {
	var list []string
	for _, b := range v.member.Bloods {
		if b.Counts() && !slices.Contains(list, b.Value.Laboratory) {
			list = append(list, b.Value.Laboratory)
		}
	}
	return list
}

// recordSample takes a sample. The session it belongs to follows from when it
// was drawn.
func (s *server) recordSample(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("bloods")
	oneLineEnd(r)
	if id := r.PathValue("b"); id != "" {
		r.PostForm.Set("corrects", id)
	}
	e, found := s.read(r, kind)
	b := e.Body.(*record.Bloods)
	found = append(found, readResults(r, b, &e)...)
	if r.PostFormValue("clock") == "" || r.PostFormValue("day") == "" {
		found = append(found, record.Finding{Field: "at", Step: record.Refuse, Words: "is still blank: the day and the time it was drawn, not when it was reported"})
	}
	if b.Timing != record.Post {
		b.Method = ""
	}
	if err := s.look(r, func(v visit) error {
		if b.Timing == record.Pre || b.Timing == record.Post {
			if near := v.member.SessionNear(e.At, b.Timing); near != nil {
				b.Session = near.ID
			} else {
				found = append(found, record.Finding{Field: "at", Step: record.Refuse, Words: fmt.Sprintf("%s lies within 12 hours of no session here; was it the day it was reported? A sample apart from any session is “at another time”", e.At.Format("15:04 on 2 January 2006"))})
			}
		}
		return nil
	}); err != nil {
		return err
	}
	return s.settle(w, r, e, found, s.sampleForm)
}

// readResults reads the analytes of the form. A blank one was not measured.
func readResults(r *http.Request, b *record.Bloods, e *record.Entry) record.Findings {
	var found record.Findings
	for _, a := range unit.Analytes() {
		key := sampleKey(a.Code)
		typed := strings.TrimSpace(r.PostFormValue(key))
		if typed == "" {
			continue
		}
		one := record.BloodResult{Analyte: a.Code, Unit: r.PostFormValue("unit." + a.Code), Assay: strings.TrimSpace(r.PostFormValue("assay." + a.Code))}
		for _, op := range []string{"<", ">"} {
			if rest, is := strings.CutPrefix(typed, op); is {
				one.Op, typed = op, strings.TrimSpace(rest)
			}
		}
		var err error
		if one.Value, err = unit.ParsePrinted(typed); err != nil {
			found = append(found, record.Finding{Field: key, Step: record.Refuse, Words: err.Error()})
			continue
		}
		if upper := strings.TrimSpace(r.PostFormValue("upper." + a.Code)); upper != "" {
			if one.Upper, err = unit.ParsePrinted(upper); err != nil {
				found = append(found, record.Finding{Field: key, Step: record.Refuse, Words: "upper limit: " + err.Error()})
				continue
			}
		}
		b.Results = append(b.Results, one)
		if again := r.PostFormValue("again." + key); again != "" {
			if e.Again == nil {
				e.Again = map[string]string{}
			}
			e.Again[key] = again
		}
	}
	return found
}

// samplesBody is one sample as the record holds it.
type samplesBody struct {
	Base     string
	Blood    *record.Blood
	When     string
	Session  string // in words
	Link     string
	Rows     []judgedRow
	Was      *record.Blood // what it said before
	Critical []criticalRow
}

// A judgedRow is one result as a table shows it.
type judgedRow struct {
	Name, Text, Range, Verdict, Words string
	Outside, Critical                 bool
}

var timingWords = map[string]string{record.Pre: "before a session", record.Post: "after a session", record.Other: "at another time"}

func (s *server) samplePage(v visit) (view, error) {
	one := v.member.Blood(v.PathValue("b"))
	if one == nil {
		return view{}, notFound{"no such sample"}
	}
	b := samplesBody{Base: doseOf(v), Blood: one, When: one.At.In(v.now.Location()).Format("Monday 2 January 2006, 15:04"), Was: v.member.Blood(one.Corrects)}
	if near := v.house.Session(one.Value.Session); near != nil {
		b.Session = "the session of " + session.Night(near).Long()
		b.Link = "/p/" + v.member.ID + "/session/" + near.ID
	}
	for _, r := range one.Value.Results {
		limits := v.member.LimitsAt(r.Analyte, one.Since)
		j := limits.Judge(r, one.Value.Timing)
		b.Rows = append(b.Rows, judgedRow{Name: record.AnalyteName(r.Analyte), Text: r.Text(), Range: limits.Words(r), Verdict: j.Verdict, Words: j.Words, Outside: j.Outside(), Critical: j.Critical != ""})
	}
	for _, c := range criticalRows(v.member) {
		if strings.HasSuffix(c.Sample, "/"+one.ID) {
			b.Critical = append(b.Critical, c)
		}
	}
	return view{page: "dose_sample", title: "A sample", here: "dose", body: b}, nil
}
