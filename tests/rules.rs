//! Every rule's manual page is run: its examples draw exactly the finding they say, where they say, or none.

#[path = "rules/band.rs"]
mod band;
#[path = "rules/figures.rs"]
mod figures;
#[path = "rules/keys_and_time.rs"]
mod keys_and_time;
#[path = "rules/looks.rs"]
mod looks;
#[path = "rules/more.rs"]
mod more;
#[path = "rules/notation_and_names.rs"]
mod notation_and_names;
#[path = "rules/one_fault.rs"]
mod one_fault;
#[path = "rules/pages.rs"]
mod pages;
#[path = "rules/repairs.rs"]
mod repairs;
#[path = "rules/who_is_there.rs"]
mod who_is_there;
