package web

import "ebbline/internal/household"

// guidePage is the guide for the person at home.
func (s *server) guidePage(v visit) (view, error) {
	u, _ := v.house.Unit.Now()
	return view{page: "guide", title: "Guide", here: "guide", body: household.Phones(u)}, nil
}
