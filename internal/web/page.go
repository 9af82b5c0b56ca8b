package web

import (
	"bytes"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"slices"
	"strings"
	"sync"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/session"
)

//go:embed all:pages static
var files embed.FS

// A visit is one request with the state it sees. It lives no longer than the
// making of one page, since the state may change after it.
type visit struct {
	*http.Request
	house   *record.Household
	now     time.Time        // in the household's zone
	member  *record.Member   // of the address; nil where it names nobody
	session *session.Session // of the address
	kept    map[keptKey]any  // worked out already; see kept
}

// A view is what a page handler gives back: which page, with what on it.
type view struct {
	page   string // name of the template under pages/, without .html
	title  string
	here   string // which part of the program, for the navigation
	status int    // 200 when zero
	body   any    // the page's own struct
	goTo   string // another address instead of a page
	phase  string // of the session that the page shows, when it changes with it

	stranger bool // it goes to a screen that is not paired
}

// frame is what every page has around its body.
type frame struct {
	Title   string
	Here    string
	Page    string // name of the page's template
	Person  *who
	Many    bool // more than one person uses the machine
	Demo    bool
	Phase   string // of the session that the page shows, when it changes with it
	Theme   string // day, night, or empty for what the screen prefers
	Unsaved string
	AsOf    time.Time
	Age     uint64 // number of the state that the page shows
	Version string
	Unit    record.KidneyUnit
	Open    string // the session that is open, if any
	Bar     *bar
	Wrong   *wrong
	Writers []string // who can be told to write on this screen
	Writer  string   // who was
	Bare    bool     // a page that knows nothing of the record, and hears nothing of it
	Body    any
}

// UnitNumbers are the two numbers of the kidney unit, as a sentence names them.
func (f frame) UnitNumbers() []report.Phone {
	both := []report.Phone{{Who: "by day", Number: f.Unit.Day}, {Who: "at night", Number: f.Unit.Night}}
	return slices.DeleteFunc(both, func(p report.Phone) bool { return p.Number == "" })
}

// who is a person as every page shows one.
type who struct {
	ID, Name, Colour string
	BirthYear        int
}

type (
	pageFunc func(v visit) (view, error)
	postFunc func(w http.ResponseWriter, r *http.Request) error
)

// pages holds each page's template with the layout and the shared parts.
type pages map[string]*template.Template

// parsePages reads the templates, which are part of the program, once.
var parsePages = sync.OnceValues(func() (pages, error) {
	names, err := fs.Glob(files, "pages/*.html")
	if err != nil {
		return nil, err
	}
	base, err := template.New("").Funcs(words).ParseFS(files, "pages/_*.html")
	if err != nil {
		return nil, err
	}
	all := pages{}
	for _, name := range names {
		short := strings.TrimSuffix(strings.TrimPrefix(name, "pages/"), ".html")
		if strings.HasPrefix(short, "_") {
			continue
		}
		t, err := template.Must(base.Clone()).ParseFS(files, name)
		if err != nil {
			return nil, err
		}
		all[short] = t.Option("missingkey=error")
	}
	return all, nil
})

// show wraps a page handler: it renders into a buffer while the state stands
// still, so that a page is whole and of one moment, or an error page.
func (s *server) show(h pageFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		if err := s.render(w, r, h); err != nil {
			s.answer(w, r, err)
		}
	}
}

// act wraps a handler that writes.
func (s *server) act(h postFunc) http.HandlerFunc {
	return func(w http.ResponseWriter, r *http.Request) {
		r.Body = http.MaxBytesReader(w, r.Body, 1<<20)
		err := r.ParseForm()
		var large *http.MaxBytesError
		switch {
		case err == nil:
			err = h(w, r)
		case !errors.As(err, &large):
			http.Error(w, "This form cannot be read. Nothing was saved; go back and send it again.", http.StatusBadRequest)
			return
		}
		if err != nil {
			s.answer(w, r, err)
		}
	}
}

// look calls f with the state as it is now and what the address names in it.
func (s *server) look(r *http.Request, f func(v visit) error) error {
	now := s.desk.Now()
	var err error
	s.desk.View(func(h *record.Household) {
		v := visit{Request: r, house: h, now: now, kept: map[keptKey]any{}}
		if id := r.PathValue("p"); id != "" {
			if v.member = h.Member(id); v.member == nil {
				err = notFound{"nobody of that name in this record"}
				return
			}
		}
		if id := r.PathValue("s"); id != "" {
			if v.session = h.Session(id); v.session == nil || v.session.Person != v.member.ID {
				err = notFound{"no such session"}
				return
			}
		}
		err = f(v)
	})
	return err
}

