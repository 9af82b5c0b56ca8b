package unit

import "strconv"

func short(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }

// Families of units that several analytes share. The factors bring a value to
// the analyte's first unit.
func plainIons(decimals int) []LabUnit {
	return []LabUnit{{"mmol/L", 1, 0, decimals}, {"mEq/L", 1, 0, decimals}}
}

// twoCharges is for ions that count double in equivalents.
func twoCharges(molar float64) []LabUnit {
	return []LabUnit{{"mmol/L", 1, 0, 2}, {"mg/dL", 10 / molar, 0, 1}, {"mEq/L", 0.5, 0, 1}}
}

func gramsPerLitre() []LabUnit { return []LabUnit{{"g/L", 1, 0, 0}, {"g/dL", 10, 0, 1}} }

func cells() []LabUnit { return []LabUnit{{"×10⁹/L", 1, 0, 1}, {"×10³/µL", 1, 0, 1}} }

// hba1c has two scales, IFCC (mmol/mol) and NGSP (%), joined by the published
// master equation NGSP = 0.09148·IFCC + 2.152 (from memory).
var hba1c = []LabUnit{{"mmol/mol", 1, 0, 0}, {"%", 1 / 0.09148, -2.152 / 0.09148, 1}}

var analytes = []Analyte{
	{"urea", "Urea", "mg/dL is urea nitrogen (BUN); mg/dL urea is the whole molecule",
		[]LabUnit{{UreaMmolPerL, 1, 0, 1}, {BUNMgPerDL, 10 / molarUreaN, 0, 0}, {UreaMgPerDL, 10 / molarUrea, 0, 0}}, 0.5, 80},
	{"creatinine", "Creatinine", "", []LabUnit{{"µmol/L", 1, 0, 0}, {"mg/dL", 1e4 / molarCreatinine, 0, 2}, {"mmol/L", 1000, 0, 3}}, 10, 3500},
	{"potassium", "Potassium", "", plainIons(1), 1.5, 10},
	{"sodium", "Sodium", "", plainIons(0), 100, 180},
	{"chloride", "Chloride", "", plainIons(0), 60, 140},
	{"bicarbonate", "Bicarbonate", "total carbon dioxide runs 1 to 2 mmol/L above it", plainIons(0), 2, 60},
	{"calcium", "Calcium, total", "", twoCharges(molarCalcium), 1, 4.5},
	{"calcium_corrected", "Calcium, corrected for albumin", "laboratories correct by different rules", twoCharges(molarCalcium), 1, 4.5},
	{"calcium_ionised", "Calcium, ionised", "about half of the total", twoCharges(molarCalcium), 0.4, 2.5},
	{"phosphate", "Phosphate", "mg/dL counts phosphorus", []LabUnit{{"mmol/L", 1, 0, 2}, {"mg/dL", 10 / molarPhosphorus, 0, 1}}, 0.2, 5},
	{"magnesium", "Magnesium", "", twoCharges(molarMagnesium), 0.2, 4},
	{"glucose", "Glucose", "", []LabUnit{{"mmol/L", 1, 0, 1}, {"mg/dL", 10 / molarGlucose, 0, 0}}, 0.5, 80},
	{"hba1c", "HbA1c", "reads low where red cells are young, as under ESA", hba1c, 10, 200},
	{"urate", "Urate", "", []LabUnit{{"µmol/L", 1, 0, 0}, {"mg/dL", 1e4 / molarUrate, 0, 1}, {"mmol/L", 1000, 0, 2}}, 20, 1500},
	{"haemoglobin", "Haemoglobin", "mmol/L counts one chain of the four",
		[]LabUnit{{"g/L", 1, 0, 0}, {"g/dL", 10, 0, 1}, {"mmol/L", molarHaem / 1000, 0, 1}}, 30, 220},
	{"haematocrit", "Haematocrit", "", []LabUnit{{"%", 1, 0, 0}, {"L/L", 100, 0, 2}}, 9, 70},
	{"white_cells", "White cells", "", cells(), 0.1, 300},
	{"platelets", "Platelets", "", cells(), 1, 3000},
	{"ferritin", "Ferritin", "", []LabUnit{{"µg/L", 1, 0, 0}, {"ng/mL", 1, 0, 0}}, 1, 20000},
	{"iron", "Iron", "", []LabUnit{{"µmol/L", 1, 0, 1}, {"µg/dL", 10 / molarIron, 0, 0}}, 0.5, 150},
	{"iron_binding", "Iron binding capacity", "", []LabUnit{{"µmol/L", 1, 0, 0}, {"µg/dL", 10 / molarIron, 0, 0}}, 5, 150},
	{"transferrin_saturation", "Transferrin saturation", "", []LabUnit{{"%", 1, 0, 0}}, 0.5, 110},
	{"hypochromic_cells", "Hypochromic red cells", "", []LabUnit{{"%", 1, 0, 0}}, 0, 100},
	{"reticulocyte_haemoglobin", "Reticulocyte haemoglobin", "", []LabUnit{{"pg", 1, 0, 1}}, 10, 60},
	{"folate", "Folate", "", []LabUnit{{"nmol/L", 1, 0, 1}, {"ng/mL", 1000 / molarFolate, 0, 1}}, 0.5, 500},
	{"vitamin_b12", "Vitamin B12", "", []LabUnit{{"pmol/L", 1, 0, 0}, {"pg/mL", 1000 / molarCobalamin, 0, 0}, {"ng/L", 1000 / molarCobalamin, 0, 0}}, 20, 5000},
	{"albumin", "Albumin", "the dye methods BCG and BCP differ by 3 to 6 g/L", gramsPerLitre(), 5, 70},
	{"total_protein", "Protein, total", "", gramsPerLitre(), 20, 140},
	{"crp", "C-reactive protein", "", []LabUnit{{"mg/L", 1, 0, 0}, {"mg/dL", 10, 0, 1}}, 0, 700},
	{"pth", "Parathyroid hormone", "assays differ; compare with the laboratory's own upper limit",
		[]LabUnit{{"pmol/L", 1, 0, 1}, {"pg/mL", 1000.0 / molarParathyrin, 0, 0}, {"ng/L", 1000.0 / molarParathyrin, 0, 0}}, 0.05, 600},
	{"vitamin_d", "25-hydroxyvitamin D", "as D3; a total of D2 and D3 is converted so too",
		[]LabUnit{{"nmol/L", 1, 0, 0}, {"ng/mL", 1000 / molarCalcidiol, 0, 0}}, 2, 600},
	{"alkaline_phosphatase", "Alkaline phosphatase", "", []LabUnit{{"U/L", 1, 0, 0}, {"µkat/L", 60, 0, 2}}, 5, 5000},
	{"alt", "Alanine aminotransferase", "", []LabUnit{{"U/L", 1, 0, 0}, {"µkat/L", 60, 0, 2}}, 1, 10000},
	{"bilirubin", "Bilirubin", "", []LabUnit{{"µmol/L", 1, 0, 0}, {"mg/dL", 1e4 / molarBilirubin, 0, 1}}, 1, 1000},
	{"cholesterol", "Cholesterol", "", []LabUnit{{"mmol/L", 1, 0, 1}, {"mg/dL", 10 / molarSterol, 0, 0}}, 0.5, 30},
	{"triglycerides", "Triglycerides", "", []LabUnit{{"mmol/L", 1, 0, 1}, {"mg/dL", 10 / molarTriglyceride, 0, 0}}, 0.1, 60},
	{"beta2_microglobulin", "Beta-2-microglobulin", "",
		[]LabUnit{{"mg/L", 1, 0, 1}, {"µg/mL", 1, 0, 1}, {"nmol/L", molarBeta2 / 1e6, 0, 0}}, 0.3, 120},
	{"aluminium", "Aluminium", "", []LabUnit{{"µg/L", 1, 0, 0}, {"µmol/L", molarAluminium, 0, 2}}, 0, 1000},
	{"anti_hbs", "Hepatitis B surface antibody", "", []LabUnit{{"IU/L", 1, 0, 0}, {"mIU/mL", 1, 0, 0}}, 0, 100000},
}
