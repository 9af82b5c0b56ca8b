package water

// DefaultRounds is the calendar of what recurs at home, to start from: each
// can be changed, removed or added to, and the unit's and the makers' own
// intervals go first. What is done at every session (chlorine, hardness,
// conductivity, plant readings) belongs to the run sheet and is not here.
//
// Where two figures are common the shorter one stands.
func DefaultRounds() []Round {
	practice := "common practice"
	return []Round{
		// Machine and plant.
		{ID: "heat", Name: "Heat disinfection of the machine", Every: Every{Sessions: 1, Days: 3}, Coming: Every{Days: 1}, StartLine: true, Source: practice + ": after each session or daily; fevers followed where it was left out (an outbreak report of 1994)", Status: Read},
		{ID: "citric", Name: "Heat disinfection with citric acid", Every: Every{Days: 7}, Coming: Every{Days: 2}, Source: practice, Status: FromMemory},
		{ID: "chemical", Name: "Chemical disinfection of the machine", Every: Every{Months: 1}, Coming: Every{Days: 7}, Source: practice + ": as the machine's book says, and only where it asks for it; the month is ours", Status: FromMemory},
		{ID: "ro-disinfection", Name: "Disinfection of reverse osmosis and ring", Every: Every{Months: 1}, Source: practice + ": weekly to monthly", Status: FromMemory},
		{ID: "softener-salt", Name: "Softener: salt level, no salt bridge", Every: Every{Days: 7}, Coming: Every{Days: 1}, Source: "Clin J Am Soc Nephrol 2015, clinics' list of water checks", Status: Read},
		{ID: "sediment", Name: "Sediment pre-filter", Every: Every{Months: 1}, Source: practice + ": 1 to 3 months, or by pressure drop", Status: FromMemory},
		{ID: "carbon", Name: "Carbon", Every: Every{Months: 6}, Source: practice + ": 6 to 12 months, by litres, or at first breakthrough", Status: FromMemory},
		{ID: "membrane", Name: "Membrane of the reverse osmosis", Every: Every{Months: 36}, Coming: Every{Days: 84}, Source: practice + ": 2 to 5 years, or when its rejection falls", Status: FromMemory},
		{ID: "ultrafilter", Name: "Dialysis fluid ultrafilter", Every: Every{Months: 3, Sessions: 100}, Source: practice + ": about 3 months or 100 to 150 sessions", Status: FromMemory},
		{ID: "service", Name: "Service of machine and reverse osmosis", Every: Every{Months: 12}, Coming: Every{Days: 42}, Source: practice + ": yearly, 6 to 24 months", Status: FromMemory},
		{ID: "electrical", Name: "Electrical safety test", Every: Every{Months: 12}, Coming: Every{Days: 42}, Source: practice, Status: FromMemory},
		{ID: "uv", Name: "UV lamp", Every: Every{Months: 12}, Source: practice, Status: FromMemory},
		// Samples.
		{ID: "culture", Name: "Culture and endotoxin of water and fluid", Every: Every{Months: 1}, Coming: Every{Days: 7}, Source: practice + ": monthly for three months or after a failure, then 3-monthly by the unit's word", Status: FromMemory},
		{ID: "chemistry", Name: "Full chemical analysis of the product water", Every: Every{Months: 12}, Coming: Every{Days: 42}, Source: practice + ": at installation, then yearly", Status: FromMemory},
		{ID: "feed", Name: "Analysis of the feed water", Every: Every{Months: 12}, Coming: Every{Days: 42}, Source: practice + ": yearly at home and when the supplier changes something; clinics 3-monthly (read)", Status: FromMemory},
		// Calibration.
		{ID: "scale", Name: "Scale against a known mass (20 L of water are 20 kg)", Every: Every{Months: 1}, Source: "our own proposal; calibrated yearly", Status: FromMemory},
		{ID: "cuff", Name: "Blood pressure cuff", Every: Every{Months: 12}, Source: practice + ": 1 to 2 years", Status: FromMemory},
		{ID: "thermometer", Name: "Thermometer", Every: Every{Months: 12}, Source: practice + ": 1 to 2 years", Status: FromMemory},
		{ID: "meter", Name: "Conductivity meter against a standard solution", Every: Every{Months: 1}, Source: practice + ": monthly or each use", Status: FromMemory},
		// The person and the unit.
		{ID: "bloods", Name: "Bloods", Every: Every{Months: 1}, Coming: Every{Days: 7}, Source: "monthly in centres (Renal Association haemodialysis guideline 2019); home 1 to 3 months (from memory)", Status: Read},
		{ID: "clinic", Name: "Clinic, by visit or telephone", Every: Every{Months: 2}, Coming: Every{Days: 14}, Source: "at least every 2 months, Clin J Am Soc Nephrol 2012, table 5", Status: Read},
		{ID: "report", Name: "Report to the unit", Every: Every{Months: 2}, Coming: Every{Days: 14}, Source: "42 CFR 494.100(b)(2): treatment records reviewed at least every 2 months", Status: FromMemory},
		{ID: "prescription", Name: "Prescription and dry weight reviewed", Every: Every{Days: 90}, Coming: Every{Days: 14}, Source: "our own proposal", Status: FromMemory},
		{ID: "residual", Name: "Residual clearance, timed urine", Every: Every{Months: 3}, Source: "KDOQI 2015: counted only if measured within 3 months", Status: FromMemory},
		{ID: "hepatitis", Name: "Hepatitis and vaccination review", Every: Every{Months: 12}, Coming: Every{Days: 42}, Source: "anti-HBs yearly, CDC 2001", Status: FromMemory},
		{ID: "retraining", Name: "Retraining and audit of technique", Every: Every{Months: 12}, Coming: Every{Days: 42}, Source: "6 to 12 months", Status: FromMemory},
		{ID: "visit", Name: "Home visit", Every: Every{Months: 12}, Coming: Every{Days: 42}, Source: practice, Status: FromMemory},
		{ID: "drill", Name: "Emergency drill with the carer: crank, clamps, telephone list", Every: Every{Months: 6}, Coming: Every{Days: 14}, Source: practice, Status: FromMemory},
		{ID: "emergency-box", Name: "Emergency supplies", Every: Every{Months: 3}, Coming: Every{Days: 14}, Source: practice, Status: FromMemory},
		// House.
		{ID: "count", Name: "Count of the shelf", Every: Every{Months: 1}, Coming: Every{Days: 3}, Source: practice, Status: FromMemory},
		{ID: "sharps", Name: "Sharps bin closed and changed", Every: Every{Months: 3}, Coming: Every{Days: 7}, Source: practice + ": three months from opening, or at three quarters full (WHO, from memory)", Status: FromMemory},
		{ID: "fridge", Name: "Fridge at 2 to 8 °C", Every: Every{Days: 7}, Coming: Every{Days: 1}, Source: practice, Status: FromMemory},
	}
}

// SharpsFull reports whether a sharps bin must be closed whatever its date: at
// three quarters (WHO, from memory).
func SharpsFull(share float64) bool { return share >= 0.75 }
