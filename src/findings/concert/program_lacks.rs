//! A program that surely does not meet what the concert calls for.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::catalogue::conditions::{Condition, Verdict, behind, of_field};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::planning::fitting::asking;
use crate::rule;
use crate::text::Span;
use crate::text::sentences::{capital, joined};

rule! {
    /// A condition in a concert's `calls for`, or in the criteria or the list it names, that the program
    /// is sure not to meet. Where a piece is at fault, its line is marked; one message for each condition.
    ///
    /// # Why it matters
    ///
    /// A festival rates a program down for what it lacks, and what you asked of your own concert would be
    /// forgotten until the order of the pieces is printed.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   style           lyrical
    ///   key signature   4 flats
    ///
    /// concert "Festival"
    ///   program
    ///     "Lanterns on the Weir"
    ///   calls for       a march
    ///                   ^^^^^^^
    /// ```
    ///
    /// What holds for each piece is marked on the piece that does not meet it.
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   key signature   4 flats
    ///
    /// criteria "County festival"
    ///   calls for       up to 3 flats
    ///
    /// concert "Festival"
    ///   program
    ///     "Lanterns on the Weir"
    ///     ^^^^^^^^^^^^^^^^^^^^^^
    ///   calls for       "County festival"
    /// ```
    ///
    /// # Does not
    ///
    /// What no card says is neither met nor missed, and what is in parentheses is not checked.
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   style           lyrical
    ///
    /// piece "Gravel Road March"
    ///
    /// concert "Festival"
    ///   program
    ///     "Lanterns on the Weir"
    ///     "Gravel Road March"
    ///   calls for       a march, up to 3 flats (something the parents know)
    /// ```
    ///
    /// A concert that is over cannot be chosen again.
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   style           lyrical
    ///   performed       2026-05-12
    ///
    /// concert "Festival"
    ///   on              2026-05-12
    ///   program
    ///     "Lanterns on the Weir"
    ///   calls for       a march
    /// ```
    ///
    /// # What to do
    ///
    /// Choose another piece, or take the condition out if it does not hold for this concert.
    ProgramLacks: "program lacks", Concert, Warning, reads Catalogue, looks at Concert
}

/// A condition and why it is not met.
pub struct Lacking {
    condition: String,
    under: Option<String>,
    says: String,
    related: Vec<(Arc<Entry>, Span, String)>,
}

impl Notice for ProgramLacks {
    type What = Lacking;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Lacking>> {
        let Some(concert) = card.entry.concert() else {
            return Vec::new();
        };
        // What is over cannot be chosen again.
        let last_day = concert.on.as_ref().and_then(|on| on.value.day.last());
        if last_day.is_some_and(|day| day < card.snapshot.today) {
            return Vec::new();
        }
        let asked = asking(card.snapshot);
        let pieces = asked.pieces_of(concert);
        let own: Vec<Condition> = of_field(card.snapshot, card.text(), &concert.calls_for);
        let mut found: Vec<Noticed<Lacking>> = Vec::new();
        for (said, condition, under) in asked.opened(&own) {
            let Verdict::Lacks(lack) = asked.program(&condition, &pieces) else {
                continue;
            };
            let words = condition.to_string();
            // The same condition twice, on the card and in the criteria, is told once.
            if found.iter().any(|other| other.what.condition == words) {
                continue;
            }
            let listed = |at: usize| concert.program.get(at);
            let first = lack.pieces.first().and_then(|(at, _)| listed(*at));
            let says = match lack.pieces.as_slice() {
                [] => format!("{}.", lack.why),
                faults => {
                    let each: Vec<String> = faults
                        .iter()
                        .filter_map(|(at, why)| {
                            let title = format!("\"{}\"", listed(*at)?.title.value.name);
                            Some(behind(&title, why))
                        })
                        .collect();
                    format!("{}.", joined(&each))
                }
            };
            let related = lack
                .pieces
                .iter()
                .filter_map(|(at, _)| {
                    let id = pieces.get(*at)?.as_ref()?.id;
                    let entry = card.snapshot.entry(id)?;
                    Some((Arc::clone(entry), entry.name_span, "its card".to_owned()))
                })
                .chain(first.map(|_| (Arc::clone(card.entry), said.span, "what is called for".to_owned())))
                .collect();
            found.push(Noticed::new(
                first.map_or(said.span, |listed| listed.title.span),
                Lacking {
                    condition: words,
                    under,
                    says,
                    related,
                },
            ));
        }
        found
    }

    fn say(what: &Lacking, _card: &Card<'_>) -> Saying {
        let under = what
            .under
            .as_ref()
            .map_or(String::new(), |name| format!(" by \"{name}\""));
        Saying {
            place: "program".to_owned(),
            says: format!(
                "This concert calls for \"{}\"{under}, and the program does not meet it. {}",
                what.condition,
                capital(&what.says)
            ),
            why: "A festival rates a program down for what it lacks, and for your own concert you asked for it yourself."
                .to_owned(),
            todo: "Choose another piece, or take the condition out if it does not hold for this concert.".to_owned(),
        }
    }

    fn related(what: &Lacking, card: &Card<'_>) -> Vec<Related> {
        what.related
            .iter()
            .map(|(entry, span, says)| card.beside(entry, *span, says.clone()))
            .collect()
    }
}
