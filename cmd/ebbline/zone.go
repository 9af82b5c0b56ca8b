package main

import (
	"errors"
	"os"
	"time"

	"ebbline/record"
)

// householdZone gives the time zone that entries are written in: the one that
// was named with EBBLINE_ZONE, else this computer's own. An entry keeps the
// zone's name, so a zone without one ("Local") will not do.
func householdZone() (*time.Location, error) {
	name := os.Getenv("EBBLINE_ZONE")
	if name == "" {
		name = zoneOfComputer()
	}
	zone, err := record.LoadZone(name)
	if err != nil {
		return nil, errors.New("the time zone of this computer cannot be told: name it, for instance EBBLINE_ZONE=Europe/Oslo")
	}
	return zone, nil
}
