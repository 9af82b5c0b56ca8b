package web

import (
	"errors"
	"fmt"
	"io"
	"net/http"
	"strings"

	"ebbline/exchange"
	"ebbline/internal/household"
	"ebbline/record"
)

// importBody is the page on which results from a file wait until they are
// accepted.
type importBody struct {
	Base    string
	Text    string // the file, sent along until it is accepted
	Dates   string
	Problem string
	Unsaved bool
	Read    bool
	Bad     []importRow
	Samples []importSample
	Name    string // to be typed, when the file does not say whose it is
	Named   bool   // the file says so itself
	Typed   string
	Lab     string
	Known   []string
}

// An importRow is one row of the file: as it stood, as it was read, and beside
// what it would join.
type importRow struct {
	Line            int
	Raw             string
	Name, Text      string
	Range           string
	Last            string
	Words           string // where it lies
	Problem, Asked  string
	Again, AgainKey string
}

// An importSample is the rows drawn together, with what the file does not say.
type importSample struct {
	ID, When   string
	Timing     string
	Method     string
	Lab        string
	Take       bool
	There      bool // it is in the record already
	Problem    string
	Rows       []importRow
	NeedTiming bool
	NeedLab    bool
}

func (s *server) importPage(v visit) (view, error) {
	return importView(v, importBody{Base: doseOf(v), Dates: string(exchange.YearFirst)}), nil
}

func importView(v visit, b importBody) view {
	p, _ := v.member.Person.Now()
	b.Name, b.Lab, b.Known = p.Name, v.lastLab(), v.labs()
	return view{page: "dose_import", title: "Results from a file", here: "dose", body: b}
}

// readImport shows what is in a file. Nothing is kept.
func (s *server) readImport(w http.ResponseWriter, r *http.Request) error {
	text, err := fileText(r)
	if err != nil {
		return s.showImport(w, r, importBody{Problem: err.Error()})
	}
	return s.showImport(w, r, importBody{Text: text, Read: true})
}

// fileText takes the file that was chosen, or the text that was pasted.
func fileText(r *http.Request) (string, error) {
	if strings.HasPrefix(r.Header.Get("Content-Type"), "multipart/") {
		if err := r.ParseMultipartForm(exchange.MostBytes); err != nil {
			return "", errors.New("the file cannot be read; is it larger than half a megabyte?")
		}
		if f, _, err := r.FormFile("file"); err == nil {
			defer f.Close()
			raw, err := io.ReadAll(io.LimitReader(f, exchange.MostBytes+1))
			if err != nil {
				return "", err
			}
			if len(raw) > 0 {
				return string(raw), nil
			}
		}
	}
	if text := r.PostFormValue("text"); strings.TrimSpace(text) != "" {
		return text, nil
	}
	return "", errors.New("choose a file, or paste its text")
}

// showImport reads the text anew and shows it beside the record.
func (s *server) showImport(w http.ResponseWriter, r *http.Request, b importBody) error {
	return s.render(w, r, func(v visit) (view, error) {
		b.Base, b.Dates, b.Typed = doseOf(v), r.PostFormValue("dates"), r.PostFormValue("whose")
		if b.Read && b.Problem == "" {
			b.problem(v)
		}
		made := importView(v, b)
		if b.Problem != "" || len(b.Samples) == 0 {
			made.status = http.StatusUnprocessableEntity
		}
		return made, nil
	})
}

// problem reads the file into the page.
func (b *importBody) problem(v visit) {
	rows, err := readRows(v, b.Text, b.Dates)
	if err != nil {
		b.Problem = err.Error()
		return
	}
	me, _ := v.member.Person.Now()
	b.Named = true
	for i := range rows {
		switch row := &rows[i]; {
		case !row.Owner.Named():
			b.Named = false
		case row.Problem == "":
			row.Problem = row.Owner.Differs(me)
		}
	}
	for _, row := range rows {
		if row.Problem != "" {
			b.Bad = append(b.Bad, importRow{Line: row.Line, Raw: strings.Join(row.Raw, " · "), Name: row.Name, Text: strings.TrimSpace(row.Number + " " + row.Symbol), Problem: row.Problem})
		}
	}
	for _, one := range exchange.Samples(rows) {
		b.Samples = append(b.Samples, sampleOf(v, one))
	}
}

