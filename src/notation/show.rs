//! Facts of rows in the one form, as their values are in `values`.

use std::fmt;

use super::facts::relation::joined;
use super::facts::shades;
use super::row::{Can, Count, Fact, Order, RowFact};
use super::values::road::ordinal;
use super::values::{Place, Point};

impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.about {
            f.write_str("about ")?;
        }
        write!(f, "{}", self.number)?;
        f.write_str(if self.open { "?" } else { "" })
    }
}

impl fmt::Display for RowFact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.about {
            f.write_str(if shades(&self.what) { "mostly " } else { "about " })?;
        }
        self.what.fmt(f)?;
        f.write_str(if self.open { "?" } else { "" })
    }
}

impl fmt::Display for Fact {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Fact::Range {
                range,
                concert,
                place,
            } => {
                range.fmt(f)?;
                f.write_str(if *concert { " concert" } else { "" })?;
                behind(f, place.as_ref())
            }
            Fact::Plays(place, passes) => {
                plays(f, place)?;
                passed(f, passes)
            }
            Fact::Events(events) if events.first == events.last => write!(f, "event {events}"),
            Fact::Events(events) => write!(f, "events {events}"),
            Fact::Relation {
                relation,
                target,
                place,
                ..
            } => {
                write!(f, "{} {target}", relation.words())?;
                behind(f, place.as_ref())
            }
            Fact::Solo(place) => {
                f.write_str("solo")?;
                measures(f, place.as_ref())
            }
            Fact::Tacet(place) => {
                f.write_str("tacet")?;
                measures(f, place.as_ref())
            }
            Fact::OverTheBreak(place) => {
                f.write_str("over the break")?;
                behind(f, place.as_ref())
            }
            Fact::BelowTheBreak => f.write_str("below the break"),
            Fact::OnePlayer => f.write_str("one player"),
            Fact::Players(first, last) if first == last => write!(f, "{first} players"),
            Fact::Players(first, last) => write!(f, "{first}-{last} players"),
            Fact::NoPart => f.write_str("none"),
            Fact::Optional => f.write_str("optional"),
            Fact::OptionalAt(place) => {
                f.write_str("optional")?;
                behind(f, Some(place))
            }
            Fact::Pitches(pitches, place) => {
                f.write_str("notes")?;
                for pitch in pitches {
                    write!(f, " {pitch}")?;
                }
                behind(f, place.as_ref())
            }
            Fact::Retune(from, to, place) => {
                write!(f, "retune {from} to {to}")?;
                behind(f, place.as_ref())
            }
            Fact::Bound { up, note, place } => {
                write!(f, "{} {note}", if *up { "up to" } else { "down to" })?;
                behind(f, place.as_ref())
            }
            Fact::Notes(notes, place) => {
                f.write_str("notes")?;
                for note in notes {
                    write!(f, " {note}")?;
                }
                behind(f, place.as_ref())
            }
            Fact::Change(from, to, place) => {
                write!(f, "change {from} to {to}")?;
                behind(f, place.as_ref())
            }
            Fact::Positions(last) => write!(f, "positions 1-{last}"),
            Fact::Measures(1) => f.write_str("1 measure"),
            Fact::Measures(many) => write!(f, "{many} measures"),
            Fact::Lasts(clock) => clock.fmt(f),
            Fact::Line(_, stages) => {
                let stages: Vec<String> = stages.iter().filter_map(|stage| stage.one_form()).collect();
                f.write_str(&stages.join(", "))
            }
            Fact::NoRange(words) => f.write_str(words),
            Fact::CompleteWith(parts) => {
                f.write_str("complete with ")?;
                numbered(f, parts)
            }
            Fact::Asks(words) => write!(f, "asks {words}"),
            // Words that hold for the whole section need no count.
            Fact::Some {
                count: None,
                can: can @ Can::Standing(_),
            } => can.fmt(f),
            Fact::Some {
                count: Some(count),
                can: Can::Maybe,
            } => write!(f, "maybe {count}"),
            Fact::Some { count, can } => {
                match count {
                    None => f.write_str("all ")?,
                    Some(0) => f.write_str("none ")?,
                    Some(count) => write!(f, "{count} ")?,
                }
                can.fmt(f)
            }
            Fact::Title(titled) => titled.fmt(f),
            Fact::Interlude(interlude) => interlude.fmt(f),
            Fact::Stet(stet) => write!(f, "stet {stet}"),
            Fact::Instruments { names, not } => {
                f.write_str(if *not { "not " } else { "" })?;
                f.write_str(&joined(names))
            }
            Fact::Standing(standing) => standing.fmt(f),
            Fact::Sticks(words, place) => {
                f.write_str(words)?;
                measures(f, place.as_ref())
            }
            Fact::Pin(pin) => pin.fmt(f),
            Fact::Strong => f.write_str("strong player"),
            Fact::WrittenIn => f.write_str("written in"),
            Fact::Divided(place) => {
                f.write_str("divisi")?;
                measures(f, place.as_ref())
            }
            Fact::DividedAtTimes => f.write_str("occasional divisi"),
            Fact::Undivided => f.write_str("no divisi"),
            Fact::Lines(1) => f.write_str("1 line"),
            Fact::Lines(lines) => write!(f, "{lines} lines"),
            Fact::Texture(texture, place) => {
                texture.fmt(f)?;
                behind(f, place.as_ref())
            }
            Fact::Saying(saying, place) => {
                saying.fmt(f)?;
                measures(f, place.as_ref())
            }
            Fact::Switches(other) => write!(f, "doubles {other}"),
            Fact::Order(Order::Nth(nth)) => write!(f, "{} on the program", ordinal(u32::from(*nth))),
            Fact::Order(order) => f.write_str(match order {
                Order::BeforeIntermission => "before the intermission",
                Order::AfterIntermission => "after the intermission",
                Order::AfterSpeech => "after the speech",
                Order::WithTrack => "with the recording",
                Order::Speaker => "needs the speaker",
                Order::IfTime => "if time allows",
                Order::Nth(_) => "",
                Order::Attacca => "attacca",
                Order::Opener => "opener",
                Order::Closer => "closer",
                Order::Encore => "encore",
                Order::Intermission => "intermission",
                Order::WarmUp => "warm-up",
                Order::Together => "combined bands",
            }),
            Fact::Movements(numbers) => {
                f.write_str(if numbers.len() == 1 {
                    "movement "
                } else {
                    "movements "
                })?;
                numbered(f, numbers)
            }
        }
    }
}

