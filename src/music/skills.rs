//! skills
