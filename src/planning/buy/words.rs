//! An order in words: the same in the command, in the editor and on the page.

use jiff::civil::Date;

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::Money;
use crate::text::sentences::{agree, counted, joined};

use super::{MOST, NoOrder, Order, Scope, SetWanted, What, Why, Wish, order, wanting};

/// A sum of hundredths.
pub fn money(cents: u64, currency: &str) -> String {
    Money::sum(cents, currency).to_string()
}

/// `2 tuba parts for "Harbor Parade"`, `1 score for "Harbor Parade"`.
pub fn copies(count: u32, part: &str, piece: &str) -> String {
    let what = match part.ends_with("score") {
        true => part.to_owned(),
        false => format!("{part} part"),
    };
    format!("{} for \"{piece}\"", counted(count as usize, &what))
}

/// Why a part is bought.
pub fn why(why: Why) -> String {
    match why {
        Why::Missing => "it is missing".to_owned(),
        Why::Short => "the card says that more are wanted".to_owned(),
        Why::Fewer { copies, players } => format!(
            "{} for {}",
            counted(copies as usize, "copy"),
            counted(players as usize, "player")
        ),
    }
}

/// A line of an order.
pub fn line(what: &What) -> String {
    match what {
        What::Set(title) => format!("\"{title}\""),
        What::Bundle { name, holds } => {
            let titles: Vec<String> = holds.iter().map(|title| format!("\"{title}\"")).collect();
            match titles.is_empty() {
                true => format!("bundle \"{name}\", which lifts the order over the sum without postage"),
                false => format!("bundle \"{name}\" with {}", joined(&titles)),
            }
        }
        What::Part {
            count,
            part,
            piece,
            why: because,
        } => format!("{} ({})", copies(*count, part, piece), why(*because)),
    }
}

/// When sets are needed: those of one concert and one first rehearsal in one sentence.
pub fn urgent(sets: &[SetWanted], today: Date) -> Vec<String> {
    let mut groups: Vec<(&SetWanted, Vec<String>)> = Vec::new();
    for set in sets {
        let title = format!("\"{}\"", set.name);
        let same = |known: &&mut (&SetWanted, Vec<String>)| {
            known.0.concert == set.concert && known.0.rehearsed == set.rehearsed
        };
        match groups.iter_mut().find(same) {
            Some((_, titles)) => titles.push(title),
            None => groups.push((set, vec![title])),
        }
    }
    let told = groups.into_iter().map(|(set, titles)| {
        let concert = set.concert.as_ref().map_or("", |(name, _)| name.as_str());
        let be = agree(titles.len(), "is", "are");
        let all = joined(&titles);
        let when = match (set.rehearsed, &set.concert) {
            (Some(day), _) => format!("{all} {be} first rehearsed on {day} for \"{concert}\""),
            (None, Some((_, day))) => format!("{all} {be} for \"{concert}\" on {day}"),
            (None, None) => format!("{all} {be} wanted"),
        };
        match set.rehearsed.is_some_and(|day| day <= today) {
            true => format!("{when}: order today, or begin with another piece."),
            false => format!("{when}, so order now: sets take weeks to come."),
        }
    });
    told.collect()
}

impl NoOrder {
    /// Why there is none, and what to do.
    pub fn says(&self, currency: &str) -> String {
        match self {
            NoOrder::Currencies(all) => format!(
                "The prices are in {}. Levare does not change money: write them all in one currency, then ask again.",
                joined(all)
            ),
            NoOrder::TooMuch(things) => format!(
                "There are {things} sets and parts to buy, and at most {MOST} are looked at in one order. Ask for one concert, or for some pieces by name."
            ),
            NoOrder::OverBudget { least, budget } => format!(
                "What the concerts need costs at least {}, and {} may be spent. Take a piece off a program, borrow a set, or choose again with \"levare choose\".",
                money(least.cents, currency),
                money(*budget, currency)
            ),
        }
    }
}

/// What is to be bought for a concert in a few words, for a line above its card.
pub fn in_short(snapshot: &Snapshot, concert: EntryId) -> Option<String> {
    let lacking = wanting(snapshot, &Scope::Concert(concert));
    let found: Order = order(snapshot, &lacking, &Wish::default()).ok()?;
    (!found.lines.is_empty()).then(|| {
        let least = if found.no_price.is_empty() {
            ""
        } else {
            "at least "
        };
        format!("{least}{} to buy", money(found.cents, &found.currency))
    })
}
