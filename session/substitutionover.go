package session

import "ebbline/unit"

// substitutionMore is how much more than the ordered volume the substitution fluid of a
// session may be before it is said: by both of these together. The machine keeps near the
// order by itself, and a session that is made longer has a little more. Ours.
const (
	substitutionShare = 4                 // a quarter of the order
	substitutionMore  = unit.Volume(2000) // mL
)

// SubstitutionOver reports whether so much substitution fluid in all is far over what the
// unit ordered for a session: by more than a quarter of it and more than 2 L. False where
// no volume is ordered.
func (s *Session) SubstitutionOver(total unit.Volume) bool {
	if !s.ByFiltration() || s.Rx.Substitution == nil {
		return false
	}
	over := total - unit.Volume(*s.Rx.Substitution) // a litre is kept to the millilitre
	return over > unit.Volume(*s.Rx.Substitution)/substitutionShare && over > substitutionMore
}

// substituted remarks on substitution fluid far over the order, from the first entry of
// it after one that was not.
func (w *watch) substituted(e *Event) {
	if givenBy(e.Body) == nil {
		return
	}
	total := w.count.given.total()
	if !w.s.SubstitutionOver(total) {
		delete(w.said, "substitution_over")
		return
	}
	w.once(LevelLook, "substitution_over", e, facts{value: unit.Litres(total).Text(), limit: w.s.Rx.Substitution.Text()})
}
