//! Facts of rows in the one form, as their values are in `values`.

use std::fmt;

use super::row::{Can, Count, Fact, RowFact};
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
            f.write_str("about ")?;
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
            Fact::Plays(stretch) => stretch.fmt(f),
            Fact::Throughout => f.write_str("throughout"),
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
            Fact::Optional => f.write_str("optional"),
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
            Fact::NoRange(words) => f.write_str(words),
            Fact::CompleteWith(parts) => {
                let parts: Vec<String> = parts.iter().map(u32::to_string).collect();
                match parts.as_slice() {
                    [head @ .., before, last] => {
                        let head: String = head.iter().map(|part| format!("{part}, ")).collect();
                        write!(f, "complete with {head}{before} and {last}")
                    }
                    parts => write!(f, "complete with {}", parts.concat()),
                }
            }
            Fact::Asks(words) => write!(f, "asks {words}"),
            Fact::Some { count, can } => {
                match count {
                    None => f.write_str("all ")?,
                    Some(0) => f.write_str("none ")?,
                    Some(count) => write!(f, "{count} ")?,
                }
                can.fmt(f)
            }
            Fact::Title(titled) => titled.fmt(f),
            Fact::Stet(stet) => write!(f, "stet {stet}"),
            Fact::Words(words, place) => {
                f.write_str(words)?;
                behind(f, place.as_ref())
            }
        }
    }
}

impl fmt::Display for Can {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Can::OverTheBreak => f.write_str("over the break"),
            Can::UpTo(pitch) => write!(f, "up to {pitch}"),
            Can::DownTo(pitch) => write!(f, "down to {pitch}"),
            Can::TrebleClef => f.write_str("treble clef"),
            Can::Also(other) => write!(f, "also {other}"),
            Can::Words(words) => f.write_str(words),
        }
    }
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
