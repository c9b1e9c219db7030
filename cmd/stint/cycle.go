package main

import (
	"cmp"
	"errors"
	"fmt"
	"io"
	"slices"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/analysis/cycle"
	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/weeks"
)

// cycleFlags is what stint cycle is asked for.
type cycleFlags struct {
	*outputFlags
	version string
}

func (a *app) cycleCommand() *cobra.Command {
	var f cycleFlags
	cmd := &cobra.Command{
		Use:   "cycle [FILE|FOLDER|CYCLE]",
		Short: "Show a cycle week by week: volume, intensity and load",
		Long: `cycle lays out a cycle as a grid of weeks and days, with how long each session is,
how hard it is meant to be and which patterns it trains hard, and adds up its
weeks: the volume of each pattern, the heaviest of each lift, the load moved, and
how pushes and pulls, squats and hinges lie.

Where every session of a week says how hard it is (effort RPE 7, or effort 80%,
which is read as 8), the week has a load too: how hard a session is, from 0 to 10,
times its minutes. Monotony is the mean load of the seven days over their standard
deviation, that of the population, with rest days as 0; strain is load times
monotony. Minutes rated 7 and up count twice among the moderate ones.

What is counted is what parts hold, without warm-up and cool-down, for one typical
member who comes every day. Minutes are estimates, and so are counts with ~, which
only the clock ends.

With --format svg it is a picture.

Exit code: 0 when all could be read, 1 when the files hold errors (the figures may
then be wrong: stint check says where), 2 when there is no cycle, or several.`,
		Example: `  stint cycle cycles/spring-tide.stint
  stint cycle 'spring tide' --version light
  stint cycle --format svg --output spring-tide.svg
  stint cycle --format json`,
		Args:              takes(0, 1, "stint cycle cycles/spring-tide.stint"),
		ValidArgsFunction: stintFiles,
		RunE:              func(_ *cobra.Command, args []string) error { return a.cycle(f, args) },
	}
	f.outputFlags = addOutput(cmd)
	cmd.Flags().StringVar(&f.version, "version", "", "count each session in this version")
	return cmd
}

func (a *app) cycle(f cycleFlags, args []string) error {
	if err := f.check(); err != nil {
		return err
	}
	j, c, err := cycleTarget(args)
	if err != nil {
		return err
	}
	if err := hasVersion(c, f.version, j.snap.FindSession); err != nil {
		return err
	}
	// A version that is asked for stands in for what the days plan, and moves as it does beside that.
	analysisOf := func(_ *model.Cycle, week int, name, version string) *cycle.SessionAnalysis {
		return j.snap.SessionAnalysis(c, week, name, version)
	}
	doc := weeks.New(cycle.New(weeks.In(c, f.version), analysisOf), f.version)
	if err := a.publish(f.outputFlags, showable{
		json: doc,
		svg:  doc.SVG,
		text: func(w io.Writer) { cycleText(w, doc) },
	}); err != nil {
		return err
	}
	of := &model.Document{Cycles: []*model.Cycle{c}}
	for _, w := range c.Plan {
		for _, d := range w.Days {
			if s := j.snap.FindSession(d.Session); s != nil {
				of.Sessions = append(of.Sessions, s)
			}
		}
	}
	return a.warnOfErrors(about(of, j.snap.Check()))
}

// cycleTarget is the workspace, and the one cycle in it, that the argument names.
func cycleTarget(args []string) (*job, *model.Cycle, error) {
	j, name, err := namedTarget(args)
	if err != nil {
		return nil, nil, err
	}
	var cycles []*model.Cycle
	for _, f := range j.programs() {
		cycles = append(cycles, f.Cycles...)
	}
	known := names(cycles, func(c *model.Cycle) string { return c.Name })
	if name != "" {
		cycles = slices.DeleteFunc(cycles, func(c *model.Cycle) bool { return book.Key(c.Name) != book.Key(name) })
	}
	switch {
	case len(known) == 0:
		return nil, nil, errors.New("there is no cycle in what is named")
	case len(cycles) == 0:
		return nil, nil, fmt.Errorf("there is no cycle %q here%s", name, nearest(name, known))
	case len(cycles) > 1 && name != "":
		return nil, nil, fmt.Errorf("there are %d cycles called %s: name the file", len(cycles), cycles[0].Name)
	case len(cycles) > 1:
		return nil, nil, fmt.Errorf("there are several cycles in this: name one%s", nearest("", known))
	}
	return j, cycles[0], nil
}

// hasVersion is an error where no session of the cycle has a version.
func hasVersion(c *model.Cycle, version string, find func(string) *model.Session) error {
	if version == "" {
		return nil
	}
	var known []string
	for _, w := range c.Plan {
		for _, d := range w.Days {
			s := find(d.Session)
			if s.InVersion(version) != nil {
				return nil
			}
			if s != nil {
				for _, v := range s.Versions {
					known = append(known, v.Name)
				}
			}
		}
	}
	slices.Sort(known)
	return fmt.Errorf("no session of %s has a version %q%s",
		cmp.Or(c.Name, "the cycle"), version, nearest(version, slices.Compact(known)))
}
