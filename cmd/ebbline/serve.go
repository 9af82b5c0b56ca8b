package main

import (
	"cmp"
	"context"
	"crypto/tls"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"os"
	"os/signal"
	"strings"
	"syscall"
	"time"

	"ebbline/internal/household"
	"ebbline/internal/journal"
	"ebbline/internal/web"
)

// usualAddr is where the pages are when nobody says otherwise: always the same,
// so that a bookmark keeps working, and reachable from this computer alone.
const usualAddr = "127.0.0.1:8361"

var serveVerb = verb{
	name:  "serve",
	short: "open the record and serve its pages on this computer",
	long: `
Opens the household's file, makes it when there is none yet, and serves the
pages until it is ended with Ctrl-C. It prints the address and where the file
is, and opens nothing by itself. Meanwhile the commands that read work on the
same file; those that write, such as record, are turned away. The passphrase of a
sealed record is asked for at the terminal; for a service that starts by itself it
stands in a file (-passphrase-file), readable by that service alone.

Without -lan only this computer can reach the pages. With it, tablets in the same
network can ask for them too, under the names given. Each is shown nothing of the
record, but for the emergency card, until it was paired: open the address that is
printed on this computer, choose Unit and then Screens in the house, have a code
shown, and type it on the other screen within ten minutes. A screen that is lost
is removed in the same place. This computer needs no pairing, nor does anything
else that runs on it. Which screens are paired stands beside the record, in a file with
-screens behind the name; it holds no token that would let anybody in.

Without a certificate the way through the house is NOT ENCRYPTED: whoever is in
the same network and means to can read along what the screens show and type, and
take the place of one. Use it only where you know who is in the network. With -cert
and -key, a certificate of your own that the other screens trust and that holds the
names given, it is encrypted, for this computer's own browser as well: let it hold
localhost too, since this computer knows itself by that name best.

  ebbline serve
  ebbline serve -lan kitchen.local
  ebbline serve -lan kitchen.local -cert kitchen.pem -key kitchen-key.pem`,
	setUp: func(fs *flag.FlagSet) func(*terminal, []string) error {
		file := fileFlag(fs)
		site := siteFlags(fs, usualAddr)
		return func(t *terminal, args []string) error { return runServe(t, args, file, site) }
	},
}

func runServe(t *terminal, args []string, file *place, site *site) error {
	if err := noWords("serve", args); err != nil {
		return err
	}
	path, err := file.path()
	if err != nil {
		return err
	}
	listener, err := site.listen()
	if err != nil {
		return err
	}
	defer listener.Close()
	fresh := !exists(path)
	desk, err := openDesk(path, file.passphrase)
	if err != nil {
		return err
	}
	fmt.Fprintf(&t.out, "The pages are at %s\n", site.address(listener))
	if others := site.others(listener); others != "" {
		fmt.Fprintf(&t.out, "Other screens of the house: %s, once they were paired (Unit, then Screens in the house)\n", others)
	}
	if fresh {
		fmt.Fprintf(&t.out, "A new, empty record was made at %s\n", path)
	} else {
		fmt.Fprintf(&t.out, "The record is %s\n", path)
	}
	if !desk.Sealed() && file.passphraseNamed() {
		fmt.Fprintln(&t.out, "It is not sealed, and the file of the passphrase was not looked at; `ebbline seal set` seals it.")
	}
	for _, c := range journal.CautionsAbout(path) {
		fmt.Fprintln(&t.out, c.Text)
	}
	fmt.Fprintln(&t.out, "Ctrl-C ends it.")
	return site.serve(t, desk, listener, nil)
}

// A site is where the pages are served and under which names.
type site struct {
	addr, names, cert, key string

	here string // name by which this computer's browser finds the pages
}

func siteFlags(fs *flag.FlagSet, addr string) *site {
	s := new(site)
	fs.StringVar(&s.addr, "addr", addr, "the `ADDRESS` to listen on, host:port; port 0 takes a free one")
	fs.StringVar(&s.names, "lan", "", "`NAMES` by which tablets reach this computer, with commas between them; listens to the whole network")
	fs.StringVar(&s.cert, "cert", "", "with -lan: a `FILE` with your own certificate, PEM; the way is then encrypted")
	fs.StringVar(&s.key, "key", "", "with -cert: the `FILE` with its key, PEM")
	return s
}

