package web

import "ebbline/record"

// machineHints say where to look on the machine for each answer.
var machineHints = map[string]string{
	"name":          "Your own word for it, such as “the machine” or “upstairs”. Another name is another machine: it is rinsed and tested for residue before its first session.",
	"adds_washback": "Tick this only if the machine’s handbook or your nurse says so. When it is ticked the washback is left out of the goal, or it would be counted twice.",
	"goal_unit":     "Look at the field in which the fluid goal is dialled in.",
	"goal_decimals": "How many digits that field shows after the point: 2 for 2.50 L, 0 for 2500 mL.",
	"goal_step_ml":  "By how much the field moves at one press. Leave it blank when each digit can be set by itself.",
	"removed_shows": "Needed for haemodiafiltration only: ask your nurse, or look in the machine’s handbook. The goal is always what comes off you. It counts for earlier sessions too, where nothing was said.",
	"kind":          "Whether water is made into dialysis fluid as it runs, or beforehand as a batch, or the fluid comes in ready bags. It decides which checks of the water there are.",
}

// machineForm describes the machine; a later description is a new version.
func machineForm(v visit, f form, b *slipBody) (form, error) {
	b.Lead = "So that the number to dial in is shown in the unit and with the digits of your machine’s own field."
	if now, ok := v.house.Machine.Now(); ok {
		kind, _ := record.Find("machine")
		f = f.begin(filled(kind, &now))
		b.Notes = append(b.Notes, "Sessions held before keep the description they were held by.")
	}
	f.Submit = "Keep this"
	return f.hint(machineHints).offersFluid(), nil
}
