package exchange

import (
	"bytes"
	"encoding/csv"
	"strings"
)

// A Sheet is rows of text under one row of heads, to be opened by a
// spreadsheet.
type Sheet struct {
	Head []string
	Rows [][]string
}

// CSV writes the sheet as RFC 4180 has it: UTF-8 with the byte-order mark that
// spreadsheets look for, commas, CRLF. Text that a spreadsheet would take for a
// formula gets an apostrophe in front; a plain number, also a negative one,
// stays a number.
func (s Sheet) CSV() ([]byte, error) {
	var b bytes.Buffer
	b.WriteString("\ufeff")
	w := csv.NewWriter(&b)
	w.UseCRLF = true
	for _, row := range append([][]string{s.Head}, s.Rows...) {
		cells := make([]string, len(row))
		for i, c := range row {
			cells[i] = guard(c)
		}
		if err := w.Write(cells); err != nil {
			return nil, err
		}
	}
	w.Flush()
	return b.Bytes(), w.Error()
}

// guard keeps a cell from being read as a formula (OWASP ASVS 5.0, 1.2.10).
func guard(s string) string {
	if s == "" || !strings.ContainsRune("=+-@\t\r\x00", rune(s[0])) || isNumber(s) {
		return s
	}
	return "'" + s
}

func isNumber(s string) bool {
	whole, frac, marked := strings.Cut(strings.TrimPrefix(s, "-"), ".")
	digits := func(s string) bool { return s != "" && strings.Trim(s, "0123456789") == "" }
	return digits(whole) && (!marked || digits(frac))
}
