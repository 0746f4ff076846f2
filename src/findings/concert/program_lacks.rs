//! A program that surely does not meet what the concert calls for.

use std::sync::Arc;

use crate::catalogue::Entry;
use crate::catalogue::conditions::{Condition, Verdict, behind, of_field};
use crate::catalogue::model::Concert;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::planning::choose::{Demand, bands_of};
use crate::planning::fitting::{asking, asking_for};
use crate::planning::teach::taught_before;
use crate::rule;
use crate::text::Span;
use crate::text::sentences::{capital, joined, the};

rule! {
    /// A condition in a concert's `calls for`, or in the criteria or the list it names, that the program
    /// is sure not to meet. Where a piece is at fault, its line is marked; one message for each condition. More new
    /// skills for a band than the concert's `new skills` says are told alike.
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
    /// New skills are counted for each band over all that it plays.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   taught          ties
    ///   introduced      syncopation, staccato
    /// piece "Creek Bridge"
    ///   asks            ties, syncopation
    /// piece "Long Bridge"
    ///   asks            staccato
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   new skills      at most 1
    ///                   ^^^^^^^^^
    ///   program
    ///     "Creek Bridge"
    ///     "Long Bridge"
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
        found.extend(new_skills(card, concert));
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

/// For each band that is asked for more new skills than the concert's card says.
fn new_skills<'c>(card: &'c Card<'_>, concert: &'c Concert) -> impl Iterator<Item = Noticed<Lacking>> + 'c {
    let most = concert.new_skills.as_ref().filter(|most| !most.open);
    let bands = most.map_or(Vec::new(), |_| bands_of(card.snapshot, card.id));
    bands.into_iter().filter_map(move |id| {
        let most = most?;
        let name = &card.snapshot.entry(id)?.name;
        let ladder = card.snapshot.ladder();
        let asked = asking_for(card.snapshot, std::slice::from_ref(&id));
        let learned = taught_before(card.snapshot, card.id, &[]);
        let mut new: Vec<String> = Vec::new();
        for (listed, piece) in concert.program.iter().zip(asked.pieces_of(concert)) {
            let plays = listed.bands.is_empty() || listed.bands.contains(name);
            let found = piece
                .filter(|_| plays)
                .and_then(|piece| asked.new_skills(&piece).ok());
            for skill in found.into_iter().flat_map(|found| found.new) {
                let skill = ladder.one_name(&skill);
                if !learned.has(id, &skill) && !new.contains(&skill) {
                    new.push(skill);
                }
            }
        }
        (new.len() > most.value as usize).then(|| {
            let what = Lacking {
                condition: Demand::NewSkills {
                    most: most.value,
                    each: false,
                }
                .says(),
                under: None,
                says: format!("it asks {} of {}.", joined(&new), the(name)),
                related: Vec::new(),
            };
            Noticed::new(most.span, what)
        })
    })
}
