package main

import (
	"flag"
	"fmt"
	"runtime"
	"runtime/debug"
)

// version is set when a release is built: -ldflags "-X main.version=1.2.3".
var version string

var versionVerb = verb{
	name:  "version",
	short: "print the version of the program",
	setUp: func(*flag.FlagSet) func(*terminal, []string) error { return runVersion },
}

func runVersion(t *terminal, args []string) error {
	if err := noWords("version", args); err != nil {
		return err
	}
	fmt.Fprintf(&t.out, "ebbline %s (%s %s/%s)\n", programVersion(), runtime.Version(), runtime.GOOS, runtime.GOARCH)
	return nil
}

// programVersion is what was set at the build, else what the toolchain noted
// down: the tag or commit, with a plus when the tree had been changed.
func programVersion() string {
	if version != "" {
		return version
	}
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	if v := info.Main.Version; v != "" && v != "(devel)" {
		return v
	}
	commit, changed := "", ""
	for _, s := range info.Settings {
		switch {
		case s.Key == "vcs.revision" && len(s.Value) >= 12:
			commit = s.Value[:12]
		case s.Key == "vcs.modified" && s.Value == "true":
			changed = "+"
		}
	}
	if commit == "" {
		return "unreleased"
	}
	return "unreleased-" + commit + changed
}
