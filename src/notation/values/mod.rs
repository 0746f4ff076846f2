//! Values of fields: read in any of the forms directors use, shown in the one form.

pub mod absent;
pub mod audience;
pub mod away;
mod borrowing;
pub mod bought;
pub mod change_time;
pub mod concert_length;
pub(super) mod conventional;
pub mod copies;
mod cursor;
pub mod day;
mod days_in;
pub mod done;
mod equipment;
pub mod events;
mod figures;
mod flaw;
pub mod grade;
pub mod how_many;
mod instrument_name;
pub mod key_taught;
pub mod lasts;
pub mod license;
pub mod loan;
#[cfg(test)]
mod made_up;
pub mod mark;
pub mod marks_said;
pub mod meets;
pub mod moment;
pub mod money;
pub mod named_range;
pub mod needs;
mod number_words;
pub mod offers;
pub mod pace;
mod partner;
mod passages;
pub mod people;
pub mod performance;
pub mod pickup;
mod pin;
pub mod place;
mod point;
pub mod postage;
pub mod price;
pub mod road;
mod road_words;
pub mod season;
pub mod skill;
pub mod staffing;
pub mod standing;
mod steps;
pub mod stet;
pub mod takes;
pub mod tempo_words;
pub mod titled;
pub mod track;

use std::fmt;

use crate::music::family_names::family_named;
use crate::music::{Center, Clef, Family, Interval, Meter, PitchRange, SignatureSaid};

use super::of::Of;
pub use absent::Absent;
pub use away::Away;
pub use bought::Bought;
pub use change_time::{Change, ChangeTime};
pub use concert_length::ConcertLength;
pub use copies::Copies;
pub use day::{Day, Days, EitherWay, is_british};
pub use done::Done;
pub use equipment::{Equipment, Owned, There};
pub use events::Events;
pub use grade::{Grade, Shade, Who};
pub use how_many::HowMany;
pub use instrument_name::At;
pub use key_taught::{KeySoon, Signatures};
pub use lasts::Lasts;
pub use license::{License, Use};
pub use loan::Loan;
pub use mark::Mark;
pub use marks_said::MarksSaid;
pub use meets::{Meeting, Meets, Pattern};
pub use moment::Moment;
pub use money::Money;
pub use named_range::{Ends, NamedBounds, NamedRange};
pub use needs::Needs;
pub use pace::Pace;
pub use passages::{pass_words, passages};
pub use people::{Person, Role};
pub use performance::{Performance, Played};
pub use pickup::Pickup;
pub use pin::{Bound, Pin};
pub use place::{Place, Point, Stretch};
pub use postage::Postage;
pub use price::Price;
pub use road::{Marked, RoadStep, Somewhere, Until};
pub use season::Season;
pub use skill::Skill;
pub use staffing::Staffing;
pub use standing::{Able, Standing};
pub use stet::Stet;
pub use takes::{Takes, Teaching};
pub use tempo_words::TempoSaid;
pub use titled::{Interlude, Titled, Unnamed};
pub use track::Track;

/// A number in figures or in words that is all of `text`.
pub(super) fn number_in_words(text: &str) -> Option<u32> {
    cursor::number(text).or_else(|| number_words::read(text))
}

/// Whether one word is a number, or part of one.
pub(super) fn number_word(word: &str) -> bool {
    number_words::read(word).is_some() || word == "hundred" || word == "thousand"
}

