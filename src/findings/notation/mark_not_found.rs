//! A rehearsal mark that the card does not know.

use std::collections::HashSet;

use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::form::place_not_in_the_form::is_part_of_a_piece;
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{Point, RoadStep, Value};
use crate::notation::{FieldReading, Unheard};
use crate::rule;
use crate::text::{Edit, Span};

use super::walk::Level;
use crate::findings::slips;

rule! {
    /// A place that is named by a rehearsal mark which the card's list of marks does not hold.
    ///
    /// # Why it matters
    ///
    /// Nobody can start at a mark that is not in the parts, and what holds from there on is lost.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Night Latch"
    ///   key signature   3 flats, 2 flats at F
    ///                                    ^^^^
    ///   rehearsal marks A 9, B 25, C 41
    /// ```
    ///
    /// # Does not
    ///
    /// A card that lists no marks has none to compare with, and the form may name what the marks do not.
    ///
    /// ```levare
    /// piece "Gravel Road March"
    ///   key signature   1 flat, 2 flats at trio
    /// ```
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   key signature   2 flats, 3 flats at trio
    ///   form            introduction, two strains, trio
    ///   rehearsal marks A 5, B 21
    /// ```
    ///
    /// # What to do
    ///
    /// Fix the mark, add it to the list with its measure, or write the measure itself.
    MarkNotFound: "mark not found", Notation, Warning, reads Card, looks at Any
}

/// A mark that is not there.
pub struct Lost {
    whose: String,
    mark: String,
    marks: Vec<String>,
    marks_span: Option<Span>,
    near: Option<(Span, String)>,
}

impl Notice for MarkNotFound {
    type What = Lost;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Lost>> {
        let mut found = Vec::new();
        for (level, places) in card.places() {
            if places.is_empty() {
                continue;
            }
            let known = Known::of(level, card);
            for named in places {
                let Some((mark, near)) = known.lost(&named.points) else {
                    continue;
                };
                // Right after words that nobody understood the clarinets' break is no mark: `none ovr the break`.
                let behind = |unheard: &Unheard| {
                    let between = Span::new(unheard.span.end, named.span.start.max(unheard.span.end));
                    unheard.span.end <= named.span.start && matches!(card.words(between).trim(), "" | "the")
                };
                let is_break = mark.trim_start_matches("the ").eq_ignore_ascii_case("break");
                if is_break && card.reading.unheard.iter().any(behind) {
                    continue;
                }
                let near = near.and_then(|near| Some((inside(card, named.span, &mark)?, near)));
                found.push(Noticed::new(
                    named.span,
                    Lost {
                        whose: named.whose(level),
                        mark,
                        marks: known.marks.clone(),
                        marks_span: known.marks_span,
                        near,
                    },
                ));
            }
        }
        found
    }

    fn say(what: &Lost, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.whose.clone(),
            says: match what.marks.is_empty() {
                true => format!("The card does not say where {} is.", what.mark),
                false => format!(
                    "The card does not say where {} is: its marks are {}.",
                    what.mark,
                    crate::text::sentences::joined(&what.marks)
                ),
            },
            why: "Nobody can start there in rehearsal, and what holds from there on is not checked."
                .to_owned(),
            todo: format!(
                "Fix the mark, add {} to the rehearsal marks, or write the measure.",
                what.mark
            ),
        }
    }

    fn related(what: &Lost, card: &Card<'_>) -> Vec<Related> {
        let marks = what.marks_span.into_iter();
        marks
            .map(|span| card.beside(card.entry, span, "These are the marks of the card."))
            .collect()
    }

    fn repairs(noticed: &Noticed<Lost>, _card: &Card<'_>) -> Vec<Repair> {
        let near = noticed.what.near.iter();
        near.map(|(span, word)| {
            Repair::to_decide(format!("Write {word}"), vec![Edit::replace(*span, word.clone())])
        })
        .collect()
    }
}

