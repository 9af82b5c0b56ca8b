package exchange

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"ebbline/record"
	"ebbline/unit"
)

// What a file of results may hold at most. A year of one person's bloods stays
// far below.
const (
	MostBytes   = 512 << 10
	mostRows    = 2000
	mostColumns = 60
	mostCell    = 400 // characters
)

// A DateOrder says how the dates of a file are written. 03/04/2026 is two
// different days, so a file of such dates is read only when somebody says.
type DateOrder string

// The orders of dates.
const (
	YearFirst  DateOrder = "year"
	DayFirst   DateOrder = "day"
	MonthFirst DateOrder = "month"
)

// BloodsOptions are what the reader cannot know from the file.
type BloodsOptions struct {
	Zone  *time.Location // of times without an offset
	Dates DateOrder      // YearFirst when empty
}

// A BloodsRow is one row of the file as it stood and as it was read.
type BloodsRow struct {
	Line    int      // in the file
	Raw     []string // its cells as they stood
	Name    string   // of the analyte as it stood
	Number  string   // the value as it stood
	Symbol  string   // the unit as it stood
	Result  record.BloodResult
	Drawn   time.Time // zero when it cannot be read
	Timing  string    // pre, post or other; empty when the file does not say
	Lab     string
	Report  unit.Date
	Haemo   bool
	Comment string
	Owner   Owner
	Problem string // why it cannot be taken as it is; empty when it can
}

// An Owner is whose result a row says it is.
type Owner struct {
	Name      string
	BirthYear int
	Number    string
}

// Named reports whether the row says whose it is.
func (o Owner) Named() bool { return o.Name != "" || o.BirthYear != 0 || o.Number != "" }

// ReadBloods reads results from comma, semicolon or tab separated text with a
// row of column names. It needs the columns analyte, value, unit and drawn; it
// knows timing, op, upper_limit, assay, laboratory, reported_on, haemolysed,
// comment, name, birth_year, birth_date and hospital_number as well, and calls
// no other column its own. A row that cannot be read is kept with its problem.
// The error, for a person to read, is of a file that is no such table at all.
func ReadBloods(in io.Reader, o BloodsOptions) ([]BloodsRow, error) {
	raw, err := io.ReadAll(io.LimitReader(in, MostBytes+1))
	switch {
	case err != nil:
		return nil, fmt.Errorf("the file cannot be read: %w", err)
	case len(raw) > MostBytes:
		return nil, fmt.Errorf("the file is larger than %d kB; results of one person are smaller", MostBytes>>10)
	}
	text := strings.TrimPrefix(string(raw), "\ufeff")
	switch {
	case !utf8.ValidString(text):
		return nil, errors.New("the file holds bytes that are no text in UTF-8; save it as UTF-8 and try again")
	case strings.ContainsFunc(text, func(r rune) bool { return unicode.IsControl(r) && !strings.ContainsRune("\r\n\t", r) }):
		return nil, errors.New("the file holds control characters; it is no table of results")
	case strings.TrimSpace(text) == "":
		return nil, errors.New("the file is empty")
	}
	if o.Zone == nil {
		o.Zone = time.UTC
	}
	table, lines, err := cells(text)
	if err != nil {
		return nil, err
	}
	head, err := columnsOf(table[0])
	if err != nil {
		return nil, err
	}
	var rows []BloodsRow
	for i, cells := range table[1:] {
		if strings.TrimSpace(strings.Join(cells, "")) == "" {
			continue
		}
		rows = append(rows, head.row(cells, lines[i+1], len(table[0]), o))
	}
	if len(rows) == 0 {
		return nil, errors.New("the file has column names and no row below them")
	}
	return rows, nil
}

