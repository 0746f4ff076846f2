//! Whether something is done, and by whom: `yes`, `no`, `live`, `by the parents`, `yes, for the school's page`.

use std::fmt;

use super::cursor::single;

/// Whether something is done on an evening.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Done {
    /// Whether it is.
    pub yes: bool,
    /// How, by whom or for whom, in the director's words.
    pub how: Option<String>,
}

/// Words that say how something is done, and by that that it is.
const HOW: [&str; 9] = [
    "live ", "by ", "for ", "on ", "only ", "as ", "with ", "to ", "from ",
];

impl Done {
    /// Reads `yes`, `no`, `live`, `by the parents`, `yes for the school's page`, `no, not this year`.
    pub fn read(text: &str) -> Option<Done> {
        let text = single(text);
        let word_end = text.find([' ', ',', ':']).unwrap_or(text.len());
        let (word, rest) = text.split_at_checked(word_end)?;
        let rest = rest.trim_start_matches([',', ':', ' ']);
        let yes = match word.to_lowercase().as_str() {
            "yes" | "y" => true,
            "no" | "n" | "none" | "never" | "not" => false,
            _ => {
                let lower = text.to_lowercase();
                let how = HOW.iter().any(|lead| lower.starts_with(lead)) || lower == "live";
                return how.then_some(Done {
                    yes: true,
                    how: Some(text.clone()),
                });
            }
        };
        let said = rest.to_lowercase();
        // A reason belongs to either; words that say something else do not.
        let is_how = HOW.iter().chain(&["this "]).any(|lead| said.starts_with(lead)) || said == "live";
        let how = match rest.is_empty() {
            true => None,
            false if is_how => Some(rest.to_owned()),
            false => return None,
        };
        Some(Done { yes, how })
    }
}

impl fmt::Display for Done {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match (&self.how, self.yes) {
            (None, true) => f.write_str("yes"),
            (None, false) => f.write_str("no"),
            (Some(how), true) => f.write_str(how),
            (Some(how), false) => write!(f, "no {how}"),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_said_of_it_stays() {
        let table = [
            ("yes", Some((true, "yes"))),
            ("No", Some((false, "no"))),
            ("live", Some((true, "live"))),
            ("by the parents", Some((true, "by the parents"))),
            ("yes for the school's page", Some((true, "for the school's page"))),
            ("not this year", Some((false, "no this year"))),
            ("yes zqxv", None),
            ("zqxv", None),
            ("3", None),
            ("", None),
        ];
        for (text, wanted) in table {
            let read = Done::read(text);
            let said = read.as_ref().map(|done| (done.yes, done.to_string()));
            let wanted = wanted.map(|(yes, words)| (yes, words.to_owned()));
            assert_eq!(said, wanted, "{text}");
            if let Some(done) = read {
                assert_eq!(Done::read(&done.to_string()), Some(done), "{text} again");
            }
        }
    }
}
