package unit

// Molar masses in g/mol, from the IUPAC standard atomic weights C 12.011,
// H 1.008, N 14.007, O 15.999, P 30.973762, Ca 40.078, Mg 24.305, Fe 55.845,
// Al 26.9815384 (from memory). They are untyped constants, so that a factor
// made from them is exact until it is used.
const (
	carbon   = 12.011
	hydrogen = 1.008
	nitrogen = 14.007
	oxygen   = 15.999

	molarUrea       = carbon + 4*hydrogen + 2*nitrogen + oxygen       // CH4N2O, 60.056
	molarUreaN      = 2 * nitrogen                                    // the nitrogen of one urea, 28.014
	molarCreatinine = 4*carbon + 7*hydrogen + 3*nitrogen + oxygen     // C4H7N3O, 113.120
	molarUrate      = 5*carbon + 4*hydrogen + 4*nitrogen + 3*oxygen   // C5H4N4O3, 168.112
	molarGlucose    = 6*carbon + 12*hydrogen + 6*oxygen               // C6H12O6, 180.156
	molarCalcidiol  = 27*carbon + 44*hydrogen + 2*oxygen              // C27H44O2, 400.647
	molarSterol     = 27*carbon + 46*hydrogen + oxygen                // cholesterol, C27H46O, 386.664
	molarBilirubin  = 33*carbon + 36*hydrogen + 4*nitrogen + 6*oxygen // C33H36N4O6, 584.673
	molarPhosphorus = 30.973762
	molarCalcium    = 40.078
	molarMagnesium  = 24.305
	molarIron       = 55.845
	molarAluminium  = 26.9815384

	// Of molecules without one exact formula, by convention (from memory).
	molarHaem         = 16114.5 // haemoglobin, one of its four chains
	molarParathyrin   = 9425    // PTH 1-84
	molarBeta2        = 11800   // beta-2-microglobulin
	molarTriglyceride = 885.4   // triolein
	molarFolate       = 441.4
	molarCobalamin    = 1355.4
)
