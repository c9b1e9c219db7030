package lsp

import (
	"testing"

	"github.com/stretchr/testify/assert"
	"github.com/stretchr/testify/require"
	"go.lsp.dev/protocol"
)

// hall is a small workspace.
var hall = map[string]string{
	"house.stint":            "stint 1\n\nhouse Quayside Hall\n  allow length-missing > Only pieces are kept here.\n",
	"sessions/bowline.stint": "stint 1\n\nsession Bowline\n\npart A\n  3 rounds\n    10 burpee\n\ntotal 30 burpee\n",
}

func TestASmallWorkspace(t *testing.T) {
	e := start(t, hall)
	e.open("sessions/bowline.stint")
	e.rules("sessions/bowline.stint")
	e.replace("sessions/bowline.stint", "total 30", "total 31")
	e.rules("sessions/bowline.stint", "total-wrong")
	ds := e.diagnostics("sessions/bowline.stint")
	assert.Equal(t, e.rangeOf("sessions/bowline.stint", "31 burpee"), ds[0].Range)

	e.change("sessions/bowline.stint", "stint 1\n\nsession   Bowline\n")
	var edits []protocol.TextEdit
	e.ask(protocol.MethodTextDocumentFormatting,
		&protocol.DocumentFormattingParams{TextDocument: e.doc("sessions/bowline.stint")}, &edits)
	require.Len(t, edits, 1)
	assert.Equal(t, "stint 1\n\nsession Bowline\n", e.apply("sessions/bowline.stint", edits))

	e.ask(protocol.MethodShutdown, nil, nil)
	e.notify(protocol.MethodExit, nil)
	assert.NoError(t, <-e.ended)
	e.ended <- nil
}
