//! Keys and key signatures.

mod disagreement;
pub mod key_not_taught;
mod sections;
pub mod signature_against_center;
pub mod signature_not_taught;
pub mod signature_too_flat;
pub mod signature_too_sharp;
mod taught;
