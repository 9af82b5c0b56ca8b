package water

import (
	"slices"
	"strconv"
	"strings"

	"ebbline/unit"
)

// Names of the editions kept here.
const (
	ISO2019   = "ISO 23500-3:2019"
	ISO2014   = "ISO 13959:2014"
	RD52      = "ANSI/AAMI RD52:2004"
	Proposal  = "proposal after ISO 23500-3:2019"
	Fluid2019 = "ISO 23500-5:2019"

	// DefaultEdition is the one used when none is named.
	DefaultEdition = ISO2019
)

// EditionNames lists the editions kept here, the default first.
func EditionNames() []string { return []string{ISO2019, ISO2014, RD52, Proposal, Fluid2019} }

// FindEdition gives an edition by its exact name. An unknown name is refused
// with the list, so that no result is judged by a table nobody chose.
func FindEdition(name string) (Edition, error) {
	switch name {
	case ISO2019:
		return isoWater(ISO2019, "2019", "ISO 23500-3:2019"), nil
	case ISO2014:
		e := isoWater(ISO2014, "2014", "ISO 13959:2014")
		e.Remark = "the same figures as ISO 23500-3:2019 and as ANSI/AAMI 13959:2014"
		return e, nil
	case RD52:
		return rd52(), nil
	case Proposal:
		return proposal(), nil
	case Fluid2019:
		return isoFluid(), nil
	}
	return Edition{}, unit.Refuse("edition", strconv.Quote(name), "one of "+strings.Join(EditionNames(), "; "))
}

// chemistry is the standard's table of maxima in mg/L. Figures marked read
// stood in lists that quote the table (a state's water rule, an AAMI list, a
// standards author); the others are from memory.
var chemistry = []struct {
	what   Substance
	max    float64
	table  string
	status Status
}{
	{Aluminium, 0.01, "table 1", Read},
	{TotalChlorine, 0.1, "table 1", Read},
	{Copper, 0.1, "table 1", Read},
	{Fluoride, 0.2, "table 1", Read},
	{Lead, 0.005, "table 1", Read},
	{Nitrate, 2, "table 1, as N", Read},
	{Sulfate, 100, "table 1", Read},
	{Zinc, 0.1, "table 1", Read},
	{Calcium, 2, "table 1", Read},
	{Magnesium, 4, "table 1", Read},
	{Potassium, 8, "table 1", Read},
	{Sodium, 70, "table 1", Read},
	{Antimony, 0.006, "table 2", FromMemory},
	{Arsenic, 0.005, "table 2", Read},
	{Barium, 0.1, "table 2", Read},
	{Beryllium, 0.0004, "table 2", FromMemory},
	{Cadmium, 0.001, "table 2", Read},
	{Chromium, 0.014, "table 2", Read},
	{Mercury, 0.0002, "table 2", Read},
	{Selenium, 0.09, "table 2", Read},
	{Silver, 0.005, "table 2", Read},
	{Thallium, 0.002, "table 2", FromMemory},
}

func isoWater(name, date, cite string) Edition {
	e := Edition{Name: name, Kind: IsStandard, Setter: "ISO", Date: date}
	e.addChemistry(cite)
	micro := cite + ", microbiological requirements"
	// The standard calls the action level typically half the limit; for
	// ultrapure water it leaves the level to each place.
	e.add(
		Limit{What: ViableCount, Use: Standard, Max: 100, Action: 50, Unit: CFUPerML, Source: micro, Status: Read},
		Limit{What: Endotoxin, Use: Standard, Max: 0.25, Action: 0.125, Unit: EUPerML, Source: micro, Status: Read},
		Limit{What: ViableCount, Use: Ultrapure, Max: 0.1, Unit: CFUPerML, Source: micro, Status: Read},
		Limit{What: Endotoxin, Use: Ultrapure, Max: 0.03, Unit: EUPerML, Source: micro, Status: Read},
	)
	return e
}

