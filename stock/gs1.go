package stock

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"ebbline/unit"
)

// A Label is what a GS1 element string on a box says.
type Label struct {
	GTIN    string    `json:"gtin,omitempty"`      // 14 digits, AI 01
	Lot     string    `json:"lot,omitempty"`       // AI 10
	Made    unit.Date `json:"made,omitzero"`       // AI 11
	Expires unit.Date `json:"expires,omitzero"`    // AI 17
	Serial  string    `json:"serial,omitempty"`    // AI 21
	Count   int       `json:"count,omitempty"`     // AI 30, pieces inside
	Passed  []string  `json:"passed_by,omitempty"` // AIs that were read and not kept
}

// gs is the separator that a scanner sends for FNC1 after data of variable
// length, and the ways in which scanners and camera programs show it.
const gs = "\x1d"

var shownGS = strings.NewReplacer("␝", gs, "<GS>", gs, "{GS}", gs, "[GS]", gs, "<FNC1>", gs, "{FNC1}", gs, "[FNC1]", gs,
	`\x1d`, gs, `\u001d`, gs, "<0x1D>", gs, "{0x1D}", gs, "^]", gs,
	// Two codes that were read one after the other.
	"]C1", gs, "]d2", gs, "]Q3", gs, "]e0", gs, "]J1", gs,
	// What scanners are commonly set to send in its place: none of them can stand
	// in the data.
	"^", gs, "|", gs, "~", gs, "#", gs, "@", gs, "$", gs, "`", gs, "è", gs, "\x1e", gs)

// ParseLabel reads a GS1 element string: as a scanner sends it, with or
// without the symbology identifier in front (]C1, ]d2, ]Q3, ]e0, ]J1), with FNC1
// as the GS character, spelled out, or as one of the signs that scanners send for
// it; or as people read it, with the identifiers in brackets:
// (01)09501101530003(17)261130(10)AB-12. The identifiers may stand in any order.
//
// It keeps GTIN, lot, production and expiry date, serial number and count,
// passes by the other identifiers it knows, and refuses what it does not know,
// because the length of that data, and so where the next begins, is not known
// either. An expiry with its hour (7003) serves where no (17) stands. A lot that
// ends in what would be an expiry, on a label that has none, is refused: the
// separator was lost on the way. The GTIN's check digit must be right. A date's day 00 is the last of
// its month. A two-digit year is put into the century that brings it nearest
// to the year of today: more than 50 years ahead belong to the last century,
// 50 or more behind to the next. The same identifier twice with different data
// is refused.
//
// Source: GS1 General Specifications (from memory).
func ParseLabel(s string, today unit.Date) (Label, error) {
	if today.IsZero() {
		return Label{}, unit.Refuse("today", `""`, "the day of reading, to place a two-digit year")
	}
	text := strings.TrimSpace(s)
	if strings.HasPrefix(text, "]") && len(text) >= 3 {
		text = text[3:]
	}
	text = strings.Trim(shownGS.Replace(text), gs)
	var pairs [][2]string
	var err error
	bracketed := strings.HasPrefix(text, "(")
	if bracketed {
		pairs, err = inBrackets(text)
	} else {
		pairs, err = elements(text)
	}
	if err != nil {
		return Label{}, err
	}
	var l Label
	seen := map[string]string{}
	for _, p := range pairs {
		id, data := p[0], p[1]
		if before, twice := seen[id]; twice && before != data {
			return Label{}, unit.Refuse("label", fmt.Sprintf("(%s)%s and (%s)%s", id, before, id, data), "each identifier once")
		}
		seen[id] = data
		if err := l.put(id, data, today); err != nil {
			return Label{}, err
		}
	}
	if len(pairs) == 0 {
		return Label{}, unit.Refuse("label", strconv.Quote(s), "a GS1 element string, such as (01)09501101530003(17)261130(10)AB12")
	}
	if l.Expires.IsZero() && seen["7003"] != "" {
		if l.Expires, err = gs1Date("7003", seen["7003"][:6], today); err != nil {
			return Label{}, err
		}
	}
	if !bracketed && l.GTIN != "" && l.Expires.IsZero() && runTogether(l.Lot, today) {
		return Label{}, unit.Refuse("label", "(10)"+l.Lot, "the sign between lot and expiry, which was lost on the way: type the two into their fields")
	}
	return l, nil
}

// runTogether reports whether a lot ends in what would be an expiry date.
func runTogether(lot string, today unit.Date) bool {
	at := len(lot) - len("17YYMMDD")
	if at < 1 || lot[at:at+2] != "17" || !allDigits(lot[at:]) {
		return false
	}
	_, err := gs1Date("17", lot[at+2:], today)
	return err == nil
}

