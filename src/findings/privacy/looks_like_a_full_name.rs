//! A student by first and last name.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::groups::Group;
use crate::notation::row::Fact;
use crate::notation::values::Track;
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A percussionist, somebody absent or somebody who runs a track, given by what looks like a first and a
    /// last name. Who wrote or published a piece is not a student and is never looked at.
    ///
    /// # Why it matters
    ///
    /// A catalog is shared with colleagues and printed for the wall. A student's name in it needs a parent's
    /// consent in many places (in the United States: the federal rules on education records); seats or initials
    /// serve as well.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1              mallets
    ///     Wilma Tarkington  snare, bass drum
    ///     ^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// ensemble "Eighth Grade Band"
    ///   percussionists  4, Wilma Tarkington
    ///                      ^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   percussionists
    ///     P1 P2           mallets
    ///     W.T.            snare, bass drum
    ///     Bo              bass drum, no Suspended Cymbal
    /// concert "Winter evening"
    ///   absent          P2, 1 tuba, the Eighth Graders
    /// ```
    ///
    /// # What to do
    ///
    /// Write a seat or initials, and keep the list of names elsewhere.
    LooksLikeAFullName: "looks like a full name", Privacy, Warning, reads Catalogue, looks at Any
}

/// Where it stands, and the initials.
pub struct Name {
    place: &'static str,
    words: String,
    initials: String,
    /// Whether it stands behind a head count, where no seat can stand.
    counted: bool,
}

impl Notice for LooksLikeAFullName {
    type What = Name;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Name>> {
        let mut words: Vec<(&'static str, String, Span)> = Vec::new();
        // A row holds the seats of several players, so a full name there is read as two of them.
        let rows = card.fields("percussionists").flat_map(|field| field.rows());
        for row in rows.filter(|_| card.ensemble().is_some()) {
            let names = &row.row.names;
            if let (Some(first), Some(last)) = (names.first(), names.last()) {
                let span = Span::new(first.span.start, last.span.end);
                let whole = card.words(span).to_owned();
                // First names one after another are several players; two words may be one player's whole name.
                if initials(card, &whole).is_none() {
                    let each = names.iter().filter(|name| name.span != span);
                    words.extend(each.map(|name| ("percussionists", name.text.clone(), name.span)));
                }
                words.push(("percussionists", whole, span));
            }
        }
        // `percussionists 4, Anna Miller`: after the number stands a name, where instruments are expected.
        let listed = card
            .fields("percussionists")
            .filter(|_| card.ensemble().is_some());
        for field in listed {
            for fact in field.rows().iter().flat_map(|row| &row.row.facts) {
                if let Fact::Instruments { names, .. } = &fact.what {
                    words.extend(
                        names
                            .iter()
                            .map(|name| ("percussionists", name.text.clone(), name.words)),
                    );
                }
            }
            let left = card.reading.unheard.iter().map(|left| left.span);
            for span in left.filter(|span| field.whole.overlaps(*span)) {
                words.push(("percussionists", card.words(span).to_owned(), span));
            }
        }
        if card.entry.concert().is_some() {
            // A full name is nothing that the line takes, so its words are looked at as they stand.
            let absent = card.fields("absent").flat_map(|field| field.items());
            words.extend(absent.map(|item| ("absent", card.words(item.core).to_owned(), item.core)));
        }
        if let Some(piece) = card.piece() {
            words.extend(piece.track.iter().filter_map(|said| match &said.value {
                Track::Operator(name, at) => {
                    let span = at.0.shift(i64::from(said.span.start));
                    Some(("track", name.clone(), span))
                }
                _ => None,
            }));
        }
        words
            .into_iter()
            .filter_map(|(place, words, span)| {
                let initials = initials(card, &words).or_else(|| first_name(card, &words))?;
                let before = card.words(Span::new(0, span.start));
                let counted = place == "percussionists" && before.trim_end().ends_with(',');
                let what = Name {
                    place,
                    words,
                    initials,
                    counted,
                };
                Some(Noticed::new(span, what))
            })
            .collect()
    }

    fn say(what: &Name, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.to_owned(),
            says: match what.words.contains(' ') {
                true => format!("{} looks like a student's first and last name.", what.words),
                false => format!("{} looks like a student's name.", what.words),
            },
            why: "A catalog is shared and printed, and a student's name in it may need a parent's consent."
                .to_owned(),
            todo: format!(
                "Write a seat such as P1, or initials such as {}, and keep the list of names elsewhere.",
                what.initials
            ),
        }
    }

    fn repairs(noticed: &Noticed<Name>, card: &Card<'_>) -> Vec<Repair> {
        if noticed.what.counted {
            let before = card.words(Span::new(0, noticed.span.start));
            let head = Span::whole(before.trim_end().trim_end_matches(','));
            let gone = Span::new(head.end, noticed.span.end);
            return vec![Repair::to_decide(
                "Take the name out",
                vec![Edit::replace(gone, String::new())],
            )];
        }
        let initials = &noticed.what.initials;
        vec![Repair::to_decide(
            format!("Write {initials}"),
            vec![Edit::replace(noticed.span, initials.clone())],
        )]
    }
}

/// The initial of a seat that looks like a first name: one capital, then at least three small letters.
fn first_name(card: &Card<'_>, word: &str) -> Option<String> {
    let mut chars = word.chars();
    let first = chars.next().filter(|c| c.is_uppercase())?;
    let small = chars.as_str().chars().all(char::is_lowercase) && chars.as_str().chars().count() >= 3;
    let own = card.instrument(word).is_some()
        || Group::read(word).is_some()
        || BAND_WORDS.contains(&word.to_lowercase().trim_end_matches('s'));
    (small && !own).then(|| format!("{first}."))
}

/// The initials of two or three words that look like a person's names: letters only, each with one capital in
/// front, none of them an instrument's, a group's or a word of a band's own.
pub(crate) fn initials(card: &Card<'_>, words: &str) -> Option<String> {
    let names: Vec<&str> = words.split_whitespace().collect();
    if !(2..=3).contains(&names.len()) || card.instrument(words).is_some() {
        return None;
    }
    let is_name = |word: &&str| {
        let mut chars = word.chars();
        let capital = chars.next().is_some_and(char::is_uppercase);
        let rest = chars.as_str();
        let small = rest.chars().filter(|c| c.is_lowercase()).count();
        let letters = rest
            .chars()
            .all(|c| c.is_alphabetic() || matches!(c, '-' | '\'' | '’'));
        capital && letters && small >= 1
    };
    let own = |word: &str| {
        card.instrument(word).is_some()
            || Group::read(word).is_some()
            || BAND_WORDS.contains(&word.to_lowercase().trim_end_matches('s'))
    };
    if !names.iter().all(is_name) || names.iter().any(|word| own(word)) {
        return None;
    }
    Some(
        names
            .iter()
            .filter_map(|word| word.chars().next())
            .map(|c| format!("{c}."))
            .collect(),
    )
}

/// Words that seats, groups and grown-ups are named with, without an `s` at their end (common practice, no
/// source).
const BAND_WORDS: [&str; 28] = [
    "player", "seat", "station", "grader", "grade", "section", "leader", "captain", "helper", "student",
    "teacher", "director", "sub", "first", "second", "third", "fourth", "fifth", "sixth", "seventh",
    "eighth", "band", "crew", "line", "mr", "m", "dr", "the",
];
