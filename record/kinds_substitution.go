package record

import "ebbline/session"

// The fields of haemodiafiltration. Their bounds are ours: an order that adds the fluid
// after the dialyser has some 15 to 30 L a session, and one before it about twice that
// (from memory). What is asked about lies well outside both.

func substitutionOrdered() Field {
	return field("substitution_l", "Substitution fluid a session").refuse(1, 150).ask(5, 80).doc("haemodiafiltration only")
}

func substitutionPlace() Field {
	return field("substitution_place", "Substitution fluid is added").opt().from(
		session.SubstitutedBefore, "before the dialyser", session.SubstitutedAfter, "after the dialyser", session.SubstitutedMixed, "before and after it").doc("haemodiafiltration only: relative to the dialyser")
}

func substitutionSoFar(label string) Field {
	return field("substitution_l", label).refuse(0, 150).ask(0, 80).read().doc("haemodiafiltration only: as the machine shows it")
}

func washbackWith() Field {
	return field("washback_with", "The blood was given back with").opt().from(
		session.WithSaline, "saline", session.WithMachineFluid, "fluid from the machine").doc("blank: saline")
}

func removedShows() Field {
	return field("removed_shows", "In haemodiafiltration, its figure for the fluid removed").opt().from(
		session.RemovedNet, "is what came off me", session.RemovedGross, "has the substitution fluid in it").doc("blank while nobody has said; a figure is read by what was said when it was written down, and what is said once a session is closed changes nothing of it")
}
