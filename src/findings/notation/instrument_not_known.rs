//! A name that is no instrument.

use crate::catalogue::model::Ensemble;
use crate::catalogue::nearly;
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::privacy::looks_like_a_full_name::initials;
use crate::findings::rule::{Notice, Noticed};
use crate::music::Lookup;
use crate::notation::names::{THE_USUAL, is_the_usual};
use crate::rule;
use crate::text::{Edit, Span};

use super::instruments::{Family, Meant, Named, is_known, meant};
use crate::findings::slips::{self, Near};

rule! {
    /// A part, a player's instrument or a thing in the closet whose name is not an instrument. Percussionists
    /// play anything that sounds, so in the percussion it is only a hint, unless the name is nearly a known
    /// one.
    ///
    /// # Why it matters
    ///
    /// A part whose instrument is not known is matched with none of your players, so nobody notices that it is
    /// not covered.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Haystack Hum"
    ///   parts
    ///     2nd tumpet      A3-C5
    ///         ^^^^^^
    ///   percussion
    ///     tamborine       1-16
    ///     ^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Haystack Hum"
    ///   parts
    ///     solo cornet     A3-C5
    ///     low voices      one line in octaves
    ///     part 1          for flute or oboe
    ///   percussion
    ///     advanced snare  1-40
    /// ```
    ///
    /// ```levare
    /// piece "Haystack Hum"
    ///   percussion
    ///     soup pot        9-16
    ///
    /// instrument "soup pot"
    ///   family          accessories
    /// ```
    ///
    /// # What to do
    ///
    /// Fix the name, or write an `instrument` card for it.
    InstrumentNotKnown: "instrument not known", Notation, Warning, reads Catalogue, looks at Any
}

/// A name that is no instrument.
pub struct Strange {
    field: &'static str,
    name: String,
    near: Option<Near>,
    /// Whether the usual parts are meant and the handbook does not say which they are.
    usual: bool,
}

impl Strange {
    fn usual(field: &'static str) -> Strange {
        Strange {
            field,
            name: THE_USUAL.to_owned(),
            near: None,
            usual: true,
        }
    }
}

impl Notice for InstrumentNotKnown {
    type What = Strange;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Strange>> {
        let mut found = Vec::new();
        let usual = card
            .snapshot
            .handbook()
            .is_some_and(|book| !book.usual.is_empty());
        for named in card.named_instruments() {
            if !usual && is_the_usual(&named.name) {
                found.push(Noticed::new(named.span, Strange::usual(named.field)));
                continue;
            }
            // A student's name on the roster is another matter.
            if named.field == "percussionists" && initials(card, &named.name).is_some() {
                continue;
            }
            // An instrument's card whose first line nobody could read is told there.
            if card.snapshot.is_lost(&named.name) {
                continue;
            }
            let whole = misspelled(card, named);
            // `bass durm` begins with an instrument and is none for all that.
            if whole.is_none() && meant(card, named) != Meant::Unknown {
                continue;
            }
            let near = match whole {
                Some(near) => Some((named.span, near)),
                // One word that slipped explains the name only where the others are known.
                None => nearest(card, named.span, &named.name, named.family).filter(|(span, near)| {
                    let written = card.words(*span);
                    let mended = named.name.replacen(written, &near.word, 1);
                    *span == named.span || is_known(card, &mended)
                }),
            };
            // Percussionists play anything that sounds, so what is near no known name may well be meant.
            let sure = near.is_some() || named.family != Family::Percussion;
            let (span, near) = near.map_or((named.span, None), |(span, near)| (span, Some(near)));
            found.push(Noticed::judged(
                span,
                sure,
                Strange {
                    field: named.field,
                    name: named.name.clone(),
                    near,
                    usual: false,
                },
            ));
        }
        found
    }

