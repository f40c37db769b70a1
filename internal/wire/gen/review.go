package main

import "hilum/internal/wire"

func init() {
	roots = append(roots, wire.Conflict{}, wire.Settle{}, wire.Correction{}, wire.Photo{},
		wire.Pass{}, wire.Assignment{})
}
