//! How often a repeat is played, against the endings it has.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::RoadStep;
use crate::rule;
use crate::text::Edit;

rule! {
    /// A repeat that is played so many times by one word and has endings for another number of times: `2
    /// times` with three endings, `3 times` with a first and a second ending only.
    ///
    /// # Why it matters
    ///
    /// The band stops where the number and the endings part, and the length is counted from one of them.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Three Verses"
    ///   measures        40
    ///   roadmap         repeat 5-20 2 times, 1st ending 20, 2nd ending 21, 3rd ending 22
    ///                   ^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   measures        40
    ///   roadmap         repeat 5-20 3 times, 1st ending 20, 2nd ending 21
    ///                   ^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Three Verses"
    ///   measures        40
    ///   roadmap         repeat 5-20, 1st ending 20, 2nd ending 21, 3rd ending 22
    /// piece "Bridge Street"
    ///   measures        40
    ///   roadmap         repeat 5-20 3 times, 1st and 2nd ending 20, 3rd ending 21
    /// ```
    ///
    /// # What to do
    ///
    /// Count the endings in the score, and change the number or add the ending.
    TimesAgainstEndings: "times against endings", Time, Warning, reads Card, looks at Road
}

/// The two numbers.
pub struct Times {
    place: String,
    times: u32,
    endings: u32,
    repeat: RoadStep,
}

impl Notice for TimesAgainstEndings {
    type What = Times;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Times>> {
        let mut found = Vec::new();
        for course in card.courses() {
            let road = course.piece.road.iter();
            // The walk's repeats stand in the order of the card's.
            let repeats =
                road.filter(|said| matches!(said.value, RoadStep::Repeat { .. } | RoadStep::Open(_)));
            for (said, walked) in repeats.zip(course.road.map.repeats()) {
                let RoadStep::Repeat { times, stretch } = &said.value else {
                    continue;
                };
                let passes = walked.endings.iter().flat_map(|ending| &ending.passes);
                let Some(endings) = passes.copied().max().map(u32::from) else {
                    continue;
                };
                // Twice is also what nothing said means; the card's own words tell the two apart.
                let plain = *times == 2 && ends_with_measures(card.words(said.span));
                if *times == endings || plain || !said.is_certain() {
                    continue;
                }
                let what = Times {
                    place: course.place("roadmap"),
                    times: *times,
                    endings,
                    repeat: RoadStep::Repeat {
                        stretch: *stretch,
                        times: endings,
                    },
                };
                found.push(Noticed::new(said.span, what));
            }
        }
        found
    }

    fn say(what: &Times, _card: &Card<'_>) -> Saying {
        let times = match what.times {
            1 => "once".to_owned(),
            2 => "twice".to_owned(),
            times => format!("{times} times"),
        };
        let endings = match what.endings {
            1 => "for one time only".to_owned(),
            endings => format!("for {endings} times"),
        };
        Saying {
            place: what.place.clone(),
            says: format!("The repeat is played {times}, and its endings are {endings}."),
            why: "Part of the band would go on where the rest turns back once more.".to_owned(),
            todo: "Count the endings in the score, and change the number or add the ending.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Times>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        if what.endings < 2 {
            return Vec::new();
        }
        let repeat = what.repeat.to_string();
        vec![Repair::to_decide(
            format!("Write \"{repeat}\""),
            vec![Edit::replace(noticed.span, repeat)],
        )]
    }
}

/// Whether the words of a repeat end with its measures, so that no number of times is said.
fn ends_with_measures(words: &str) -> bool {
    let last = words.split_whitespace().next_back().unwrap_or("");
    last.contains(|c: char| c.is_ascii_digit()) && !last.ends_with(['x', 'X'])
}
