package fluid

import (
	"math/big"

	"ebbline/unit"
)

// An Injection is local anaesthetic given at one site. Strength is in percent,
// grams in 100 mL, because a 2 % vial taken for a 1 % one is the slip to catch.
type Injection struct {
	Site     string
	Ml       unit.Drawn
	Strength unit.Percent
}

// An AnaestheticLimit is the most that may be given in one session: by weight
// and in all, whichever is less.
type AnaestheticLimit struct {
	MgPerKg float64
	MostMg  float64
	Source  string
}

// StricterLidocaine is the stricter of the published limits for plain
// lidocaine, which differ. A household starts from it until its unit sets
// another.
func StricterLidocaine() AnaestheticLimit {
	return AnaestheticLimit{3, 200,
		"product texts for plain lidocaine: 3 mg/kg; United Kingdom product texts: 200 mg (from memory)"}
}

// WiderLidocaine is the wider of the published limits for plain lidocaine.
func WiderLidocaine() AnaestheticLimit {
	return AnaestheticLimit{4.5, 300,
		"United States product text for plain lidocaine: 4.5 mg/kg, at most 300 mg"}
}

// A SiteSum is what one site was given in all, over every try.
type SiteSum struct {
	Site string
	Mg   float64
}

// Anaesthesia is the sum over a session, against its limit.
type Anaesthesia struct {
	TotalMg float64
	LimitMg float64
	Over    bool // more than the limit; equal to it is not over
	Sites   []SiteSum
	Limit   AnaestheticLimit
}

// SumAnaesthetic adds up what was injected in a session, by site and in all,
// and sets it against limit for a person of the given dry weight:
//
//	mg    = mL · percent · 10
//	limit = the lesser of mg/kg · dry weight and the most in all
//
// A volume or strength below zero, a strength above 100 %, a weight outside
// [WeightKg] or a limit that is not above zero returns an [*unit.InputError].
//
// Source: 1 % is 1 g in 100 mL by definition; the limit carries its own.
func SumAnaesthetic(given []Injection, dryWeight unit.Mass, limit AnaestheticLimit) (Anaesthesia, error) {
	if err := check("dry_weight_kg", dryWeight.Exact(), WeightKg()); err != nil {
		return Anaesthesia{}, err
	}
	if !DoseValue().has(limit.MgPerKg) || !DoseValue().has(limit.MostMg) {
		return Anaesthesia{}, unit.Refuse("limit", limit.MgPerKg, "mg per kg and mg in all, both above 0")
	}
	most := least(mul(unit.Decimal(limit.MgPerKg), dryWeight.Exact().Rat()), unit.Decimal(limit.MostMg))

	total, ten := new(big.Rat), big.NewRat(10, 1)
	bySite := map[string]*big.Rat{}
	var order []string
	for _, g := range given {
		if g.Ml < 0 {
			return Anaesthesia{}, unit.Refuse("ml", g.Ml, "0 mL or more")
		}
		if !g.Strength.Exact().Within(0, 100) {
			return Anaesthesia{}, unit.Refuse("strength_percent", g.Strength, "0 to 100 %")
		}
		mg := mul(mul(g.Ml.Exact().Rat(), g.Strength.Exact().Rat()), ten)
		total = sum(total, mg)
		if bySite[g.Site] == nil {
			bySite[g.Site] = new(big.Rat)
			order = append(order, g.Site)
		}
		bySite[g.Site].Add(bySite[g.Site], mg)
	}

	a := Anaesthesia{TotalMg: float(total), LimitMg: float(most), Over: total.Cmp(most) > 0, Limit: limit}
	for _, site := range order {
		a.Sites = append(a.Sites, SiteSum{site, float(bySite[site])})
	}
	return a, nil
}
