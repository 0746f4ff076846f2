//! A list that is two years old or older, and in use.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Kind;
use crate::notation::values::Day;
use crate::rule;

rule! {
    /// A list of the year before last or older that a concert to come names. (State and festival lists are
    /// issued again every year or two: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// Pieces move up, move down and drop out, and a program is checked against this year's list.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// list "Larch County list"
    ///   year            2023
    ///                   ^^^^
    ///   holds           "Drum Hill" grade 2
    /// piece "Drum Hill"
    /// concert "Festival"
    ///   on              2027-03-12
    ///   calls for       "Larch County list"
    ///   program
    ///     "Drum Hill"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// list "Larch County list"
    ///   year            2025
    ///   holds           "Drum Hill" grade 2
    /// list "An old list on the shelf"
    ///   year            2019
    ///   holds           "Drum Hill" grade 2
    /// piece "Drum Hill"
    ///   grade           2 "An old list on the shelf"
    /// concert "Festival"
    ///   on              2027-03-12
    ///   calls for       "Larch County list"
    ///   program
    ///     "Drum Hill"
    /// ```
    ///
    /// # What to do
    ///
    /// Look whether there is a newer list, and bring the card up to it.
    ListOfAnOldYear: "list of an old year", Records, Information, reads Catalogue, looks at List
}

/// The year, and a concert that goes by the list.
pub struct Old {
    year: i16,
    concert: String,
}

impl Notice for ListOfAnOldYear {
    type What = Old;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Old>> {
        if card.kind() != Some(Kind::List) {
            return Vec::new();
        }
        let year = card
            .fields("year")
            .flat_map(|field| field.items())
            .find_map(|item| {
                let year = Day::read(card.words(item.core))?.last()?.year();
                (!item.about && !item.open).then_some((item.core, year))
            });
        let Some((span, year)) =
            year.filter(|(_, year)| *year < card.snapshot.today.year().saturating_sub(1))
        else {
            return Vec::new();
        };
        let uses = card.snapshot.uses_of(card.id);
        let concert = uses.into_iter().find_map(|(id, _)| {
            let entry = card.snapshot.entry(id)?;
            let on = entry.concert()?.on.as_ref().and_then(|on| on.value.day.last());
            on.is_none_or(|day| day >= card.snapshot.today)
                .then(|| entry.name.clone())
        });
        concert
            .map(|concert| Noticed::new(span, Old { year, concert }))
            .into_iter()
            .collect()
    }

    fn say(what: &Old, _card: &Card<'_>) -> Saying {
        Saying {
            place: "year".to_owned(),
            says: format!(
                "\"{}\" goes by this list, and the list is from {}.",
                what.concert, what.year
            ),
            why: "Pieces move up, move down and drop out, and a program is checked against this year's list."
                .to_owned(),
            todo: "Look whether there is a newer list, and bring the card up to it.".to_owned(),
        }
    }
}
