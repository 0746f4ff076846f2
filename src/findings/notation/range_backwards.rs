//! A range whose first note is the higher one.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::{Pitch, PitchRange};
use crate::notation::row::Fact;
use crate::notation::values::Value;
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A range that gives its high note first.
    ///
    /// # Why it matters
    ///
    /// It may be two notes switched, or one octave written for another. Until it is fixed, nobody knows
    /// how high the part goes.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Cornfield Air"
    ///   parts
    ///     euphonium       D4-Bb2
    ///                     ^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Cornfield Air"
    ///   parts
    ///     euphonium       Bb2-D4
    /// ```
    ///
    /// # What to do
    ///
    /// Put the low note first, or fix the octave.
    RangeBackwards: "range backwards", Notation, Error, reads Card, looks at Any
}

/// A range as it is written.
pub struct UpsideDown {
    place: String,
    range: PitchRange,
    /// Where the two notes stand.
    span: Span,
}

impl Notice for RangeBackwards {
    type What = UpsideDown;

    fn notice(card: &Card<'_>) -> Vec<Noticed<UpsideDown>> {
        let mut found = Vec::new();
        for level in card.levels() {
            for field in level.fields {
                let Some(spec) = field.spec else { continue };
                for item in field.items() {
                    let (name, range) = match &item.value {
                        Some(Value::Range(range)) => ("", *range),
                        Some(Value::NamedRange(named)) => (named.name.as_str(), named.range),
                        _ => continue,
                    };
                    if !range.is_upside_down() {
                        continue;
                    }
                    // The notes are what follows the name.
                    let words = card.words(item.core);
                    let gap = words.find(name).map_or(0, |at| at + name.len());
                    let lead = words.get(gap..).map_or(0, |rest| {
                        rest.len() - rest.trim_start_matches([' ', '\t', ':']).len()
                    });
                    let span = Span::new(item.core.start + (gap + lead) as u32, item.core.end);
                    push(&mut found, level.at(spec.name), name, span, range);
                }
                for row in field.rows() {
                    for fact in &row.row.facts {
                        let Fact::Range { range, .. } = &fact.what else {
                            continue;
                        };
                        if !range.is_upside_down() {
                            continue;
                        }
                        let names: Vec<String> = row.row.names.iter().map(|name| name.one_form()).collect();
                        // What follows the notes, such as a place, is left alone.
                        let words = card.words(fact.span);
                        let length = (1..=words.len())
                            .filter(|end| words.get(..*end).and_then(PitchRange::read) == Some(*range))
                            .max()
                            .unwrap_or(words.len());
                        let span = Span::long(fact.span.start, length as u32);
                        push(&mut found, level.at(spec.name), &names.join(", "), span, *range);
                    }
                }
            }
        }
        found
    }

    fn say(what: &UpsideDown, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "{} lies above {}, so the range is backwards.",
                what.range.low, what.range.high
            ),
            why: "This way nobody can tell how high or low the part goes.".to_owned(),
            todo: format!("Write {}, or fix the octave.", what.range.upright()),
        }
    }

    fn repairs(noticed: &Noticed<UpsideDown>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let upright = what.range.upright();
        // Less than an octave is hardly a part's range, so there a wrong octave is as likely.
        let wide = upright.high.midi() - upright.low.midi() >= 12;
        let mut repairs = vec![Repair {
            title: format!("Write {upright}"),
            safe: wide,
            edits: vec![Edit::replace(what.span, upright.to_string())],
        }];
        let high = what.range.high;
        if let Some(octave) = high.octave.checked_add(1).filter(|_| !wide) {
            let higher = PitchRange::new(what.range.low, Pitch { octave, ..high });
            repairs.push(Repair::to_decide(
                format!("Write {higher}"),
                vec![Edit::replace(what.span, higher.to_string())],
            ));
        }
        repairs
    }
}

fn push(found: &mut Vec<Noticed<UpsideDown>>, place: String, name: &str, span: Span, range: PitchRange) {
    let place = match name {
        "" => place,
        name => format!("{place}, {name}"),
    };
    found.push(Noticed::new(span, UpsideDown { place, range, span }));
}
