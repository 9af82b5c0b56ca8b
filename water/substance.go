package water

// A Substance is what a laboratory looks for in dialysis water or fluid.
type Substance string

const (
	Aluminium     Substance = "aluminium"
	TotalChlorine Substance = "total_chlorine" // free and combined together
	Copper        Substance = "copper"
	Fluoride      Substance = "fluoride"
	Lead          Substance = "lead"
	Nitrate       Substance = "nitrate"
	Sulfate       Substance = "sulfate"
	Zinc          Substance = "zinc"
	Calcium       Substance = "calcium"
	Magnesium     Substance = "magnesium"
	Potassium     Substance = "potassium"
	Sodium        Substance = "sodium"
	Antimony      Substance = "antimony"
	Arsenic       Substance = "arsenic"
	Barium        Substance = "barium"
	Beryllium     Substance = "beryllium"
	Cadmium       Substance = "cadmium"
	Chromium      Substance = "chromium"
	Mercury       Substance = "mercury"
	Selenium      Substance = "selenium"
	Silver        Substance = "silver"
	Thallium      Substance = "thallium"
	ViableCount   Substance = "viable_count" // total viable microbes
	Endotoxin     Substance = "endotoxin"
)

// Substances lists all of them in the order of the standard's tables: the
// toxic, the electrolytes, the trace elements, then microbes and endotoxin.
func Substances() []Substance {
	return []Substance{
		Aluminium, TotalChlorine, Copper, Fluoride, Lead, Nitrate, Sulfate, Zinc,
		Calcium, Magnesium, Potassium, Sodium,
		Antimony, Arsenic, Barium, Beryllium, Cadmium, Chromium, Mercury, Selenium, Silver, Thallium,
		ViableCount, Endotoxin,
	}
}

// Label is the substance as it is written on a page.
func (s Substance) Label() string {
	switch s {
	case TotalChlorine:
		return "total chlorine"
	case ViableCount:
		return "viable count"
	}
	return string(s)
}

// Signs names the trouble that too much of the substance has been tied to, for
// the wording of a report and never for a diagnosis; empty when none is known
// here. Source: teaching texts on dialysis water, of low grade.
func (s Substance) Signs() string {
	switch s {
	case TotalChlorine:
		return "haemolysis, falling haemoglobin, poor response to ESA"
	case Aluminium:
		return "bone and brain disease, anaemia"
	case Copper, Zinc, Nitrate:
		return "haemolysis or methaemoglobin"
	case Fluoride:
		return "rhythm trouble, itching"
	case Calcium, Magnesium:
		return "nausea, headache, high blood pressure"
	case Sulfate:
		return "nausea, acidosis"
	case Endotoxin, ViableCount:
		return "fever, rigors, low blood pressure"
	}
	return ""
}
