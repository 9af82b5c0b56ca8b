// Package web is the pages: server-rendered, working without script for every
// recording step. Script adds timers, live updates and the outbox.
//
// A page is one struct and one template. A form is made from the table of
// kinds in package record, so that a page, a command and an import ask for the
// same values within the same bounds.
package web
