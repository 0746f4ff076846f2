//! What a condition says, and its one form.

use std::fmt;

use crate::music::interval::size_in_words;
use crate::music::{Key, Meter, Mode, Pitch};
use crate::notation::values::grade::show_hundredths;
use crate::notation::values::{Day, Who};
use crate::text::Span;
use crate::text::sentences::{plural, with_article};

use super::amount::Amount;

/// One condition with its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Condition {
    /// Where it stands, counted like the span it was read with.
    pub span: Span,
    /// What it says.
    pub term: Term,
}

/// What a condition says.
#[derive(Debug, Clone, PartialEq)]
pub enum Term {
    /// The opposite.
    Not(Box<Condition>),
    /// One of these is enough.
    Any(Vec<Condition>),
    /// So many pieces of a program; of one piece, that it is one of them. No condition counts all pieces.
    Count {
        /// How many.
        amount: Amount,
        /// Which pieces.
        of: Option<Box<Condition>>,
    },
    /// So many different values in a program, or on the way of one piece.
    Different {
        /// How many.
        amount: Amount,
        /// Values of what.
        what: Facet,
    },
    /// The value changes on the way.
    Changes(Facet),
    /// Concert key signatures; what is not said of sharps or flats is left open.
    Signature {
        /// How many flats.
        flats: Option<Amount>,
        /// How many sharps.
        sharps: Option<Amount>,
    },
    /// A tonal center.
    Key(Key),
    /// A mode, or all modes with a major or minor third.
    Mode(Mode),
    /// A meter.
    Meter(Meter),
    /// A sort of meter.
    MeterSort(MeterSort),
    /// The same throughout: a key or a meter.
    Only(Box<Condition>),
    /// A tempo in beats a minute.
    Tempo(Amount),
    /// Somewhere slow.
    Slow,
    /// Somewhere fast.
    Fast,
    /// A style.
    Style(String),
    /// A grade in hundredths, and who gives it.
    Grade {
        /// The bound.
        amount: Amount,
        /// Who gives it; anybody where that is not said.
        who: Who,
    },
    /// How long it lasts, in seconds.
    Length(Amount),
    /// How long all pieces of a program last together, in seconds.
    LengthInAll(Amount),
    /// How many measures are printed.
    Measures(Amount),
    /// How many percussionists it takes.
    Percussionists(Amount),
    /// The range of every wind part, or of the parts named, in letters crossed: an octave is 7.
    Range {
        /// The part; every one where none is named.
        part: Option<String>,
        /// The widest.
        steps: i32,
    },
    /// A clarinet part that goes over the break; all of them where none is named.
    OverTheBreak(Option<String>),
    /// How high or low a part goes, in written pitch.
    Reach {
        /// The part.
        part: String,
        /// The lowest note allowed.
        low: Option<Pitch>,
        /// The highest note allowed.
        high: Option<Pitch>,
    },
    /// A solo, of one instrument or of any.
    Solo(Option<String>),
    /// A part for an instrument.
    Part(String),
    /// What it features.
    Features(String),
    /// What it asks players to know.
    Asks(String),
    /// What it is good for teaching.
    Teaches(String),
    /// It was performed.
    Performed(When),
    /// Who had a hand in it.
    By(String),
    /// The publisher, as written.
    Publisher(String),
    /// On a list; none for the list on whose card the condition stands.
    OnList(Option<String>),
    /// All conditions of the criteria or the list of that name.
    Named(String),
    /// The set is in the library.
    Owned,
    /// No part is missing.
    Complete,
    /// It is wanted.
    Wanted,
    /// What it costs, in hundredths of a currency.
    Costs {
        /// The bound.
        amount: Amount,
        /// The currency's three letters (ISO 4217).
        currency: String,
    },
    /// Words that are no known condition.
    Words(String),
}

/// What can differ from piece to piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Facet {
    /// Tonal centers.
    Key,
    /// Meters.
    Meter,
    /// Tempos.
    Tempo,
    /// Styles.
    Style,
    /// Who wrote it.
    Composer,
}

impl Facet {
    /// The word for one of its values.
    pub fn word(self) -> &'static str {
        match self {
            Facet::Key => "key",
            Facet::Meter => "meter",
            Facet::Tempo => "tempo",
            Facet::Style => "style",
            Facet::Composer => "composer",
        }
    }
}

