package form

import (
	"fmt"
	"path"

	"stint.example/stint/lang/check"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
)

var FileName = check.Rule{Name: "file-name", Family: "form", Severity: diag.Suggestion,
	Summary: "a session whose file is not called after it, or shares it with another",
	File: func(p *check.Pass, f *model.File) {
		for i, s := range f.Sessions {
			switch want := p.Workspace.FileFor(s.Name); {
			case i > 0:
				p.Report(diag.Diagnostic{At: s.At, Message: "the file has another session above this one",
					Help: "one session a file: move it to " + want})
			case path.Base(f.Syntax.Src.Name) != want && len(f.Sessions) == 1 && len(f.Cycles) == 0:
				p.Report(diag.Diagnostic{At: s.At,
					Message: fmt.Sprintf("the session is called %s, its file %s", s.Name, path.Base(f.Syntax.Src.Name)),
					Help:    "rename the file to " + want + ", so that it is found by its name"})
			}
		}
	}}
