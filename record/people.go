package record

import (
	"time"

	"ebbline/session"
	"ebbline/unit"
)

// Person is somebody who dialyses on this machine.
type Person struct {
	Name      string `json:"name"`
	BirthYear int    `json:"birth_year"`
	Colour    string `json:"colour"` // a word; shown beside the name on every page and print
	Number    string `json:"hospital_number,omitempty"`
	Adult     bool   `json:"adult"`
	Allergies string `json:"allergies,omitempty"`
	Carer     string `json:"carer,omitempty"`
	Pacemaker bool   `json:"pacemaker,omitempty"`
	Pregnant  bool   `json:"pregnant,omitempty"` // or may be; see [session.NoPlanOf]
}

// childUntil is up to how many years after that of the birth somebody may still be under
// 18: the birthday is not in the record.
const childUntil = 18

// child reports whether a person may be under 18 and has no prescription of an adult.
// That tick left blank for somebody older says nothing.
func (p Person) child(at time.Time) bool { return !p.Adult && at.Year()-p.BirthYear <= childUntil }

// KidneyUnit is the unit that prescribes and answers for the care.
type KidneyUnit struct {
	Name       string `json:"name"`
	Day        string `json:"day_phone"`
	Night      string `json:"night_phone"`
	Technician string `json:"technician_phone,omitempty"`
	Ambulance  string `json:"ambulance_phone"`
}

// Card is the emergency card in the unit's own words.
type Card struct {
	Words    string    `json:"words"` // one act a line
	From     string    `json:"from"`  // who gave it
	GivenOn  unit.Date `json:"given_on"`
	ReviewBy unit.Date `json:"review_by"`
}

// TroubleSteps are the unit's own steps for one trouble, part of the emergency
// card. Of each trouble the newest count.
type TroubleSteps struct {
	Trouble  string        `json:"trouble"` // a code of [session.Troubles]
	Words    string        `json:"words"`   // one act a line
	Ring     string        `json:"ring"`    // whom first
	Saline   *unit.Volume  `json:"saline_ml,omitempty"`
	BackIn   *unit.Minutes `json:"blood_back_within_min,omitempty"` // of a power cut
	From     string        `json:"from"`
	GivenOn  unit.Date     `json:"given_on"`
	ReviewBy unit.Date     `json:"review_by"`
}

// StepsFor gives the unit's steps for one trouble, as they count now; nil where
// the unit gave none.
func (m *Member) StepsFor(trouble string) *Dated[TroubleSteps] {
	for i := len(m.TroubleSteps) - 1; i >= 0; i-- {
		if t := &m.TroubleSteps[i]; t.Struck == nil && t.Value.Trouble == trouble {
			return t
		}
	}
	return nil
}

// PaperConfirms says that the paper for a phoned change has come and agrees.
type PaperConfirms struct {
	Prescription string    `json:"prescription_id"`
	SignedBy     string    `json:"signed_by"`
	SignedOn     unit.Date `json:"signed_on"`
}

// ChangeSeen says that the person has read what changed in the prescription.
type ChangeSeen struct {
	Prescription string `json:"prescription_id"`
}

// HospitalStay makes what was set before it stale.
type HospitalStay struct {
	From unit.Date `json:"from"`
	To   unit.Date `json:"to"`
	Why  string    `json:"why,omitempty"`
}

// Question is something the person wants to ask the unit.
type Question struct {
	Words string `json:"words"`
}

// Struck takes an entry out of the count; it stays in sight.
type Struck struct {
	Entry  string `json:"entry_id"`
	Reason string `json:"reason"`
}

// Demonstration marks a file whose every entry is invented.
type Demonstration struct {
	Note string `json:"note"`
}

// ClockMoved says that the computer's clock jumped.
type ClockMoved struct {
	Seconds int    `json:"by_s"`
	Note    string `json:"note,omitempty"`
}

// SheetEdited is a new version of a run sheet, whole.
type SheetEdited struct {
	session.RunSheet
}
