package journal

import (
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"
)

// content is all that a database says, read without any of the journal's
// checks, up to where SQLite can read no further.
type content struct {
	lines []string // one for each line, in order
	rest  string   // everything else; with what went wrong
}

func readContent(path string) (c content) {
	db, err := sql.Open("sqlite", "file:"+path+"?mode=ro")
	if err != nil {
		return content{rest: err.Error()}
	}
	defer db.Close()
	rows, err := db.Query("SELECT seq, CAST(id AS BLOB), CAST(body AS BLOB), CAST(hash AS BLOB) FROM line ORDER BY seq")
	if err != nil {
		c.rest += err.Error()
	} else {
		defer rows.Close()
		for rows.Next() {
			var seq int64
			var id, body, hash []byte
			if err := rows.Scan(&seq, &id, &body, &hash); err != nil {
				c.rest += err.Error()
				break
			}
			c.lines = append(c.lines, fmt.Sprintf("%d %q %q %x", seq, id, body, hash))
		}
		if err := rows.Err(); err != nil {
			c.rest += err.Error()
		}
	}
	for _, q := range []string{
		"SELECT CAST(one AS TEXT) || hex(id) FROM store",
		"SELECT CAST(one AS TEXT) || '-' || CAST(seq AS TEXT) || hex(hash) FROM head",
		"SELECT CAST(one AS TEXT) || '-' || CAST(memory AS TEXT) || '-' || CAST(passes AS TEXT) || '-' || CAST(lanes AS TEXT) || hex(salt) || hex(nonce) || hex(wrapped) || hex(sum) FROM sealing",
		"SELECT CAST(one AS TEXT) || '-' || CAST(seq AS TEXT) || hex(store) || hex(hash) || hex(at) || hex(sum) FROM origin",
		"SELECT CAST(version AS TEXT) || hex(name) || hex(sha256) FROM migration",
		"SELECT hex(type) || hex(name) || hex(tbl_name) || hex(sql) FROM sqlite_schema ORDER BY name",
		"PRAGMA application_id", "PRAGMA user_version",
	} {
		rows, err := db.Query(q)
		if err != nil {
			c.rest += err.Error()
			continue
		}
		for rows.Next() {
			var s sql.NullString
			if err := rows.Scan(&s); err != nil {
				c.rest += err.Error()
			}
			c.rest += s.String + "\n"
		}
		if err := rows.Err(); err != nil {
			c.rest += err.Error()
		}
		rows.Close()
	}
	return c
}

// firstChange is the number of the first line that differs, 0 if none does.
func (c content) firstChange(was content) int64 {
	for i := range was.lines {
		if i >= len(c.lines) || c.lines[i] != was.lines[i] {
			return int64(i + 1)
		}
	}
	if len(c.lines) > len(was.lines) {
		return int64(len(was.lines) + 1)
	}
	return 0
}

// One bit is flipped, at random places and at every place of the file's head.
// Whatever changes what the file says has to be found at the start, and a
// changed line has to be named.
func TestEveryFlippedBitIsFound(t *testing.T) {
	flips, step := 800, 1
	if testing.Short() {
		flips, step = 100, 13
	}
	t.Run("plain", func(t *testing.T) { flipBits(t, filled(t, flipLines, 400), flips, step) })
	t.Run("sealed, without its passphrase", func(t *testing.T) { flipBits(t, sealedRecord(t, flipLines, 400), flips/4, step) })
}

const flipLines = 120

