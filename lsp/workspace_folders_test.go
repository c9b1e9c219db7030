package lsp

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"
)

const (
	house     = "stint 1\n\nhouse Quayside Hall\n  allow length-missing > Only pieces are kept here.\n"
	tideSwing = "stint 1\n\nmovement tide swing\n  trains hinge\n"
	reef      = "stint 1\n\nsession Reef\n\npart A\n  10 tide swing\n"
)

// saw tells the server what became of files: a name, and "+" for one that is new, "~" for one
// that is changed, "-" for one that is gone.
func (e *editor) saw(events ...string) {
	e.t.Helper()
	p := &protocol.DidChangeWatchedFilesParams{}
	for _, ev := range events {
		kind := map[byte]protocol.FileChangeType{
			'+': protocol.FileChangeTypeCreated, '~': protocol.FileChangeTypeChanged, '-': protocol.FileChangeTypeDeleted,
		}[ev[0]]
		p.Changes = append(p.Changes, protocol.FileEvent{URI: e.uri(ev[1:]), Type: kind})
	}
	e.notify(protocol.MethodWorkspaceDidChangeWatchedFiles, p)
}

// put writes a file of the open folder.
func (e *editor) put(name, text string) {
	e.t.Helper()
	write(e.t, filepath.Join(e.dir, filepath.FromSlash(name)), text)
}

// remove removes a file or folder of the open folder.
func (e *editor) remove(name string) {
	e.t.Helper()
	require.NoError(e.t, os.RemoveAll(filepath.Join(e.dir, filepath.FromSlash(name))))
}

// roots are the folders of the server's workspaces, from the open folder.
func (e *editor) roots() []string {
	e.srv.mu.Lock()
	defer e.srv.mu.Unlock()
	var out []string
	for _, f := range e.srv.folders {
		rel, err := filepath.Rel(e.dir, f.root.Dir)
		require.NoError(e.t, err)
		out = append(out, filepath.ToSlash(rel))
	}
	slices.Sort(out)
	return out
}

func TestFilesOnDiskAreFollowed(t *testing.T) {
	e := start(t, map[string]string{"house.stint": house, "reef.stint": reef})
	e.rules("reef.stint", "movement-unknown")
	e.put("book.stint", tideSwing)
	e.saw("+book.stint")
	e.rules("reef.stint")
	e.put("book.stint", strings.Replace(tideSwing, "tide", "ebb", 1))
	e.saw("~book.stint")
	e.rules("reef.stint", "movement-unknown")
	e.put("more/book.stint", tideSwing)
	e.saw("+more/book.stint")
	e.rules("reef.stint")
	e.remove("more")
	e.saw("-more") // of a folder that goes, clients say no more
	e.rules("reef.stint", "movement-unknown")
	e.remove("reef.stint")
	e.saw("-reef.stint")
	e.rules("reef.stint")

	e.put(".git/reef.stint", reef)
	e.put("notes.txt", reef)
	e.put("reef2.stint", reef)
	e.saw("+.git/reef.stint", "+notes.txt", "+reef2.stint")
	e.rules("reef2.stint", "file-name", "movement-unknown")
	e.mu.Lock()
	defer e.mu.Unlock()
	assert.NotContains(t, e.sent, e.uri(".git/reef.stint"))
}

func TestWhatIsOpenCountsBeforeWhatIsOnDisk(t *testing.T) {
	e := start(t, map[string]string{"house.stint": house, "reef.stint": reef})
	e.open("reef.stint", strings.Replace(reef, "tide swing", "burpee", 1))
	e.rules("reef.stint")
	e.put("reef.stint", "nonsense\n")
	e.saw("~reef.stint")
	e.remove("reef.stint")
	e.saw("-reef.stint")
	e.settle()
	_, f := e.snapshot("reef.stint")
	assert.Contains(t, f.Src.Text, "burpee")
	e.close("reef.stint")
	e.settle()
	_, f = e.snapshot("reef.stint")
	assert.Nil(t, f, "there is no such file any more")
}

func TestThousandsOfFilesAtOnce(t *testing.T) {
	e := start(t, map[string]string{"house.stint": house, "reef.stint": reef})
	e.rules("reef.stint", "movement-unknown")
	events := []string{}
	for i := range 2 * reloadThreshold {
		name := fmt.Sprintf("s/s%d.stint", i)
		e.put(name, fmt.Sprintf("stint 1\n\nsession S %d\n", i))
		events = append(events, "+"+name)
	}
	e.put("book.stint", tideSwing)
	e.saw(append(events, "+book.stint")...)
	e.rules("reef.stint")
	snap, _ := e.snapshot("reef.stint")
	assert.Len(t, snap.Files, 2*reloadThreshold+3)
}

func TestHousesWithinAFolder(t *testing.T) {
	e := start(t, map[string]string{
		"north/house.stint": house, "north/book.stint": tideSwing, "north/reef.stint": reef,
		"south/house.stint": strings.Replace(house, "Quayside", "Southern", 1), "south/reef.stint": reef,
		"reef.stint": reef,
	})
	e.rules("south/reef.stint", "movement-unknown")
	e.rules("reef.stint", "length-missing", "movement-unknown")
	e.open("north/reef.stint")
	e.rules("north/reef.stint")
	assert.Equal(t, []string{".", "north", "south"}, e.roots())

	// A house goes: its files are the outer workspace's.
	e.remove("north/house.stint")
	e.saw("-north/house.stint")
	e.wait("one workspace fewer", func() bool { return slices.Equal(e.roots(), []string{".", "south"}) })
	e.rules("reef.stint", "name-taken")
	e.replace("north/reef.stint", "10 tide swing", "10 ebb swing")
	e.rules("north/reef.stint", "length-missing", "movement-unknown")

	// And comes again.
	e.put("north/house.stint", house)
	e.saw("+north/house.stint")
	e.rules("north/reef.stint", "movement-unknown")
	e.rules("reef.stint", "length-missing", "movement-unknown")
	assert.Equal(t, []string{".", "north", "south"}, e.roots())
}

