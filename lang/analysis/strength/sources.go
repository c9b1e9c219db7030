package strength

// Handbook is where the rests between sets and efforts come from, and from where on a load
// trains strength.
const Handbook = "Essentials of Strength Training and Conditioning, 4th ed. 2016"
