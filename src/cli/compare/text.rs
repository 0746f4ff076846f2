//! What changed, to read.

use std::io::{self, Write};

use super::{Answer, finding, layout, lead, summary};
use crate::cli::color::Paint;
use crate::cli::wrap::{self, columns, plain};
use crate::comparing::{Became, sentences};

/// Columns before what is said of a card.
const INDENT: usize = 2;

/// Tells it.
pub fn tell(answer: &Answer, width: usize, paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    for card in answer.by_card() {
        let name = plain(card.name());
        let file = plain(&card.card.file);
        let used = columns(&name).saturating_add(columns(&file));
        match width.checked_sub(used).filter(|between| *between >= 2) {
            Some(between) => writeln!(out, "{}{:between$}{}", paint.bold(&name), "", paint.quiet(&file))?,
            None => writeln!(out, "{}\n{}", paint.bold(&name), paint.quiet(&file))?,
        }
        writeln!(out, "{}", paint.margin(&"─".repeat(width)))?;
        let mut say = |words: &str, first: usize| -> io::Result<()> {
            let set = wrap::lines(&plain(words), width.saturating_sub(INDENT + 2), 0);
            for (at, line) in set.iter().enumerate() {
                let indent = if at == 0 { first } else { INDENT + 2 };
                writeln!(out, "{:indent$}{line}", "")?;
            }
            Ok(())
        };
        for words in card.itself() {
            say(&words, INDENT)?;
        }
        if let Some(change) = card.change {
            for words in sentences(&change.changes) {
                say(&words, INDENT)?;
            }
        }
        for news in &card.news {
            let told = &news.told;
            say(
                &format!(
                    "{} ({}, {}): {}",
                    lead(news),
                    told.phrase,
                    told.severity,
                    finding(news)
                ),
                INDENT,
            )?;
            if news.became == Became::Added && !told.saying.todo.is_empty() {
                say(&told.saying.todo, INDENT + 2)?;
            }
        }
        writeln!(out)?;
    }
    for words in layout(&answer.compared).into_iter().chain([summary(answer)]) {
        for line in wrap::lines(&plain(&words), width, 0) {
            writeln!(out, "{line}")?;
        }
    }
    Ok(())
}
