//! Sentences on the terminal, set in lines.

use std::io::{self, Write};

use super::color::Paint;
use super::wrap;
use crate::text::said::Answer;

/// A paragraph.
pub fn say(words: &str, out: &mut dyn Write) -> io::Result<()> {
    for line in wrap::lines(&wrap::plain(words), wrap::width(), 0) {
        writeln!(out, "{line}")?;
    }
    Ok(())
}

/// A line with what belongs to it indented.
pub fn item(words: &str, out: &mut dyn Write) -> io::Result<()> {
    let room = wrap::width().saturating_sub(4);
    for (at, line) in wrap::lines(&wrap::plain(words), room, 0).iter().enumerate() {
        writeln!(out, "{}{line}", if at == 0 { "  " } else { "    " })?;
    }
    Ok(())
}

/// A whole answer.
pub fn tell(answer: &Answer, paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    for line in answer.lines(wrap::width()) {
        match line.is_head {
            true => writeln!(out, "{}", paint.bold(&line.words))?,
            false => writeln!(out, "{}", line.words)?,
        }
    }
    Ok(())
}
