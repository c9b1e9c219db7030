package main

import (
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/analysis/equipment"
	"stint.example/stint/lang/analysis/estimate"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/timeline"
	"stint.example/stint/lang/source"
)

// clockFlags is what stint clock is asked for.
type clockFlags struct {
	*outputFlags
	version string
	open    bool
	weekFlags
}

// asWritten names a session without any of its scalings, where a version is asked for.
const asWritten = "as written"

func (a *app) clockCommand() *cobra.Command {
	var f clockFlags
	cmd := &cobra.Command{
		Use:   "clock [FILE|FOLDER|SESSION]",
		Short: "Estimate how long a session takes, and who would miss its caps and starts",
		Long: `clock works out how long a session takes, part by part, as written and in each of
its versions: when a part starts, how long a fast, a typical and a slow member
work (the 10th, 50th and 90th percentile of the house), when they are done, how
much rest is left before the next part, and how far they get where only the
clock ends it. For caps, intervals, fixed starts and the rest that is asked for
it says how many of the class would miss them: "about 3 of 16 (2 to 4)" is with
all times as they are (` + estimate.MarginText() + ` shorter to ` + estimate.MarginText() + ` longer).

It is an estimate. Where the text or the book says too little, no number is made
up: times are then the least, and what depends on them is not proven; the words to
correct are named.

Of a folder it prints a row a session: its stated length, when the fast, the
typical and the slow are done, and the limit that most of the class miss.

With --week each session is as a cycle has it in that week, where its progress
moves it.

--open shows what each time is made of, in seconds, and the figures and paces
used for it, each with its source. With --format svg the timeline
is a picture, of one session in one version.

Exit code: 0 when all could be read, 1 when the files hold errors (the times may
then be wrong: stint check says where), 2 when there is nothing to show.`,
		Example: `  stint clock sessions/bowline.stint
  stint clock 'sheet bend' --version no-kit --open
  stint clock bowline --format svg --output bowline.svg
  stint clock bowline --format svg --width 360 --output phone.svg`,
		Args:              takes(0, 1, "stint clock sessions/bowline.stint"),
		ValidArgsFunction: stintFiles,
		RunE:              func(_ *cobra.Command, args []string) error { return a.clock(f, args) },
	}
	f.outputFlags = addOutput(cmd)
	cmd.Flags().StringVar(&f.version, "version", "", "show this version only; 'as written' is one too")
	f.weekFlags.add(cmd)
	cmd.Flags().BoolVar(&f.open, "open", false, "show what each time is made of, and the figures used")
	return cmd
}

func (a *app) clock(f clockFlags, args []string) error {
	if err := f.check(); err != nil {
		return err
	}
	j, doc, err := f.target(args)
	if err != nil {
		return err
	}
	// Of several sessions, a row each, as written unless a version is named.
	whole := len(doc.Sessions) > 1 && !f.open && f.format.value == "text"
	if whole && f.version == "" {
		f.version = asWritten
	}
	sessions, err := f.versions(doc.Sessions)
	if err != nil {
		return err
	}
	var cs []*timeline.Clock
	for _, s := range sessions {
		cs = append(cs, timeline.NewClock(equipment.Timeline(s, j.snap.Env), j.snap.Env.House))
	}
	clocks := timeline.NewClocks(cs, f.open)
	if err := a.publish(f.outputFlags, showable{
		json: clocks,
		svg:  cs[0].SVG,
		text: func(w io.Writer) {
			if whole {
				clocks.Summary(w)
				return
			}
			clocks.Write(w, j.from)
		},
	}); err != nil {
		return err
	}
	return a.warnOfErrors(about(doc, j.found()))
}

// target is the workspace, and the sessions in it, that the argument names.
func (f clockFlags) target(args []string) (*job, *model.Document, error) {
	j, name, err := namedTarget(args)
	if err != nil {
		return nil, nil, err
	}
	doc := model.NewDocument(j.snap.Env, j.programs()...)
	if err := (showFlags{session: name, weekFlags: f.weekFlags}).narrow(j, doc); err != nil {
		return nil, nil, err
	}
	doc.Cycles = []*model.Cycle{} // have no clock
	if len(doc.Sessions) == 0 {
		return nil, nil, errors.New("there is no session in what is named")
	}
	return j, doc, nil
}

// versions are the sessions to show, each as written and in its versions, or in the one
// that is asked for. A picture is of one.
func (f clockFlags) versions(sessions []*model.Session) ([]*model.Session, error) {
	picture := f.isPicture()
	if picture && len(sessions) > 1 {
		return nil, fmt.Errorf("a picture shows one session: name one%s", nearest("", names(sessions, sessionName)))
	}
	var out []*model.Session
	known := []string{asWritten}
	for _, s := range sessions {
		if f.version == "" || book.Key(f.version) == book.Key(asWritten) {
			out = append(out, s)
		}
		for _, v := range s.Versions {
			if !slices.Contains(known, v.Name) {
				known = append(known, v.Name)
			}
			if f.version == "" && !picture || f.version != "" && book.Key(v.Name) == book.Key(f.version) {
				out = append(out, v.Session)
			}
		}
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no session here has a version %q%s", f.version, nearest(f.version, known))
	}
	return out, nil
}

// from is where a place is, from the current folder: sessions/bowline.stint:13:3.
func (j *job) from(p source.Place) string {
	if p.File == nil {
		return ""
	}
	name := p.File.Name
	if j.owns(p.File) {
		name = shown(j.abs(name))
	}
	at := p.File.Position(p.Start)
	return fmt.Sprintf("%s:%d:%d", name, at.Line, at.Column)
}
