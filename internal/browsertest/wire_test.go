//go:build browser

package browsertest

import (
	"bytes"
	"io"
	"math/rand/v2"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"sync"
	"testing"
	"time"
)

// inPieces lets everything come to the screens a little at a time, as it does
// from a busy machine. A test that looks at half a page fails in it every time,
// where it failed once in a hundred runs without.
var inPieces = os.Getenv("EBBLINE_IN_PIECES") != ""

// A wire is the network between the screens and the program. It can be cut,
// which hangs up every connection; stalled, which leaves them open and dead; and
// it can lose answers, so that what was sent arrives and nothing comes back.
type wire struct {
	listener net.Listener
	to       string

	mu    sync.Mutex
	move  *sync.Cond
	state string // "", "cut" or "stalled"
	lose  int    // answers to POST that are still to be lost
	took  int    // answers lost so far
	open  map[*line]bool
}

// A line is one connection through the wire.
type line struct {
	near, far net.Conn
	live      bool // the page listens on it
	dead      bool // it carries nothing any more
}

func newWire(t *testing.T, to string) *wire {
	t.Helper()
	l, err := net.Listen("tcp", "127.0.0.1:0")
	if err != nil {
		t.Fatal(err)
	}
	w := &wire{listener: l, to: to, open: map[*line]bool{}}
	w.move = sync.NewCond(&w.mu)
	go w.accept()
	t.Cleanup(func() { l.Close(); w.set("cut") })
	return w
}

func (w *wire) url() string { return "http://" + w.listener.Addr().String() }

func (w *wire) cut()   { w.set("cut") }
func (w *wire) stall() { w.set("stalled") }
func (w *wire) mend()  { w.set("") }

func (w *wire) set(state string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.state = state
	if state == "cut" {
		for l := range w.open {
			l.near.Close()
			l.far.Close()
		}
		clear(w.open)
	}
	w.move.Broadcast()
}

// abandon leaves the lines that pages listen on open and dead, as happens to a
// tablet that slept.
func (w *wire) abandon() (left int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	for l := range w.open {
		if l.live {
			l.dead = true
			left++
		}
	}
	return left
}

// loseNext loses the answers to the next so many POSTs.
func (w *wire) loseNext(n int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	w.lose, w.took = n, 0
}

// lost tells how many answers were lost since loseNext.
func (w *wire) lost() int {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.took
}

func (w *wire) accept() {
	for {
		c, err := w.listener.Accept()
		if err != nil {
			return
		}
		go w.join(c)
	}
}

func (w *wire) join(near net.Conn) {
	far, err := net.Dial("tcp", w.to)
	if err != nil {
		near.Close()
		return
	}
	l := &line{near: near, far: far}
	w.mu.Lock()
	cut := w.state == "cut"
	if !cut {
		w.open[l] = true
	}
	w.mu.Unlock()
	var both sync.WaitGroup
	if !cut {
		both.Go(func() { w.carry(l, far, near) })
		both.Go(func() { w.carry(l, near, far) })
	}
	both.Wait()
	near.Close()
	far.Close()
	w.mu.Lock()
	delete(w.open, l)
	w.mu.Unlock()
}

// carry takes one way of a line from end to end, and closes both ends after it.
func (w *wire) carry(l *line, to io.WriteCloser, from io.ReadCloser) {
	defer to.Close()
	defer from.Close()
	slow := inPieces && to == l.near
	buf := make([]byte, 32<<10)
	if slow {
		buf = buf[:1500]
	}
	for {
		n, err := from.Read(buf)
		w.mu.Lock()
		l.live = l.live || bytes.HasPrefix(buf[:n], []byte("GET /live "))
		for err == nil && w.state != "cut" && (w.state == "stalled" || l.dead) {
			w.move.Wait()
		}
		gone := w.state == "cut"
		w.mu.Unlock()
		if gone {
			return
		}
		if slow {
			time.Sleep(rand.N(20 * time.Millisecond))
		}
		if _, failed := to.Write(buf[:n]); failed != nil || err != nil {
			return
		}
	}
}

// losing wraps the program's handler so that answers can be lost after the work
// was done.
func (w *wire) losing(next http.Handler) http.Handler {
	return http.HandlerFunc(func(rw http.ResponseWriter, r *http.Request) {
		w.mu.Lock()
		lose := r.Method == http.MethodPost && w.lose > 0
		if lose {
			w.lose--
		}
		w.mu.Unlock()
		if !lose {
			next.ServeHTTP(rw, r)
			return
		}
		next.ServeHTTP(httptest.NewRecorder(), r)
		w.mu.Lock()
		w.took++
		w.mu.Unlock()
		panic(http.ErrAbortHandler) // hang up
	})
}
