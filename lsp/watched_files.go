package lsp

import (
	"context"

	"go.lsp.dev/protocol"
	"go.lsp.dev/uri"

	"stint.example/stint/lang/workspace"
)

// reloadThreshold is from how many changed files on a workspace is loaded again as a whole.
const reloadThreshold = 200

func (s *Server) didChangeWatchedFiles(ctx context.Context, raw []byte) error {
	var p protocol.DidChangeWatchedFilesParams
	if err := decode(raw, &p); err != nil {
		return err
	}
	s.changedOnDisk(ctx, p.Changes)
	return nil
}

// changedOnDisk takes over what has changed on disk.
func (s *Server) changedOnDisk(ctx context.Context, changes []protocol.FileEvent) {
	s.mu.Lock()
	defer s.mu.Unlock()
	changed := map[*workspaceFolder][]string{}
	houses := false
	for _, c := range changes {
		abs, ok := filePath(c.URI)
		if !ok {
			continue
		}
		f := s.folderWith(abs)
		deleted := c.Type == protocol.FileChangeTypeDeleted
		if isHouseFile(abs) && (deleted || c.Type == protocol.FileChangeTypeCreated) {
			houses = true
		}
		if f == nil || !isStintFile(abs) && !deleted {
			continue
		}
		name, _ := f.name(abs)
		switch {
		case deleted && !isStintFile(abs):
			// A folder, perhaps. One with a house in it is a workspace's own matter.
			houses = houses || s.holdsRoot(abs)
			if below := f.filesBelow(name); len(below) > 1 {
				changed[f] = append(changed[f], below...)
			}
		default:
			changed[f] = append(changed[f], name)
		}
	}
	for f, names := range changed {
		if len(names) > reloadThreshold {
			s.reloadFolder(ctx, f)
		} else {
			s.reloadFiles(f, names...)
		}
	}
	if houses {
		s.spawn(func() { s.discover(ctx) })
	}
}

// holdsRoot says whether a workspace is at a path or below it.
func (s *Server) holdsRoot(abs string) bool {
	for _, f := range s.folders {
		if within(abs, f.root.Dir) {
			return true
		}
	}
	return false
}

// registerWatchers asks the client to watch the files in the notation. Deleted files of any name are
// asked for too: of a folder that goes, most clients say no more than that.
func (s *Server) registerWatchers(ctx context.Context) {
	if !s.clientCapabilities().watch {
		return
	}
	s.register(ctx, "stint/watch", protocol.MethodWorkspaceDidChangeWatchedFiles,
		&protocol.DidChangeWatchedFilesRegistrationOptions{
			Watchers: []protocol.FileSystemWatcher{
				{GlobPattern: protocol.Pattern("**/*" + workspace.Extension)},
				{GlobPattern: protocol.Pattern("**/*"), Kind: protocol.WatchKindDelete},
			},
		})
}

// registerOutsideWatchers asks the client to watch the workspaces that are outside its folders. It
// is called with the lock held.
func (s *Server) registerOutsideWatchers(ctx context.Context) {
	if !s.clientCapabilities().watch || !s.clientCapabilities().watchElsewhere {
		return
	}
	for _, f := range s.folders {
		inside := f.root.Dir == "" || f.watched
		for _, dir := range s.clientFolders {
			inside = inside || within(dir, f.root.Dir)
		}
		if inside {
			continue
		}
		f.watched = true
		base := protocol.URI(uri.File(f.root.Dir))
		s.spawn(func() {
			s.register(ctx, "stint/watch/"+f.root.Dir, protocol.MethodWorkspaceDidChangeWatchedFiles,
				&protocol.DidChangeWatchedFilesRegistrationOptions{
					Watchers: []protocol.FileSystemWatcher{{GlobPattern: &protocol.RelativePattern{BaseURI: base,
						Pattern: "**/*" + workspace.Extension}}},
				})
		})
	}
}

// register asks the client to tell the server of something from now on.
func (s *Server) register(ctx context.Context, id, method string, options any) {
	raw, err := protocol.Marshal(options)
	if err == nil {
		err = s.client.RegisterCapability(ctx, &protocol.RegistrationParams{Registrations: []protocol.Registration{
			{ID: id, Method: method, RegisterOptions: raw},
		}})
	}
	if err != nil && ctx.Err() == nil {
		s.log.warnOnce("the client does not take %s: %v", method, err)
	}
}
