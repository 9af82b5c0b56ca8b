//go:build !linux

package household

import (
	"os"
	"testing"
	"time"
)

func syncData(f *os.File) error { return f.Sync() }

var started = time.Now()

// cpuTime stands in for the time of the processor where there is no counter.
func cpuTime(testing.TB) time.Duration { return time.Since(started) }
