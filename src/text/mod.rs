//! What a file is: positions, line index, edits.
