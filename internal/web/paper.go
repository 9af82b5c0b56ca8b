package web

import (
	"bytes"
	"fmt"
	"net/http"

	"ebbline/internal/household"
	"ebbline/report"
	"ebbline/report/chart"
	"ebbline/session"
)

// paperCSS lays out what the report room makes: charts, sheets, labels, cards.
var paperCSS = []byte(chart.CSS() + report.SheetCSS() + report.SlipsCSS())

// paper serves that stylesheet beside the pages' own.
func (s *server) paper(w http.ResponseWriter, r *http.Request) {
	w.Header().Set("Content-Type", "text/css; charset=utf-8")
	if r.URL.Query().Get("v") == s.version {
		w.Header().Set("Cache-Control", "public, max-age=31536000, immutable")
	} else {
		w.Header().Set("Cache-Control", "no-cache")
	}
	_, _ = w.Write(paperCSS)
}

// A print makes a PDF of what a visit asks for, and names its file.
type print func(v visit, to *bytes.Buffer) (name string, err error)

// pdf answers with a print. Nothing is sent before all of it is made.
func (s *server) pdf(make print) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		var b bytes.Buffer
		var name string
		err := s.look(r, func(v visit) (err error) {
			name, err = make(v, &b)
			return err
		})
		if err != nil {
			s.answer(w, r, err)
			return
		}
		w.Header().Set("Content-Type", "application/pdf")
		w.Header().Set("Content-Disposition", fmt.Sprintf("inline; filename=%q", name))
		_, _ = b.WriteTo(w)
	}
}

func (s *server) sheetPDF(v visit, to *bytes.Buffer) (string, error) {
	sheet := household.Sheet(v.house, v.member, v.session, v.now)
	return "session-" + session.Night(v.session).String() + ".pdf", sheet.PDF(to, s.desk.Printing(v.house), v.now)
}

func (s *server) blankPDF(v visit, to *bytes.Buffer) (string, error) {
	sheet := household.BlankSheet(v.house, v.member, v.now)
	return "session-blank.pdf", sheet.PDF(to, s.desk.Printing(v.house), v.now)
}

func (s *server) labelsPDF(v visit, to *bytes.Buffer) (string, error) {
	return "syringe-labels.pdf", report.LabelsPDF(to, labelsOf(v), s.desk.Printing(v.house), v.now)
}
