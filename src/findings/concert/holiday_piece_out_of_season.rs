//! A holiday piece at another time of the year.

use crate::catalogue::conditions::styles::singular;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;

use super::neighbors::coming;

rule! {
    /// A piece whose style is a holiday, in a concert at another time of the year: the winter holidays from
    /// November to January, Halloween from September to November. (Common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// A holiday piece in another season makes the audience look at the program twice.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "December Postcards"
    ///   style           holiday
    /// concert "Spring concert"
    ///   on              2027-05-14
    ///   program
    ///     "December Postcards"
    ///     ^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "December Postcards"
    ///   style           holiday
    /// piece "The Attic at Midnight"
    ///   style           Halloween
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "December Postcards"
    /// concert "Fall concert"
    ///   on              2026-10-29
    ///   program
    ///     "The Attic at Midnight"
    /// ```
    ///
    /// # What to do
    ///
    /// Keep it for its season, or let it stand with the reason.
    HolidayPieceOutOfSeason: "holiday piece out of season", Concert, Hint, reads Catalogue, looks at Concert
}

/// The styles of holidays and the months in which they are played (common practice, no source).
const SEASONS: [(&str, &[i8]); 7] = [
    ("holiday", &[11, 12, 1]),
    ("christmas", &[11, 12, 1]),
    ("christmas carol", &[11, 12, 1]),
    ("carol", &[11, 12, 1]),
    ("hanukkah", &[11, 12, 1]),
    ("kwanzaa", &[11, 12, 1]),
    ("halloween", &[9, 10, 11]),
];

/// A piece, its holiday, and the day.
pub struct Late {
    title: String,
    style: String,
    day: String,
}

impl Notice for HolidayPieceOutOfSeason {
    type What = Late;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Late>> {
        let Some((concert, rows)) = coming(card) else {
            return Vec::new();
        };
        let on = concert
            .on
            .as_ref()
            .filter(|on| on.is_certain())
            .map(|on| on.value.day);
        let Some((on, first, last)) = on.and_then(|on| Some((on, on.first()?, on.last()?))) else {
            return Vec::new();
        };
        rows.iter()
            .filter_map(|(listed, subject)| {
                let styles = subject.as_ref()?.piece.styles.iter();
                let style = styles.filter(|said| said.is_certain()).find_map(|said| {
                    let name = said.value.to_lowercase();
                    let one = singular(&name);
                    let is_it = |style: &str| style == name || style == one;
                    let (_, months) = SEASONS.iter().find(|(style, _)| is_it(style))?;
                    let fits = [first, last].iter().any(|day| months.contains(&day.month()));
                    (!fits).then(|| said.value.clone())
                })?;
                let what = Late {
                    title: listed.title.value.name.clone(),
                    style,
                    day: on.to_string(),
                };
                Some(Noticed::new(listed.title.span, what))
            })
            .collect()
    }

    fn say(what: &Late, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "The style of \"{}\" is {}, and the concert is on {}.",
                what.title, what.style, what.day
            ),
            why: "A holiday piece in another season makes the audience look at the program twice.".to_owned(),
            todo: "Keep it for its season, or let it stand with the reason.".to_owned(),
        }
    }
}
