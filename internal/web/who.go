package web

import (
	"time"

	"ebbline/session"
)

// whoBody is the choice between the people who use the machine.
type whoBody struct {
	People []whoRow
}

type whoRow struct {
	who
	Open  bool // a session of theirs is open
	Since time.Time
	Phase session.Phase
	Wrong string // what is open in it, and since when
}

// who is the first page: the one person's day, the choice between several, or
// the first steps where there is nobody yet.
func (s *server) who(v visit) (view, error) {
	switch len(v.house.People) {
	case 0:
		return view{goTo: "/first"}, nil
	case 1:
		return view{goTo: "/p/" + v.house.People[0].ID + "/"}, nil
	}
	var b whoBody
	for _, m := range v.house.People {
		row := whoRow{who: *person(m)}
		if open := m.Open(); open != nil {
			row.Open, row.Phase = true, open.Phase()
			_, at := open.Opened()
			row.Since = at.In(v.now.Location())
			if open := session.OpenTroubles(open, v.now); len(open) > 0 {
				row.Wrong = open[0].Title + ", since " + clockFace(open[0].Since.In(v.now.Location()))
			}
		}
		b.People = append(b.People, row)
	}
	return view{page: "who", title: "Who is it?", here: "who", body: b}, nil
}
