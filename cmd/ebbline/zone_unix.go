//go:build unix

package main

import (
	"os"
	"path/filepath"
	"strings"
)

// zoneOfComputer looks where package time looks, for the name rather than for
// the rules: the variable TZ, else the link /etc/localtime, else (as Debian
// keeps it) /etc/timezone. Without any of them the system counts in UTC.
func zoneOfComputer() string {
	if tz, ok := os.LookupEnv("TZ"); ok {
		if tz == "" {
			return "UTC"
		}
		return zoneInPath(strings.TrimPrefix(tz, ":"))
	}
	target, err := filepath.EvalSymlinks("/etc/localtime")
	if err != nil {
		return "UTC"
	}
	if name := zoneInPath(target); name != target {
		return name
	}
	text, _ := os.ReadFile("/etc/timezone") // empty when there is none
	return strings.TrimSpace(string(text))
}

// zoneInPath gives the name of a zone from the path of its file; what is no
// such path is returned as it is.
func zoneInPath(p string) string {
	for _, folder := range []string{"/zoneinfo/posix/", "/zoneinfo/right/", "/zoneinfo/"} {
		if _, name, ok := strings.Cut(p, folder); ok {
			return name
		}
	}
	return p
}