func readRows(v visit, text, dates string) ([]exchange.BloodsRow, error) {
	return exchange.ReadBloods(strings.NewReader(text), exchange.BloodsOptions{Zone: v.now.Location(), Dates: exchange.DateOrder(dates)})
}

// sampleOf puts one sample of the file beside the record, with what was chosen
// for it.
func sampleOf(v visit, one exchange.BloodsSample) importSample {
	out := importSample{ID: one.ID, When: one.Drawn.Format("Monday 2 January 2006, 15:04"), Timing: one.Timing, Lab: one.Lab, NeedTiming: one.Timing == "", NeedLab: one.Lab == ""}
	out.There = v.house.Has(one.ID)
	out.Take = v.PostFormValue("take."+one.ID) != ""
	if out.NeedTiming {
		out.Timing = v.PostFormValue("timing." + one.ID)
	}
	if out.NeedLab {
		if out.Lab = v.PostFormValue("lab." + one.ID); out.Lab == "" {
			out.Lab = v.lastLab()
		}
	}
	out.Method = v.PostFormValue("method." + one.ID)
	for _, row := range one.Rows {
		limits := v.member.LimitsAt(row.Result.Analyte, v.now)
		key := "again." + one.ID + "." + row.Result.Analyte
		r := importRow{
			Line: row.Line, Raw: strings.Join(row.Raw, " · "), Name: record.AnalyteName(row.Result.Analyte), Text: row.Result.Text(), Range: limits.Words(row.Result),
			Words: limits.Judge(row.Result, out.Timing).Words, AgainKey: key, Again: v.PostFormValue(key), Last: lastText(v, row.Result.Analyte, out.Timing),
		}
		out.Rows = append(out.Rows, r)
	}
	return out
}

// lastText is the person's last value of an analyte.
func lastText(v visit, analyte, timing string) string {
	for i := len(v.member.Bloods) - 1; i >= 0; i-- {
		b := v.member.Bloods[i]
		if r := b.Value.Find(analyte); r != nil && b.Counts() && (timing == "" || b.Value.Timing == timing) {
			return r.Text() + ", " + b.At.In(v.now.Location()).Format("2 Jan 2006")
		}
	}
	return "none yet"
}

