package main

import (
	"strings"

	"github.com/aymanbagabas/go-udiff"
)

// diff prints the change of a file in the form that git apply and patch take.
func (a *app) diff(name, before, after string) {
	if strings.Contains(name, " ") {
		name += "\t" // as git marks the end of such a name
	}
	_, _ = a.out.WriteString(udiff.Unified("a/"+name, "b/"+name, before, after)) // a failure shows when all is flushed
}
