package journal

import (
	"database/sql"
	"net/url"
	"path/filepath"
	"strings"
	"time"

	"modernc.org/sqlite"
)

// busyWait is how long a connection waits for a lock that another program
// holds: below the two seconds in which a page has to say that nothing was
// saved.
const busyWait = 1500 * time.Millisecond

// readers is how many may read at once beside the one writer.
const readers = 4

// An access is what a pool of connections may do.
type access int

const (
	reading access = iota // cannot change the file in any way, not even by closing it
	still                 // likewise, and trusts that nobody changes it: needs no file beside it
	writing
)

// dsn names the file to the driver. SQLite keeps most settings per connection,
// so all of them are here and hold for each connection that is ever opened.
// The name starts with "file:", for in a plain name the driver drops mode=ro.
func dsn(path string, how access) string {
	q := url.Values{
		"_txlock":    {"immediate"}, // a write says at its start that it cannot be had
		"_dqs":       {"0"},
		"_defensive": {"1"},
		"_error_rc":  {"1"},
		"_pragma": {
			"busy_timeout(1500)",
			"foreign_keys(1)",
			"synchronous(full)",       // a commit is synced before it is acknowledged
			"fullfsync(1)",            // macOS: through the drive's own cache
			"checkpoint_fullfsync(1)", // elsewhere these two do nothing
			"trusted_schema(0)",
			"cell_size_check(1)",
		},
	}
	switch how {
	case reading, still:
		q.Set("mode", "ro") // and not query_only, which forbids copying too
		if how == still {
			q.Set("immutable", "1")
		}
	case writing:
		q.Set("mode", "rw") // the file is made by us beforehand, with the owner's rights only
		q.Add("_pragma", "journal_mode(wal)")
		// We checkpoint by hand: SQLite's own way hides a failed sync.
		q.Add("_pragma", "wal_autocheckpoint(0)")
	}
	slashed := filepath.ToSlash(path)
	if !strings.HasPrefix(slashed, "/") {
		slashed = "/" + slashed // C:/… becomes file:///C:/…
	}
	return (&url.URL{Scheme: "file", Path: slashed, RawQuery: q.Encode()}).String()
}

// connect gives a pool; nothing is opened until it is used.
func connect(path string, how access) (*sql.DB, error) {
	db, err := sql.Open("sqlite", dsn(path, how))
	if err != nil {
		return nil, err
	}
	most := readers
	if how == writing {
		most = 1
	}
	db.SetMaxOpenConns(most)
	db.SetMaxIdleConns(most)
	return db, nil
}

func init() {
	// fdatasync makes the data and the length durable, which is all that is
	// needed to read them back, and costs about half of fsync. Where there is
	// none (macOS, Windows) the driver's own way stays.
	_, _ = sqlite.Fdatasync(true)
}
