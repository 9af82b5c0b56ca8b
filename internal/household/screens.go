package household

import (
	"crypto/rand"
	"crypto/sha256"
	"crypto/subtle"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math/big"
	"os"
	"path/filepath"
	"slices"
	"sync"
	"time"
)

// A Screen is another screen of the house that may see the pages.
type Screen struct {
	ID     string    `json:"id"`
	Name   string    `json:"name"`
	SHA256 string    `json:"sha256"` // of its token; the token itself is on that screen alone
	Paired time.Time `json:"paired"`
	Seen   time.Time `json:"seen"` // last, to within [seenEvery]
}

// Screens are the screens that were paired, in a file beside the record, and the
// code that pairs the next one. It may be used from several goroutines.
type Screens struct {
	path string
	now  func() time.Time

	mu     sync.Mutex
	list   []Screen
	code   string // empty: none is shown
	until  time.Time
	wrong  int
	closed string // why the last code no longer holds
}

const (
	// CodeHolds is how long a code can be typed.
	CodeHolds = 10 * time.Minute
	// CodeTries is how many wrong ones are taken before it is void. A guess of a
	// code of six digits then succeeds five times in a million.
	CodeTries = 5
	seenEvery = 10 * time.Minute
)

// A PairError says why a screen was not paired.
type PairError struct{ Words string }

func (e *PairError) Error() string { return e.Words }

// OpenScreens reads which screens were paired with the record at path. A file
// that cannot be understood is an error: to start without it would show the
// pages to nobody, and to start afresh might hide that somebody changed it.
func OpenScreens(path string, now func() time.Time) (*Screens, error) {
	s := &Screens{path: path + "-screens", now: now}
	text, err := os.ReadFile(s.path)
	if errors.Is(err, fs.ErrNotExist) {
		return s, nil
	}
	if err == nil {
		err = json.Unmarshal(text, &s.list)
	}
	if err != nil {
		return nil, fmt.Errorf("the list of paired screens %s cannot be read (%w): take it away, and pair the screens anew", s.path, err)
	}
	return s, nil
}

// NewCode makes a code of six digits that pairs one screen. The one before is
// void.
func (s *Screens) NewCode() (code string, until time.Time, err error) {
	n, err := rand.Int(rand.Reader, big.NewInt(1_000_000))
	if err != nil {
		return "", until, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.code, s.until, s.wrong, s.closed = fmt.Sprintf("%06d", n), s.now().Add(CodeHolds), 0, ""
	return s.code, s.until, nil
}

// Code is the code that holds now, and false where there is none.
func (s *Screens) Code() (code string, until time.Time, ok bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.expire()
	return s.code, s.until, s.code != ""
}

func (s *Screens) expire() {
	if s.code != "" && !s.now().Before(s.until) {
		s.code, s.closed = "", "That code has run out"
	}
}

// Pair takes a code, once, and gives the token by which the screen is known from
// then on. A wrong one gives a [*PairError], and so does the right one after too
// many wrong ones.
func (s *Screens) Pair(code, name string) (token string, err error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.expire()
	if s.code == "" {
		why := s.closed
		if why == "" {
			why = "No code is shown on the computer now"
		}
		return "", &PairError{why + ". Have a new one shown there, and type that."}
	}
	if subtle.ConstantTimeCompare([]byte(code), []byte(s.code)) != 1 {
		if s.wrong++; s.wrong >= CodeTries {
			s.code, s.closed = "", "Too many wrong codes were typed, and the one that was shown is void"
			return "", &PairError{s.closed + ". Have a new one shown there, and type that."}
		}
		return "", &PairError{"That is not the code that the computer shows. Look again, and type it once more."}
	}
	var random [32]byte
	var id [8]byte
	rand.Read(random[:]) // never fails since Go 1.24
	rand.Read(id[:])
	token = base64.RawURLEncoding.EncodeToString(random[:])
	now := s.now().UTC().Truncate(time.Second)
	more := append(slices.Clone(s.list), Screen{ID: hex.EncodeToString(id[:]), Name: name, SHA256: hashOf(token), Paired: now, Seen: now})
	if err := s.write(more); err != nil {
		return "", err
	}
	s.list, s.code, s.closed = more, "", "That code was used"
	return token, nil
}

func hashOf(token string) string {
	sum := sha256.Sum256([]byte(token))
	return hex.EncodeToString(sum[:])
}

// Known gives the screen that has this token, as it was last seen, and notes that
// it is seen now.
func (s *Screens) Known(token string) (Screen, bool) {
	hash := hashOf(token)
	s.mu.Lock()
	defer s.mu.Unlock()
	for i, one := range s.list {
		if subtle.ConstantTimeCompare([]byte(hash), []byte(one.SHA256)) != 1 {
			continue
		}
		if now := s.now().UTC().Truncate(time.Second); now.Sub(one.Seen) >= seenEvery {
			s.list[i].Seen = now
			_ = s.write(s.list) // when it was seen is no reason to turn it away
		}
		return one, true
	}
	return Screen{}, false
}

// List gives the screens in the order of their pairing.
func (s *Screens) List() []Screen {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.list)
}

// Remove forgets a screen: its token opens nothing from then on. One that is not
// there is no error.
func (s *Screens) Remove(id string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	less := slices.DeleteFunc(slices.Clone(s.list), func(one Screen) bool { return one.ID == id })
	if err := s.write(less); err != nil {
		return err
	}
	s.list = less
	return nil
}

// write puts the list into its file, whole or not at all.
func (s *Screens) write(list []Screen) error {
	text, err := json.MarshalIndent(list, "", "  ")
	if err != nil {
		return err
	}
	f, err := os.CreateTemp(filepath.Dir(s.path), filepath.Base(s.path)+"-*") // its owner's alone
	if err != nil {
		return fmt.Errorf("the list of paired screens cannot be written: %w", err)
	}
	_, err = f.Write(append(text, '\n'))
	err = errors.Join(err, f.Sync(), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), s.path)
	}
	if err != nil {
		os.Remove(f.Name())
		return fmt.Errorf("the list of paired screens cannot be written: %w", err)
	}
	return nil
}
