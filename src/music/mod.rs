//! The trade's arithmetic: pitch, key, meter, tempo, roadmap, instruments, ranges. Knows no notation.
