//! A program that begins or ends with a slow piece.

use crate::catalogue::conditions::slow_throughout;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

use super::neighbors::coming;

rule! {
    /// A program of three pieces or more by one band whose first or last piece is slow from beginning to end.
    /// (A lively piece at both ends: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// A cold band tunes worst on long slow notes, and an evening is remembered by how it ends.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Evening Air"
    ///   tempo           quarter = 60
    /// piece "Harbor Parade"
    ///   tempo           quarter = 116
    /// piece "Drum Hill"
    ///   tempo           quarter = 132
    /// concert "Winter evening"
    ///   program
    ///     "Evening Air"
    ///     ^^^^^^^^^^^^^
    ///     "Harbor Parade"
    ///     "Drum Hill"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Evening Air"
    ///   tempo           quarter = 60
    /// piece "Lanterns on the Weir"
    ///   tempo           quarter = 60, quarter = 144 at 33
    /// piece "Drum Hill"
    ///   tempo           quarter = 132
    /// concert "Winter evening"
    ///   program
    ///     "Lanterns on the Weir"
    ///     "Evening Air"
    ///     "Drum Hill"
    /// ```
    ///
    /// # What to do
    ///
    /// Change places with a lively piece, or let it stand.
    SlowOpenerOrCloser: "slow opener or closer", Concert, Hint, reads Catalogue, looks at Concert
}

/// A slow piece at one end.
pub struct Slow {
    title: String,
    opens: bool,
}

impl Notice for SlowOpenerOrCloser {
    type What = Slow;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Slow>> {
        let Some((_, rows)) = coming(card) else {
            return Vec::new();
        };
        let one_band = rows.windows(2).all(|two| match two {
            [(one, _), (other, _)] => one.bands == other.bands,
            _ => true,
        });
        if rows.len() < 3 || !one_band {
            return Vec::new();
        }
        [(rows.first(), true), (rows.last(), false)]
            .into_iter()
            .filter_map(|(row, opens)| {
                let (listed, subject) = row?;
                slow_throughout(subject.as_ref()?).then(|| {
                    let title = listed.title.value.name.clone();
                    Noticed::new(listed.title.span, Slow { title, opens })
                })
            })
            .collect()
    }

    fn say(what: &Slow, _card: &Card<'_>) -> Saying {
        let (does, why) = match what.opens {
            true => (
                "opens the program",
                "A cold band tunes worst on long slow notes, and the first piece settles the nerves.",
            ),
            false => ("closes the program", "An evening is remembered by how it ends."),
        };
        Saying {
            place: "program".to_owned(),
            says: format!("\"{}\" {does} and is slow from beginning to end.", what.title),
            why: why.to_owned(),
            todo: "Change places with a lively piece, or let it stand.".to_owned(),
        }
    }
}
