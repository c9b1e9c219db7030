package lsp

import (
	"context"
	"encoding/json"
)

// resolveInDocument makes a method that fills in something that an answer left out: the data of P
// names the document that it is of. Where that is no longer there, P comes back as it is.
func resolveInDocument[P any](f func(*view, P) (*P, error)) handler {
	return func(s *Server, ctx context.Context, raw []byte) (func() (any, error), error) {
		var p P
		var named struct {
			Data struct {
				URI string `json:"uri"`
			} `json:"data"`
		}
		if err := decode(raw, &p); err != nil {
			return nil, invalid(err)
		}
		if err := json.Unmarshal(raw, &named); err != nil {
			return nil, invalid(err)
		}
		look := s.documentView(ctx, named.Data.URI, false)
		return func() (any, error) {
			v, err := look()
			if err != nil {
				return nil, err
			}
			if v.file == nil {
				return nullable(&p, nil)
			}
			return nullable(f(v, p))
		}, nil
	}
}
