package main

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"
	"strings"

	"github.com/spf13/cobra"

	"stint.example/stint/lang/analysis/totals"
	"stint.example/stint/lang/model"
	"stint.example/stint/lang/render/layout"
	"stint.example/stint/lang/render/prose"
	"stint.example/stint/lang/render/report"
	"stint.example/stint/lang/units"
)

func (a *app) totalsCommand() *cobra.Command {
	var by, format *choice
	var version string
	cmd := &cobra.Command{
		Use:   "totals [FILE|FOLDER ...]",
		Short: "Add up sessions by movement, pattern, part, day or week",
		Long: `totals adds up what is named: repetitions, distance, time, calories and breaths,
and the load moved (implements x mass x repetitions), for each tier of the
house. Without an argument it adds up the current folder.

By movement, pattern and part, each session counts once. By day and week it
counts as often as the cycles of the workspace have it, in the version that the
day names; weeks are those of the cycle, with their number by ISO 8601. Sessions
that no cycle has come in a table of their own. A cycle's file stands for the
sessions that it has.

Nothing is guessed. A range stays one (24-30), what the text leaves open is
said to be at least so much, or as it comes. A load that is no weight, such as
70%, is left out of the load moved, and listed. Behind a figure, * says that
such a load belongs there, and ? that a line of it cannot be read. A time is
what the text asks for, not an estimate of how long the rest takes. Where a pair
or a team shares a count, it is for all of them together,
and where the two differ there is a line for each of them and one for the team.

In CSV and JSON, units are s, m, cal and kg; an empty "most" has no bound.

Exit code: 0 when all could be read, 1 when the files hold errors (the totals may
then be wrong: stint check says where), 2 when there is nothing to add up.`,
		Example: `  stint totals
  stint totals sessions/bowline.stint --by part
  stint totals cycles/spring-tide.stint --by week --version no-kit
  stint totals --by day --format csv > days.csv`,
		ValidArgsFunction: stintFiles,
		RunE: func(_ *cobra.Command, args []string) error {
			return a.totals(by.value, version, format.value, args)
		},
	}
	by = addChoice(cmd, "by", "what to have a row for",
		totals.ByMovement, totals.ByPattern, totals.ByPart, totals.ByDay, totals.ByWeek)
	format = addChoice(cmd, "format", "how to print it", "text", "json", "csv")
	cmd.Flags().StringVar(&version, "version", "", "count each session in this version")
	return cmd
}

func (a *app) totals(by, version, format string, args []string) error {
	ts, err := targets(args)
	if err != nil {
		return err
	}
	js, err := jobs(ts)
	if err != nil {
		return err
	}
	if len(js) > 1 {
		return errors.New("there are several workspaces in this: name one of them, or files of one")
	}
	j := js[0]
	var named, all []*model.File
	for _, f := range j.snap.Files {
		all = append(all, f.Program())
		if j.files[f.Path] {
			named = append(named, f.Program())
		}
	}
	s := totals.Summarise(by, version, j.snap.Env.House.Tiers, named, all)
	if len(s.Sessions) == 0 {
		if version != "" {
			return fmt.Errorf("no session here has a version %q%s", version, nearest(version, versionNames(named)))
		}
		return errors.New("there is no session in what is named")
	}
	switch format {
	case "json":
		err = writeJSON(a.out, s)
	case "csv":
		if err = totalsCSV(a.out, s); err == nil {
			leftOut(sayer{a}, s)
		}
	default:
		totalsText(a.out, s)
	}
	if err != nil {
		return err
	}
	if n := report.Count(j.found()).Errors; n > 0 {
		a.say("%s found, so some of this may be wrong: stint check says where", plural(n, "error", "errors"))
		return errFound
	}
	return nil
}

func versionNames(files []*model.File) []string {
	var out []string
	for _, f := range files {
		for _, s := range f.Sessions {
			for _, v := range s.Versions {
				out = append(out, v.Name)
			}
		}
	}
	slices.Sort(out)
	return slices.Compact(out)
}

// A sayer writes beside the output.
type sayer struct{ a *app }

func (s sayer) Write(p []byte) (int, error) {
	s.a.say("%s", strings.TrimSuffix(string(p), "\n"))
	return len(p), nil
}

// totalsText prints a summary for people.
func totalsText(w io.Writer, s *totals.Summary) {
	title := plural(len(s.Sessions), "session", "sessions")
	if s.Scaling != "" {
		title += ", version " + s.Scaling
	}
	switch s.By {
	case totals.ByDay, totals.ByWeek:
		title += ", by " + s.By + " as the cycles have them"
	default:
		title += ", each once, by " + s.By
	}
	fmt.Fprintln(w, title)
	mark := ""
	if len(s.Rows) > 0 {
		fmt.Fprintln(w)
		mark += totalsTable(w, s.By, s.Tiers, s.Rows)
	}
	if len(s.Unscheduled) > 0 {
		fmt.Fprintln(w, "\nno cycle has these")
		fmt.Fprintln(w)
		mark += totalsTable(w, "session", s.Tiers, s.Unscheduled)
	}
	if mark != "" || len(s.LeftOut) > 0 {
		fmt.Fprintln(w)
	}
	if strings.Contains(mark, "*") {
		fmt.Fprintln(w, "* without the loads that are left out")
	}
	if strings.Contains(mark, "?") {
		fmt.Fprintln(w, "? a line of it cannot be read, or has no count")
	}
	leftOut(w, s)
}

