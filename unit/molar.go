package unit

// Molar masses in g/mol, from the IUPAC standard atomic weights C 12.011,
// H 1.008, N 14.007, O 15.999, P 30.973762, Ca 40.078, Mg 24.305, Fe 55.845
// (from memory). They are untyped constants, so that a factor made from them
// is exact until it is used.
const (
	carbon   = 12.011
	hydrogen = 1.008
	nitrogen = 14.007
	oxygen   = 15.999

	molarUrea       = carbon + 4*hydrogen + 2*nitrogen + oxygen       // CH4N2O, 60.056
	molarUreaN      = 2 * nitrogen                                    // the nitrogen of one urea, 28.014
	molarCreatinine = 4*carbon + 7*hydrogen + 3*nitrogen + oxygen     // C4H7N3O, 113.120
	molarGlucose    = 6*carbon + 12*hydrogen + 6*oxygen               // C6H12O6, 180.156
	molarUrate      = 5*carbon + 4*hydrogen + 4*nitrogen + 3*oxygen   // uric acid, C5H4N4O3, 168.112
	molarCalcidiol  = 27*carbon + 44*hydrogen + 2*oxygen              // 25-hydroxyvitamin D3, C27H44O2, 400.647
	molarBilirubin  = 33*carbon + 36*hydrogen + 4*nitrogen + 6*oxygen // C33H36N4O6, 584.673
	molarPhosphorus = 30.973762
	molarCalcium    = 40.078
	molarMagnesium  = 24.305
	molarIron       = 55.845
	molarAluminium  = 26.9815384
	molarZinc       = 65.38
	molarSodium     = 22.98976928
	molarPotassium  = 39.0983
	molarChloride   = 35.45

	molarHaemMonomer = 16114.5 // one haem chain of haemoglobin (from memory)
	molarParathyrin  = 9425    // PTH 1-84, rounded (from memory)
	molarBeta2       = 11800   // beta-2-microglobulin, rounded (from memory)
	molarCholesterol = 27*carbon + 46*hydrogen + oxygen
)
