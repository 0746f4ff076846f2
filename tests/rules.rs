//! Every rule's manual page is run: its examples draw exactly the finding they say, where they say, or none.

#[path = "rules/pages.rs"]
mod pages;