// leftOut prints what no total includes, a line for each reason.
func leftOut(w io.Writer, s *totals.Summary) {
	for i := 0; i < len(s.LeftOut); {
		l := s.LeftOut[i]
		var who []string
		for ; i < len(s.LeftOut) && s.LeftOut[i].What == l.What && s.LeftOut[i].Reason == l.Reason; i++ {
			who = append(who, s.LeftOut[i].Name)
		}
		what := "left out: "
		if l.What == "load" {
			what = "not in the load moved: "
		}
		fmt.Fprintf(w, "%s%s (%s)\n", what, strings.Join(who, ", "), l.Reason)
	}
}

// totalsTable prints rows, and returns the marks that it has put behind figures.
func totalsTable(w io.Writer, by string, tiers []string, rows []totals.SummaryRow) (marks string) {
	heads := map[string][]string{
		totals.ByPart: {"session", "part"}, totals.ByDay: {"cycle", "week", "day", "date", "sessions"},
		totals.ByWeek: {"cycle", "week", "ISO week", "sessions"},
	}[by]
	if heads == nil {
		heads = []string{by}
	}
	table := [][]string{append(append(heads, "total"), tiers...)}
	for _, r := range rows {
		lead := map[string]string{
			by: r.Name, "session": r.Session, "part": r.Part,
			"cycle": r.Cycle, "week": strconv.Itoa(r.Week), "ISO week": r.ISOWeek, "day": r.Weekday, "date": r.Date,
			"sessions": strings.Join(done(r), ", "),
		}
		if len(r.Measures) == 0 {
			r.Measures = []totals.Measure{{Name: "nothing counted"}}
		}
		for i, m := range whose(r.Measures) {
			var line []string
			for _, h := range heads {
				if i > 0 {
					h = ""
				}
				line = append(line, lead[h])
			}
			line = append(line, m.Name)
			for _, t := range m.Tiers {
				text := total(t, m.Unit)
				if m.Partial {
					text, marks = text+"*", marks+"*"
				}
				if m.Unsure {
					text, marks = text+"?", marks+"?"
				}
				line = append(line, text)
			}
			table = append(table, line)
		}
	}
	fmt.Fprint(w, layout.Table(table))
	return marks
}

// whose are measures with two in the place of one where an athlete's share and a team's differ.
func whose(ms []totals.Measure) []totals.Measure {
	var out []totals.Measure
	for _, m := range ms {
		if m.Each == nil {
			out = append(out, m)
			continue
		}
		each, team := m, m
		each.Name, each.Tiers = m.Name+" each", m.Each
		team.Name, team.Tiers = m.Name+" team", m.Team
		out = append(out, each, team)
	}
	return out
}

// done are the sessions of a day or a week, with the versions that they count in.
func done(r totals.SummaryRow) []string {
	out := slices.Clone(r.Sessions)
	for i, v := range r.Versions {
		if v != "" {
			out[i] += " (" + v + ")"
		}
	}
	return out
}

// total is an amount with its unit: 57, 800 m, 24-30, at least 20.
func total(t totals.Amount, unit string) string {
	write := func(v float64) string {
		if unit == "m" || unit == "kg" {
			v = math.Round(v*10) / 10 // a mile and a pound are no round figures
		}
		return prose.Value(v, unit, "")
	}
	text := write(t.Least)
	switch {
	case t.Most == nil && t.Least == 0:
		return "as it comes"
	case t.Most == nil:
		text = "at least " + text
	case write(*t.Most) != text:
		text += "-" + write(*t.Most)
	}
	switch unit {
	case "m", "cal", "kg":
		text += " " + unit
	}
	return text
}

// totalsCSV prints a summary for spreadsheets: a line for each row and measure.
func totalsCSV(out io.Writer, s *totals.Summary) error {
	w := csv.NewWriter(out)
	head := []string{"by", "name", "session", "part", "cycle", "week", "iso week", "date", "weekday", "sessions",
		"total", "unit"}
	for _, t := range s.Tiers {
		head = append(head, t+" least", t+" most")
	}
	_ = w.Write(append(head, "partial", "unsure")) // a failure shows when all is flushed
	yes := map[bool]string{true: "yes", false: "no"}
	rows := func(by string, rs []totals.SummaryRow) {
		for _, r := range rs {
			week := ""
			if r.Week > 0 {
				week = strconv.Itoa(r.Week)
			}
			for _, m := range whose(r.Measures) {
				line := []string{by, r.Name, r.Session, r.Part, r.Cycle, week, r.ISOWeek, r.Date, r.Weekday,
					strings.Join(done(r), "; "), m.Name, m.Unit}
				for _, t := range m.Tiers {
					most := ""
					if t.Most != nil {
						most = units.FormatNumber(*t.Most)
					}
					line = append(line, units.FormatNumber(t.Least), most)
				}
				_ = w.Write(append(line, yes[m.Partial], yes[m.Unsure]))
			}
		}
	}
	rows(s.By, s.Rows)
	rows("session", s.Unscheduled)
	w.Flush()
	return w.Error()
}