/// A sort of meter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeterSort {
    /// Two beats to the measure.
    Duple,
    /// Three beats to the measure.
    Triple,
    /// Four beats to the measure.
    Quadruple,
    /// Beats that part in three.
    Compound,
    /// Beats that part in two.
    Simple,
    /// Beats of different lengths, or five or seven of them.
    Uneven,
}

impl MeterSort {
    /// The words of the one form.
    pub fn words(self) -> &'static str {
        match self {
            MeterSort::Duple => "duple meter",
            MeterSort::Triple => "triple meter",
            MeterSort::Quadruple => "quadruple meter",
            MeterSort::Compound => "compound meter",
            MeterSort::Simple => "simple meter",
            MeterSort::Uneven => "uneven meter",
        }
    }
}

/// When it was performed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum When {
    /// At any time.
    Ever,
    /// On or after that day.
    Since(Day),
    /// Before that day.
    Before(Day),
    /// In that year, month or on that day.
    In(Day),
    /// By that band.
    By(String),
}

impl Condition {
    /// Whether it is about a program as a whole: a count, or made of one.
    pub fn counts(&self) -> bool {
        match &self.term {
            Term::Count { .. } | Term::Different { .. } | Term::LengthInAll(_) => true,
            Term::Not(inner) => inner.counts(),
            Term::Any(all) => all.iter().any(Condition::counts),
            _ => false,
        }
    }

    /// The conditions inside it that were not understood.
    pub fn unread(&self) -> Vec<&Condition> {
        match &self.term {
            Term::Words(_) => vec![self],
            Term::Not(inner) | Term::Only(inner) => inner.unread(),
            Term::Count { of: Some(inner), .. } => inner.unread(),
            Term::Any(all) => all.iter().flat_map(Condition::unread).collect(),
            _ => Vec::new(),
        }
    }
}

fn counted(amount: Amount, one: &str, many: &str) -> String {
    match amount {
        Amount::A => with_article(one),
        _ if amount.number() == 1 => format!("{amount} {one}"),
        _ => format!("{amount} {many}"),
    }
}

fn plain(amount: Amount, unit: &str) -> String {
    counted(amount, unit, &plural(unit))
}

/// `4:30`, or `4 minutes` where no seconds are left over.
fn clock(seconds: u64) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

fn length(amount: Amount) -> String {
    let whole = |seconds: u64| seconds.is_multiple_of(60);
    let minutes = match amount {
        Amount::Between(low, high) => whole(low) && whole(high),
        other => whole(other.number()),
    };
    match (minutes, amount.number()) {
        (true, 60) => format!("{} minute", amount.show(|s| (s / 60).to_string())),
        (true, _) => format!("{} minutes", amount.show(|s| (s / 60).to_string())),
        (false, _) => amount.show(clock),
    }
}

fn accidentals(f: &mut fmt::Formatter<'_>, flats: Option<Amount>, sharps: Option<Amount>) -> fmt::Result {
    let word = |amount: Amount, one: &str| match amount {
        Amount::AtMost(n) => format!("up to {}", plain(Amount::Just(n), one)),
        other => plain(other, one),
    };
    match (flats, sharps) {
        (Some(flats), Some(sharps)) => write!(f, "{} or {}", word(flats, "flat"), word(sharps, "sharp")),
        (Some(flats), None) => f.write_str(&word(flats, "flat")),
        (None, Some(sharps)) => f.write_str(&word(sharps, "sharp")),
        (None, None) => f.write_str("any key signature"),
    }
}

impl fmt::Display for Condition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.term.fmt(f)
    }
}

