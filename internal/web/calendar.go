package web

import (
	"net/http"
	"strings"

	"ebbline/internal/household"
	"ebbline/record"
)

// calendarBody is the page of the calendar feed.
type calendarBody struct {
	Has     bool
	Address string
	Titles  string
	Form    form
	Count   int
}

func (s *server) calendarPage(v visit) (view, error) {
	return s.calendarForm(v, func(f form) form { return f })
}

func (s *server) calendarForm(v visit, fill func(form) form) (view, error) {
	kind, _ := record.Find("calendar_secret")
	b := calendarBody{Count: len(household.CalendarOf(v.house, v.member, v.now, household.TitlesBusy).Events)}
	f := newForm(kind, v.URL.Path, map[string]string{"titles": household.TitlesBusy}).only("titles")
	f.Next, f.Submit = v.URL.Path, "Make the address"
	if c, ok := v.house.Upkeep.Calendar(v.member.ID); ok {
		b.Has, b.Titles = true, c.Titles
		b.Address = schemeOf(v.Request) + "://" + v.Host + "/calendar/" + c.Secret + ".ics"
		f.Submit = "Make a new address"
	}
	b.Form = fill(f)
	return view{page: "calendar", title: "Calendar", here: "round", body: b}, nil
}

// makeCalendar makes a new secret; the old address is closed with it.
func (s *server) makeCalendar(w http.ResponseWriter, r *http.Request) error {
	kind, _ := record.Find("calendar_secret")
	r.PostForm.Set("secret", household.NewCalendarSecret())
	return s.send(w, r, kind, s.calendarForm)
}

// calendarFeed serves a person's calendar to whoever knows its address.
func (s *server) calendarFeed(w http.ResponseWriter, r *http.Request) error {
	secret, ok := strings.CutSuffix(r.PathValue("file"), ".ics")
	if !ok {
		return notFound{"no such calendar"}
	}
	var file []byte
	err := s.look(r, func(v visit) error {
		m := household.CalendarOwner(v.house, secret)
		if m == nil {
			return notFound{"no such calendar; perhaps its address was made again"}
		}
		own, _ := v.house.Upkeep.Calendar(m.ID)
		var err error
		file, err = household.CalendarOf(v.house, m, v.now, own.Titles).Bytes()
		return err
	})
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/calendar; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="ebbline.ics"`)
	_, err = w.Write(file)
	return err
}
