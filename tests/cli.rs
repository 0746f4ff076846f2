//! The command, run as a director or a program runs it: what it prints, what it writes, how it ends.

#[path = "cli/assigning.rs"]
mod assigning;
#[path = "cli/bench.rs"]
mod bench;
#[path = "cli/buying.rs"]
mod buying;
#[path = "cli/choosing.rs"]
mod choosing;
#[path = "cli/comparing.rs"]
mod comparing;
#[path = "cli/finding.rs"]
mod finding;
#[path = "cli/forms.rs"]
mod forms;
#[path = "cli/grading.rs"]
mod grading;
#[path = "cli/keeping.rs"]
mod keeping;
#[path = "cli/known.rs"]
mod known;
#[path = "cli/mending.rs"]
mod mending;
#[path = "cli/merge_requests.rs"]
mod merge_requests;
#[path = "cli/merging.rs"]
mod merging;
#[path = "cli/printing.rs"]
mod printing;
#[path = "cli/reading.rs"]
mod reading;
#[path = "cli/reasons.rs"]
mod reasons;
#[path = "cli/recopying.rs"]
mod recopying;
#[path = "cli/seasons.rs"]
mod seasons;
#[path = "cli/starting.rs"]
mod starting;
#[path = "cli/teaching.rs"]
mod teaching;
#[path = "cli/versions.rs"]
mod versions;
#[path = "cli/words.rs"]
mod words;
#[path = "cli/year.rs"]
mod year;
