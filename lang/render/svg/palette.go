package svg

// The colours of every picture. Pictures are drawn in one dark ink on white and must survive
// a photocopier: things are told apart by their form (solid, hatched, striped, dotted, thin,
// thick, dashed), never by a colour alone.
const (
	Ink    = "#17324d" // bars and curves
	Text   = "#1a1a1a" // type, axes and marks
	Faint  = "#c9ced6" // grid lines
	Ground = "#fff"    // behind everything, and inside open shapes
)

// fontFamily is the type that pictures are set in: whatever the reader's machine has.
const fontFamily = "system-ui, -apple-system, 'Segoe UI', Roboto, 'Helvetica Neue', Arial, sans-serif"
