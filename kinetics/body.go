package kinetics

import "ebbline/unit"

// Sex as the body equations know it.
type Sex string

const (
	Female Sex = "female"
	Male   Sex = "male"
)

// A Person is what the body equations ask for.
type Person struct {
	Sex      Sex
	AgeY     float64
	HeightCm float64
	WeightKg float64 // dry or post-dialysis weight
	Diabetes bool    // only [Chertow] uses it
}

func (p Person) check() error {
	if p.Sex != Female && p.Sex != Male {
		return unit.Refuse("sex", string(p.Sex), "female or male")
	}
	if err := refuse(within("age_y", p.AgeY, 0, 130)); err != nil {
		return err
	}
	return checkSize(p.HeightCm, p.WeightKg)
}

func checkSize(heightCm, weightKg float64) error {
	return refuse(
		within("height_cm", heightCm, 30, 260),
		within("weight_kg", weightKg, minWeightKg, maxWeightKg),
	)
}

// water turns litres into a figure: refused when they are no body's water,
// with a caution when the person is not one of those the equations were fitted
// to.
func (p Person) water(litres float64) (Figure, error) {
	if !(litres > 0 && litres < p.WeightKg) {
		return Figure{}, unit.Refuse("weight_kg", p.WeightKg,
			"an adult's height and weight: for this person the equation gives "+plain(litres)+" L of water")
	}
	f := Figure{Value: litres}
	if p.AgeY < 18 || p.AgeY > 100 || p.HeightCm < 130 || p.HeightCm > 210 || p.WeightKg < 30 || p.WeightKg > 200 {
		f.Cautions = append(f.Cautions, unit.Caution{Code: "outside_adults",
			Text: "The body water equations are for adults of 130 to 210 cm and 30 to 200 kg; this person lies outside. Children need others."})
	}
	return f, nil
}

// Watson gives total body water in litres:
//
//	men    2.447 − 0.09516·A + 0.1074·H + 0.3362·W   (spread 3.76 L)
//	women −2.097 + 0.1069·H + 0.2466·W               (spread 3.60 L)
//
// A years, H cm, W kg. Age must lie from 0 to 130, height from 30 to 260,
// weight from 1 to 500 and the result above 0 and below the weight; otherwise
// an [*unit.InputError] comes back. Outside adults of 130–210 cm and 30–200 kg
// it carries a caution. Excess fluid of a dialysis patient is not in it, and a
// volume fitted to urea runs some 10 % lower; do not put the two on one line.
//
// Many copies print 0.09156 for the age of men; the abstract has 0.09516.
//
// Source: Watson, Watson, Batt, Am J Clin Nutr 1980;33:27–39 (abstract read).
func Watson(p Person) (Figure, error) {
	if err := p.check(); err != nil {
		return Figure{}, err
	}
	if p.Sex == Male {
		return p.water(2.447 - watsonAge*p.AgeY + 0.1074*p.HeightCm + 0.3362*p.WeightKg)
	}
	return p.water(-2.097 + 0.1069*p.HeightCm + 0.2466*p.WeightKg)
}

const watsonAge = 0.09516

// WatsonSpreadL gives the standard deviation of a person's true body water
// around [Watson], in litres.
//
// Source: as for [Watson] (abstract read).
func WatsonSpreadL(s Sex) float64 {
	if s == Male {
		return 3.76
	}
	return 3.60
}

// HumeWeyers gives total body water in litres:
//
//	men    0.194786·H + 0.296785·W − 14.012934
//	women  0.344547·H + 0.183809·W − 35.270121
//
// H cm, W kg. Ranges, refusals and caution as in [Watson].
//
// Source: Hume and Weyers, J Clin Pathol 1971;24:234 (coefficients read in
// public files that cite it; 0.34454 is printed too, 1 mL apart).
func HumeWeyers(p Person) (Figure, error) {
	if err := p.check(); err != nil {
		return Figure{}, err
	}
	if p.Sex == Male {
		return p.water(0.194786*p.HeightCm + 0.296785*p.WeightKg - 14.012934)
	}
	return p.water(0.344547*p.HeightCm + 0.183809*p.WeightKg - 35.270121)
}

// Chertow gives total body water in litres of a person on dialysis, the usual
// excess of water included, so 2–4 L above [Watson]:
//
//	H·(0.00186104·W + 0.12703384)
//	+ W·(0.11262857·M + 0.00104135·A − 0.00067247·W − 0.04012056)
//	− A·(0.03486146·M + 0.07493713) − 1.01767992·M + 0.57894981·D
//
// M is 1 for men, D is 1 with diabetes, A years, H cm, W kg. Ranges, refusals
// and caution as in [Watson].
//
// Some copies print 0.0186104 for H·W, which makes 290 L of an 80 kg man.
//
// Source: Chertow et al., Kidney Int 1997;51:1578–82 (coefficients read in
// public files that cite it, the H·W one from memory).
func Chertow(p Person) (Figure, error) {
	if err := p.check(); err != nil {
		return Figure{}, err
	}
	var male, diabetes float64
	if p.Sex == Male {
		male = 1
	}
	if p.Diabetes {
		diabetes = 1
	}
	a, h, w := p.AgeY, p.HeightCm, p.WeightKg
	return p.water(h*(chertowHeightWeight*w+0.12703384) +
		w*(0.11262857*male+0.00104135*a-0.00067247*w-0.04012056) -
		a*(0.03486146*male+0.07493713) - 1.01767992*male + 0.57894981*diabetes)
}

const chertowHeightWeight = 0.00186104
