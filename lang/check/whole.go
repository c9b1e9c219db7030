package check

import (
	"stint.example/stint/lang/model"
)

// whole says whether a session is planned as a whole hour: it or its house says how long it
// lasts. Of a fragment, nothing is asked but what stands there.
func (p *pass) whole(s *model.Session) bool { return s.Length != nil || p.Env.House.Length != nil }
