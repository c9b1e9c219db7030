package main

import (
	"errors"
	"fmt"
	"slices"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/book"
	"stint.example/stint/lang/model"
)

// weekFlags is the week of a cycle in which sessions are asked for; 0 as they stand.
type weekFlags struct {
	week  int
	cycle string
}

func (f *weekFlags) add(cmd *cobra.Command) {
	cmd.Flags().IntVar(&f.week, "week", 0, "show sessions as a cycle has them in this week")
	cmd.Flags().StringVar(&f.cycle, "cycle", "", "with --week, the cycle, where several plan the session")
}

// inWeek leaves in a document the sessions that the week plans, as the cycle has them there.
func (f weekFlags) inWeek(j *job, doc *model.Document) error {
	switch {
	case f.week == 0 && f.cycle != "":
		return errors.New("--cycle goes with --week: which week of the cycle?")
	case f.week == 0:
		return nil
	}
	var out []*model.Session
	for _, s := range doc.Sessions {
		var in *model.Cycle
		for _, day := range j.snap.Planned(s.Name) {
			if day.Week.Number != f.week || f.cycle != "" && book.Key(day.Cycle.Name) != book.Key(f.cycle) {
				continue
			}
			if in != nil && in.At != day.Cycle.At {
				return fmt.Errorf("%s is in week %d of %s and of %s: name one by --cycle", s.Name, f.week, in.Name, day.Cycle.Name)
			}
			in = day.Cycle
		}
		if in != nil {
			out = append(out, in.InWeek(s, f.week))
		}
	}
	if len(out) == 0 {
		return fmt.Errorf("no cycle plans in week %d what is named", f.week)
	}
	doc.Sessions = slices.Clip(out)
	return nil
}
