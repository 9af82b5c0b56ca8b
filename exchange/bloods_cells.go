package exchange

import (
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"ebbline/record"
	"ebbline/unit"
)

// otherNames are what laboratories call an analyte besides its name here.
// Left out is every name that means two things.
var otherNames = map[string]string{
	"k": "potassium", "k+": "potassium", "na": "sodium", "na+": "sodium", "cl": "chloride", "cl-": "chloride", "hco3": "bicarbonate", "hco3-": "bicarbonate",
	"ca": "calcium", "calcium": "calcium", "adjusted calcium": "calcium_corrected", "corrected calcium": "calcium_corrected", "ionised calcium": "calcium_ionised", "ionized calcium": "calcium_ionised",
	"phosphorus": "phosphate", "inorganic phosphate": "phosphate", "po4": "phosphate", "mg": "magnesium", "creat": "creatinine",
	"hb": "haemoglobin", "hgb": "haemoglobin", "hemoglobin": "haemoglobin", "hct": "haematocrit", "hematocrit": "haematocrit",
	"wbc": "white_cells", "plt": "platelets", "tsat": "transferrin_saturation", "tibc": "iron_binding", "b12": "vitamin_b12", "vitamin b12": "vitamin_b12",
	"alb": "albumin", "protein": "total_protein", "total protein": "total_protein", "crp": "crp", "pth": "pth", "intact pth": "pth", "25-oh vitamin d": "vitamin_d",
	"alp": "alkaline_phosphatase", "alt": "alt", "uric acid": "urate", "hba1c": "hba1c", "aluminum": "aluminium", "anti-hbs": "anti_hbs",
	"bun": "urea", "urea nitrogen": "urea", "blood urea nitrogen": "urea",
}

// analyteNamed finds an analyte by its code, its name or another name of it.
func analyteNamed(name string) (unit.Analyte, error) {
	plain := strings.Join(strings.Fields(strings.ToLower(name)), " ")
	if plain == "" {
		return unit.Analyte{}, errors.New("names no analyte")
	}
	for _, a := range unit.Analytes() {
		if plain == a.Code || plain == strings.ToLower(a.Name) || otherNames[plain] == a.Code {
			return a, nil
		}
	}
	return unit.Analyte{}, fmt.Errorf("“%s” is no analyte that is known here", name)
}

// isNitrogen reports whether a name for urea counts its nitrogen only.
func isNitrogen(name string) bool {
	plain := strings.ToLower(name)
	return strings.Contains(plain, "bun") || strings.Contains(plain, "nitrogen")
}

// printedValue is a value cell: an optional < or >, digits, and perhaps a unit
// behind them.
var printedValue = regexp.MustCompile(`^([<>]?)\s*([0-9][0-9.,]*)\s*(.*)$`)

// resultOf reads a value with its bound and its unit. A unit behind the number
// counts where the column of units is blank, and must agree where it is not.
func resultOf(a unit.Analyte, name, op, number, symbol string) (record.BloodResult, error) {
	r := record.BloodResult{Analyte: a.Code, Op: op}
	if number == "" {
		return r, errors.New("has no value")
	}
	part := printedValue.FindStringSubmatch(strings.NewReplacer("＜", "<", "＞", ">").Replace(number))
	if part == nil {
		return r, fmt.Errorf("“%s” is no number", number)
	}
	if part[1] != "" {
		if r.Op != "" && r.Op != part[1] {
			return r, fmt.Errorf("“%s” and “%s” say two things of one value", op, number)
		}
		r.Op = part[1]
	}
	if !slices.Contains([]string{"", "=", "<", ">"}, r.Op) {
		return r, fmt.Errorf("“%s” is no sign of a bound; needs <, > or nothing", r.Op)
	}
	var err error
	if r.Value, err = unit.ParsePrinted(part[2]); err != nil {
		return r, err
	}
	behind := strings.TrimSpace(part[3])
	switch {
	case a.Code == "":
		return r, nil // the analyte's own problem is said already
	case behind != "" && symbol == "":
		symbol = behind
	case behind != "":
		one, err1 := a.Unit(behind)
		two, err2 := a.Unit(symbol)
		if err1 != nil || err2 != nil || one != two {
			return r, fmt.Errorf("“%s” holds more than a number", number)
		}
	}
	if symbol == "" {
		return r, errors.New("has no unit")
	}
	u, err := a.Unit(symbol)
	if err != nil {
		return r, fmt.Errorf("“%s” is no unit of %s that is known here; known are %s", symbol, a.Name, strings.Join(a.Symbols(), ", "))
	}
	if a.Code == "urea" && u.Symbol == unit.BUNMgPerDL && !isNitrogen(name) {
		// Half the laboratories that write "urea" and "mg/dL" mean the whole
		// molecule; the two differ by more than a factor of two.
		return r, errors.New("“mg/dL” of urea is two things: name the analyte BUN for urea nitrogen, or write the unit “mg/dL urea”")
	}
	if a.Code == "urea" && u.Symbol == unit.UreaMgPerDL && isNitrogen(name) {
		return r, errors.New("names urea nitrogen and counts the whole urea; which of the two is it?")
	}
	r.Unit = u.Symbol
	return r, nil
}

