package main

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/diag"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/outline"
	"stint.example/stint/lang/render/readback"
	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// showFlags is what stint show is asked for.
type showFlags struct {
	json, outline, meaning bool
	session, version       string
	weekFlags
}

func (a *app) showCommand() *cobra.Command {
	var f showFlags
	cmd := &cobra.Command{
		Use:   "show [FILE|FOLDER]",
		Short: "Show what sessions and cycles mean",
		Long: `show reads sessions back in plain words, as one coach would tell another: who does
how much of what and in which order, when it starts and ends, what rest there is,
what each number between slashes stands for, and what each version changes. Then it
says of every stated number how it was held to be true: proven, refuted,
estimated, taken at both ends, or only shown. Cycles it tells week by week.
With --version it tells that version, with its swaps made, and with --week each
session as a cycle has it in that week, where its progress moves it. Without an argument it
tells all of the current folder.

--json prints the sentences and the account as data. --outline prints the same
sessions in the words of the notation, with what their lines add up to. --meaning
prints all that the text means as JSON, for other programs: the house, its sessions
with their versions, and its cycles.

Exit code: 0 when all could be read, 1 when the files hold errors (what is shown
may then be wrong: stint check says where), 2 when there is nothing to show.`,
		Example: `  stint show sessions/bowline.stint
  stint show --session 'sheet bend' --version no-kit
  stint show sessions/bowline.stint --outline
  stint show --meaning`,
		Args:              takes(0, 1, "stint show sessions/bowline.stint"),
		ValidArgsFunction: stintFiles,
		RunE:              func(_ *cobra.Command, args []string) error { return a.show(f, args) },
	}
	cmd.Flags().BoolVar(&f.json, "json", false, "print the sentences as JSON")
	cmd.Flags().BoolVar(&f.outline, "outline", false, "print it in the words of the notation, with its totals")
	cmd.Flags().BoolVar(&f.meaning, "meaning", false, "print all that the text means as JSON")
	cmd.MarkFlagsMutuallyExclusive("json", "outline", "meaning")
	cmd.Flags().StringVar(&f.session, "session", "", "show the session of this name only")
	cmd.Flags().StringVar(&f.version, "version", "", "show this version of each session")
	f.weekFlags.add(cmd)
	return cmd
}

func (a *app) show(f showFlags, args []string) error {
	if f.session == "" {
		f.session, args = splitName(args)
	}
	ts, err := targets(args)
	if err != nil {
		return err
	}
	if len(ts) > 1 && shown(ts[0].path) != shown(append(args, ".")[0]) {
		return errors.New("there are several workspaces in this: name one of them, or a file")
	}
	js, err := jobs(ts[:1])
	if err != nil {
		return err
	}
	j := js[0]
	doc := model.NewDocument(j.snap.Env, j.programs()...)
	if err := f.narrow(j, doc); err != nil {
		return err
	}
	found := about(doc, j.found())
	switch {
	case f.meaning:
		err = writeJSON(a.out, doc)
	case f.json:
		err = writeJSON(a.out, readback.NewDocument(doc, j.snap.Env, j.snap.FindSession, found))
	default:
		err = a.tell(f, doc, j, found)
	}
	if err != nil {
		return err
	}
	return a.warnOfErrors(found)
}

// about are the findings in the files of what is shown.
func about(doc *model.Document, ds []diag.Diagnostic) []diag.Diagnostic {
	in := map[*source.File]bool{}
	for _, s := range doc.Sessions {
		in[s.At.File] = true
	}
	for _, c := range doc.Cycles {
		in[c.At.File] = true
	}
	return slices.DeleteFunc(slices.Clone(ds), func(d diag.Diagnostic) bool { return !in[d.At.File] })
}

// narrow leaves in a document the session, the week and the version that are asked for.
func (f showFlags) narrow(j *job, doc *model.Document) error {
	if f.session != "" {
		all := doc.Sessions
		doc.Sessions = slices.DeleteFunc(slices.Clone(all), func(s *model.Session) bool {
			return book.Key(s.Name) != book.Key(f.session)
		})
		if len(doc.Sessions) == 0 {
			return fmt.Errorf("there is no session %q here%s", f.session, nearest(f.session, names(all, sessionName)))
		}
	}
	if err := f.inWeek(j, doc); err != nil {
		return err
	}
	if f.session != "" || f.version != "" || f.week > 0 {
		doc.Cycles = []*model.Cycle{}
	}
	if f.version == "" {
		return nil
	}
	known := map[string]bool{}
	var out []*model.Session
	for _, s := range doc.Sessions {
		for _, v := range s.Versions {
			known[v.Name] = true
			if book.Key(v.Name) == book.Key(f.version) {
				out = append(out, v.Session)
			}
		}
	}
	if len(out) == 0 {
		var all []string
		for n := range known {
			all = append(all, n)
		}
		slices.Sort(all)
		return fmt.Errorf("no session here has a version %q%s", f.version, nearest(f.version, all))
	}
	doc.Sessions = out
	return nil
}

// tell prints sessions and cycles for people.
func (a *app) tell(f showFlags, doc *model.Document, j *job, found []diag.Diagnostic) error {
	env := j.snap.Env
	if len(doc.Sessions)+len(doc.Cycles) == 0 {
		return errors.New("there is neither a session nor a cycle in what is named; --meaning shows a house too")
	}
	for i, s := range doc.Sessions {
		if i > 0 {
			fmt.Fprintln(a.out)
		}
		if f.outline {
			outline.Session(a.out, s, doc.House)
		} else {
			readback.Of(s, env, found).Write(a.out)
		}
	}
	for i, c := range doc.Cycles {
		if i+len(doc.Sessions) > 0 {
			fmt.Fprintln(a.out)
		}
		if f.outline {
			outline.Cycle(a.out, c)
		} else {
			readback.OfCycle(c, env.House, j.snap.FindSession, found).Write(a.out)
		}
	}
	return nil
}

func sessionName(s *model.Session) string { return s.Name }

func names[T any](ts []T, name func(T) string) []string {
	out := make([]string, len(ts))
	for i, t := range ts {
		out[i] = name(t)
	}
	return out
}

// nearest offers the known names that a mistyped one may mean, or all of a few; it is
// the end of a sentence.
func nearest(name string, known []string) string {
	byKey := map[string]string{}
	var keys []string
	for _, k := range known {
		byKey[book.Key(k)] = k
		keys = append(keys, book.Key(k))
	}
	near := syntax.Nearest(book.Key(name), keys, 2)
	const few = 6
	switch {
	case len(near) > 0:
		near = near[:min(len(near), 3)]
		for i, k := range near {
			near[i] = byKey[k]
		}
		return ": did you mean " + strings.Join(near, " or ") + "?"
	case 0 < len(known) && len(known) <= few:
		return ": there is " + strings.Join(known, ", ")
	}
	return ""
}
