//! What a concert must meet, each demand by itself, so that it can be told and left out.

use crate::catalogue::conditions::{Amount, Condition, Facet, Term};
use crate::notation::values::Money;
use crate::text::sentences::counted;

/// One demand on a concert.
#[derive(Debug, Clone, PartialEq)]
pub enum Demand {
    /// The pieces that the director has put on the program stay.
    Keep(Vec<String>),
    /// A condition of the concert's card or of the command.
    Condition {
        /// The condition.
        condition: Condition,
        /// The criteria it stands under.
        under: Option<String>,
    },
    /// A piece that the director keeps, whichever band plays it.
    One(String),
    /// A band of several plays so many seconds at least and at most, the time between its pieces counted; at least
    /// one piece where it says no more.
    Share {
        /// The band, by its place among those of the evening.
        band: usize,
        /// Its name.
        name: String,
        /// The least.
        least: Option<u32>,
        /// The most.
        most: Option<u32>,
    },
    /// A condition for what one band of several plays.
    Own {
        /// The band, by its place among those of the evening.
        band: usize,
        /// Its name.
        name: String,
        /// The condition.
        condition: Condition,
    },
    /// The band has a player for every part that is needed.
    Covered,
    /// In keys that the band has been taught, by its card.
    KeysTaught,
    /// No percussion instrument that the band does not have.
    InTheRoom,
    /// Nothing performed in so many years.
    Rested(u32),
    /// Nothing that would have to be bought.
    OnTheShelf,
    /// All of it in so many seconds, with so many between two pieces.
    Length {
        /// Seconds in all.
        allowed: u32,
        /// Seconds between two pieces.
        between: u32,
    },
    /// What has to be bought costs at most so much.
    Budget(Money),
    /// At most so many skills that the band has not been taught; for each band where several play.
    NewSkills {
        /// How many.
        most: u32,
        /// Whether several bands play.
        each: bool,
    },
    /// At most so many pieces that are alike in something; for each band where several play.
    Alike {
        /// In what.
        facet: Facet,
        /// How many.
        most: usize,
        /// Whether several bands play.
        each: bool,
    },
    /// At most so many pieces.
    Pieces(usize),
}

impl Demand {
    /// The demand in words that a sentence may hold.
    pub fn says(&self) -> String {
        match self {
            Demand::Keep(titles) => {
                let titles: Vec<String> = titles.iter().map(|title| format!("\"{title}\"")).collect();
                format!("keep {}", titles.join(", "))
            }
            Demand::Condition { condition, under } => match under {
                Some(name) => format!("{condition} (from \"{name}\")"),
                None => condition.to_string(),
            },
            Demand::One(title) => format!("keep \"{title}\""),
            Demand::Share {
                name, least, most, ..
            } => {
                let clock = |seconds: &u32| format!("{}:{:02}", seconds / 60, seconds % 60);
                match (least, most) {
                    (Some(least), Some(most)) => {
                        format!("{} to {} for the {name}", clock(least), clock(most))
                    }
                    (None, Some(most)) => format!("at most {} for the {name}", clock(most)),
                    (Some(least), None) => format!("at least {} for the {name}", clock(least)),
                    (None, None) => format!("a piece for the {name}"),
                }
            }
            Demand::Own { name, condition, .. } => format!("{condition} for the {name}"),
            Demand::Covered => "every part covered by the band".to_owned(),
            Demand::KeysTaught => "in keys that the band knows".to_owned(),
            Demand::InTheRoom => "only percussion instruments that the band has".to_owned(),
            Demand::Rested(1) => "not performed in the last year".to_owned(),
            Demand::Rested(years) => format!("not performed in the last {years} years"),
            Demand::OnTheShelf => "nothing to buy".to_owned(),
            Demand::Length { allowed, .. } => {
                format!("at most {}:{:02} in all", allowed / 60, allowed % 60)
            }
            Demand::Budget(money) => format!("at most {money} to spend"),
            Demand::NewSkills { most: 0, each: true } => "no new skills for any band".to_owned(),
            Demand::NewSkills { most: 0, .. } => "no new skills".to_owned(),
            Demand::NewSkills { most, each } => {
                let whose = if *each { " for each band" } else { " in all" };
                format!("at most {}{whose}", counted(*most as usize, "new skill"))
            }
            Demand::Alike { facet, most, each } => {
                let how = match facet {
                    Facet::Key | Facet::Meter | Facet::Signature => "in",
                    Facet::Composer => "by",
                    Facet::Style | Facet::Tempo => "of",
                };
                let whose = if *each { " for each band" } else { "" };
                format!(
                    "at most {} {how} one {}{whose}",
                    counted(*most, "piece"),
                    facet.word()
                )
            }
            Demand::Pieces(most) => format!("at most {}", counted(*most, "piece")),
        }
    }

    /// Whether a piece of which this is not known may be taken all the same, and is told as such. The director
    /// did not ask for these in so many words, and most cards are silent about them.
    pub fn is_lenient(&self) -> bool {
        matches!(
            self,
            Demand::Covered | Demand::KeysTaught | Demand::InTheRoom | Demand::Rested(_) | Demand::OnTheShelf
        )
    }

    /// How many pieces there are to be, where that is what it says: the least and the most.
    pub fn pieces(&self) -> Option<(Option<usize>, Option<usize>)> {
        let number = |number: u64| usize::try_from(number).ok();
        match self {
            Demand::Pieces(most) => Some((None, Some(*most))),
            Demand::Condition { condition, .. } => match &condition.term {
                Term::Count { amount, of: None } => Some(match amount {
                    Amount::A => (Some(1), None),
                    Amount::Just(count) | Amount::AtLeast(count) => (number(*count), None),
                    Amount::Exactly(count) => (number(*count), number(*count)),
                    Amount::AtMost(count) => (None, number(*count)),
                    Amount::Between(low, high) => (number(*low), number(*high)),
                }),
                _ => None,
            },
            _ => None,
        }
    }
}