// momentOf reads when a sample was drawn: with an offset as it stands, without
// one in the zone given. A time that the clocks skipped or showed twice is no
// moment.
func momentOf(s string, o BloodsOptions) (time.Time, error) {
	if s == "" {
		return time.Time{}, errors.New("is blank; when it was reported is not when it was drawn")
	}
	if at, err := time.Parse(time.RFC3339, s); err == nil {
		return at.In(o.Zone), plausible(at)
	}
	date, clock, ok := strings.Cut(strings.Replace(s, "T", " ", 1), " ")
	if !ok {
		return time.Time{}, fmt.Errorf("“%s” has no time of day", s)
	}
	d, err := dayOf(date, o.Dates)
	if err != nil {
		return time.Time{}, err
	}
	hm, err := time.Parse("15:04", strings.TrimSpace(clock))
	if err != nil {
		if hm, err = time.Parse("15:04:05", strings.TrimSpace(clock)); err != nil {
			return time.Time{}, fmt.Errorf("“%s” is no time of day; needs hours and minutes, such as 07:15", clock)
		}
	}
	day := d.Time(o.Zone)
	found := record.Moments(day.Year(), day.Month(), day.Day(), hm.Hour(), hm.Minute(), o.Zone)
	switch len(found) {
	case 0:
		return time.Time{}, fmt.Errorf("“%s” never came: the clocks went forward over it", s)
	case 1:
		return found[0], plausible(found[0])
	}
	return time.Time{}, fmt.Errorf("“%s” came twice that night; write it with its offset, such as %s", s, found[0].Format(time.RFC3339))
}

func plausible(at time.Time) error {
	if at.Year() < 1990 || at.Year() > 2200 {
		return fmt.Errorf("the year %d is not accepted", at.Year())
	}
	return nil
}

var dateParts = regexp.MustCompile(`^(\d{1,2})[./-](\d{1,2})[./-](\d{4})$`)

// dayOf reads a date. Year first is always read; the others only in the order
// that was named.
func dayOf(s string, order DateOrder) (unit.Date, error) {
	if d, err := unit.ParseDate(s); err == nil && len(s) == len(time.DateOnly) {
		return d, nil
	}
	part := dateParts.FindStringSubmatch(s)
	if part == nil {
		return unit.Date{}, fmt.Errorf("“%s” is no date; needs year-month-day", s)
	}
	a, _ := strconv.Atoi(part[1])
	b, _ := strconv.Atoi(part[2])
	switch order {
	case DayFirst:
		a, b = b, a // month, day
	case MonthFirst:
	default:
		return unit.Date{}, fmt.Errorf("“%s” could be two days: say in which order this file writes day and month", s)
	}
	d, err := unit.ParseDate(fmt.Sprintf("%s-%02d-%02d", part[3], a, b))
	if err != nil {
		return unit.Date{}, fmt.Errorf("“%s” is no day in that order", s)
	}
	return d, nil
}

func timingOf(s string) (string, error) {
	switch strings.ToLower(s) {
	case "":
		return "", nil
	case record.Pre, "before", "pre-dialysis":
		return record.Pre, nil
	case record.Post, "after", "post-dialysis":
		return record.Post, nil
	case record.Other:
		return record.Other, nil
	}
	return "", fmt.Errorf("“%s” is not pre, post or other", s)
}

func yesOrNo(s string) (bool, error) {
	switch strings.ToLower(s) {
	case "", "no", "n", "false", "0":
		return false, nil
	case "yes", "y", "true", "1":
		return true, nil
	}
	return false, fmt.Errorf("“%s” is neither yes nor no", s)
}

func ownerOf(name, year, date, number string, o BloodsOptions) (Owner, error) {
	owner := Owner{Name: strings.Join(strings.Fields(name), " "), Number: number}
	if year != "" {
		n, err := strconv.Atoi(year)
		if err != nil || n < 1900 || n > 2200 {
			return owner, fmt.Errorf("“%s” is no year of birth", year)
		}
		owner.BirthYear = n
	}
	if date != "" {
		d, err := dayOf(date, o.Dates)
		if err != nil {
			return owner, err
		}
		born := d.Time(time.UTC).Year()
		if owner.BirthYear != 0 && owner.BirthYear != born {
			return owner, errors.New("year and date of birth differ")
		}
		owner.BirthYear = born
	}
	return owner, nil
}

// Differs says in what the owner that a row names is not this person, or
// nothing when all that it names agrees.
func (o Owner) Differs(p record.Person) string {
	same := func(a, b string) bool {
		return strings.EqualFold(strings.Join(strings.Fields(a), " "), strings.Join(strings.Fields(b), " "))
	}
	switch {
	case o.Name != "" && !sameName(o.Name, p.Name):
		return "is named for " + o.Name
	case o.BirthYear != 0 && o.BirthYear != p.BirthYear:
		return fmt.Sprintf("is of somebody born %d", o.BirthYear)
	case o.Number != "" && p.Number == "":
		return "has the hospital number " + o.Number + ", and none is written down here to compare"
	case o.Number != "" && !same(o.Number, p.Number):
		return "has the hospital number " + o.Number
	}
	return ""
}

// sameName compares names without case, and with the family name first or last.
func sameName(a, b string) bool {
	words := func(s string) []string {
		w := strings.Fields(strings.ToLower(strings.ReplaceAll(s, ",", " ")))
		slices.Sort(w)
		return w
	}
	return slices.Equal(words(a), words(b))
}
