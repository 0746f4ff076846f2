//! What somebody asks for besides what the cards say: what every piece has to meet, what may be spent.

use crate::catalogue::Snapshot;
use crate::catalogue::conditions::{Condition, read};
use crate::notation::values::Money;

/// Limits of a program or an order, beside those of the cards.
#[derive(Debug, Clone, Default)]
pub struct Limits {
    /// What every piece has to meet.
    pub conditions: Vec<Condition>,
    /// What may be spent.
    pub budget: Option<Money>,
}

impl Limits {
    /// The limits as somebody types them; nothing where nothing is typed. In words for the director what is not
    /// understood.
    pub fn read(snapshot: &Snapshot, conditions: &str, budget: &str) -> Result<Limits, String> {
        let conditions = read(snapshot, conditions);
        let misheard = misheard(&conditions);
        if !misheard.is_empty() {
            return Err(misheard.join(" "));
        }
        let budget = match budget.trim() {
            "" => None,
            words => Some(sum(words, "Write")?),
        };
        Ok(Limits { conditions, budget })
    }
}

/// A sum of money; in words for the director why it is none. `how` says what to do with an example of one.
pub fn sum(words: &str, how: &str) -> Result<Money, String> {
    Money::read(words)
        .ok_or_else(|| format!("\"{words}\" is not a sum of money. {how} \"120 USD\" or '$120'."))
}

/// For each word of conditions that is not understood, what is wrong and what to do.
pub fn misheard(conditions: &[Condition]) -> Vec<String> {
    let leftovers = conditions.iter().flat_map(Condition::leftovers);
    leftovers
        .map(|left| {
            let todo = match &left.expected.form {
                Some(form) => format!("If you meant \"{form}\", type it that way."),
                None => "Use the words of the cards, such as \"at most 5 percussionists\" or \"up to 3 flats\". A name that no card uses goes in quotation marks."
                    .to_owned(),
            };
            format!("{} {todo}", left.says())
        })
        .collect()
}