// hosts lists the names given with -lan.
func (s *site) hosts() []string {
	return strings.FieldsFunc(s.names, func(r rune) bool { return r == ',' || r == ' ' })
}

// listen takes the address. An address beyond this computer needs names, since
// the pages answer to no others.
func (s *site) listen() (net.Listener, error) {
	config, err := s.encryption()
	if err != nil {
		return nil, err
	}
	host, port, err := net.SplitHostPort(s.addr)
	if err != nil {
		return nil, &usageError{verb: "serve", words: fmt.Sprintf("%q is not an address; one such as %s is needed.", s.addr, usualAddr)}
	}
	ip := net.ParseIP(host)
	here := host == "localhost" || ip != nil && ip.IsLoopback()
	switch {
	case len(s.hosts()) > 0 && here:
		host = "" // every address of this computer
	case len(s.hosts()) == 0 && !here:
		return nil, &usageError{verb: "serve", words: fmt.Sprintf("%s can be reached from other computers: say with -lan under which names.", s.addr)}
	}
	listener, err := net.Listen("tcp", net.JoinHostPort(host, port))
	if errors.Is(err, syscall.EADDRINUSE) {
		return nil, fmt.Errorf("%s is taken, perhaps by an Ebbline that runs already: look there, or choose another with -addr", s.addr)
	}
	if err == nil && config != nil {
		listener = tls.NewListener(listener, config)
	}
	return listener, err
}

// encryption reads the certificate, and sees that it is one for the names under
// which other screens ask; nil if there is none.
func (s *site) encryption() (*tls.Config, error) {
	switch {
	case s.cert == "" && s.key == "":
		return nil, nil
	case s.cert == "" || s.key == "":
		return nil, &usageError{verb: "serve", words: "-cert and -key go together."}
	case len(s.hosts()) == 0:
		return nil, &usageError{verb: "serve", words: "-cert goes with -lan: this computer alone needs no certificate."}
	}
	pair, err := tls.LoadX509KeyPair(s.cert, s.key)
	if err != nil {
		return nil, fmt.Errorf("the certificate cannot be used: %w", err)
	}
	for _, name := range s.hosts() {
		if err := pair.Leaf.VerifyHostname(name); err != nil {
			return nil, fmt.Errorf("the certificate cannot be used: %w", err)
		}
	}
	for _, name := range []string{"localhost", "127.0.0.1", s.hosts()[0]} {
		if pair.Leaf.VerifyHostname(name) == nil {
			s.here = name
			break
		}
	}
	return &tls.Config{Certificates: []tls.Certificate{pair}, MinVersion: tls.VersionTLS12}, nil
}

// address gives the pages' address for a browser on this computer; with a
// certificate, by a name that it holds.
func (s *site) address(l net.Listener) string {
	return s.addressFor(cmp.Or(s.here, "127.0.0.1"), l)
}

// others is where another screen finds the pages; empty if none can.
func (s *site) others(l net.Listener) string {
	names := s.hosts()
	if len(names) == 0 {
		return ""
	}
	return s.addressFor(names[0], l)
}

func (s *site) addressFor(host string, l net.Listener) string {
	_, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return l.Addr().String()
	}
	scheme := "http://"
	if s.cert != "" {
		scheme = "https://"
	}
	return scheme + net.JoinHostPort(host, port) + "/"
}

// serve shows what was printed so far, serves the pages until the program is
// told to end, and closes the record. ready is called when pages are answered.
func (s *site) serve(t *terminal, desk *household.Desk, l net.Listener, ready func()) (err error) {
	defer func() { err = errors.Join(err, desk.Close()) }()
	var screens *household.Screens
	if len(s.hosts()) > 0 {
		if screens, err = household.OpenScreens(desk.Path(), time.Now); err != nil {
			return err
		}
	}
	pages, err := web.New(desk, web.Options{
		Screens: screens,
		Version: programVersion(),
		Hosts:   s.hosts(),
		Log:     slog.New(slog.NewTextHandler(t.err, nil)),
	})
	if err != nil {
		return err
	}
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	if err := t.show(); err != nil {
		return err
	}
	if ready != nil {
		ready()
	}
	return web.Serve(ctx, l, pages)
}
