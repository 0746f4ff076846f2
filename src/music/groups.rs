//! groups
