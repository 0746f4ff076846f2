//! What changed, as Markdown for a review.

use std::io::{self, Write};

use super::{Answer, finding, layout, lead, summary};
use crate::assist::markdown;
use crate::comparing::sentences;

/// Tells it.
pub fn tell(answer: &Answer, out: &mut dyn Write) -> io::Result<()> {
    for card in answer.by_card() {
        writeln!(out, "### {}\n", markdown::words(card.name()))?;
        writeln!(out, "{}\n", markdown::words(&card.card.file))?;
        let changes = card
            .change
            .map(|change| sentences(&change.changes))
            .unwrap_or_default();
        for words in card.itself().into_iter().chain(changes) {
            writeln!(out, "- {}", markdown::words(&words))?;
        }
        for news in &card.news {
            writeln!(
                out,
                "- **{}** ({}, {}): {}",
                lead(news),
                markdown::words(news.told.phrase),
                news.told.severity,
                markdown::words(&finding(news))
            )?;
        }
        writeln!(out)?;
    }
    for words in layout(&answer.compared) {
        writeln!(out, "{}\n", markdown::words(&words))?;
    }
    writeln!(out, "{}", markdown::words(&summary(answer)))
}