/// One value as it was understood.
#[derive(Debug, Clone, PartialEq)]
pub enum Value {
    /// Words as written, with single blanks between them.
    Words(String),
    /// The quoted name of another card, with what is said of it.
    Titled(Titled),
    /// Pieces of a bundle or list that have no name here.
    Unnamed(Unnamed),
    /// A whole number.
    Number(u32),
    /// Measures, those that are repeated counted as often as they are played, and how many are printed where that is
    /// said too.
    Counted {
        /// How many are played.
        played: u32,
        /// How many are printed.
        printed: Option<u32>,
    },
    /// A concert key, or what is said where no key tells it.
    Key(Center),
    /// How many flats and sharps a band reads.
    Signatures(Signatures),
    /// A key that a band is learning.
    KeySoon(KeySoon),
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
    /// What something costs and cost.
    Price(Price),
    /// A grade.
    Grade(Grade),
    /// A rehearsal mark.
    Mark(Mark),
    /// Rehearsal marks that are told together.
    Marks(MarksSaid),
    /// A step of the roadmap.
    Road(RoadStep),
    /// A range of written pitches.
    Range(PitchRange),
    /// An instrument and its range.
    NamedRange(NamedRange),
    /// How high or low an instrument goes, where that is no range.
    NamedBounds(NamedBounds),
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
    /// A school year.
    Season(Season),
    /// When a band rehearses.
    Meets(Meets),
    /// What sounds before the first full measure.
    Pickup(Pickup),
    /// Who plays something that is said before it.
    PlayedBy(String),
    /// How long something takes to teach.
    Takes(Takes),
    /// What is said of a loan.
    Loan(Loan),
    /// What a license allows.
    License(License),
    /// When and where something was bought.
    Bought(Bought),
    /// What is said of a recorded track.
    Track(Track),
    /// Cued events.
    Events(Events),
    /// How long a percussionist needs for something.
    Change(ChangeTime),
    /// How many players a part should have.
    Staffing(Staffing),
    /// How fast a band is taught.
    Pace(Pace),
    /// What sending an order costs.
    Postage(Postage),
    /// Who will not be there.
    Absent(Absent),
    /// Who of a band is away on some day.
    Away(Away),
    /// Who is to play what, or not.
    Pin(Pin),
    /// How long a concert may be.
    ConcertLength(ConcertLength),
    /// What is said of the instruments before it.
    Owned(Owned),
    /// Instruments that one player covers.
    Together(Vec<String>),
    /// Numbers of parts.
    PartNumbers(Vec<u32>),
    /// A size in bytes.
    Size(u64),
    /// Whether something is so.
    YesNo(bool),
    /// Whether something is done.
    Done(Done),
    /// A family of instruments.
    Family(Family),
    /// A clef.
    Clef(Clef),
    /// How far from the written pitch an instrument sounds.
    Sounds(Interval),
}

