package session

import "slices"

// Add returns the sheet with a step put in at place (0 is the top; beyond the
// end is the end).
func (r RunSheet) Add(s Step, place int) (RunSheet, error) {
	out := r.clone()
	s.After = slices.Clone(s.After)
	out.Steps = slices.Insert(out.Steps, min(max(place, 0), len(out.Steps)), s)
	return checked(r, out)
}

// Move returns the sheet with one step shifted to a place. The order on the
// page is only an order of reading: what waits for what stays as it was.
func (r RunSheet) Move(id string, place int) (RunSheet, error) {
	i := r.index(id)
	if i < 0 {
		return r, sheetError(id, "is not on the sheet")
	}
	out := r.clone()
	s := out.Steps[i]
	out.Steps = slices.Delete(out.Steps, i, i+1)
	out.Steps = slices.Insert(out.Steps, min(max(place, 0), len(out.Steps)), s)
	return checked(r, out)
}

// Remove returns the sheet without one step. What waited for it now waits for
// what it had waited for, so that no order is lost.
func (r RunSheet) Remove(id string) (RunSheet, error) {
	i := r.index(id)
	if i < 0 {
		return r, sheetError(id, "is not on the sheet")
	}
	out := r.clone()
	gone := out.Steps[i]
	out.Steps = slices.Delete(out.Steps, i, i+1)
	for k := range out.Steps {
		s := &out.Steps[k]
		j := slices.Index(s.After, id)
		if j < 0 {
			continue
		}
		s.After = slices.Delete(s.After, j, j+1)
		for _, a := range gone.After {
			if !slices.Contains(s.After, a) {
				s.After = append(s.After, a)
			}
		}
	}
	return checked(r, out)
}

// without leaves steps out, and what waited for them waits for what they waited for.
func (r RunSheet) without(ids ...string) RunSheet {
	out := r.clone()
	for _, id := range ids {
		if less, err := out.Remove(id); err == nil {
			out = less
		}
	}
	return out
}

// withoutEntries leaves out the steps that an entry of one of these kinds ticks.
func (r RunSheet) withoutEntries(kinds ...string) RunSheet {
	var ids []string
	for _, step := range r.Steps {
		if slices.Contains(kinds, step.Entry) {
			ids = append(ids, step.ID)
		}
	}
	return r.without(ids...)
}

// Replace returns the sheet with a whole step in the place of the one with the
// same id.
func (r RunSheet) Replace(s Step) (RunSheet, error) {
	i := r.index(s.ID)
	if i < 0 {
		return r, sheetError(s.ID, "is not on the sheet")
	}
	out := r.clone()
	s.After = slices.Clone(s.After)
	out.Steps[i] = s
	return checked(r, out)
}

// checked gives the new sheet when it can be run, else the old one and why.
func checked(old, edited RunSheet) (RunSheet, error) {
	if err := edited.Validate(); err != nil {
		return old, err
	}
	return edited, nil
}
