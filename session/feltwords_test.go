package session

import "testing"

// What is felt, in words of one's own, leads to the steps that it names; what names
// nothing, or is said not to be there, leads nowhere.
func TestFeltWordsLead(t *testing.T) {
	for words, want := range map[string]string{
		"chest pain":                   TroubleHeart,
		"pain in my chest":             TroubleHeart,
		"Tight chest, pain in the jaw": TroubleHeart,
		"can't breathe":                TroubleHeart,
		"short of breath":              TroubleHeart,
		"back pain and chest pain":     TroubleHeart,
		"my back hurts":                TroubleDark,
		"pain low in the back":         TroubleDark,
		"backache":                     TroubleDark,
		"itchy all over":               TroubleReaction,
		"lips swollen":                 TroubleReaction,
		"a bit of fever":               TroubleFever,
		"feverish":                     TroubleFever,
		"shivering":                    TroubleFever,
		"she was confused":             TroubleConfused,
		"air in the line":              TroubleAir,
		"foam in the venous chamber":   TroubleAir,
		"faint":                        TroubleLow,
		"I fainted":                    TroubleLow, "blacked out": TroubleLow, "blood is dark": TroubleDark, "cherry red blood": TroubleDark,
		"blood on the sheet": TroubleBlood, "wet bandage": TroubleBlood, "needle came out": TroubleBlood, "throat tight": TroubleReaction,
		"muddled": TroubleConfused, "cannot find my words": TroubleConfused, "left arm numb": TroubleConfused, "sugar low": TroubleConfused,
		"weak legs": TroubleWeak, "arm swelling": TroubleArm, "pain between the shoulders": TroubleDark, "bleeding": TroubleBlood,
		"dizzy": "", "blood test tomorrow": "", "sugar in my tea": "", "a word with the nurse": "",
		"":                                   "",
		"tired":                              "",
		"back to normal":                     "",
		"needed fresh air":                   "",
		"no chest pain":                      "",
		"no fever, no chills":                "",
		"swollen ankles":                     "",
		"Weak, heavy legs, a session missed": TroubleWeak,
	} {
		if got := unwellLeads(words); got != want {
			t.Errorf("%q leads to %q, want %q", words, got, want)
		}
	}
}
