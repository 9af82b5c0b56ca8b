package report

import (
	"os"
	"testing"
)

func TestLook(t *testing.T) {
	s := evening(t)
	sh := SheetOf(SheetInput{Head: ilsabet, Session: s, History: history(), Now: made})
	write := func(name string, sh Sheet, p Printing) {
		f, _ := os.Create("/tmp/look/" + name)
		defer f.Close()
		if err := sh.PDF(f, p, made); err != nil {
			t.Fatal(err)
		}
	}
	write("sheet.pdf", sh, printing)
	demo := printing
	demo.Demo = true
	write("blank.pdf", BlankSheet(ilsabet, prescription(), machine), demo)
}
