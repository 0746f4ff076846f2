//! Sentences on the terminal, set in lines.

use std::io::{self, Write};

use super::wrap;

/// A paragraph.
pub fn say(words: &str, out: &mut dyn Write) -> io::Result<()> {
    for line in wrap::lines(&wrap::plain(words), wrap::width(), 0) {
        writeln!(out, "{line}")?;
    }
    Ok(())
}

/// An empty line.
pub fn gap(out: &mut dyn Write) -> io::Result<()> {
    writeln!(out)
}

/// A line with what belongs to it indented.
pub fn item(words: &str, out: &mut dyn Write) -> io::Result<()> {
    let room = wrap::width().saturating_sub(4);
    for (at, line) in wrap::lines(&wrap::plain(words), room, 0).iter().enumerate() {
        writeln!(out, "{}{line}", if at == 0 { "  " } else { "    " })?;
    }
    Ok(())
}
