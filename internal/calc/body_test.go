package calc

import (
	"math"
	"testing"
)

func TestBody(t *testing.T) {
	type answer struct {
		Watson    float64 `json:"watson_l"`
		Hume      float64 `json:"hume_weyers_l"`
		Chertow   float64 `json:"chertow_l"`
		DuBois    float64 `json:"bsa_du_bois_m2"`
		Gehan     float64 `json:"bsa_gehan_george_m2"`
		Haycock   float64 `json:"bsa_haycock_m2"`
		Mosteller float64 `json:"bsa_mosteller_m2"`
		Cautions  []struct{ Code string }
		Sources   []string
	}
	var out answer
	// The table of five people worked by an independent script from the papers'
	// coefficients; surfaces to four places.
	for _, tt := range []struct {
		in                    string
		watson, hume, chertow float64
		surfaces              [4]float64
	}{
		{`{"sex":"male","age_y":60,"height_cm":170,"weight_kg":70}`, 38.5294, 39.8756, 42.2907, [4]float64{1.8097, 1.8313, 1.8257, 1.8181}},
		{`{"sex":"male","age_y":35,"height_cm":180,"weight_kg":80}`, 45.3444, 44.7913, 49.2170, [4]float64{1.9964, 2.0095, 2.0066, 2.0000}},
		{`{"sex":"female","age_y":55,"height_cm":160,"weight_kg":60}`, 29.8030, 30.8859, 32.6782, [4]float64{}},
		{`{"sex":"female","age_y":70,"height_cm":155,"weight_kg":90,"diabetes":true}`, 36.6665, 34.6775, 38.4878, [4]float64{1.8833, 2.0043, 2.0147, 1.9685}},
		{`{"sex":"male","age_y":45,"height_cm":175,"weight_kg":110,"diabetes":true}`, 53.9418, 52.7210, 57.6700, [4]float64{}},
	} {
		roomAnswer(t, "body", tt.in, &out)
		near := func(name string, got, want float64) {
			if math.Abs(got-want) > 0.00005 {
				t.Errorf("%s: %s = %v, want %v", tt.in, name, got, want)
			}
		}
		near("watson", out.Watson, tt.watson)
		near("hume", out.Hume, tt.hume)
		near("chertow", out.Chertow, tt.chertow)
		if tt.surfaces[0] > 0 {
			near("du bois", out.DuBois, tt.surfaces[0])
			near("gehan", out.Gehan, tt.surfaces[1])
			near("haycock", out.Haycock, tt.surfaces[2])
			near("mosteller", out.Mosteller, tt.surfaces[3])
		}
		if len(out.Cautions) != 0 || len(out.Sources) != 7 {
			t.Errorf("%s: cautions %v, %d sources", tt.in, out.Cautions, len(out.Sources))
		}
	}
	roomAnswer(t, "body", `{"sex":"female","age_y":15,"height_cm":150,"weight_kg":45}`, &out)
	if len(out.Cautions) != 1 || out.Cautions[0].Code != "outside_adults" {
		t.Errorf("a girl of 15: cautions %v, want outside_adults once", out.Cautions)
	}
}

func TestBodyRefuses(t *testing.T) {
	plain := `{"sex":"male","age_y":60,"height_cm":170,"weight_kg":70}`
	for key, bad := range map[string]any{
		"sex": "m", "age_y": -1, "height_cm": 1.7, "weight_kg": 0, "diabetes": "no",
	} {
		mustRefuse(t, "body", with(t, plain, map[string]any{key: bad}), key)
	}
	// Watson would find more water than weight in a small child.
	mustRefuse(t, "body", `{"sex":"male","age_y":2,"height_cm":85,"weight_kg":12}`, "weight_kg")
	mustKnowItsKeys(t, "body", plain)
}
