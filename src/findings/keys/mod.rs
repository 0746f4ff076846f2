//! Keys and key signatures.

pub mod signature_against_center;
