package web

// peopleRoutes are the addresses outside a session.
func (s *server) peopleRoutes(page func(string, pageFunc), post func(string, postFunc)) {
}

func (s *server) who(v visit) (view, error) {
	for _, m := range v.house.People {
		return view{goTo: "/p/" + m.ID + "/session"}, nil
	}
	return view{}, notFound{"nobody yet"}
}
