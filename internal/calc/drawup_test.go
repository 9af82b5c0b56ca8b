package calc

import "testing"

func TestDrawup(t *testing.T) {
	const tail = `"cautions":[],"sources":["common practice; 1 % is 1 g in 100 mL by definition"]}`
	for _, tt := range []struct{ in, want string }{
		{`{"dose":{"value":1500,"unit":"IU"},"strength":{"value":1000,"unit":"IU/mL"}}`, `{"draw_ml":1.5,"diluent_ml":null,"final_strength":null,` + tail},
		{`{"dose":{"value":5000,"unit":"IU"},"strength":{"value":5000,"unit":"IU/mL"},"dilute_to_ml":20}`, `{"draw_ml":1,"diluent_ml":19,"final_strength":{"value":250,"unit":"IU/mL"},` + tail},
		{`{"dose":{"value":40,"unit":"mg"},"strength":{"value":2,"unit":"%"},"dilute_to_ml":4}`, `{"draw_ml":2,"diluent_ml":2,"final_strength":{"value":1,"unit":"%"},` + tail},
		{`{"dose":{"value":30,"unit":"microgram"},"strength":{"value":40,"unit":"microgram/mL"}}`, `{"draw_ml":0.75,"diluent_ml":null,"final_strength":null,` + tail},
	} {
		if got := answerOf(t, "drawup", tt.in); got != tt.want {
			t.Errorf("%s gives\n%s, want\n%s", tt.in, got, tt.want)
		}
	}
}

func TestDrawupRefuses(t *testing.T) {
	refusals(t, "drawup", map[string][]string{
		"dose": {`null`, `1500`, `{"value":1500,"unit":"U"}`, `{"value":1500,"unit":"iu"}`, `{"value":1500}`, `{"unit":"IU"}`,
			`{"value":0,"unit":"IU"}`, `{"value":-1,"unit":"IU"}`, `{"value":1500,"unit":"IU","drug":"x"}`, `{"value":"1500","unit":"IU"}`},
		"strength": {`null`, `{"value":0,"unit":"IU/mL"}`, `{"value":1000,"unit":"mg/mL"}`, `{"value":10,"unit":"%"}`,
			`{"value":1000,"unit":"IU"}`, `{"value":1000,"unit":"microgram/mL"}`, `{"unit":"IU/mL"}`},
		"dilute_to_ml": {`0`, `-1`, `1.4999`, `1001`},
	})
	refusedFor(t, "drawup", `{"dose":{"value":25000,"unit":"IU"},"strength":{"value":1000,"unit":"IU/mL"},"dilute_to_ml":20}`, "dilute_to_ml")
	refusedFor(t, "drawup", `{"dose":{"value":20,"unit":"mg"},"strength":{"value":101,"unit":"%"}}`, "strength.value")
	refusedFor(t, "drawup", `{"dose":{"value":20000,"unit":"IU"},"strength":{"value":10,"unit":"IU/mL"}}`, "dose.value")
}
