package workspace

import (
	"hash/maphash"
	"iter"
	"slices"

	"stint.example/stint/lang/refs"
)

// Uses are the references to a thing in the workspace, its declarations among them, by file
// and place.
func (s *Snapshot) Uses(id refs.ID) iter.Seq2[*File, refs.Ref] {
	return func(yield func(*File, refs.Ref) bool) {
		for _, f := range s.FilesNaming(id) {
			for _, r := range f.Refs() {
				if r.ID == id && !yield(f, r) {
					return
				}
			}
		}
	}
}

// FilesNaming are the files with a reference to a thing, by path. It compares hashes, which is
// far cheaper than to resolve the references themselves; a collision adds a file too many.
func (s *Snapshot) FilesNaming(id refs.ID) []*File {
	const batch = 64 // files at once: mostly their hashes are known, and it is soon done
	parallelFor((len(s.Files)+batch-1)/batch, func(i int) {
		for _, f := range s.Files[i*batch : min(i*batch+batch, len(s.Files))] {
			f.symbols()
		}
	})
	h := hashID(id)
	var out []*File
	for _, f := range s.Files {
		if _, has := slices.BinarySearch(f.symbols(), h); has {
			out = append(out, f)
		}
	}
	return out
}

// hashID tells things apart, except where two collide.
func hashID(id refs.ID) uint64 { return maphash.Comparable(hashSeed, id) }

var hashSeed = maphash.MakeSeed()

// symbolHashes are the hashes of the things that references lead to, sorted. Most files have no
// reference to a thing that is searched for, and the hashes say so fast.
func symbolHashes(rs []refs.Ref) []uint64 {
	out := make([]uint64, len(rs))
	for i, r := range rs {
		out[i] = hashID(r.ID)
	}
	slices.Sort(out)
	return slices.Clip(slices.Compact(out))
}
