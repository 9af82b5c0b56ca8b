package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"log/slog"
	"net"
	"os"
	"os/signal"
	"strings"
	"syscall"

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

Without -lan only this computer can reach the pages. With it, tablets in the
same network can too, under the names given; the way there is not encrypted, and
everybody in that network who knows the name can read and write the record.

  ebbline serve
  ebbline serve -lan kitchen.local`,
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
type site struct{ addr, names string }

func siteFlags(fs *flag.FlagSet, addr string) *site {
	s := new(site)
	fs.StringVar(&s.addr, "addr", addr, "the `ADDRESS` to listen on, host:port; port 0 takes a free one")
	fs.StringVar(&s.names, "lan", "", "`NAMES` by which tablets reach this computer, with commas between them; listens to the whole network")
	return s
}

// hosts lists the names given with -lan.
func (s *site) hosts() []string {
	return strings.FieldsFunc(s.names, func(r rune) bool { return r == ',' || r == ' ' })
}

// listen takes the address. An address beyond this computer needs names, since
// the pages answer to no others.
func (s *site) listen() (net.Listener, error) {
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
	return listener, err
}

// address gives the page's address for a browser.
func (s *site) address(l net.Listener) string {
	_, port, err := net.SplitHostPort(l.Addr().String())
	if err != nil {
		return l.Addr().String()
	}
	host := "127.0.0.1"
	if names := s.hosts(); len(names) > 0 {
		host = names[0]
	}
	return "http://" + net.JoinHostPort(host, port) + "/"
}

// serve shows what was printed so far, serves the pages until the program is
// told to end, and closes the record. ready is called when pages are answered.
func (s *site) serve(t *terminal, desk *household.Desk, l net.Listener, ready func()) (err error) {
	defer func() { err = errors.Join(err, desk.Close()) }()
	pages, err := web.New(desk, web.Options{
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
