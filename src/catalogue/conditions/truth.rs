//! True, false, or not known; each with its reason in words that stand behind a title.

/// Whether a condition holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Truth {
    /// It holds: `is a march`.
    Yes(String),
    /// It does not: `has 4 flats`.
    No(String),
    /// Nobody can say; what is not known: `its key signature`.
    Unknown(String),
}

impl std::ops::Not for Truth {
    type Output = Truth;

    fn not(self) -> Truth {
        match self {
            Truth::Yes(why) => Truth::No(why),
            Truth::No(why) => Truth::Yes(why),
            unknown => unknown,
        }
    }
}

impl Truth {
    /// Holds if one of them holds.
    pub fn any(all: impl IntoIterator<Item = Truth>) -> Truth {
        let (mut no, mut unknown) = (Vec::new(), None);
        for truth in all {
            match truth {
                Truth::Yes(why) => return Truth::Yes(why),
                Truth::No(why) => no.push(why),
                Truth::Unknown(what) => unknown = unknown.or(Some(what)),
            }
        }
        no.dedup();
        unknown.map_or_else(|| Truth::No(together(&no)), Truth::Unknown)
    }

    /// Holds if all of them hold.
    pub fn all(all: impl IntoIterator<Item = Truth>) -> Truth {
        !Truth::any(all.into_iter().map(|truth| !truth))
    }

    /// Yes or no by `holds`.
    pub fn of(holds: bool, why: impl Into<String>) -> Truth {
        match holds {
            true => Truth::Yes(why.into()),
            false => Truth::No(why.into()),
        }
    }

    /// A value that lies somewhere from `low` to `high` keeps to a bound: surely, surely not, or perhaps.
    pub fn within(some_and_all: (bool, bool), why: impl Into<String>, missing: &str) -> Truth {
        match some_and_all {
            (_, true) => Truth::Yes(why.into()),
            (false, _) => Truth::No(why.into()),
            _ => Truth::Unknown(missing.to_owned()),
        }
    }

    /// The same, but a certain no becomes unknown where `sure` is false.
    pub fn no_only_if(self, sure: bool, missing: &str) -> Truth {
        match self {
            Truth::No(_) if !sure => Truth::Unknown(missing.to_owned()),
            truth => truth,
        }
    }

    /// Whether it surely holds.
    pub fn is_yes(&self) -> bool {
        matches!(self, Truth::Yes(_))
    }

    /// Whether it surely does not hold.
    pub fn is_no(&self) -> bool {
        matches!(self, Truth::No(_))
    }

    /// The words.
    pub fn words(&self) -> &str {
        match self {
            Truth::Yes(words) | Truth::No(words) | Truth::Unknown(words) => words,
        }
    }
}

/// A reason that is a sentence of its own and no end of one: `clarinet 2 goes over the break`.
pub(super) fn sentence(words: impl AsRef<str>) -> String {
    format!(": {}", words.as_ref())
}

/// Several reasons as one; where one of them is a sentence of its own, all are.
fn together(all: &[String]) -> String {
    match all {
        [only] => only.clone(),
        several if several.iter().any(|why| why.starts_with(": ")) => {
            let each: Vec<String> = several.iter().map(|why| alone(why)).collect();
            sentence(each.join(", "))
        }
        several => several.join(", "),
    }
}

/// A reason after the piece's name: `"Lamp" has 4 flats`, `"Lamp": clarinet 2 goes over the break`.
pub fn behind(name: &str, why: &str) -> String {
    match why.strip_prefix(": ") {
        Some(sentence) => format!("{name}: {sentence}"),
        None => format!("{name} {why}"),
    }
}

/// A reason alone: `it has 4 flats`, `clarinet 2 goes over the break`.
pub fn alone(why: &str) -> String {
    match why.strip_prefix(": ") {
        Some(sentence) => sentence.to_owned(),
        None => format!("it {why}"),
    }
}