// rd52 is the older American text, on which the Medicare rule for microbes
// rests. It splits chlorine into free chlorine (0.5 mg/L) and chloramine
// (0.1 mg/L); tests now look for total chlorine, held to the lower of the two,
// because a total within 0.1 proves both.
func rd52() Edition {
	e := Edition{Name: RD52, Kind: IsStandard, Setter: "ANSI/AAMI", Date: "2004",
		Remark: "older table; the US Medicare rule for microbes rests on it; its free chlorine (0.5 mg/L) and chloramine (0.1 mg/L) are replaced here by total chlorine 0.1 mg/L, as clinics test it; it sets no microbes for ultrapure water here"}
	e.addChemistry("ANSI/AAMI RD52:2004, as quoted")
	for _, use := range []Use{Standard, Ultrapure} {
		i := e.index(TotalChlorine, use)
		e.limits[i].Kind, e.limits[i].Source = IsPractice, "clinics' test under the US Medicare rule, Clin J Am Soc Nephrol 2015"
	}
	rule := "US Medicare rule on dialysis water and fluid"
	e.add(
		Limit{What: ViableCount, Use: Standard, Max: 200, Action: 50, Unit: CFUPerML, Kind: IsRegulation, Setter: "US Medicare", Source: rule, Status: Read},
		Limit{What: Endotoxin, Use: Standard, Max: 2, Action: 1, Unit: EUPerML, Kind: IsRegulation, Setter: "US Medicare", Source: rule, Status: Read},
	)
	return e
}

// proposal is what an author of the standards proposed for its next edition:
// less magnesium, potassium and sodium. Whether a later edition took it is not
// known here, so it is never a default.
func proposal() Edition {
	e := isoWater(Proposal, "", "ISO 23500-3:2019")
	e.Kind, e.Setter = IsProposal, "a standards author"
	e.Remark = "a proposal, not a standard: magnesium 1, potassium 2, sodium 50 mg/L; the rest as ISO 23500-3:2019"
	for i := range e.limits {
		l := &e.limits[i]
		switch l.What {
		case Magnesium:
			l.Max = 1
		case Potassium:
			l.Max = 2
		case Sodium:
			l.Max = 50
		default:
			continue
		}
		l.Kind, l.Setter, l.Source = IsProposal, e.Setter, "proposal by a standards author, undated"
	}
	return e
}

// isoFluid holds the dialysis fluid itself, which has limits on microbes and
// endotoxin only; its salts are the prescription.
func isoFluid() Edition {
	e := Edition{Name: Fluid2019, Kind: IsStandard, Setter: "ISO", Date: "2019",
		Remark: "for dialysis fluid, not water"}
	cite := "ISO 23500-5:2019, microbiological requirements"
	e.add(
		Limit{What: ViableCount, Use: Standard, Max: 100, Action: 50, Unit: CFUPerML, Source: cite, Status: Read},
		Limit{What: Endotoxin, Use: Standard, Max: 0.5, Action: 0.25, Unit: EUPerML, Source: cite, Status: Read},
		Limit{What: ViableCount, Use: Ultrapure, Max: 0.1, Unit: CFUPerML, Source: cite, Status: Read},
		Limit{What: Endotoxin, Use: Ultrapure, Max: 0.03, Unit: EUPerML, Source: cite, Status: Read},
	)
	return e
}

func (e *Edition) addChemistry(cite string) {
	for _, use := range []Use{Standard, Ultrapure} {
		for _, c := range chemistry {
			l := Limit{What: c.what, Use: use, Max: c.max, Unit: MgPerL, Source: cite + ", " + c.table, Status: c.status}
			if c.what == Nitrate {
				l.Basis = AsN
			}
			e.add(l)
		}
	}
}

// add fills in what the limits of one edition share. Microbes and endotoxin
// must be less than the figure; chemical figures are maxima.
func (e *Edition) add(limits ...Limit) {
	for _, l := range limits {
		l.Edition = e.Name
		l.Exclusive = slices.Contains([]Substance{ViableCount, Endotoxin}, l.What)
		if l.Kind == "" {
			l.Kind = e.Kind
		}
		if l.Setter == "" {
			l.Setter = e.Setter
		}
		l.Date = e.Date
		e.limits = append(e.limits, l)
	}
}