// flipBits flips each bit of the file's head, or one in so many of them, and as
// many anywhere as flips says.
func flipBits(t *testing.T, origin string, flips, step int) {
	const lines = flipLines
	good, err := os.ReadFile(origin)
	if err != nil {
		t.Fatal(err)
	}
	was := readContent(origin)
	if len(was.lines) != lines {
		t.Fatalf("the comparison reads %d lines, want %d", len(was.lines), lines)
	}
	var places []int
	for bit := 0; bit < 100*8; bit += step {
		places = append(places, bit)
	}
	dice := rand.New(rand.NewPCG(41, 7))
	for range flips {
		places = append(places, dice.IntN(len(good)*8))
	}

	dir := t.TempDir()
	path := filepath.Join(dir, "record.sqlite")
	var changed, found, located, harmless, early int
	for _, bit := range places {
		bad := bytes.Clone(good)
		bad[bit/8] ^= 1 << (bit % 8)
		if err := os.WriteFile(path, bad, 0o600); err != nil {
			t.Fatal(err)
		}
		now := readContent(path)
		j, err := Open(context.Background(), path, Options{Shut: true})
		if err == nil {
			closed(t, j)
		}
		differs := now.firstChange(was)
		switch {
		case differs == 0 && now.rest == was.rest && err == nil:
			harmless++ // unused bytes, or counters that are made anew
		case differs == 0 && now.rest == was.rest:
			early++ // nothing that is said has changed yet; SQLite's pages have
		case err == nil:
			t.Errorf("bit %d of byte %d: changed the content, and was not found", bit%8, bit/8)
			changed++
		default:
			changed++
			found++
			var broken *BrokenError
			switch {
			case errors.As(err, &broken) && broken.Seq == differs:
				located++
			case len(now.lines) == 0 && (errors.As(err, &broken) && broken.Seq == 0 || errors.As(err, new(*NotOursError))):
				located++ // no line can be read at all: the file's head, or its tables
			case differs == 0 && errors.As(err, new(*NotOursError)):
				located++ // the mark by which a record is known
			default:
				t.Errorf("bit %d of byte %d: first changed line is %d, and it says %v", bit%8, bit/8, differs, err)
			}
		}
		for _, beside := range []string{"-wal", "-shm", "-lock"} {
			os.Remove(path + beside)
		}
	}
	t.Logf("%d bits flipped: %d changed what the file says, %d of these found, %d located; %d more found before they did harm; %d without effect",
		len(places), changed, found, located, early, harmless)
	if changed < flips/2 {
		t.Errorf("only %d of %d flips changed anything: too few to say", changed, len(places))
	}
	if found != changed || located != changed {
		t.Errorf("found %d and located %d of %d", found, located, changed)
	}
}

// A record that ends too early is never opened as a shorter one.
func TestEveryTruncationIsFound(t *testing.T) {
	const lines = 60
	origin := filled(t, lines, 400)
	good, err := os.ReadFile(origin)
	if err != nil {
		t.Fatal(err)
	}
	side, err := os.ReadFile(sidePath(origin))
	if err != nil {
		t.Fatal(err)
	}
	dice := rand.New(rand.NewPCG(3, 5))
	cuts := []int{0, 1, 15, 16, 17, 99, 100, 101, 511, 512, 513, len(good) - 1}
	for at := 4096; at < len(good); at += 4096 {
		cuts = append(cuts, at-1, at, at+1)
	}
	for range 50 {
		cuts = append(cuts, dice.IntN(len(good)))
	}
	for _, at := range cuts {
		path := filepath.Join(t.TempDir(), "record.sqlite")
		if err := os.WriteFile(path, good[:at], 0o600); err != nil {
			t.Fatal(err)
		}
		if at == 0 { // without the side file it is as if nothing had ever been there
			if err := os.WriteFile(sidePath(path), side, 0o600); err != nil {
				t.Fatal(err)
			}
		}
		if j, err := Open(context.Background(), path, Options{}); err == nil {
			seq, _ := j.Head()
			closed(t, j)
			// What lies beyond the end is read as zeros: where only zeros are cut
			// off, every line is there as it was.
			if seq != lines || bytes.ContainsFunc(good[at:], func(r rune) bool { return r != 0 }) {
				t.Errorf("cut to %d of %d bytes: opened with %d lines", at, len(good), seq)
			}
		} else if at == 0 && !errors.As(err, new(*LostError)) {
			t.Errorf("cut to nothing: %v, want a LostError", err)
		}
	}
}
