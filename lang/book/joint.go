package book

import "slices"

// A Joint is one, or the many of the spine, that a movement moves.
type Joint string

// The joints.
const (
	Ankle    Joint = "ankle"
	Knee     Joint = "knee"
	Hip      Joint = "hip"
	Spine    Joint = "spine"
	Shoulder Joint = "shoulder"
	Elbow    Joint = "elbow"
	Wrist    Joint = "wrist"
)

// Joints are all of them, from the ground up and out along the arm.
var Joints = []Joint{Ankle, Knee, Hip, Spine, Shoulder, Elbow, Wrist}

// jointsOf are the joints that a pattern works: those that its effort moves, and those that its
// muscles hold against the load. It is standard anatomy: a squat and a lunge extend the hip and
// the knee over a bending ankle; a hinge extends the hip below a back that is held, the knee
// doing little; presses and pulls move the shoulder and the elbow; a carry is held by the
// shoulders, the trunk and the side of the hip; a jump extends ankle, knee and hip. Rowing adds
// the back and the arms to the legs, skiing and swimming are of trunk and arms, and who crawls
// leans on a bent wrist. Mobility is of no joint by itself: its movements say which.
var jointsOf = map[Pattern][]Joint{
	Squat: {Ankle, Knee, Hip}, Hinge: {Hip, Spine}, Lunge: {Ankle, Knee, Hip},
	HorizontalPush: {Shoulder, Elbow}, VerticalPush: {Shoulder, Elbow},
	HorizontalPull: {Shoulder, Elbow}, VerticalPull: {Shoulder, Elbow},
	Carry: {Hip, Spine, Shoulder}, Trunk: {Spine}, Rotation: {Spine}, Jump: {Ankle, Knee, Hip},
	Run: {Ankle, Knee, Hip}, Row: {Knee, Hip, Spine, Shoulder, Elbow}, Bike: {Ankle, Knee, Hip},
	Ski: {Hip, Spine, Shoulder, Elbow}, Swim: {Hip, Spine, Shoulder, Elbow},
	Crawl: {Knee, Hip, Shoulder, Wrist},
}

// Joints are those that the pattern works.
func (p Pattern) Joints() []Joint { return slices.Clone(jointsOf[p]) }

// Moves are the joints that a movement moves or loads, in the order of Joints: those that it
// says itself, and those of its patterns.
func (m *Movement) Moves() []Joint {
	var out []Joint
	for _, j := range Joints {
		if slices.Contains(m.Joints, j) || slices.ContainsFunc(m.Trains, func(p Pattern) bool { return slices.Contains(jointsOf[p], j) }) {
			out = append(out, j)
		}
	}
	return out
}
