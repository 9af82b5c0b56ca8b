package session

// The words of every kind of trouble that stand there whatever the unit wrote. No
// amounts, no doses: those are the unit's.

const (
	actPump  = "Pump off."
	actClamp = "Clamp both lines."
	actLie   = "Lie back."
	actOff   = "Removal off."
)

// troubleTable holds them with the words of both accesses ([byAccess]).
var troubleTable = []TroubleType{
	{TroubleLow, "Low pressure or faint", true, RingAmbulance, BloodAsSteps, []string{actLie, actOff}},
	{TroubleBlood, "{Needle out, blood, line apart|Line off the catheter, blood}", true, RingAmbulance, BloodNever, []string{actPump, actClamp, "{Press on the hole|Clamp the catheter}.", actLie}},
	{TroubleAir, "Air or foam", true, RingAmbulance, BloodNever, []string{actPump, "Clamp the venous line."}},
	{TroubleHeart, "Chest pain, short of breath, heart odd", true, RingAmbulance, BloodAsSteps, []string{actOff}},
	{TroubleFever, "Fever or shivering", true, RingAmbulance, BloodUnitWord, []string{actPump, actClamp}},
	{TroubleReaction, "Itch, wheeze, swelling in the first minutes", true, RingAmbulance, BloodNever, []string{actPump, actClamp}},
	{TroubleDark, "Blood dark or cherry, back pain", true, RingAmbulance, BloodNever, []string{actPump, actClamp}},
	{TroubleAlarm, "Machine alarm", true, RingUnit, BloodAsSteps, []string{"Look at {needles|connections} and lines before anything is reset."}},
	{TroubleFluid, "Fluid too hot or wrong", false, RingUnit, BloodNever, []string{actPump, actClamp}},
	{TroubleConfused, "Confused, fit, sugar low", false, RingAmbulance, BloodAsSteps, []string{actOff}},
	{TroubleWeak, "Weak, heavy legs, a session missed", false, RingAmbulance, BloodAsSteps, nil},
	{TroubleClotting, "Clotting", false, RingUnit, BloodAsSteps, nil},
	{TroubleLeak, "Blood leak alarm", false, RingUnit, BloodUnitWord, []string{actPump, actClamp}},
	{TroubleArm, "Arm swells", false, RingUnit, BloodAsSteps, []string{actPump}},
	{TroublePower, "Power or water cut", false, RingUnit, BloodAsSteps, []string{"Removal stops. Nothing watches for air now."}},
	{TroubleBleeding, "Will not stop bleeding", false, RingAmbulance, BloodAsSteps, []string{"Press {with fingers on the hole itself|on the exit site with gauze}."}},
	{TroubleFire, "Fire, leave the house", false, RingAmbulance, BloodNever, []string{actPump, actClamp, "Leave."}},
}

var bloodWords = map[BloodRule]string{
	BloodNever:    "Give the blood back: never.",
	BloodUnitWord: "Give the blood back: only on your unit's word.",
	BloodAsSteps:  "Give the blood back: as your unit's steps say.",
}

// Words is the line that no trouble lacks.
func (r BloodRule) Words() string { return bloodWords[r] }

var feelings = []Feeling{
	{"chest pain", TroubleHeart}, {"breathless", TroubleHeart}, {"chills", TroubleFever}, {"back pain", TroubleDark},
	{"itch or wheeze", TroubleReaction}, {"confused", TroubleConfused}, {"faint", TroubleLow},
}
