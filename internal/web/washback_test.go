package web

// threeTicks is what is looked at before the pump starts to give the blood back.
var threeTicks = []string{"saline_on_arterial_line", "yes", "its_clamp_open", "yes", "venous_line_to_me", "yes"}

// lookedFirst ticks what is looked at before the pump gives the blood back.
func (h *house) lookedFirst(base string) {
	h.t.Helper()
	h.saved(base+"/washback_checked", threeTicks...)
}
