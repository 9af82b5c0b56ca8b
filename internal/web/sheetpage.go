package web

import (
	"html/template"

	"ebbline/internal/household"
	"ebbline/report"
	"ebbline/session"
)

// sheetBody is the session sheet as it will print.
type sheetBody struct {
	Session *session.Session
	Base    string
	HTML    template.HTML
	Open    bool // it is not closed yet
	Entries []entryRow
	Left    *catheterLeft // what of closing a catheter was forgotten
}

// sheetPage shows a session's sheet; it prints on one side.
func (s *server) sheetPage(v visit) (view, error) {
	base := "/p/" + v.member.ID + "/session/" + v.session.ID
	b := sheetBody{Session: v.session, Base: base, Open: v.session.Phase() != session.Done, Left: leftOf(v.session, base, v.now)}
	html, err := report.SheetHTML(household.Sheet(v.house, v.member, v.session, v.now), s.desk.Printing(v.house))
	if err != nil {
		return view{}, err
	}
	b.HTML = html
	for i := range v.session.Log {
		b.Entries = append(b.Entries, rowOf(base, v.session, &v.session.Log[i]))
	}
	return view{page: "sheet", title: "Session sheet", here: "sessions", body: b}, nil
}

// labelsPage shows the labels of what was drawn up, to print or to copy.
func (s *server) labelsPage(v visit) (view, error) {
	type body struct {
		Base string
		HTML template.HTML
	}
	html, err := report.LabelsHTML(labelsOf(v), s.desk.Printing(v.house))
	if err != nil {
		return view{}, err
	}
	return view{page: "labels", title: "Syringe labels", here: "session", body: body{"/p/" + v.member.ID + "/session/" + v.session.ID, html}}, nil
}

// labelsOf are the labels of everything that was drawn up for a session.
func labelsOf(v visit) []session.Label {
	var labels []session.Label
	name := person(v.member).Name
	session.Each(v.session, func(h *session.HeparinDrawn, e *session.Event) {
		labels = append(labels, session.HeparinLabels(name, *h, e.At)...)
	})
	session.Each(v.session, func(a *session.AnaestheticDrawn, e *session.Event) {
		labels = append(labels, session.AnaestheticLabel(name, *a, e.At))
	})
	session.Each(v.session, func(f *session.FlushDrawn, e *session.Event) {
		for range f.Count {
			labels = append(labels, session.FlushLabel(name, *f, e.At))
		}
	})
	return labels
}
