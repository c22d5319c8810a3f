// Package house holds no code, only tests about the repository itself: which package may import which, whether each
// source that is cited is listed, whether each dependency has its reason, and what no file may contain.
//
// It judges text, not behaviour; format and lint faults are left to the tools that scripts/check runs.
package house
