//! One thing said twice on a card.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::FieldReading;
use crate::notation::fields::Shape;
use crate::rule;
use crate::text::{Edit, Span, whole_lines};

rule! {
    /// A line that can only be true once, written twice with nothing to tell the two apart.
    ///
    /// # Why it matters
    ///
    /// A piece has one number of measures. With two on the card, times and entrances are counted from whichever
    /// comes first, and half of the time that is the wrong one.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Sheet Moths"
    ///   measures        96
    ///   tonal center    C minor
    ///   measures        69
    ///   ^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Lists go on in a second line, and a place tells two key signatures apart.
    ///
    /// ```levare
    /// piece "Sheet Moths"
    ///   key signature   3 flats
    ///   key signature   2 flats at trio
    ///   style           march
    ///   style           programmatic
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score and keep the line that is right.
    SaidTwice: "said twice", Notation, Warning, reads Card, looks at Any
}

/// Two lines that say one thing.
pub struct Twice {
    place: String,
    name: &'static str,
    first: (Span, String),
    second: (Span, String),
}

impl Twice {
    fn alike(&self) -> bool {
        self.first.1 == self.second.1
    }
}

impl Notice for SaidTwice {
    type What = Twice;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Twice>> {
        let mut found = Vec::new();
        for level in card.levels() {
            let mut seen: Vec<&FieldReading> = Vec::new();
            for field in level.fields {
                let Some(spec) = field.spec.filter(|spec| says_one_thing(field, spec.shape)) else {
                    continue;
                };
                match seen.iter().find(|first| first.name() == Some(spec.name)) {
                    None => seen.push(field),
                    Some(first) => found.push(Noticed::new(
                        field.whole,
                        Twice {
                            place: level.at(spec.name),
                            name: spec.name,
                            first: (first.whole, value(first, card)),
                            second: (field.whole, value(field, card)),
                        },
                    )),
                }
            }
        }
        found
    }

    fn say(what: &Twice, _card: &Card<'_>) -> Saying {
        let says = match what.alike() {
            true => format!(
                "The card says \"{}\" twice, both times {}.",
                what.name, what.first.1
            ),
            false => format!(
                "The card says \"{}\" twice: {} and {}.",
                what.name, what.first.1, what.second.1
            ),
        };
        Saying {
            place: what.place.clone(),
            says,
            why: "Only one of the two counts in rehearsal plans and charts, and it may be the wrong one."
                .to_owned(),
            todo: match what.alike() {
                true => "Take one of the lines out.".to_owned(),
                false => "Look in the score, and take out the line that is wrong.".to_owned(),
            },
        }
    }

    fn related(what: &Twice, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(
            card.entry,
            what.first.0,
            format!("Here it says {}.", what.first.1),
        )]
    }

    fn repairs(noticed: &Noticed<Twice>, card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let without = |span| vec![Edit::remove(whole_lines(card.text(), span))];
        if what.alike() {
            return vec![Repair::safe("Take the second line out", without(what.second.0))];
        }
        vec![
            Repair::to_decide(format!("Keep {}", what.first.1), without(what.second.0)),
            Repair::to_decide(format!("Keep {}", what.second.1), without(what.first.0)),
        ]
    }
}

/// Whether a field holds one value, understood, that no place and no `then` sets apart.
fn says_one_thing(field: &FieldReading, shape: Shape) -> bool {
    let items = field.items();
    matches!(shape, Shape::Value(_))
        && !items.is_empty()
        && items.iter().all(|item| item.value.is_some())
        && items
            .first()
            .is_some_and(|item| item.place.is_none() && !item.then && !item.some)
}

fn value(field: &FieldReading, card: &Card<'_>) -> String {
    let items = field.items().iter().map(|item| {
        item.one_form()
            .unwrap_or_else(|| card.words(item.span).to_owned())
    });
    items.collect::<Vec<_>>().join(", ")
}
