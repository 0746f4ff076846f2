//! Every rule's manual page is run: its examples draw exactly the finding they say, where they say, or none.

#[path = "rules/keys_and_time.rs"]
mod keys_and_time;
#[path = "rules/pages.rs"]
mod pages;