func TestAFolderInsideAWorkspace(t *testing.T) {
	dir := t.TempDir()
	dir, err := filepath.EvalSymlinks(dir)
	require.NoError(t, err)
	write(t, filepath.Join(dir, "house.stint"), house)
	write(t, filepath.Join(dir, "book.stint"), tideSwing)
	write(t, filepath.Join(dir, "sessions", "reef.stint"), reef)
	e := startIn(t, filepath.Join(dir, "sessions"))
	e.open("reef.stint")
	e.rules("reef.stint")
	assert.Equal(t, []string{".."}, e.roots())
}

func TestFoldersComeAndGo(t *testing.T) {
	e := start(t, map[string]string{"house.stint": house})
	other, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	write(t, filepath.Join(other, "house.stint"), house)
	write(t, filepath.Join(other, "reef.stint"), reef)
	change := func(p protocol.WorkspaceFoldersChangeEvent) {
		e.notify(protocol.MethodWorkspaceDidChangeWorkspaceFolders, &protocol.DidChangeWorkspaceFoldersParams{Event: p})
	}
	folder := []protocol.WorkspaceFolder{{URI: uri.File(other), Name: "other"}}
	there := string(uri.File(filepath.Join(other, "reef.stint")))
	change(protocol.WorkspaceFoldersChangeEvent{Added: folder})
	e.rules(there, "movement-unknown")
	change(protocol.WorkspaceFoldersChangeEvent{Removed: folder})
	e.rules(there)
	change(protocol.WorkspaceFoldersChangeEvent{Added: folder})
	e.rules(there, "movement-unknown")
	e.open(there, reef)
	e.rules(there, "movement-unknown")
	change(protocol.WorkspaceFoldersChangeEvent{Removed: folder})
	e.replace(there, "10 tide swing", "10 burpee")
	e.rules(there) // a document that is open stays checked
}

func TestAFileThatCannotBeReadIsSaidOnce(t *testing.T) {
	e := start(t, map[string]string{"house.stint": house, "reef.stint": reef})
	e.rules("reef.stint", "movement-unknown")
	require.NoError(t, os.Mkdir(filepath.Join(e.dir, "odd.stint"), 0o755))
	for range 5 {
		e.saw("+odd.stint")
	}
	e.put("book.stint", tideSwing)
	e.saw("+book.stint")
	e.rules("reef.stint")
	e.mu.Lock()
	defer e.mu.Unlock()
	said := slices.DeleteFunc(slices.Clone(e.logged), func(l string) bool { return !strings.Contains(l, "odd.stint") })
	assert.Len(t, said, 1, "%v", e.logged)
}

func TestTheHomeFolderIsNotSearched(t *testing.T) {
	home, err := filepath.EvalSymlinks(t.TempDir())
	require.NoError(t, err)
	t.Setenv("HOME", home)
	t.Setenv("USERPROFILE", home)
	write(t, filepath.Join(home, "deep", "down", "house.stint"), house)
	write(t, filepath.Join(home, "deep", "down", "wrong.stint"), reef)
	write(t, filepath.Join(home, "book.stint"), tideSwing)
	write(t, filepath.Join(home, "reef.stint"), reef)
	e := startIn(t, home)
	e.open("reef.stint")
	e.rules("reef.stint", "length-missing") // what is beside it is read
	e.settle()
	assert.Equal(t, []string{"."}, e.roots())
	e.wait("a word on it", func() bool { return strings.Contains(strings.Join(e.logged, "\n"), "too much to search") })
	e.open("deep/down/wrong.stint")
	e.rules("deep/down/wrong.stint", "file-name", "movement-unknown")
}

func TestADocumentThatIsNoFileYet(t *testing.T) {
	e := start(t, map[string]string{"house.stint": house, "book.stint": tideSwing})
	e.open("new/folder/reef.stint", reef)
	e.rules("new/folder/reef.stint")
	e.replace("new/folder/reef.stint", "tide swing", "ebb swing")
	e.rules("new/folder/reef.stint", "movement-unknown")
	e.close("new/folder/reef.stint")
	e.rules("new/folder/reef.stint")
}

func TestAHouseThatIsSaved(t *testing.T) {
	e := start(t, map[string]string{"reef.stint": reef, "in/book.stint": tideSwing, "in/reef.stint": reef})
	e.open("in/reef.stint")
	e.rules("in/reef.stint", "length-missing")
	e.rules("reef.stint", "name-taken")
	e.open("in/house.stint", house)
	e.put("in/house.stint", house)
	e.notify(protocol.MethodTextDocumentDidSave,
		&protocol.DidSaveTextDocumentParams{TextDocument: e.doc("in/house.stint")})
	e.rules("in/reef.stint")
	e.rules("reef.stint", "length-missing", "movement-unknown")
}
