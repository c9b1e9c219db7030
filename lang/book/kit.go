package book

// kitNames are other words for kit that the book's movements need, as boards have them.
var kitNames = []struct {
	name string
	also []string
}{
	{"bar stand", []string{"rack", "squat rack", "power rack", "squat stand"}},
	{"barbell", []string{"bb"}},
	{"box", []string{"plyo box", "jump box"}},
	{"cross trainer", []string{"elliptical"}},
	{"dip bars", []string{"parallel bars", "dip station"}},
	{"disc", []string{"plate", "bumper plate", "bumper", "weight plate"}},
	{"dumbbell", []string{"db"}},
	{"heavy rope", []string{"battle rope", "battling rope"}},
	{"kettlebell", []string{"kb"}},
	{"loaded bag", []string{"sandbag", "weight bag"}},
	{"medicine ball", []string{"med ball"}},
	{"pull-up bar", []string{"chin-up bar"}},
	{"resistance band", []string{"band", "elastic band"}},
	{"rings", []string{"ring", "gymnastic rings"}},
	{"rower", []string{"rowing machine"}},
	{"skipping rope", []string{"jump rope", "speed rope"}},
	{"stationary bike", []string{"exercise bike"}},
	{"trap bar", []string{"hex bar"}},
	{"tyre", []string{"tire"}},
	{"vest", []string{"weight vest", "weighted vest"}},
	{"wheel", []string{"ab wheel"}},
}

// kitLetters are how kit is written in short before a movement.
var kitLetters = map[string]string{"db": "dumbbell", "kb": "kettlebell", "bb": "barbell"}
