//! The days that a value names, whatever it is a value of.

use super::{Away, Day, License, Loan, Value};

impl Value {
    /// All days that it names, in the order they are said.
    pub fn days(&self) -> Vec<Day> {
        let mut found: Vec<Option<Day>> = Vec::new();
        match self {
            Value::Moment(moment) => found.push(Some(moment.day)),
            Value::Days(days) => found.extend([days.from, days.until]),
            Value::Away(Away::On(_, days)) => found.extend([days.from, days.until]),
            Value::Skill(skill) => found.push(skill.by),
            Value::Performance(performance) => found.push(performance.day),
            Value::Bought(bought) => found.push(bought.day),
            Value::Price(price) => found.extend(price.bought.iter().map(|bought| bought.day)),
            Value::Equipment(thing) => {
                found.extend(thing.days.iter().flat_map(|days| [days.from, days.until]))
            }
            Value::Loan(Loan::Due(day)) => found.push(Some(*day)),
            Value::Loan(Loan::Back(day) | Loan::Out { day, .. }) => found.push(*day),
            Value::License(License::Until(day)) => found.push(Some(*day)),
            Value::License(License::Prints { until, .. } | License::May { until, .. }) => found.push(*until),
            Value::Meets(meets) => {
                found.extend(meets.not.iter().flat_map(|days| [days.from, days.until]));
                found.extend([meets.starts, meets.ends]);
            }
            _ => {}
        }
        let mut days: Vec<Day> = found.into_iter().flatten().collect();
        days.dedup();
        days
    }
}
