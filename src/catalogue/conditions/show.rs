//! The one form of a condition.

use std::fmt;

use crate::music::interval::size_in_words;
use crate::notation::values::Who;
use crate::notation::values::grade::show_hundredths;

use super::amount::Amount;
use super::styles::plural;
use super::term::{Condition, Coverage, Saying, Term, When};

fn counted(amount: Amount, one: &str, many: &str) -> String {
    match amount {
        Amount::A if one.starts_with(['a', 'e', 'i', 'o', 'u']) => format!("an {one}"),
        _ if amount.number() == 1 => format!("{amount} {one}"),
        _ => format!("{amount} {many}"),
    }
}

fn plain(amount: Amount, unit: &str) -> String {
    counted(amount, unit, &format!("{unit}s"))
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
        Amount::AtMost(0) => format!("no {one}s"),
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

/// `grade 2`, `grade 1-2`, `up to grade 2`.
fn grade(f: &mut fmt::Formatter<'_>, amount: Amount) -> fmt::Result {
    let grade = |n| format!("grade {}", show_hundredths(u32::try_from(n).unwrap_or(u32::MAX)));
    match amount {
        Amount::Between(low, high) => {
            let high = u32::try_from(high).unwrap_or(u32::MAX);
            write!(f, "{}-{}", grade(low), show_hundredths(high))
        }
        Amount::AtMost(n) => write!(f, "up to {}", grade(n)),
        other => f.write_str(&other.show(grade)),
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
                Term::Any(any) => {
                    let mut lead = "no ";
                    for one in any {
                        let words = one.to_string();
                        write!(f, "{lead}{}", words.strip_prefix("has ").unwrap_or(&words))?;
                        lead = " or ";
                    }
                    Ok(())
                }
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
                Term::Known(field) => write!(f, "{field} unknown"),
                // What can be counted takes an article: not a march, but not lyrical.
                Term::Style(style) if plural(style) != *style => {
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
                // What describes a piece is not counted by itself.
                Term::Style(style) if plural(style) == *style => f.write_str(&counted(
                    *amount,
                    &format!("{style} piece"),
                    &format!("{style} pieces"),
                )),
                Term::Style(style) => f.write_str(&counted(*amount, style, &plural(style))),
                Term::Solo(_) | Term::Part(_) => {
                    let words = inner.to_string();
                    let words = words.strip_prefix("has ").unwrap_or(&words);
                    f.write_str(&counted(*amount, words, &format!("{words}s")))
                }
                Term::Slow | Term::Fast => f.write_str(&counted(
                    *amount,
                    &format!("{inner} piece"),
                    &format!("{inner} pieces"),
                )),
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
                grade(f, *amount)?;
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
            Term::Says(Saying::Liked, words) if words.is_empty() => f.write_str("liked"),
            Term::Says(field, words) => write!(f, "{} {words}", field.lead()),
            Term::Strong(section) => write!(f, "strong {section} section"),
            Term::Contrast => f.write_str("slow and fast"),
            Term::TempoTerm(word) => write!(f, "tempo {word}"),
            Term::Published(amount) => match amount {
                Amount::AtLeast(year) => write!(f, "published since {year}"),
                Amount::AtMost(year) => write!(f, "published before {}", year.saturating_add(1)),
                Amount::Between(from, to) => write!(f, "published {from}-{to}"),
                other => write!(f, "published in {}", other.number()),
            },
            Term::WentWell => f.write_str("went well"),
            Term::Scores(Amount::A) => f.write_str("original scores"),
            Term::Scores(amount) => f.write_str(&plain(*amount, "original score")),
            Term::Memorized => f.write_str("memorized"),
            Term::NothingNew => f.write_str("asks nothing new"),
            Term::Asks(words) => write!(f, "asks {words}"),
            Term::Teaches(words) => write!(f, "teaches {words}"),
            Term::Performed(when) => match when {
                When::Ever => f.write_str("performed"),
                When::Since(day) => write!(f, "performed since {day}"),
                When::Before(day) => write!(f, "performed before {day}"),
                When::In(day) => write!(f, "performed in {day}"),
                When::By(band) => write!(f, "performed by \"{band}\""),
                When::LastYear => f.write_str("performed last year"),
                When::ThisYear => f.write_str("performed this year"),
                When::LastBefore(day) => write!(f, "last performed before {day}"),
                When::LastIn(day) => write!(f, "last performed in {day}"),
                When::Years(1) => f.write_str("performed in the last 1 year"),
                When::Years(years) => write!(f, "performed in the last {years} years"),
            },
            Term::By(name) => write!(f, "by {name}"),
            Term::Publisher(name) if name.starts_with('"') => write!(f, "published by {name}"),
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
            Term::Written { part, flats, sharps } => {
                write!(f, "{} ", part.as_deref().unwrap_or("every part"))?;
                accidentals(f, *flats, *sharps)
            }
            Term::Criteria(amount) => {
                grade(f, *amount)?;
                f.write_str(" by our criteria")
            }
            Term::NewSkills(amount) => f.write_str(&plain(*amount, "new skill")),
            Term::Covered(Coverage::All) => f.write_str("covered"),
            Term::Covered(Coverage::Winds) => f.write_str("winds covered"),
            Term::Covered(Coverage::Percussion) => f.write_str("percussion covered"),
            Term::Movements(amount) => f.write_str(&plain(*amount, "movement")),
            Term::PercussionParts(amount) => f.write_str(&plain(*amount, "percussion part")),
            Term::Took(amount) => write!(f, "took {}", plain(*amount, "week")),
            Term::Rated(rating) => write!(f, "result {rating}"),
            Term::Went(went) => f.write_str(went),
            Term::Lent => f.write_str("lent"),
            Term::Holds(Some(field), words) => write!(f, "{field} says \"{words}\""),
            Term::Holds(None, words) => write!(f, "says \"{words}\""),
            Term::Known(field) => write!(f, "{field} known"),
            Term::Unheard(left) => f.write_str(&left.words),
        }
    }
}
