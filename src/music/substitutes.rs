//! substitutes