    fn say(what: &Strange, _card: &Card<'_>) -> Saying {
        if what.usual {
            return Saying {
                place: what.field.to_owned(),
                says: "The handbook does not say which parts are the usual ones.".to_owned(),
                why: "Nobody can be seated on this piece until it does.".to_owned(),
                todo:
                    "List them once in the handbook, such as usual parts flute, oboe, clarinet 1, clarinet 2."
                        .to_owned(),
            };
        }
        let near = match &what.near {
            Some(near) => format!(" Perhaps {}?", near.word),
            None => String::new(),
        };
        Saying {
            place: what.field.to_owned(),
            says: format!("\"{}\" is not an instrument that Levare knows.{near}", what.name),
            why: "It matches none of your players, so nobody would notice that it is not covered.".to_owned(),
            todo: "Fix the name, or write an instrument card for it.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Strange>, card: &Card<'_>) -> Vec<Repair> {
        let near = noticed.what.near.iter();
        near.map(|near| {
            let (span, word) = match ordinal_before(card, noticed.span) {
                Some((span, number)) => (span, format!("{} {number}", near.word)),
                None => (noticed.span, near.word.clone()),
            };
            Repair {
                title: format!("Write {word}"),
                safe: near.certain,
                edits: vec![Edit::replace(span, word)],
            }
        })
        .collect()
    }
}

/// The place of a name together with the ordinal before it, and the part's number: `2nd tumpet`, 2.
fn ordinal_before(card: &Card<'_>, name: Span) -> Option<(Span, u32)> {
    let before = Span::new(0, name.start).slice(card.text());
    let words = before.trim_end_matches([' ', '\t']);
    let word = words.rsplit([' ', '\t', '\n', '\r', ',']).next()?;
    let number = match word.to_ascii_lowercase().as_str() {
        "1st" | "first" => 1,
        "2nd" | "second" => 2,
        "3rd" | "third" => 3,
        "4th" | "fourth" => 4,
        _ => return None,
    };
    let start = Span::whole(words).end.saturating_sub(Span::whole(word).end);
    Some((Span::new(start, name.end), number))
}

/// The instrument that a whole name was meant for, by one slip, or by two where the band owns such a thing.
fn misspelled(card: &Card<'_>, named: &Named) -> Option<Near> {
    if card.instruments().find(&named.name) != Lookup::None {
        return None;
    }
    let bands: Vec<&Ensemble> = match card.ensemble() {
        Some(own) => vec![own],
        None => card.judges().into_iter().map(|(_, _, band)| band).collect(),
    };
    let owns = |name: &str| {
        let things = bands
            .iter()
            .flat_map(|band| band.owns.iter().chain(&band.borrowed));
        let mut names = things.map(|said| said.value.name.as_str());
        names.any(|own| own == name)
    };
    let all = card.instruments().all().iter();
    let known = all
        .filter(|instrument| named.family.takes(instrument.family))
        .flat_map(|instrument| std::iter::once(&instrument.name).chain(&instrument.aliases))
        .map(|name| name.as_ref());
    nearly(&named.name, known, owns).map(|near| Near {
        word: near.word,
        certain: near.certain,
    })
}

/// The known instrument that the whole name or one word of it was meant for, with where it stands.
fn nearest(card: &Card<'_>, span: Span, name: &str, family: Family) -> Option<(Span, Near)> {
    let all = card.instruments().all();
    let known = all
        .iter()
        .filter(|instrument| family.takes(instrument.family))
        .flat_map(|instrument| std::iter::once(&instrument.name).chain(&instrument.aliases))
        .map(|name| name.as_ref());
    let long = name.chars().count() >= 8;
    let near_enough = |written: &str, near: &Near| {
        let away = slips::slips(written, &near.word);
        family != Family::Percussion || away <= if long { 2 } else { 1 }
    };
    if let Some(near) = slips::near(name, known.clone()).filter(|near| near_enough(name, near)) {
        return Some((span, near));
    }
    let written = card.words(span);
    let words = written.split([' ', '\t']).filter(|word| word.chars().count() > 4);
    words
        .filter_map(|word| {
            let near = slips::near(word, known.clone().filter(|known| !known.contains(' ')))?;
            let at = written.find(word)? as u32;
            let fits = slips::slips(word, &near.word) == 1;
            fits.then_some((Span::long(span.start + at, word.len() as u32), near))
        })
        .next()
}

#[cfg(test)]
mod tests {
    #[test]
    fn names_of_two_words_have_slips_too() {
        let text = "ensemble \"B\"\n  owns  crash cymbels, bass drumm, snare, bass drum\npiece \"X\"\n  percussion\n    snair  1-8\n    bass durm  1-8\n    advanced snare  1-8\n    low drum  1-8\n";
        let file = std::sync::Arc::new(CardFile::read("a.levare", text));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let told: Vec<String> = snapshot
            .entries()
            .flat_map(|(id, _)| crate::findings::of_card(&snapshot, id))
            .filter(|found| found.phrase == "instrument not known")
            .flat_map(|found| found.repairs.into_iter().map(|repair| repair.title))
            .collect();
        assert_eq!(
            told,
            [
                "Write crash cymbals",
                "Write bass drum",
                "Write snare",
                "Write bass drum"
            ]
        );
    }

    use crate::catalogue::{CardFile, Snapshot};
    use crate::text::apply;

    #[test]
    fn the_part_number_before_a_name_is_kept() {
        let table = [
            (
                "    2nd tumpet      A3-C5\n",
                "Write trumpet 2",
                "    trumpet 2      A3-C5\n",
            ),
            (
                "    First clarnet   A3-C5\n",
                "Write clarinet 1",
                "    clarinet 1   A3-C5\n",
            ),
            (
                "    tumpet 2        A3-C5\n",
                "Write trumpet",
                "    trumpet 2        A3-C5\n",
            ),
        ];
        for (row, title, wanted) in table {
            let head = "piece \"X\"\n  parts\n";
            let text = format!("{head}{row}");
            let file = std::sync::Arc::new(CardFile::read("a.levare", &text));
            let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
            let repairs: Vec<_> = snapshot
                .entries()
                .flat_map(|(id, _)| crate::findings::of_card(&snapshot, id))
                .filter(|found| found.phrase == "instrument not known")
                .flat_map(|found| found.repairs)
                .collect();
            let first = repairs.first().map(|repair| {
                let done = apply(&text, &repair.edits).unwrap_or_default();
                (repair.title.clone(), done)
            });
            assert_eq!(
                first,
                Some((title.to_owned(), format!("{head}{wanted}"))),
                "{row}"
            );
        }
    }
}
