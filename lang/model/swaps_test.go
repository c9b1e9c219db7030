package model

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"

	"stint.example/stint/lang/source"
	"stint.example/stint/lang/syntax"
)

// A swap knows the lines of the session that it changes, a narrower one in its place too.
func TestSwapsKnowWhatTheyChange(t *testing.T) {
	f := syntax.Parse(source.New("reef.stint", `session Reef

part A 3 rounds
  400 m row
  12 kettlebell swing @ 24/16 kg
  4x5 front squat, rest 2:00
  rest 1:00
part B for time, cap 9:00
  12 kettlebell swing @ 24/16 kg
  20 cal row or ski

scaling light
  kettlebell swing -> bag swing
  part B: kettlebell swing -> 8 bag swing
  3 rounds -> 2 rounds
  cap 9:00 -> cap 7:00
  rest 2:00 -> rest 1:30
  rest 1:00 -> nothing
  400 m row -> nothing
  row -> ski
  @ 24/16 kg -> @ 16/12 kg
  burpee -> squat jump
`))
	env, _ := NewEnv(nil, nil)
	p := Resolve(f, env)
	require.Len(t, p.Sessions, 1)
	require.Len(t, p.Sessions[0].Versions, 1)
	got := map[string][]string{}
	for _, s := range p.Sessions[0].Versions[0].Swaps {
		got[s.At.Text()] = nil
		for _, c := range s.Changes {
			got[s.At.Text()] = append(got[s.At.Text()], c.Text())
		}
	}
	const swing = "12 kettlebell swing @ 24/16 kg"
	assert.Equal(t, map[string][]string{
		"kettlebell swing -> bag swing":           {swing},
		"part B: kettlebell swing -> 8 bag swing": {swing},
		"3 rounds -> 2 rounds":                    {"part A 3 rounds"},
		"cap 9:00 -> cap 7:00":                    {"part B for time, cap 9:00"},
		"rest 2:00 -> rest 1:30":                  {"4x5 front squat, rest 2:00"},
		"rest 1:00 -> nothing":                    {"rest 1:00"},
		"400 m row -> nothing":                    {"400 m row"},
		"row -> ski":                              {"row"},
		"@ 24/16 kg -> @ 16/12 kg":                {swing, swing},
		"burpee -> squat jump":                    nil,
	}, got)
}
