// Package browsertest takes the pages through a real browser: a whole session
// by touch, with script and without, several screens at once, a network that is
// cut, the look of every page and what it is to somebody who does not see it.
//
// Its tests need Debian's chromium and are built with the tag browser:
//
//	go test -tags browser ./internal/browsertest
//
// Without a browser they fail. With EBBLINE_SHOTS set to a folder they leave a
// picture of every page there, to be looked at. With EBBLINE_IN_PIECES set every
// page comes to them a little at a time, which finds a test that does not wait.
//
// testdata/axe.min.js is axe-core 4.14.1 as published, under the Mozilla Public
// License 2.0; its licence and those of what it contains stand beside it.
package browsertest
