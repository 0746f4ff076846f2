//! The name of a finding that there is none of.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::findings::slips::{self, Near};
use crate::findings::{RULES, find, renamed::today};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A `stet`, or a line of the handbook that says how strongly findings are shown, whose phrase names no
    /// finding. A phrase that the finding went by before still holds; a hint offers the new one.
    ///
    /// # Why it matters
    ///
    /// It lets nothing stand and changes nothing, and the finding you meant goes on being shown.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// handbook
    ///   stet            said twize because the cards are old
    ///                   ^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// handbook
    ///   hint            open questoin
    ///                   ^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// handbook
    ///   hint            open question, title not found
    ///   stet            said twice
    /// ```
    ///
    /// # What to do
    ///
    /// Copy the phrase from the finding itself.
    PhraseNotKnown: "phrase not known", Names, Warning, reads Card, looks at Any
}

/// A phrase, and the known one it may have been meant for.
pub struct Phrase {
    place: &'static str,
    words: String,
    near: Option<Near>,
    /// The phrase that the rule goes by now, where this is the one it went by before.
    renamed: Option<&'static str>,
}

impl Notice for PhraseNotKnown {
    type What = Phrase;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Phrase>> {
        let stets = card.facts.stets().iter();
        let stets = stets.map(|said| ("stet", said.stet.phrase.as_str(), phrase_span(card, said.span)));
        let wishes = card
            .entry
            .handbook()
            .into_iter()
            .flat_map(|handbook| &handbook.severities);
        let wishes = wishes.map(|wish| (wish.word, wish.phrase.as_str(), wish.span));
        stets
            .chain(wishes)
            .filter_map(|(place, phrase, span)| {
                let words = phrase.to_owned();
                let what = match find(phrase) {
                    Some(rule) if rule.phrase != phrase && today(phrase) == rule.phrase => Phrase {
                        place,
                        words,
                        near: None,
                        renamed: Some(rule.phrase),
                    },
                    Some(_) => return None,
                    None => Phrase {
                        place,
                        words,
                        near: slips::near(phrase, RULES.iter().map(|rule| rule.phrase)),
                        renamed: None,
                    },
                };
                Some(Noticed::judged(span, what.renamed.is_none(), what))
            })
            .collect()
    }

    fn say(what: &Phrase, _card: &Card<'_>) -> Saying {
        if let Some(new) = what.renamed {
            return Saying {
                place: what.place.to_owned(),
                says: format!("\"{}\" is called \"{new}\" now.", what.words),
                why: "The old name still works; the finding itself is shown under the new one.".to_owned(),
                todo: "Write the new name.".to_owned(),
            };
        }
        let near = match &what.near {
            Some(near) => format!(" Perhaps \"{}\"?", near.word),
            None => String::new(),
        };
        Saying {
            place: what.place.to_owned(),
            says: format!("No finding is called \"{}\".{near}", what.words),
            why: "The line changes nothing, and the finding you meant goes on being shown.".to_owned(),
            todo: "Copy the phrase from the finding itself.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Phrase>, _card: &Card<'_>) -> Vec<Repair> {
        if let Some(new) = noticed.what.renamed {
            let edits = vec![Edit::replace(noticed.span, new)];
            return vec![Repair::safe(format!("Write \"{new}\""), edits)];
        }
        let near = noticed.what.near.iter();
        near.map(|near| Repair {
            title: format!("Write \"{}\"", near.word),
            safe: near.certain,
            edits: vec![Edit::replace(noticed.span, near.word.clone())],
        })
        .collect()
    }
}

/// Where the phrase of a stet stands: behind the word `stet` of a row, before its reason.
fn phrase_span(card: &Card<'_>, span: Span) -> Span {
    let text = card.words(span);
    let lead = match text.strip_prefix("stet") {
        Some(rest) if rest.starts_with([' ', '\t']) => text.len() - rest.trim_start().len(),
        _ => 0,
    };
    let rest = text.get(lead..).unwrap_or("");
    let end = rest.match_indices("because").map(|(at, _)| at).find(|at| {
        let before = rest.get(..*at).unwrap_or("");
        before.is_empty() || before.ends_with([' ', '\t', ',', '\n'])
    });
    let phrase = rest.get(..end.unwrap_or(rest.len())).unwrap_or(rest);
    let phrase = phrase.trim_end().trim_end_matches(',').trim_end();
    Span::long(span.start + lead as u32, phrase.len() as u32)
}
