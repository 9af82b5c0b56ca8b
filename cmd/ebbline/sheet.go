package main

import (
	"bytes"
	"errors"
	"flag"
	"fmt"
	"html"
	"io"
	"os"
	"strings"
	"time"

	"ebbline/internal/household"
	"ebbline/record"
	"ebbline/report"
	"ebbline/report/chart"
)

var sheetVerb = verb{
	name:  "sheet",
	args:  "DATE|ID | --blank [--person ID] [--pdf FILE]",
	short: "print a session's sheet, or a blank one for a day on paper",
	long: `
Writes the sheet of the session that a date (of the evening it began) or an id
names: as a web page on standard output, or with --pdf as a PDF on A4. With
--blank it is the same sheet with nothing on it but the head and what the
prescription in force says. A PDF of that name is replaced once the new one is
whole.

  ebbline sheet 2026-03-02 --pdf sheet.pdf
  ebbline sheet --blank --pdf paper-day.pdf`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file := fileFlag(fs)
		var want sheetWanted
		fs.StringVar(&want.pdf, "pdf", "", "write a PDF to `FILE`; - is standard output")
		fs.BoolVar(&want.blank, "blank", false, "a form to fill in by hand")
		fs.StringVar(&want.person, "person", "", "the `ID` of the person, where there are several and the sheet is blank")
		return func(t *terminal, args []string) error { return runSheet(t, args, file, want) }
	},
}

// sheetWanted is which sheet, and in what form.
type sheetWanted struct {
	session, person, pdf string
	blank                bool
}

func runSheet(t *terminal, args []string, file *place, want sheetWanted) (err error) {
	switch {
	case want.blank && len(args) > 0:
		return &usageError{verb: "sheet", words: "A blank sheet belongs to no session: leave out the date, or --blank."}
	case !want.blank && len(args) != 1:
		return &usageError{verb: "sheet", words: "Name one session by its date or id, or say --blank."}
	case !want.blank && want.person != "":
		return &usageError{verb: "sheet", words: "The session says whose it is: leave out --person."}
	case !want.blank:
		want.session = args[0]
	}
	desk, err := file.openExisting()
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, desk.Close()) }()
	var out bytes.Buffer
	desk.View(func(h *record.Household) {
		var sheet report.Sheet
		if sheet, err = want.of(h, desk.Now()); err == nil {
			err = want.write(&out, sheet, desk.Printing(h), desk.Now())
		}
	})
	if err != nil {
		return err
	}
	if want.pdf == "" || want.pdf == "-" {
		_, err = out.WriteTo(&t.out)
		return err
	}
	if err := replaceFile(want.pdf, out.Bytes()); err != nil {
		return err
	}
	fmt.Fprintf(&t.out, "Written: %s\n", want.pdf)
	return nil
}

// of makes the sheet from the record.
func (want sheetWanted) of(h *record.Household, now time.Time) (report.Sheet, error) {
	if want.blank {
		m, err := personNamed(h, want.person)
		if err != nil {
			return report.Sheet{}, err
		}
		return household.BlankSheet(h, m, now), nil
	}
	s, err := findSession(h, want.session)
	if err != nil {
		return report.Sheet{}, err
	}
	return household.Sheet(h, h.Member(s.Person), s, now), nil
}

func (want sheetWanted) write(w io.Writer, sheet report.Sheet, print report.Printing, made time.Time) error {
	if want.pdf != "" {
		return sheet.PDF(w, print, made)
	}
	body, err := report.SheetHTML(sheet, print)
	if err != nil {
		return err
	}
	title := strings.TrimSpace("Session sheet " + sheet.Date)
	_, err = fmt.Fprintf(w, "<!doctype html>\n<html lang=\"en\">\n<meta charset=\"utf-8\">\n"+
		"<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>%s</title>\n<style>%s%s</style>\n"+
		"<main>\n<h1>%[1]s</h1>\n%[4]s\n</main>\n</html>\n", html.EscapeString(title), chart.CSS(), report.SheetCSS(), body)
	return err
}

// replaceFile puts a whole file in the place of another of its own sort, or
// leaves that as it is: a name typed wrong must not cost the record.
func replaceFile(name string, content []byte) error {
	if err := ownSort(name, content); err != nil {
		return err
	}
	part := name + ".part"
	err := os.WriteFile(part, content, 0o600)
	if err == nil {
		err = os.Rename(part, name)
	}
	if err != nil {
		os.Remove(part)
		return fmt.Errorf("%s was not written: %w", name, err)
	}
	return nil
}

// ownSort refuses a file that is there already and does not begin as what is to
// be written begins: %PDF or BEGIN.
func ownSort(name string, content []byte) error {
	if info, err := os.Stat(name); err != nil || !info.Mode().IsRegular() {
		return nil // nothing is there, or writing says what is wrong
	}
	old, err := os.Open(name)
	if err != nil {
		return fmt.Errorf("%s was not written: %w", name, err)
	}
	defer old.Close()
	head := make([]byte, 4)
	if n, _ := io.ReadFull(old, head); n > 0 && !bytes.HasPrefix(content, head[:n]) {
		return fmt.Errorf("the file %s holds something else, and was left as it is: choose another name", name)
	}
	return nil
}
