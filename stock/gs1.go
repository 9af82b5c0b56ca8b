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

// ai is one application identifier: how long its data is, and whether only
// digits may stand in it. A fixed one needs no separator after it.
type ai struct {
	length int // exact when fixed, else the most
	fixed  bool
	digits bool
}

// The identifiers that are met on medical supplies. Source: GS1 General
// Specifications, section 3 and figure 7.8.5-2 (from memory).
var identifiers = map[string]ai{
	"00": {18, true, true}, "01": {14, true, true}, "02": {14, true, true},
	"11": {6, true, true}, "12": {6, true, true}, "13": {6, true, true},
	"15": {6, true, true}, "16": {6, true, true}, "17": {6, true, true},
	"20": {2, true, true},
	"10": {20, false, false}, "21": {20, false, false}, "22": {20, false, false},
	"30": {8, false, true}, "37": {8, false, true},
	"90": {30, false, false}, "91": {90, false, false}, "92": {90, false, false},
	"240": {30, false, false}, "241": {30, false, false}, "250": {30, false, false}, "251": {30, false, false},
	"400": {30, false, false}, "710": {20, false, false}, "711": {20, false, false}, "712": {20, false, false},
	"713": {20, false, false}, "714": {20, false, false}, "715": {20, false, false},
	"7003": {10, false, true}, "8012": {20, false, false},
}

// gs is the separator that a scanner sends for FNC1 after data of variable
// length, and the ways in which scanners and camera programs show it.
const gs = "\x1d"

var shownGS = strings.NewReplacer("␝", gs, "<GS>", gs, "{GS}", gs, "[GS]", gs, "<FNC1>", gs, "{FNC1}", gs, "[FNC1]", gs)

// ParseLabel reads a GS1 element string: as a scanner sends it, with or
// without the symbology identifier in front (]C1, ]d2, ]Q3, ]e0), with FNC1 as
// the GS character or spelled out; or as people read it, with the identifiers
// in brackets: (01)09501101530003(17)261130(10)AB-12.
//
// It keeps GTIN, lot, production and expiry date, serial number and count,
// passes by the other identifiers it knows, and refuses what it does not know,
// because the length of that data, and so where the next begins, is not known
// either. The GTIN's check digit must be right. A date's day 00 is the last of
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
	var pairs [][2]string
	var err error
	if strings.HasPrefix(text, "(") {
		pairs, err = inBrackets(text)
	} else {
		pairs, err = elements(shownGS.Replace(text))
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
	return l, nil
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
		pairs = append(pairs, [2]string{id, strings.TrimSpace(rest[:stop])})
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

// checkDigit tells whether the last digit of a GTIN fits the others: weights 3
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

// inCharset tells whether all characters are of GS1's set of 82.
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
