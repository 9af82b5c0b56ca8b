package record

import (
	"errors"
	"sync"
	"time"
	_ "time/tzdata" // a home computer may have no zone table of its own
)

var zones sync.Map // name → *time.Location; tens of thousands of entries share a few zones

// LoadZone returns the time zone with an IANA name. "Local" and the empty name
// are refused, since they mean another place on another computer.
func LoadZone(name string) (*time.Location, error) {
	if z, ok := zones.Load(name); ok {
		return z.(*time.Location), nil
	}
	if name == "" || name == "Local" {
		return nil, errUnnamedZone
	}
	z, err := time.LoadLocation(name)
	if err != nil {
		return nil, err
	}
	zones.Store(name, z)
	return z, nil
}

var errUnnamedZone = errors.New("a zone needs its name, such as Europe/Oslo")