// render makes the page and writes it.
func (s *server) render(w http.ResponseWriter, r *http.Request, h pageFunc) error {
	var b bytes.Buffer
	var made view
	age, _ := s.desk.Watch()
	unsaved := s.desk.Unsaved()
	err := s.look(r, func(v visit) error {
		var err error
		if made, err = h(v); err != nil || made.goTo != "" {
			return err
		}
		t, ok := s.pages[made.page]
		if !ok {
			return fmt.Errorf("there is no page %q", made.page)
		}
		return t.ExecuteTemplate(&b, "layout", s.frame(v, made, age, unsaved))
	})
	if err != nil {
		return err
	}
	if made.goTo != "" {
		http.Redirect(w, r, made.goTo, http.StatusSeeOther)
		return nil
	}
	nameScreen(w, r)
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	if made.status != 0 {
		w.WriteHeader(made.status)
	}
	_, _ = b.WriteTo(w) // the reader went away; nothing to do about it
	return nil
}

func (s *server) frame(v visit, made view, age uint64, unsaved error) frame {
	f := frame{
		Title: made.title, Here: made.here, Page: made.page, Body: made.body, AsOf: v.now, Age: age, Version: s.version, Theme: theme(v.Request), Phase: made.phase,
		Many: len(v.house.People) > 1, Demo: v.house.Demo,
	}
	f.Unit, _ = v.house.Unit.Now()
	made.stranger = made.here == "card" && !s.mayPass(nil, v.Request)
	f.Bar, f.Wrong = v.barOf(), v.wrongOf(made)
	if made.stranger {
		f.Bar = nil // somebody who is not paired reads the card, and nothing of the session
	}
	if unsaved != nil {
		f.Unsaved = unsaved.Error()
	}
	if v.member != nil {
		f.Person = person(v.member)
		f.Writers, f.Writer = writers(v.member), writer(v.Request)
		if f.Writer == "" {
			f.Writer = f.Person.Name
		}
		if open := v.member.Open(); open != nil {
			f.Open = open.ID
		}
	}
	return f
}

func person(m *record.Member) *who {
	p, _ := m.Person.Now()
	return &who{ID: m.ID, Name: p.Name, Colour: p.Colour, BirthYear: p.BirthYear}
}

// theme reads the person's choice; no choice follows the screen.
func theme(r *http.Request) string {
	if c, err := r.Cookie("theme"); err == nil && (c.Value == "day" || c.Value == "night") {
		return c.Value
	}
	return ""
}

// A notFound error is answered with "there is no such page".
type notFound struct{ what string }

func (e notFound) Error() string { return e.what }

// answer words an error once, for every page.
func (s *server) answer(w http.ResponseWriter, r *http.Request, err error) {
	made := view{page: "problem", title: "Something is wrong", status: http.StatusInternalServerError}
	var missing notFound
	var unsaved *household.NotSavedError
	var tooBig *http.MaxBytesError
	var found record.Findings
	switch {
	case errors.As(err, &missing):
		made.title, made.status = "Not here", http.StatusNotFound
		made.body = problem{"There is " + missing.what + ".", "Go back, or begin at Today."}
	case errors.As(err, &unsaved):
		made.title, made.status = "NOT SAVED – USE PAPER", http.StatusServiceUnavailable
		made.body = problem{"The last value could not be written to the disk: " + unsaved.Err.Error(), "Write on paper. Go back and send it again; the program tries again each time."}
	case errors.As(err, &found):
		made.title, made.status = "Not kept", http.StatusUnprocessableEntity
		made.body = problem{"Nothing was kept: " + found.Error() + ".", "Go back, load the page again, and send it once more."}
	case errors.As(err, &tooBig):
		made.status = http.StatusRequestEntityTooLarge
		made.body = problem{"That is too long to be kept.", "Go back and shorten it."}
	default:
		s.log.Error("page", "path", r.Pattern, "error", err)
		made.body = problem{"The page could not be made.", "What was saved is saved. Go back, or begin at Today. If it happens again, use paper and keep this sentence: " + err.Error()}
	}
	// The address may name nobody, so the error page is made without it.
	plain := r.Clone(r.Context())
	plain.SetPathValue("p", "")
	plain.SetPathValue("s", "")
	if s.render(w, plain, func(visit) (view, error) { return made, nil }) != nil {
		http.Error(w, err.Error(), made.status)
	}
}

type problem struct{ What, Do string }