// cells cuts the text, and gives the line each row began on.
func cells(text string) ([][]string, []int, error) {
	first, _, _ := strings.Cut(text, "\n")
	r := csv.NewReader(strings.NewReader(text))
	r.Comma = separator(first)
	r.FieldsPerRecord = -1 // said row by row
	r.ReuseRecord = false
	var table [][]string
	var lines []int
	for {
		row, err := r.Read()
		if err == io.EOF {
			break
		}
		if err != nil {
			var bad *csv.ParseError
			if errors.As(err, &bad) {
				return nil, nil, fmt.Errorf("line %d of the file: the quotation marks do not close", bad.StartLine)
			}
			return nil, nil, fmt.Errorf("the file cannot be read: %w", err)
		}
		line, _ := r.FieldPos(0)
		switch {
		case len(table) > mostRows:
			return nil, nil, fmt.Errorf("the file has more than %d rows", mostRows)
		case len(row) > mostColumns:
			return nil, nil, fmt.Errorf("line %d of the file has more than %d columns", line, mostColumns)
		}
		for _, c := range row {
			if utf8.RuneCountInString(c) > mostCell {
				return nil, nil, fmt.Errorf("line %d of the file has a cell longer than %d characters", line, mostCell)
			}
		}
		table, lines = append(table, row), append(lines, line)
	}
	if len(table) == 0 {
		return nil, nil, errors.New("the file is empty")
	}
	return table, lines, nil
}

// separator is the one that the column names are separated by.
func separator(head string) rune {
	best, most := ',', strings.Count(head, ",")
	for _, c := range []rune{';', '\t'} {
		if n := strings.Count(head, string(c)); n > most {
			best, most = c, n
		}
	}
	return best
}

// columns say in which cell a value stands.
type columns map[string]int

// known are the columns with the other names they go by.
var known = map[string]string{
	"analyte": "analyte", "test": "analyte", "value": "value", "result": "value", "unit": "unit", "units": "unit",
	"drawn": "drawn", "drawn_at": "drawn", "collected": "drawn", "timing": "timing", "op": "op", "upper_limit": "upper_limit", "upper": "upper_limit",
	"assay": "assay", "method": "assay", "laboratory": "laboratory", "lab": "laboratory", "reported_on": "reported_on", "reported": "reported_on",
	"haemolysed": "haemolysed", "comment": "comment", "name": "name", "birth_year": "birth_year", "birth_date": "birth_date", "hospital_number": "hospital_number",
}

func columnsOf(head []string) (columns, error) {
	at := columns{}
	for i, cell := range head {
		name, ok := known[strings.ReplaceAll(strings.ToLower(strings.TrimSpace(cell)), " ", "_")]
		if !ok {
			continue // shown with the raw text, used for nothing
		}
		if _, twice := at[name]; twice {
			return nil, fmt.Errorf("two columns are named for %s; keep one", name)
		}
		at[name] = i
	}
	for _, need := range []string{"analyte", "value", "unit", "drawn"} {
		if _, ok := at[need]; !ok {
			return nil, fmt.Errorf("there is no column named %s; needed are analyte, value, unit and drawn", need)
		}
	}
	return at, nil
}

// row reads one row.
func (at columns) row(cells []string, line, width int, o BloodsOptions) BloodsRow {
	get := func(name string) string {
		if i, ok := at[name]; ok && i < len(cells) {
			return strings.TrimSpace(cells[i])
		}
		return ""
	}
	row := BloodsRow{Line: line, Raw: cells, Name: get("analyte"), Number: get("value"), Symbol: get("unit"), Lab: get("laboratory"), Comment: get("comment")}
	fail := func(format string, args ...any) {
		if row.Problem == "" {
			row.Problem = fmt.Sprintf(format, args...)
		}
	}
	if len(cells) != width {
		fail("has %d cells, the column names %d", len(cells), width)
	}
	a, err := analyteNamed(row.Name)
	if err != nil {
		fail("%s", err)
	}
	row.Result, err = resultOf(a, row.Name, get("op"), row.Number, row.Symbol)
	if err != nil {
		fail("%s", err)
	}
	if upper := get("upper_limit"); upper != "" {
		if row.Result.Upper, err = unit.ParsePrinted(upper); err != nil {
			fail("upper limit: %s", err)
		}
	}
	row.Result.Assay = get("assay")
	if row.Drawn, err = momentOf(get("drawn"), o); err != nil {
		fail("drawn: %s", err)
	}
	if reported := get("reported_on"); reported != "" {
		at, err := dayOf(reported, o.Dates)
		if err != nil {
			fail("reported: %s", err)
		}
		row.Report = at
	}
	if row.Timing, err = timingOf(get("timing")); err != nil {
		fail("timing: %s", err)
	}
	if row.Haemo, err = yesOrNo(get("haemolysed")); err != nil {
		fail("haemolysed: %s", err)
	}
	if row.Owner, err = ownerOf(get("name"), get("birth_year"), get("birth_date"), get("hospital_number"), o); err != nil {
		fail("whose it is: %s", err)
	}
	return row
}
