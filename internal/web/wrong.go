package web

import "ebbline/session"

// wrong is what to do when something is wrong: part of every page of a person with
// an open session and of Today, so that it is there when the server is gone.
type wrong struct {
	Tiles []tile
}

// A tile is one kind of trouble.
type tile struct {
	session.TroubleType
}

// wrongOf gives it for a page; nil where the page belongs to nobody, or to neither
// a session nor Today.
func (v visit) wrongOf(made view) *wrong {
	if v.member == nil || v.member.Open() == nil && made.here != "session" && made.here != "today" {
		return nil
	}
	var w wrong
	for _, t := range session.Troubles() {
		w.Tiles = append(w.Tiles, tile{t})
	}
	return &w
}
