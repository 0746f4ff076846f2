//! A first ending without a second, or a second without a first.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Edit;

use super::endings::{Fault, faults};

rule! {
    /// A repeat with a first ending and no second, or with a second ending and no first. With a first ending alone
    /// it is a hint, for the second is taken to follow right after it.
    ///
    /// # Why it matters
    ///
    /// Every player has two endings in the part. With one of them on the card, nobody can tell from it which
    /// measures are skipped the second time.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Left Foot, Right Foot"
    ///   measures        92
    ///   roadmap         repeat 5-20, 1st ending 20
    ///                                ^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   measures        64
    ///   roadmap         repeat 17-32, 2nd ending 33
    ///                                 ^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Left Foot, Right Foot"
    ///   measures        92
    ///   roadmap         repeat 5-20, 1st ending 20, 2nd ending 21
    /// piece "Three Verses"
    ///   measures        40
    ///   roadmap         repeat 5-20, 1st and 2nd ending 19-20, 3rd ending 21
    /// ```
    ///
    /// # What to do
    ///
    /// Add the other ending with its measures.
    EndingAlone: "ending alone", Time, Information, reads Card, looks at Road
}

/// An ending, and the one that is not there.
pub struct Alone {
    place: String,
    says: String,
    /// The ending to write: in front of this one, or after it.
    other: String,
    in_front: bool,
    /// Whether the other ending can be where it is offered.
    fits: bool,
}

impl Notice for EndingAlone {
    type What = Alone;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Alone>> {
        let mut found = Vec::new();
        for course in card.courses() {
            for fault in faults(course) {
                // With a first ending alone the length is still right: the second one is taken to follow it.
                let strong = matches!(fault, Fault::NoFirst { .. });
                let (index, says, other, in_front, fits) = match fault {
                    Fault::Gap { .. } => continue,
                    Fault::NoSecond { ending, last } => {
                        let next = last.saturating_add(1);
                        (
                            ending,
                            "The card has a first ending and no second".to_owned(),
                            format!("2nd ending {next}"),
                            false,
                            course.total.is_none_or(|total| next <= total),
                        )
                    }
                    Fault::NoFirst { ending, first } => {
                        let before = first.saturating_sub(1);
                        (
                            ending,
                            "The card has a later ending and no first".to_owned(),
                            format!("1st ending {before}"),
                            true,
                            before > 0,
                        )
                    }
                };
                let Some(said) = course.piece.road.get(index) else {
                    continue;
                };
                // A list of three endings whose numbers are not "1st" and "2nd" is for the director to write.
                let single =
                    says.starts_with("The card has a first") || said.value.to_string().starts_with("2nd");
                let what = Alone {
                    place: course.place("roadmap"),
                    says,
                    other,
                    in_front,
                    fits: fits && single,
                };
                found.push(Noticed::judged(said.span, strong, what));
            }
        }
        found
    }

    fn say(what: &Alone, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!("{}.", what.says),
            why: "Nobody can tell from the card which measures are skipped the second time.".to_owned(),
            todo: format!("Add the other one with its measures, such as {}.", what.other),
        }
    }

    fn repairs(noticed: &Noticed<Alone>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        if !what.fits {
            return Vec::new();
        }
        let edit = match what.in_front {
            true => Edit::insert(noticed.span.start, format!("{}, ", what.other)),
            false => Edit::insert(noticed.span.end, format!(", {}", what.other)),
        };
        vec![Repair::to_decide(format!("Add \"{}\"", what.other), vec![edit])]
    }
}