// put checks the data of one identifier and keeps it.
func (l *Label) put(id, data string, today unit.Date) error {
	spec := identifiers[id]
	switch {
	case data == "" || len(data) > spec.length || spec.fixed && len(data) != spec.length:
		return unit.Refuse("label", fmt.Sprintf("(%s)%s", id, data), fmt.Sprintf("up to %d characters after (%s), all of them if its length is fixed", spec.length, id))
	case spec.digits && !allDigits(data):
		return unit.Refuse("label", fmt.Sprintf("(%s)%s", id, data), fmt.Sprintf("digits after (%s)", id))
	case !inCharset(data):
		return unit.Refuse("label", fmt.Sprintf("(%s)%q", id, data), "letters, digits and the signs of a label")
	}
	var err error
	switch id {
	case "01":
		if !checkDigit(data) {
			return unit.Refuse("label", "(01)"+data, "a GTIN whose check digit is right: scan or type it again")
		}
		l.GTIN = data
	case "10":
		l.Lot = data
	case "11":
		l.Made, err = gs1Date(id, data, today)
	case "17":
		l.Expires, err = gs1Date(id, data, today)
	case "21":
		l.Serial = data
	case "7003":
		if len(data) != len("YYMMDDhhmm") {
			return unit.Refuse("label", "(7003)"+data, "ten digits after (7003)")
		}
		l.Passed = append(l.Passed, id)
	case "30":
		l.Count, err = strconv.Atoi(data)
	default:
		l.Passed = append(l.Passed, id)
	}
	return err
}

// elements takes a scanner's string apart.
func elements(s string) ([][2]string, error) {
	var pairs [][2]string
	for s = strings.TrimLeft(s, gs); s != ""; s = strings.TrimLeft(s, gs) {
		id := identifierAt(s)
		if id == "" {
			return nil, unit.Refuse("label", strconv.Quote(s), "an identifier that is known here; type the lot and the expiry into their fields instead")
		}
		spec, rest := identifiers[id], s[len(id):]
		end := strings.Index(rest, gs)
		if end < 0 {
			end = len(rest)
		}
		if spec.fixed {
			if end < spec.length {
				return nil, unit.Refuse("label", strconv.Quote(s), fmt.Sprintf("%d characters after (%s)", spec.length, id))
			}
			end = spec.length
		}
		pairs = append(pairs, [2]string{id, rest[:end]})
		s = rest[end:]
	}
	return pairs, nil
}

// identifierAt gives the known identifier that s begins with; no known one is
// the beginning of another.
func identifierAt(s string) string {
	for n := 2; n <= 4 && n <= len(s); n++ {
		if _, known := identifiers[s[:n]]; known {
			return s[:n]
		}
	}
	return ""
}

// inBrackets takes the readable form apart. A bracket that does not hold a
// known identifier belongs to the data.
func inBrackets(s string) ([][2]string, error) {
	var pairs [][2]string
	for len(s) > 0 {
		end := strings.IndexByte(s, ')')
		if end < 0 || s[0] != '(' || identifiers[s[1:end]].length == 0 {
			return nil, unit.Refuse("label", strconv.Quote(s), "an identifier in brackets that is known here, such as (17)")
		}
		id, rest := s[1:end], s[end+1:]
		stop := len(rest)
		for i := range rest {
			if rest[i] == '(' {
				if e := strings.IndexByte(rest[i:], ')'); e > 0 && identifiers[rest[i+1:i+e]].length > 0 {
					stop = i
					break
				}
			}
		}
		pairs = append(pairs, [2]string{id, strings.Trim(rest[:stop], " \t"+gs)})
		s = rest[stop:]
	}
	return pairs, nil
}

func gs1Date(id, data string, today unit.Date) (unit.Date, error) {
	yy, _ := strconv.Atoi(data[:2])
	month, _ := strconv.Atoi(data[2:4])
	day, _ := strconv.Atoi(data[4:])
	now, _ := strconv.Atoi(today.String()[:4])
	year := now - now%100 + yy
	switch ahead := yy - now%100; {
	case ahead >= 51:
		year -= 100
	case ahead <= -50:
		year += 100
	}
	if month < 1 || month > 12 {
		return unit.Date{}, unit.Refuse("label", "("+id+")"+data, "a month from 01 to 12")
	}
	last := unit.NewDate(year, time.Month(month)+1, 0)
	if day == 0 {
		return last, nil
	}
	d := unit.NewDate(year, time.Month(month), day)
	if last.Before(d) {
		return unit.Date{}, unit.Refuse("label", "("+id+")"+data, "a day of that month")
	}
	return d, nil
}

// ValidGTIN reports whether a trade item number has 8, 12, 13 or 14 digits, the last
// of which fits the others.
func ValidGTIN(s string) bool {
	switch len(s) {
	case 8, 12, 13, 14:
		return allDigits(s) && checkDigit(s)
	}
	return false
}

// checkDigit reports whether the last digit of a GTIN fits the others: weights 3
// and 1 in turn from the right, all adding up to a multiple of ten.
func checkDigit(gtin string) bool {
	sum := 0
	for i := range len(gtin) {
		d := int(gtin[i] - '0')
		if (len(gtin)-i)%2 == 0 {
			d *= 3
		}
		sum += d
	}
	return sum%10 == 0
}

func allDigits(s string) bool { return strings.Trim(s, "0123456789") == "" }

// inCharset reports whether all characters are of GS1's set of 82.
func inCharset(s string) bool {
	const signs = `!"%&'()*+,-./:;<=>?_`
	for i := range len(s) {
		c := s[i]
		if !(c >= '0' && c <= '9' || c >= 'A' && c <= 'Z' || c >= 'a' && c <= 'z' || strings.IndexByte(signs, c) >= 0) {
			return false
		}
	}
	return true
}
