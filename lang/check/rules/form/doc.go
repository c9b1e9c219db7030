// Package form has the rules about how files are kept: spelling, names of files, empty heads.
package form