/// Reads one item of a field; none when it is not what the field holds.
pub fn read(of: Of, text: &str) -> Option<Value> {
    let words = || super::scan::single(text);
    match of {
        Of::Words | Of::Condition => Some(Value::Words(words())),
        Of::Phrase => Some(Value::Words(words().to_lowercase())),
        Of::Title => Titled::read(text)
            .map(Value::Titled)
            .or_else(|| titled::whom(text).map(Value::Words))
            .or_else(|| audience::read(text).map(Value::Words)),
        Of::Held => match Unnamed::read(text) {
            Some(unnamed) => Some(Value::Unnamed(unnamed)),
            None => Titled::read(text).map(Value::Titled),
        },
        Of::Listed => Titled::read_listed(text).map(Value::Titled),
        Of::Number => figures::number(text)
            .filter(|number| *number > 0)
            .map(Value::Number),
        Of::NewSkills => pace::new_skills(text).map(Value::Number),
        Of::Measures => figures::number(text)
            .map(Value::Number)
            .filter(|value| !matches!(value, Value::Number(0)))
            .or_else(|| figures::counted(text).map(|(played, printed)| Value::Counted { played, printed })),
        Of::Key => Center::read(text).map(Value::Key),
        Of::KeyTaught => match Signatures::read(text) {
            Some(signatures) => Some(Value::Signatures(signatures)),
            None => Center::read(text)
                .map(Value::Key)
                .or_else(|| KeySoon::read(text).map(Value::KeySoon)),
        },
        Of::Signature => SignatureSaid::read(text).map(Value::Signature),
        Of::Meter => Meter::read(text).map(Value::Meter),
        Of::Tempo => TempoSaid::read(text).map(Value::Tempo),
        Of::Lasts => Lasts::read(text).map(Value::Lasts),
        Of::Moment => Moment::read(text).map(Value::Moment),
        Of::Money => Money::read(text).map(Value::Money),
        Of::Price => Price::read(text).map(Value::Price),
        Of::Grade => read_grade(text),
        Of::Mark => Mark::read(text)
            .map(Value::Mark)
            .or_else(|| MarksSaid::read(text).map(Value::Marks)),
        Of::Road => read_road(text),
        Of::Range => PitchRange::read(text).map(Value::Range),
        Of::InstrumentRange => NamedRange::read(text)
            .map(Value::NamedRange)
            .or_else(|| NamedBounds::read(text).map(Value::NamedBounds)),
        Of::Equipment => Owned::read(text).map(|owned| match owned {
            Owned::Thing(thing) => Value::Equipment(thing),
            Owned::Days(days) => Value::Days(days),
            owned => Value::Owned(owned),
        }),
        Of::Skill => Skill::read(text).map(Value::Skill),
        Of::Stet => Stet::read(text).map(Value::Stet),
        Of::People => Some(Value::People(people::read(text))),
        Of::Copies => Copies::read(text).map(Value::Copies),
        Of::Needs => Needs::read(text).map(Value::Needs),
        Of::Performance => Performance::read(text).map(Value::Performance),
        // Months without a year are days between which it lies, and the year is not known.
        Of::Season => Season::read(text)
            .map(Value::Season)
            .or_else(|| season::span(text).map(Value::Days))
            .or_else(|| season::terms(text).map(Value::Words))
            .or_else(|| Meets::off_only(text).map(Value::Meets)),
        Of::Meets => Meets::read(text).map(Value::Meets),
        Of::Pickup => Pickup::read(text)
            .map(Value::Pickup)
            .or_else(|| pickup::players(text).map(Value::PlayedBy)),
        Of::Takes => Takes::read(text).map(Value::Takes),
        Of::Loan => Loan::read(text).map(Value::Loan),
        Of::License => License::read(text).map(Value::License),
        Of::Bought => Bought::read(text).map(Value::Bought),
        Of::Track => Track::read(text).map(Value::Track),
        Of::Events => Events::read(text).map(Value::Events),
        Of::Change => ChangeTime::read(text).map(Value::Change),
        Of::Staffing => Staffing::read(text).map(Value::Staffing),
        Of::Pace => Pace::read(text).map(Value::Pace),
        Of::Postage => Postage::read(text).map(Value::Postage),
        Of::Absent => Absent::read(text).map(Value::Absent),
        Of::Away => Away::read(text).map(Value::Away),
        Of::Pin => Pin::read(text).map(Value::Pin),
        Of::ConcertLength => ConcertLength::read(text).map(Value::ConcertLength),
        Of::Together => figures::together(text).map(Value::Together),
        Of::PartNumbers => figures::part_numbers(text).map(Value::PartNumbers),
        Of::Size => figures::file_size(text).map(Value::Size),
        Of::YesNo => figures::yes_no(text).map(Value::YesNo),
        Of::Done => Done::read(text).map(Value::Done),
        Of::Year => figures::year(text).map(Value::Number),
        Of::PartName => figures::part_name(text).map(Value::Words),
        Of::Family => family_named(&words()).map(Value::Family),
        Of::Clef => Clef::read(text).map(Value::Clef),
        Of::Sounds => Interval::read(text).map(Value::Sounds),
    }
}

