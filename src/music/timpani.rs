//! timpani
