// Package session is one treatment from "start setting up" to the printed
// sheet: what was prescribed, the plan, the checks that must be passed before
// needling (the start line), the steps of set-up and take-off with their
// lanes and times (the run sheet), the run with its readings and events, and
// the closing.
//
// The bodies of all entries that belong to a session are declared here, since
// they are the words of this room; package record wraps them in entries and
// folds them into a [Session]. Nothing here reads a clock: every function
// that needs the present takes it.
package session
