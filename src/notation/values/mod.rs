//! Values of fields: read in any of the forms directors use, shown in the one form.

mod conventional;
mod cursor;
pub mod day;
pub mod grade;
pub mod lasts;
#[cfg(test)]
mod made_up;
pub mod mark;
pub mod money;
mod passages;
pub mod people;
pub mod place;
mod point;
pub mod road;
mod road_words;
pub mod small;
pub mod tempo_words;

use std::fmt;

use crate::music::{Center, Meter, PitchRange, SignatureSaid};

use super::of::Of;
pub use day::{Day, Days, Moment};
pub use grade::{Grade, Who};
pub use lasts::Lasts;
pub use mark::Mark;
pub use money::Money;
pub use passages::{pass_words, passages};
pub use people::{Person, Role};
pub use place::{Place, Point, Stretch};
pub use road::{Marked, RoadStep, Somewhere, Until};
pub use small::{Copies, Equipment, NamedRange, Needs, Performance, Skill, Stet, Titled};
pub use tempo_words::TempoSaid;

/// One value as it was understood.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Words as written, with single blanks between them.
    Words(String),
    /// The quoted name of another card, with what is said of it.
    Titled(Titled),
    /// A whole number.
    Number(u32),
    /// A concert key, or what is said where no key tells it.
    Key(Center),
    /// A concert key signature.
    Signature(SignatureSaid),
    /// A meter.
    Meter(Meter),
    /// A tempo.
    Tempo(TempoSaid),
    /// A length of time.
    Lasts(Lasts),
    /// A day and perhaps an hour.
    Moment(Moment),
    /// A sum of money.
    Money(Money),
    /// A grade.
    Grade(Grade),
    /// A rehearsal mark.
    Mark(Mark),
    /// A step of the roadmap.
    Road(RoadStep),
    /// A range of written pitches.
    Range(PitchRange),
    /// An instrument and its range.
    NamedRange(NamedRange),
    /// An instrument owned or borrowed.
    Equipment(Equipment),
    /// The days for which something is borrowed.
    Days(Days),
    /// A skill.
    Skill(Skill),
    /// A finding let stand.
    Stet(Stet),
    /// People and their roles.
    People(Vec<Person>),
    /// Copies of a part.
    Copies(Copies),
    /// A number of players or another need.
    Needs(Needs),
    /// A performance.
    Performance(Performance),
}

/// Reads one item of a field; none when it is not what the field holds.
pub fn read(of: Of, text: &str) -> Option<Value> {
    let words = || text.split_whitespace().collect::<Vec<_>>().join(" ");
    match of {
        Of::Words | Of::Condition => Some(Value::Words(words())),
        Of::Phrase => Some(Value::Words(words().to_lowercase())),
        Of::Title | Of::Held => Titled::read(text).map(Value::Titled),
        // A book that has no card stands in quotes too, or as plain words.
        Of::Listed => Titled::read(text).map_or_else(
            || Some(Value::Words(words())),
            |titled| Some(Value::Titled(titled)),
        ),
        Of::Number => read_number(text).map(Value::Number),
        Of::Key => Center::read(text).map(Value::Key),
        Of::Signature => SignatureSaid::read(text).map(Value::Signature),
        Of::Meter => Meter::read(text).map(Value::Meter),
        Of::Tempo => TempoSaid::read(text).map(Value::Tempo),
        Of::Lasts => Lasts::read(text).map(Value::Lasts),
        Of::Moment => Moment::read(text).map(Value::Moment),
        Of::Money => Money::read(text).map(Value::Money),
        Of::Grade => read_grade(text),
        Of::Mark => Mark::read(text).map(Value::Mark),
        Of::Road => read_road(text),
        Of::Range => PitchRange::read(text).map(Value::Range),
        Of::InstrumentRange => NamedRange::read(text).map(Value::NamedRange),
        Of::Equipment => match Days::read(text) {
            Some(days) => Some(Value::Days(days)),
            None => Equipment::read(text).map(Value::Equipment),
        },
        Of::Skill => Skill::read(text).map(Value::Skill),
        Of::Stet => Stet::read(text).map(Value::Stet),
        Of::People => Some(Value::People(people::read(text))),
        Of::Copies => Copies::read(text).map(Value::Copies),
        Of::Needs => Needs::read(text).map(Value::Needs),
        Of::Performance => Performance::read(text).map(Value::Performance),
    }
}

/// A step of the road, or a director's own words in quotation marks for what no step says (`"order by dice"`).
fn read_road(text: &str) -> Option<Value> {
    match RoadStep::read(text) {
        Some(step) => Some(Value::Road(step)),
        None => {
            let (rest, said) = super::scan::quoted(text.trim()).ok()?;
            (rest.is_empty() && !said.is_empty()).then(|| Value::Words(format!("\"{said}\"")))
        }
    }
}

/// A grade, or the words of somebody who grades without numbers (`medium easy`, `easy publisher`).
fn read_grade(text: &str) -> Option<Value> {
    match Grade::read(text) {
        Some(grade) => Some(Value::Grade(grade)),
        // `2+` and `3-` are a publisher's shades of a grade and stay as they are written.
        None if is_shade(text) => Some(Value::Words(
            text.split_whitespace().collect::<Vec<_>>().join(" "),
        )),
        None if text.starts_with(|c: char| c.is_alphabetic())
            && !text.contains(|c: char| c.is_ascii_digit()) =>
        {
            Some(Value::Words(
                text.split_whitespace().collect::<Vec<_>>().join(" "),
            ))
        }
        None => None,
    }
}

/// A number with a plus or minus behind it, and perhaps who says so.
fn is_shade(text: &str) -> bool {
    let (number, who) = text.split_once([' ', '\t']).unwrap_or((text, ""));
    let number = number.strip_suffix(['+', '-']).unwrap_or("");
    !number.is_empty()
        && number.chars().all(|c| c.is_ascii_digit() || c == '.')
        && !who.contains(|c: char| c.is_ascii_digit())
}

/// `88`, `88 measures`, `88 bars`.
fn read_number(text: &str) -> Option<u32> {
    let (rest, number) = super::scan::number(text.trim()).ok()?;
    let rest = rest.trim().trim_end_matches('.');
    let counted = ["", "measures", "measure", "bars", "bar", "m", "mm"];
    counted
        .iter()
        .any(|word| rest.eq_ignore_ascii_case(word))
        .then_some(number)
}

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Value::Words(words) => f.write_str(words),
            Value::Titled(titled) => titled.fmt(f),
            Value::Number(number) => number.fmt(f),
            Value::Key(key) => key.fmt(f),
            Value::Signature(signature) => signature.fmt(f),
            Value::Meter(meter) => meter.fmt(f),
            Value::Tempo(tempo) => tempo.fmt(f),
            Value::Lasts(lasts) => lasts.fmt(f),
            Value::Moment(moment) => moment.fmt(f),
            Value::Money(money) => money.fmt(f),
            Value::Grade(grade) => grade.fmt(f),
            Value::Mark(mark) => mark.fmt(f),
            Value::Road(step) => step.fmt(f),
            Value::Range(range) => range.fmt(f),
            Value::NamedRange(range) => range.fmt(f),
            Value::Equipment(equipment) => equipment.fmt(f),
            Value::Days(days) => days.fmt(f),
            Value::Skill(skill) => skill.fmt(f),
            Value::Stet(stet) => stet.fmt(f),
            Value::People(people) => f.write_str(&people::show(people)),
            Value::Copies(copies) => copies.fmt(f),
            Value::Needs(needs) => needs.fmt(f),
            Value::Performance(performance) => performance.fmt(f),
        }
    }
}
