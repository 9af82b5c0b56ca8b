package record

// The program's own ranges, for samples before a session of an adult. They
// stand in only where the unit has set nothing, and say so wherever they are
// used. Two-sided where harm lies on both sides: in long sessions phosphate and
// potassium fall too low as easily as they rise too high elsewhere.

type ownRange struct {
	low, high                 float64 // 0 is none
	source                    string
	times                     bool // of the laboratory's upper limit
	criticalLow, criticalHigh float64
	criticalSource            string
}

var ownRanges = map[string]ownRange{
	"potassium": {low: 4, high: 6, source: "Renal Association 2009 (from memory)",
		criticalLow: 3, criticalHigh: 6.5, criticalSource: "CARI (read) for the low side and above 6.5; UK Kidney Association 2023 (from memory) for 6.5 itself"},
	"phosphate":                {low: 1.13, high: 1.78, source: "KDOQI 2003 (read)"},
	"calcium_corrected":        {low: 2.10, high: 2.37, source: "KDOQI 2003 (read)"},
	"pth":                      {low: 2, high: 9, times: true, source: "KDIGO (read)"},
	"haemoglobin":              {low: 100, high: 120, source: "NICE NG8 on treatment with ESA (read)"},
	"ferritin":                 {low: 200, high: 500, source: "KHA-CARI and UK Kidney Association, on iron by vein (from memory)"},
	"transferrin_saturation":   {low: 20, source: "NICE NG8 (read)"},
	"hypochromic_cells":        {high: 6, source: "NICE NG8 (read)"},
	"reticulocyte_haemoglobin": {low: 29, source: "NICE NG8 (read)"},
	"bicarbonate":              {low: 22, high: 26, source: "KDOQI 2000 (from memory) and the classes of a cohort of 2015 (read); no best value is established"},
	"albumin":                  {low: 40, source: "KDOQI 2000, dye method BCG (from memory)"},
	"aluminium":                {high: 20, source: "KDOQI (from memory)"},
	"anti_hbs":                 {low: 10, source: "vaccination guidance (from memory)"},
}

func ownLimits(analyte string) BloodLimits {
	r, ok := ownRanges[analyte]
	if !ok {
		return BloodLimits{}
	}
	one := func(v float64, source string) *BloodLimit {
		if v == 0 {
			return nil
		}
		return &BloodLimit{At: v, TimesUpper: r.times && source == r.source, Source: source}
	}
	return BloodLimits{
		Low: one(r.low, r.source), High: one(r.high, r.source),
		CriticalLow: one(r.criticalLow, r.criticalSource), CriticalHigh: one(r.criticalHigh, r.criticalSource),
	}
}