/// A step of the road, or a director's own words in quotation marks for what no step says (`"order by dice"`).
fn read_road(text: &str) -> Option<Value> {
    // To go on behind a step is what everybody does anyway.
    let text = [
        " on the way back",
        " after the D.C.",
        " after the D.S.",
        " on the D.C.",
        " on the D.S.",
        " then straight through",
        " then straight thru",
        " then straight on",
        " then on",
    ]
    .iter()
    .find_map(|words| text.trim_end().strip_suffix(words))
    .unwrap_or(text);
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
    let said = grade::plainly(text);
    let text = said.as_ref();
    // `.5` is a half.
    let whole = match text.trim().strip_prefix('.') {
        Some(rest) if rest.starts_with(|c: char| c.is_ascii_digit()) => format!("0.{rest}"),
        _ => text.to_owned(),
    };
    match Grade::read(&whole) {
        Some(grade) => Some(Value::Grade(grade)),
        None => grade::read_word(text).map(Value::Words),
    }
}

impl fmt::Display for Value {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Value::Words(words) => f.write_str(words),
            Value::Titled(titled) => titled.fmt(f),
            Value::Unnamed(unnamed) => unnamed.fmt(f),
            Value::Number(number) => number.fmt(f),
            Value::Key(key) => key.fmt(f),
            Value::Signatures(signatures) => signatures.fmt(f),
            Value::KeySoon(soon) => soon.fmt(f),
            Value::Signature(signature) => signature.fmt(f),
            Value::Meter(meter) => meter.fmt(f),
            Value::Tempo(tempo) => tempo.fmt(f),
            Value::Lasts(lasts) => lasts.fmt(f),
            Value::Moment(moment) => moment.fmt(f),
            Value::Money(money) => money.fmt(f),
            Value::Price(price) => price.fmt(f),
            Value::Grade(grade) => grade.fmt(f),
            Value::Mark(mark) => mark.fmt(f),
            Value::Marks(said) => said.fmt(f),
            Value::Road(step) => step.fmt(f),
            Value::Range(range) => range.fmt(f),
            Value::NamedRange(range) => range.fmt(f),
            Value::NamedBounds(bounds) => bounds.fmt(f),
            Value::Equipment(equipment) => equipment.fmt(f),
            Value::Days(days) => days.fmt(f),
            Value::Skill(skill) => skill.fmt(f),
            Value::Stet(stet) => stet.fmt(f),
            Value::People(people) => f.write_str(&people::show(people)),
            Value::Copies(copies) => copies.fmt(f),
            Value::Needs(needs) => needs.fmt(f),
            Value::Performance(performance) => performance.fmt(f),
            Value::Season(said) => said.fmt(f),
            Value::Meets(said) => said.fmt(f),
            Value::Pickup(said) => said.fmt(f),
            Value::PlayedBy(names) => f.write_str(names),
            Value::Counted { played, printed } => {
                if let Some(printed) = printed {
                    write!(f, "{printed}, ")?;
                }
                write!(f, "{played} with repeats")
            }
            Value::Takes(said) => said.fmt(f),
            Value::Loan(said) => said.fmt(f),
            Value::License(said) => said.fmt(f),
            Value::Bought(said) => said.fmt(f),
            Value::Track(said) => said.fmt(f),
            Value::Events(said) => said.fmt(f),
            Value::Change(said) => said.fmt(f),
            Value::Staffing(said) => said.fmt(f),
            Value::Pace(said) => said.fmt(f),
            Value::Postage(said) => said.fmt(f),
            Value::Absent(said) => said.fmt(f),
            Value::Away(said) => said.fmt(f),
            Value::Pin(pin) => pin.fmt(f),
            Value::ConcertLength(said) => said.fmt(f),
            Value::Owned(said) => said.fmt(f),
            Value::Together(names) => f.write_str(&names.join(" and ")),
            Value::PartNumbers(numbers) => f.write_str(&figures::show_part_numbers(numbers)),
            Value::Size(bytes) => f.write_str(&figures::show_size(*bytes)),
            Value::YesNo(yes) => f.write_str(if *yes { "yes" } else { "no" }),
            Value::Done(done) => done.fmt(f),
            Value::Family(family) => f.write_str(family.name()),
            Value::Clef(clef) => f.write_str(clef.name()),
            Value::Sounds(interval) => interval.fmt(f),
        }
    }
}

#[cfg(test)]
mod strict_tests;
