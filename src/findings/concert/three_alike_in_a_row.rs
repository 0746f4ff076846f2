//! Three pieces in a row of one sort.

use crate::catalogue::conditions::{Subject, slow_throughout};
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::sentences::joined;

use super::neighbors::{coming, threes};
use super::two_of_a_kind_in_a_row::{shared, styles};

rule! {
    /// Three pieces of a program in a row, played by the same band, that are all slow or all of one style. A
    /// program that is of one style as a whole was meant so. (Three: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// By the third one the audience is somewhere else, and so are the players in the back row.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Evening Air"
    ///   tempo           quarter = 60
    /// piece "Morning Air"
    ///   tempo           quarter = 72
    /// piece "Slow River, Low Sun"
    ///   tempo           quarter = 66
    /// piece "Drum Hill"
    ///   tempo           quarter = 132
    /// piece "Harbor Parade"
    ///   tempo           quarter = 120
    /// concert "Winter evening"
    ///   program
    ///     "Drum Hill"
    ///     "Evening Air"
    ///     "Morning Air"
    ///     "Slow River, Low Sun"
    ///     ^^^^^^^^^^^^^^^^^^^^^
    ///     "Harbor Parade"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Evening Air"
    ///   tempo           quarter = 60
    /// piece "Morning Air"
    ///   tempo           quarter = 72
    /// piece "Drum Hill"
    ///   style           march
    /// piece "Harbor Parade"
    ///   style           march
    /// piece "Ferry Street March"
    ///   style           march
    /// concert "Winter evening"
    ///   program
    ///     "Harbor Parade"
    ///     "Evening Air"
    ///     "Morning Air"
    ///     "Drum Hill"
    /// concert "An evening of marches"
    ///   program
    ///     "Drum Hill"
    ///     "Harbor Parade"
    ///     "Ferry Street March"
    /// ```
    ///
    /// # What to do
    ///
    /// Put something else between them, or let it stand.
    ThreeAlikeInARow: "three alike in a row", Concert, Hint, reads Catalogue, looks at Concert
}

/// The three titles, and what they are.
pub struct Alike {
    titles: Vec<String>,
    what: String,
}

impl Notice for ThreeAlikeInARow {
    type What = Alike;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Alike>> {
        let Some((_, rows)) = coming(card) else {
            return Vec::new();
        };
        let all: Vec<Option<Subject<'_>>> = rows.iter().map(|(_, subject)| *subject).collect();
        let mut told: Option<usize> = None;
        let mut found = Vec::new();
        for (at, three) in threes(&rows) {
            let subjects = three.map(|(_, subject)| subject);
            let Some(what) = alike(&subjects, &all) else {
                continue;
            };
            // A fourth one like these is the same thing once more.
            if told.is_none_or(|before| before + 1 < at) {
                let titles = three
                    .iter()
                    .map(|(listed, _)| format!("\"{}\"", listed.title.value.name));
                let what = Alike {
                    titles: titles.collect(),
                    what,
                };
                found.push(Noticed::new(three[2].0.title.span, what));
            }
            told = Some(at);
        }
        found
    }

    fn say(what: &Alike, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "{} follow each other and are all {}.",
                joined(&what.titles),
                what.what
            ),
            why: "By the third one the audience is somewhere else, and so are the players in the back row."
                .to_owned(),
            todo: "Put something else between them, or let it stand.".to_owned(),
        }
    }
}

/// What three pieces have in common, where no pair of them is told to be alike already.
fn alike(three: &[Subject<'_>; 3], program: &[Option<Subject<'_>>]) -> Option<String> {
    if three.iter().all(slow_throughout) {
        return Some("slow".to_owned());
    }
    let style = styles(&three[0])?;
    let same = |other: &Subject<'_>| styles(other).as_ref() == Some(&style);
    let meant = program.iter().all(|one| one.as_ref().is_some_and(same));
    let told = shared(&three[0], &three[1]).or_else(|| shared(&three[1], &three[2]));
    (three.iter().all(same) && !meant && told.is_none()).then(|| {
        let names: Vec<String> = style.into_iter().collect();
        format!("of one style ({})", names.join(", "))
    })
}