impl fmt::Display for Can {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Can::OverTheBreak => f.write_str("over the break"),
            Can::UpTo(pitch) => write!(f, "up to {pitch}"),
            Can::Reach(note) => write!(f, "up to {note}"),
            Can::DownTo(pitch) => write!(f, "down to {pitch}"),
            Can::TrebleClef => f.write_str("treble clef"),
            Can::Also(other) => write!(f, "also {other}"),
            Can::Standing(standing) => f.write_str(standing),
            Can::Since(day) => write!(f, "since {day}"),
            Can::Until(day) => write!(f, "until {day}"),
            Can::Away(days) => write!(f, "away {days}"),
            Can::More(day) => write!(f, "more from {day}"),
            Can::Maybe => f.write_str("maybe"),
            Can::Share { stand, instrument } => f.write_str(match (stand, instrument) {
                (true, true) => "share a stand and an instrument",
                (false, true) => "share an instrument",
                _ => "share a stand",
            }),
        }
    }
}

/// Numbers with commas, and `and` before the last.
fn numbered(f: &mut fmt::Formatter<'_>, numbers: &[u32]) -> fmt::Result {
    let numbers: Vec<String> = numbers.iter().map(u32::to_string).collect();
    match numbers.as_slice() {
        [head @ .., before, last] => {
            let head: String = head.iter().map(|number| format!("{number}, ")).collect();
            write!(f, "{head}{before} and {last}")
        }
        numbers => f.write_str(&numbers.concat()),
    }
}

/// Where a part plays: `5-20`, `16`, `A to C`, `throughout`, `at trio`.
fn plays(f: &mut fmt::Formatter<'_>, place: &Place) -> fmt::Result {
    match place {
        Place::Between(Point::Measure(first), Point::Measure(last)) if first == last => write!(f, "{first}"),
        Place::Between(Point::Measure(first), Point::Measure(last)) => write!(f, "{first}-{last}"),
        Place::Between(Point::FromEnd(0), Point::FromEnd(0)) => f.write_str("the last measure"),
        Place::Between(Point::FromEnd(away), Point::FromEnd(0)) => {
            write!(f, "last {} measures", away.saturating_add(1))
        }
        Place::Between(first, last) => write!(f, "{first} to {last}"),
        place => write!(f, "{place}"),
    }
}

/// `second time only` for the passes in which it plays.
fn passed(f: &mut fmt::Formatter<'_>, passes: &[u32]) -> fmt::Result {
    if passes.is_empty() {
        return Ok(());
    }
    let passes: Vec<String> = passes.iter().map(|pass| ordinal(*pass)).collect();
    write!(f, " {} time only", passes.join(" and "))
}

fn behind(f: &mut fmt::Formatter<'_>, place: Option<&Place>) -> fmt::Result {
    match place {
        Some(place) => write!(f, " {place}"),
        None => Ok(()),
    }
}

/// Where a solo or a rest stands; measures from one to another need no `at`.
fn measures(f: &mut fmt::Formatter<'_>, place: Option<&Place>) -> fmt::Result {
    match place {
        Some(Place::Between(Point::Measure(first), Point::Measure(last))) => write!(f, " {first}-{last}"),
        place => behind(f, place),
    }
}