/// What a level of a card names as a place.
pub(in crate::findings) struct Known {
    marks: Vec<String>,
    /// The same in small letters.
    small: HashSet<String>,
    marks_span: Option<Span>,
    /// The form, the tunes and the signs of the roadmap, in small letters.
    form: String,
    /// The last line of the form, where the card tells it.
    pub form_span: Option<Span>,
}

impl Known {
    /// Collects it.
    pub fn of(level: &Level<'_>, card: &Card<'_>) -> Known {
        let fields = |name: &'static str| {
            level
                .fields
                .iter()
                .filter(move |field| field.name() == Some(name))
        };
        let marks: Vec<String> = fields("rehearsal marks")
            .flat_map(FieldReading::items)
            .flat_map(|item| match &item.value {
                Some(Value::Mark(mark)) => vec![mark.name.clone()],
                Some(Value::Marks(said)) => said.names().collect(),
                _ => Vec::new(),
            })
            .collect();
        let mut form = String::new();
        for field in fields("form").chain(fields("tunes")).chain(fields("includes")) {
            form.push_str(&card.words(field.whole).to_lowercase());
            form.push(' ');
        }
        for item in fields("roadmap").flat_map(FieldReading::items) {
            let Some(Value::Road(step)) = &item.value else {
                continue;
            };
            for step in step.clone().each() {
                form.push_str(match step {
                    RoadStep::Coda(..) => "coda ",
                    RoadStep::Segno(..) => "segno ",
                    RoadStep::Ending { .. } => "ending ",
                    _ => "",
                });
            }
        }
        Known {
            marks_span: fields("rehearsal marks").next().map(|field| field.whole),
            form_span: fields("form").next_back().map(|field| field.whole),
            small: marks.iter().map(|mark| mark.to_ascii_lowercase()).collect(),
            marks,
            form,
        }
    }

    /// Whether the card knows a place of that name.
    pub fn has(&self, name: &str) -> bool {
        let in_form = |word: &str| word.len() > 3 && self.form.contains(word);
        self.small.contains(&name.to_ascii_lowercase())
            || name
                .to_lowercase()
                .split(' ')
                .any(|word| in_form(word.trim_end_matches('s')))
    }

    /// The first name among some points that the card does not know.
    pub fn lost(&self, points: &[Point]) -> Option<(String, Option<String>)> {
        let marks = points.iter().filter_map(Point::mark).flat_map(|name| ends(name));
        // Where a card lists no marks, its letters are simply those of the score.
        let letters = !self.marks.is_empty();
        marks
            .filter(|name| letters || name.chars().count() > 2)
            .find_map(|name| self.lacks(name))
    }

    /// The name of a place, when the card does not know it, with the mark it may have been meant for.
    fn lacks(&self, name: &str) -> Option<(String, Option<String>)> {
        // Parts of a piece are looked for in its form.
        if is_part_of_a_piece(name) || self.has(name) {
            return None;
        }
        if name.chars().count() <= 2 && name.starts_with(char::is_alphabetic) {
            return Some((name.to_owned(), None));
        }
        let named = self
            .marks
            .iter()
            .map(String::as_str)
            .filter(|mark| mark.len() > 3);
        let near = slips::near(name, named).map(|near| near.word);
        Some((name.to_owned(), near))
    }
}

/// The two ends of `A-C`, or the name alone.
pub(in crate::findings) fn ends(name: &str) -> Vec<&str> {
    match name.split_once(['-', '–']) {
        Some((from, to)) if from.trim().len() <= 2 && to.trim().len() <= 2 => vec![from.trim(), to.trim()],
        _ => vec![name],
    }
}

/// Where words stand inside a place of the card.
fn inside(card: &Card<'_>, span: Span, words: &str) -> Option<Span> {
    let at = card.words(span).rfind(words)?;
    Some(Span::long(span.start + at as u32, words.len() as u32))
}
