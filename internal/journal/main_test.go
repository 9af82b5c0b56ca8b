package journal

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"os/exec"
	"testing"
)

// Some things need a program of their own: one that can be killed, or that the
// system refuses a write. The test binary is then started again with this
// variable naming what to do; the arguments follow.
const childDoes = "EBBLINE_JOURNAL_CHILD"

var children = map[string]func(args []string) error{
	"hold":   childHold,
	"save":   childSave,
	"reform": childReform,
	"reseal": childReseal,
	"rewrap": childRewrap,
}

func TestMain(m *testing.M) {
	if name := os.Getenv(childDoes); name != "" {
		if err := children[name](os.Args[1:]); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// child prepares the test binary to do one of the children's jobs.
func child(tb testing.TB, name string, args ...string) *exec.Cmd {
	tb.Helper()
	if children[name] == nil {
		tb.Fatalf("there is no child %q", name)
	}
	self, err := os.Executable()
	if err != nil {
		tb.Fatal(err)
	}
	cmd := exec.Command(self, args...)
	cmd.Env = append(os.Environ(), childDoes+"="+name)
	cmd.Stderr = os.Stderr
	return cmd
}

// childHold opens a record, says so, and keeps it until its input ends.
func childHold(args []string) error {
	j, err := Open(context.Background(), args[0], Options{})
	if err != nil {
		return err
	}
	fmt.Println("open")
	bufio.NewReader(os.Stdin).ReadString('\n')
	return j.Close()
}