impl fmt::Display for Term {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Term::Not(inner) => match &inner.term {
                Term::Solo(_) | Term::Part(_) | Term::Changes(_) => {
                    let words = inner.to_string();
                    write!(f, "no {}", words.strip_prefix("has ").unwrap_or(&words))
                }
                Term::OverTheBreak(part) => {
                    write!(
                        f,
                        "{} never over the break",
                        part.as_deref().unwrap_or("clarinet")
                    )
                }
                // What can be counted takes an article: not a march, but not lyrical.
                Term::Style(style) if super::styles::plural(style) != *style => {
                    write!(f, "not {}", counted(Amount::A, style, style))
                }
                _ => write!(f, "not {inner}"),
            },
            Term::Any(all) => {
                for (at, one) in all.iter().enumerate() {
                    write!(f, "{}{one}", if at == 0 { "" } else { " or " })?;
                }
                Ok(())
            }
            Term::Count { amount, of: None } => f.write_str(&plain(*amount, "piece")),
            Term::Count {
                amount,
                of: Some(inner),
            } => match &inner.term {
                Term::Style(style) => f.write_str(&counted(*amount, style, &super::styles::plural(style))),
                Term::Solo(_) | Term::Part(_) => {
                    let words = inner.to_string();
                    let words = words.strip_prefix("has ").unwrap_or(&words);
                    f.write_str(&counted(*amount, words, &plural(words)))
                }
                _ => write!(f, "{} {inner}", plain(*amount, "piece")),
            },
            Term::Different { amount, what } => f.write_str(&plain(*amount, what.word())),
            Term::Changes(what) => write!(f, "{} changes", what.word()),
            Term::Signature { flats, sharps } => accidentals(f, *flats, *sharps),
            Term::Key(key) => write!(f, "in {key}"),
            Term::Mode(mode) => write!(f, "in {}", mode.name()),
            Term::Meter(meter) => meter.fmt(f),
            Term::MeterSort(sort) => f.write_str(sort.words()),
            Term::Only(inner) => write!(f, "only {inner}"),
            Term::Tempo(amount) => write!(f, "tempo {amount}"),
            Term::Slow => f.write_str("slow"),
            Term::Fast => f.write_str("fast"),
            Term::Style(style) => f.write_str(style),
            Term::Grade { amount, who } => {
                let grade = |n| format!("grade {}", show_hundredths(u32::try_from(n).unwrap_or(u32::MAX)));
                match amount {
                    Amount::Between(low, high) => {
                        let high = u32::try_from(*high).unwrap_or(u32::MAX);
                        write!(f, "{}-{}", grade(*low), show_hundredths(high))?;
                    }
                    Amount::AtMost(n) => write!(f, "up to {}", grade(*n))?,
                    other => f.write_str(&other.show(grade))?,
                }
                match who {
                    Who::Unsaid => Ok(()),
                    Who::List(name) => write!(f, " on \"{name}\""),
                    who => write!(f, " {who}"),
                }
            }
            Term::Length(amount) => f.write_str(&length(*amount)),
            Term::LengthInAll(amount) => write!(f, "{} in all", length(*amount)),
            Term::Measures(amount) => f.write_str(&plain(*amount, "measure")),
            Term::Percussionists(amount) => f.write_str(&plain(*amount, "percussionist")),
            Term::Range { part, steps } => {
                let size = size_in_words(*steps);
                match part {
                    None => write!(f, "every range at most {size}"),
                    Some(part) => write!(f, "{part} range at most {size}"),
                }
            }
            Term::OverTheBreak(part) => write!(f, "{} over the break", part.as_deref().unwrap_or("clarinet")),
            Term::Reach { part, low, high } => match (low, high) {
                (Some(low), Some(high)) => write!(f, "{part} {low}-{high}"),
                (Some(low), None) => write!(f, "{part} down to {low}"),
                (None, Some(high)) => write!(f, "{part} up to {high}"),
                (None, None) => f.write_str(part),
            },
            Term::Solo(None) => f.write_str("has solo"),
            Term::Solo(Some(part)) => write!(f, "has {part} solo"),
            Term::Part(part) => write!(f, "has {part}"),
            Term::Features(words) => write!(f, "features {words}"),
            Term::Asks(words) => write!(f, "asks {words}"),
            Term::Teaches(words) => write!(f, "teaches {words}"),
            Term::Performed(when) => match when {
                When::Ever => f.write_str("performed"),
                When::Since(day) => write!(f, "performed since {day}"),
                When::Before(day) => write!(f, "performed before {day}"),
                When::In(day) => write!(f, "performed in {day}"),
                When::By(band) => write!(f, "performed by \"{band}\""),
            },
            Term::By(name) => write!(f, "by {name}"),
            Term::Publisher(name) => write!(f, "from {name}"),
            Term::OnList(None) => f.write_str("from the list"),
            Term::OnList(Some(name)) => write!(f, "from \"{name}\""),
            Term::Named(name) => write!(f, "\"{name}\""),
            Term::Owned => f.write_str("owned"),
            Term::Complete => f.write_str("complete"),
            Term::Wanted => f.write_str("wanted"),
            Term::Costs { amount, currency } => {
                let money = |cents: u64| match cents % 100 {
                    0 => format!("{} {currency}", cents / 100),
                    part => format!("{}.{part:02} {currency}", cents / 100),
                };
                write!(f, "costs {}", amount.show(money))
            }
            Term::Words(words) => f.write_str(words),
        }
    }
}
