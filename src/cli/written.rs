//! Edits of several files of a catalogue written: all of them, or none.

use super::room::Room;
use crate::disk;
use crate::text::{Edit, apply};

/// Writes edits, by the numbers of the files, and tells the files that were written. Every file must still be what
/// was read; where one cannot be written, those before it are given back what they held.
///
/// # Errors
/// In words, why nothing was written.
pub fn all(room: &Room, files: &[(usize, Vec<Edit>)]) -> Result<Vec<String>, String> {
    // While a part of the catalog cannot be read, nobody knows what else stands there.
    if !room.problems.is_empty() {
        return Err("Nothing was written, because not everything in the catalog could be read.".to_owned());
    }
    let mut ready = Vec::new();
    for (file, edits) in files {
        let sheet = room.sheets.get(*file);
        let Some((sheet, read)) = sheet.and_then(|sheet| Some((sheet, sheet.read.as_ref()?))) else {
            return Err(
                "Nothing was written: the demo is part of the program. \"levare start --demo\" writes it into a folder."
                    .to_owned(),
            );
        };
        let Ok(text) = apply(&sheet.text, edits) else {
            return Err("Nothing was written.".to_owned());
        };
        ready.push((sheet, read, read.bytes(&read.text), read.bytes(&text)));
    }
    for (at, (_, read, before, after)) in ready.iter().enumerate() {
        let Err(problem) = disk::write_if_unchanged(&read.path, before, after) else {
            continue;
        };
        for (_, read, before, after) in ready.iter().take(at) {
            if disk::write_if_unchanged(&read.path, after, before).is_err() {
                return Err(format!(
                    "{problem} Some of the other cards were written already: look at \"{}\".",
                    read.path.display()
                ));
            }
        }
        return Err(format!("{problem} Nothing was written."));
    }
    Ok(ready.iter().map(|(sheet, ..)| sheet.shown.clone()).collect())
}
