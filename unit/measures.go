package unit

// The measures of the trade. Each is an empty type that gives a [Quantity] its
// unit; the alias beside it is the name that the other rooms use.
type (
	kilogram     struct{}
	millilitre   struct{}
	mlPerHour    struct{}
	mlPerMinute  struct{}
	mlPerHourKg  struct{}
	mmHg         struct{}
	perMinute    struct{}
	celsius      struct{}
	msPerCm      struct{}
	mgPerLitre   struct{}
	mmolPerLitre struct{}
	mgPerDl      struct{}
	internatUnit struct{}
	iuPerMl      struct{}
	iuPerHour    struct{}
	milligram    struct{}
	minute       struct{}
	litre        struct{}
	syringeMl    struct{}
	percent      struct{}
	content      struct{}
	centimetre   struct{}
	square       struct{}
	phUnit       struct{}
)

type (
	Mass          = Quantity[kilogram]     // kg, recorded to the gram
	Volume        = Quantity[millilitre]   // whole mL
	Rate          = Quantity[mlPerHour]    // fluid removal, whole mL/h
	RatePerKg     = Quantity[mlPerHourKg]  // mL/h per kg of dry weight, to 0.01
	Flow          = Quantity[mlPerMinute]  // blood and dialysate flow, whole mL/min
	Pressure      = Quantity[mmHg]         // whole mmHg, may be negative
	Pulse         = Quantity[perMinute]    // beats a minute
	Temperature   = Quantity[celsius]      // °C, to 0.1
	Conductivity  = Quantity[msPerCm]      // mS/cm, to 0.01
	Concentration = Quantity[mgPerLitre]   // mg/L, to 0.001
	Molar         = Quantity[mmolPerLitre] // mmol/L, to 0.01
	MgPerDl       = Quantity[mgPerDl]      // mg/dL, to 0.1
	Dose          = Quantity[internatUnit] // whole IU
	Strength      = Quantity[iuPerMl]      // whole IU/mL
	DoseRate      = Quantity[iuPerHour]    // whole IU/h
	Milligrams    = Quantity[milligram]    // mg, to 0.01
	Minutes       = Quantity[minute]       // whole minutes
	Litres        = Quantity[litre]        // L, to 0.001
	Drawn         = Quantity[syringeMl]    // mL in a syringe, to 0.01
	Percent       = Quantity[percent]      // to 0.1
	Content       = Quantity[content]      // %, of what a solution holds, to 0.01
	Length        = Quantity[centimetre]   // cm, to 0.1
	Area          = Quantity[square]       // m², to 0.01
	PH            = Quantity[phUnit]       // to 0.01
)

func (kilogram) about() scale     { return scale{symbol: "kg", decimals: 3} }
func (millilitre) about() scale   { return scale{symbol: "mL", decimals: 0} }
func (mlPerHour) about() scale    { return scale{symbol: "mL/h", decimals: 0} }
func (mlPerMinute) about() scale  { return scale{symbol: "mL/min", decimals: 0} }
func (mlPerHourKg) about() scale  { return scale{symbol: "mL/h/kg", decimals: 2} }
func (mmHg) about() scale         { return scale{symbol: "mmHg", decimals: 0, signed: true} }
func (perMinute) about() scale    { return scale{symbol: "/min", decimals: 0} }
func (celsius) about() scale      { return scale{symbol: "°C", decimals: 1} }
func (msPerCm) about() scale      { return scale{symbol: "mS/cm", decimals: 2} }
func (mgPerLitre) about() scale   { return scale{symbol: "mg/L", decimals: 3} }
func (mmolPerLitre) about() scale { return scale{symbol: "mmol/L", decimals: 2} }
func (mgPerDl) about() scale      { return scale{symbol: "mg/dL", decimals: 1} }
func (internatUnit) about() scale { return scale{symbol: "IU", decimals: 0} }
func (iuPerMl) about() scale      { return scale{symbol: "IU/mL", decimals: 0} }
func (iuPerHour) about() scale    { return scale{symbol: "IU/h", decimals: 0} }
func (milligram) about() scale    { return scale{symbol: "mg", decimals: 2} }
func (minute) about() scale       { return scale{symbol: "min", decimals: 0} }
func (litre) about() scale        { return scale{symbol: "L", decimals: 3} }
func (syringeMl) about() scale    { return scale{symbol: "mL", decimals: 2} }
func (percent) about() scale      { return scale{symbol: "%", decimals: 1} }
func (content) about() scale      { return scale{symbol: "%", decimals: 2} }
func (centimetre) about() scale   { return scale{symbol: "cm", decimals: 1} }
func (square) about() scale       { return scale{symbol: "m²", decimals: 2} }
func (phUnit) about() scale       { return scale{symbol: "pH", decimals: 2} }
