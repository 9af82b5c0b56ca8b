package exchange

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

// A BloodsSample is the rows of a file that were drawn together.
type BloodsSample struct {
	ID     string // of the entry it would become: the same for the same rows
	Drawn  time.Time
	Timing string
	Lab    string
	Report unit.Date
	Haemo  bool
	Note   string
	Rows   []BloodsRow // those that can be taken
}

// Samples puts the rows that can be taken together by the moment they were
// drawn, the timing and the laboratory, in the order they first stood. Rows
// with a problem are left out.
func Samples(rows []BloodsRow) []BloodsSample {
	type together struct {
		drawn       int64
		timing, lab string
	}
	at := map[together]int{}
	var list []BloodsSample
	for _, r := range rows {
		if r.Problem != "" {
			continue
		}
		key := together{r.Drawn.Unix(), r.Timing, r.Lab}
		i, ok := at[key]
		if !ok {
			i = len(list)
			at[key] = i
			list = append(list, BloodsSample{Drawn: r.Drawn, Timing: r.Timing, Lab: r.Lab})
		}
		s := &list[i]
		s.Haemo = s.Haemo || r.Haemo
		if s.Report.Before(r.Report) {
			s.Report = r.Report
		}
		if r.Comment != "" && len(s.Note) < 300 {
			if s.Note != "" {
				s.Note += "; "
			}
			s.Note += r.Name + ": " + r.Comment
		}
		s.Rows = append(s.Rows, r)
	}
	for i := range list {
		list[i].ID = list[i].id()
	}
	return list
}

// id names a sample by what it holds, so that reading the same file in again
// makes no second entry.
func (s BloodsSample) id() string {
	h := sha256.New()
	fmt.Fprintf(h, "%d %s %q %v\n", s.Drawn.Unix(), s.Timing, s.Lab, s.Haemo)
	for _, r := range s.Rows {
		fmt.Fprintf(h, "%q %q %q %q %q\n", r.Result.Analyte, r.Result.Op, r.Result.Value, r.Result.Unit, r.Result.Upper)
	}
	return "bloods-" + hex.EncodeToString(h.Sum(nil)[:10])
}

// Bloods makes the body of the entry. Timing, laboratory, session and way of
// sampling are for the caller where the file does not say.
func (s BloodsSample) Bloods() record.Bloods {
	b := record.Bloods{Timing: s.Timing, Laboratory: s.Lab, ReportedOn: s.Report, Haemolysed: s.Haemo, Note: s.Note}
	for _, r := range s.Rows {
		b.Results = append(b.Results, r.Result)
	}
	return b
}