// acceptImport keeps the samples that were ticked, all of them or none.
func (s *server) acceptImport(w http.ResponseWriter, r *http.Request) error {
	b := importBody{Text: r.PostFormValue("text"), Read: true}
	var entries []record.Entry
	var ids []string
	var found map[string]record.Findings
	err := s.look(r, func(v visit) error {
		b.Dates = r.PostFormValue("dates")
		b.problem(v)
		if b.Problem != "" {
			return nil
		}
		if !b.Named && !sameWords(r.PostFormValue("whose"), nameOf(v)) {
			b.Problem = "The file does not say whose results these are. Type the name that stands on the report; it must be " + nameOf(v) + "’s."
			return nil
		}
		rows, err := readRows(v, b.Text, b.Dates)
		if err != nil {
			return err
		}
		me, _ := v.member.Person.Now()
		for i := range rows {
			if row := &rows[i]; row.Problem == "" && row.Owner.Named() {
				row.Problem = row.Owner.Differs(me)
			}
		}
		found = map[string]record.Findings{}
		for _, one := range exchange.Samples(rows) {
			if r.PostFormValue("take."+one.ID) == "" || v.house.Has(one.ID) {
				continue
			}
			e, bad := entryOf(v, one)
			if len(bad) > 0 {
				found[one.ID] = bad
			}
			e.Device, e.By = device(r), writer(r)
			entries, ids = append(entries, e), append(ids, one.ID)
		}
		if len(entries) == 0 {
			b.Problem = "No sample is ticked that is not in the record already."
		}
		return nil
	})
	if err != nil {
		return err
	}
	if b.Problem == "" && len(found) == 0 {
		out, err := s.desk.Record(r.Context(), entries...)
		var failed *household.NotSavedError
		switch {
		case errors.As(err, &failed):
			b.Unsaved, b.Problem = true, "It could not be written: "+failed.Error()
		case err != nil:
			return err
		case out.Clear():
			http.Redirect(w, r, "/p/"+r.PathValue("p")+"/dose", http.StatusSeeOther)
			return nil
		default:
			for i, f := range out.Findings {
				if len(f) > 0 {
					found[ids[i]] = f
				}
			}
		}
	}
	fresh := importBody{Text: b.Text, Read: true, Unsaved: b.Unsaved}
	return s.render(w, r, func(v visit) (view, error) {
		fresh.Base, fresh.Dates, fresh.Typed = doseOf(v), r.PostFormValue("dates"), r.PostFormValue("whose")
		fresh.problem(v)
		if fresh.Problem == "" {
			fresh.Problem = b.Problem
		}
		for i := range fresh.Samples {
			fresh.Samples[i].say(found[fresh.Samples[i].ID])
		}
		made := importView(v, fresh)
		made.status = http.StatusUnprocessableEntity
		return made, nil
	})
}

// say puts what stands against a sample beside its rows.
func (one *importSample) say(found record.Findings) {
	for _, f := range found {
		at := -1
		for i, row := range one.Rows {
			if strings.HasSuffix(row.AgainKey, strings.TrimPrefix(f.Field, "results")) && strings.HasPrefix(f.Field, "results.") {
				at = i
			}
		}
		switch {
		case at < 0:
			one.Problem = strings.TrimSpace(one.Problem + " " + labelOf(f.Field) + " " + f.Words + ".")
		case f.Step == record.Ask:
			one.Rows[at].Asked = f.Words
		default:
			one.Rows[at].Problem = f.Words
		}
	}
}

func labelOf(key string) string {
	kind, _ := record.Find("bloods")
	return label(kind, key)
}

// entryOf makes the entry of a sample with what was chosen for it.
func entryOf(v visit, one exchange.BloodsSample) (record.Entry, record.Findings) {
	body := one.Bloods()
	chosen := sampleOf(v, one)
	body.Timing, body.Laboratory = chosen.Timing, chosen.Lab
	var bad record.Findings
	if body.Timing == "" {
		bad = append(bad, record.Finding{Field: "timing", Step: record.Refuse, Words: "is still blank: was it drawn before a session, after one, or at another time"})
	}
	if body.Timing == record.Post {
		body.Method = chosen.Method
	}
	if body.Timing == record.Pre || body.Timing == record.Post {
		if near := v.member.SessionNear(one.Drawn, body.Timing); near != nil {
			body.Session = near.ID
		} else {
			bad = append(bad, record.Finding{Field: "at", Step: record.Refuse, Words: fmt.Sprintf("%s lies within 12 hours of no session here", one.Drawn.Format("15:04 on 2 January 2006"))})
		}
	}
	e := record.Entry{ID: one.ID, Kind: "bloods", At: one.Drawn, Zone: v.now.Location().String(), Person: v.member.ID, Body: &body}
	for _, row := range chosen.Rows {
		if row.Again != "" {
			if e.Again == nil {
				e.Again = map[string]string{}
			}
			e.Again["results."+row.AgainKey[strings.LastIndex(row.AgainKey, ".")+1:]] = row.Again
		}
	}
	return e, bad
}

func nameOf(v visit) string {
	p, _ := v.member.Person.Now()
	return p.Name
}

func sameWords(a, b string) bool {
	return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
}
