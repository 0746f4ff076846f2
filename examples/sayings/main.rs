//! Writes everything that is said to whoever uses the program, a line each with its place, to be read aloud.
//! `cargo run --example sayings | less`

#[path = "../../tests/tidy/sayings.rs"]
mod sayings;
#[path = "../../tests/tidy/source.rs"]
mod source;

pub use source::sources;

fn main() {
    for saying in sayings::all() {
        println!("{}\t{}", saying.place, saying.text);
    }
}
