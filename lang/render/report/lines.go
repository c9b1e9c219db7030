package report

import (
	"io"
	"strings"

	"stint.example/stint/lang/diag"
)

// Lines writes one line a diagnostic, in the form that editors, terminals and CI
// systems pick out of any log:
//
//	path:line:col: severity: message [rule]
//
// The error is the writer's.
func Lines(w io.Writer, ds []diag.Diagnostic, opt Options) error {
	var b strings.Builder
	for d := range visible(ds) {
		b.WriteString(header(d, opt, newPalette(opt.Color, d.Severity)))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// header is that line, with its line feed.
func header(d diag.Diagnostic, opt Options, p palette) string {
	s := p.place(location(d.At, opt)) + p.mark(d.Severity.String()+":") + " " + p.strong(printable(d.Message))
	if d.Rule != "" {
		s += " " + p.faint("["+printable(d.Rule)+"]")
	}
	return s + "\n"
}
