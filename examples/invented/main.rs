//! Writes an invented catalogue of any size: `invented FOLDER PIECES [FILES [SEED]]`.
//!
//! The same numbers give the same bytes on every machine. 200 files and seed 1 when not said. With
//! `invented FOLDER grow THING COUNT` one card or one kind of thing grows instead; `invented grow` names them.

mod catalogue;
mod chance;
mod grow;
mod names;
mod piece;
mod school;

use std::io::{self, Write as _};
use std::path::Path;

fn main() -> io::Result<()> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let number = |index: usize, usual: u64| words.get(index).map_or(Some(usual), |word| word.parse().ok());
    let files = match words.iter().map(String::as_str).collect::<Vec<_>>().as_slice() {
        ["grow"] => {
            let names: Vec<&str> = grow::THINGS.iter().map(|thing| thing.name).collect();
            return writeln!(io::stdout(), "{}", names.join("\n"));
        }
        [_, "grow", name, _] => {
            let thing = grow::THINGS.iter().find(|thing| thing.name == *name);
            match (thing, number(3, 1)) {
                (Some(thing), Some(count)) => (thing.grow)(count as usize),
                _ => return Err(io::Error::other("no thing of that name, or no number")),
            }
        }
        [_, _, ..] => match (number(1, 0), number(2, 200), number(3, 1)) {
            (Some(pieces), Some(files), Some(seed)) => {
                catalogue::catalogue(seed, pieces as usize, files as usize)
            }
            _ => {
                return Err(io::Error::other(
                    "invented FOLDER PIECES [FILES [SEED]], all but the first numbers",
                ));
            }
        },
        _ => return Err(io::Error::other("invented FOLDER PIECES [FILES [SEED]]")),
    };
    let folder = Path::new(&words[0]);
    for (path, text) in files {
        let path = folder.join(path);
        if let Some(parent) = path.parent() {
            std::fs::create_dir_all(parent)?;
        }
        std::fs::write(path, text)?;
    }
    Ok(())
}
