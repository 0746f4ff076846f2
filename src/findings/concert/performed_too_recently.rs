//! A piece that the same band played not long ago.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;
use crate::text::sentences::{capital, the};
use jiff::civil::Date;

rule! {
    /// A piece in a concert to come that the same band performed in one of the two school years before.
    /// (Two years: common practice, no source.) A school year is taken to begin in July.
    ///
    /// # Why it matters
    ///
    /// Families hear it again, and players who stayed learn nothing new from it.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Concert Band"
    ///
    /// piece "Lanterns on the Weir"
    ///   performed       2026-05-12 "Concert Band"
    ///
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   for             "Concert Band"
    ///   program
    ///     "Lanterns on the Weir"
    ///     ^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Twice in one school year is how a program travels from a concert to a festival, another band is
    /// another matter, and so is what lies longer ago.
    ///
    /// ```levare
    /// ensemble "Concert Band"
    ///
    /// piece "Lanterns on the Weir"
    ///   performed       2026-10-01 "Concert Band"
    ///   performed       2026-05-12 "Jazz Lab"
    ///   performed       2023-05-12 "Concert Band"
    ///
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   for             "Concert Band"
    ///   program
    ///     "Lanterns on the Weir"
    /// ```
    ///
    /// A band of one grade has new players every year.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///
    /// piece "Lanterns on the Weir"
    ///   performed       2026-05-12 "Seventh Grade Band"
    ///
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Lanterns on the Weir"
    /// ```
    ///
    /// # What to do
    ///
    /// Keep it if it is asked for again; else choose another piece.
    PerformedTooRecently: "performed too recently", Concert, Hint, reads Catalogue, looks at Concert
}

/// The piece, the band and the day.
pub struct Recent {
    title: String,
    band: String,
    day: String,
    piece: crate::catalogue::EntryId,
    span: Span,
}

/// The school year that a day lies in, by the year in which it began in July.
fn school_year(day: Date) -> i16 {
    day.year().saturating_sub(i16::from(day.month() < 7))
}

/// Whether a band's name says that its players change every year: `Seventh Grade Band`, `7th Gr Band`,
/// `Beginners`.
fn has_new_players(band: &str) -> bool {
    let small = band.to_lowercase();
    let mut words = small.split(|c: char| !c.is_alphanumeric());
    words.any(|word| {
        matches!(word, "grade" | "gr" | "grades" | "year" | "freshman" | "freshmen")
            || word.starts_with("begin")
            || word.ends_with("graders")
            || word.starts_with(|c: char| c.is_ascii_digit())
    })
}

impl Notice for PerformedTooRecently {
    type What = Recent;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Recent>> {
        let Some(concert) = card.entry.concert() else {
            return Vec::new();
        };
        let day = concert
            .on
            .as_ref()
            .filter(|on| on.is_certain())
            .and_then(|on| on.value.day.first());
        let Some(day) = day.filter(|day| *day >= card.snapshot.today) else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for listed in &concert.program {
            let title = &listed.title.value;
            let pieces = card.snapshot.pieces_titled(&title.name, title.by.as_deref());
            let [id] = pieces.as_slice() else { continue };
            let Some(piece) = card.snapshot.entry(*id).and_then(|entry| entry.piece()) else {
                continue;
            };
            let bands: Vec<String> = match listed.bands.is_empty() {
                false => listed.bands.clone(),
                true => concert.bands.iter().map(|band| band.value.name.clone()).collect(),
            };
            let recent = piece
                .performed
                .iter()
                .filter(|said| said.is_certain())
                .find_map(|said| {
                    let played = said.value.day?.first()?;
                    let years = school_year(day).saturating_sub(school_year(played));
                    let same = said
                        .value
                        .bands
                        .iter()
                        .find(|band| bands.iter().any(|own| own.eq_ignore_ascii_case(band)))?;
                    ((1..=2).contains(&years) && !has_new_players(same))
                        .then(|| (same.clone(), said.value.day, said.span))
                });
            if let Some((band, played, span)) = recent {
                found.push(Noticed::new(
                    listed.title.span,
                    Recent {
                        title: title.name.clone(),
                        band,
                        day: played.map(|day| day.to_string()).unwrap_or_default(),
                        piece: *id,
                        span,
                    },
                ));
            }
        }
        found
    }

    fn say(what: &Recent, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "{} performed \"{}\" on {}.",
                capital(&the(&what.band)),
                what.title,
                what.day
            ),
            why: "Families hear it again, and players who stayed learn little new from it.".to_owned(),
            todo: "Keep it if it is asked for again, or choose another piece.".to_owned(),
        }
    }

    fn related(what: &Recent, card: &Card<'_>) -> Vec<Related> {
        let entry = card.snapshot.entry(what.piece);
        entry
            .map(|entry| card.beside(entry, what.span, "that performance"))
            .into_iter()
            .collect()
    }
}
