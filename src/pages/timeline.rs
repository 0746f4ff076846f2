//! A piece as its players count it.
