//! Answers from what fields say in the cards' own words: techniques, features, whom a piece suits.

use crate::catalogue::model::{Facts, Said};
use crate::catalogue::names;
use crate::music::skills;
use crate::notation::Kind;
use crate::notation::row::Fact;
use crate::notation::values::{Needs, Played, Skill};

use super::amount::Amount;
use super::judge::Evaluator;
use super::lexicon::{Sort, is_known, plain};
use super::subject::Subject;
use super::term::{Saying, Term};
use super::truth::{Truth, sentence};

/// A name as a condition holds it, without the quotes it was written in.
pub(super) fn bare(name: &str) -> &str {
    name.trim_matches('"')
}

impl Evaluator<'_> {
    /// Answers conditions on a field's words; none for others.
    pub(super) fn sayings(&self, term: &Term, subject: &Subject<'_>) -> Option<Truth> {
        let piece = subject.piece;
        Some(match term {
            Term::Says(field, words) => says(*field, words, subject),
            Term::Publisher(name) => holds(&piece.publisher, name, "who publishes it", "is published by"),
            Term::Published(amount) => published(*amount, subject),
            Term::Strong(section) => strong(section, subject),
            Term::Scores(amount) => scores(*amount, subject),
            Term::WentWell => went_well(subject),
            Term::Memorized => memorized(subject),
            Term::Asks(words) => self.skill(words, &piece.asks, "asks", subject),
            Term::Teaches(words) => self.skill(words, &piece.teaches, "teaches", subject),
            _ => return None,
        })
    }

    /// A skill by its name or by another word on its card; a sort of meter also by the meters.
    fn skill(&self, words: &str, said: &[Said<Skill>], verb: &str, subject: &Subject<'_>) -> Truth {
        let words = bare(words);
        let wanted = self.skill_names(words);
        if said
            .iter()
            .any(|skill| skill.is_certain() && self.is_one_of(&skill.value.name, &wanted))
        {
            return Truth::Yes(format!("{verb} {words}"));
        }
        if verb == "asks"
            && let Some(meter) = super::read::read(self.snapshot, words).pop()
            && let Some(truth @ Truth::Yes(_)) =
                matches!(meter.term, Term::MeterSort(_) | Term::Meter(_) | Term::Changes(_))
                    .then(|| self.music(&meter.term, subject))
                    .flatten()
        {
            return truth;
        }
        let unknown = said.is_empty()
            || said.iter().any(|skill| !skill.is_certain())
            || !is_known(Sort::Skill, words, self.snapshot);
        match unknown {
            true => Truth::Unknown(format!("what it {verb}")),
            false => Truth::No(format!("does not name {words} among what it {verb}")),
        }
    }

    pub(super) fn is_one_of(&self, name: &str, wanted: &[String]) -> bool {
        self.skill_names(name).iter().any(|name| wanted.contains(name))
    }

    /// All names of the skill that goes by this one, as compared.
    pub(super) fn skill_names(&self, words: &str) -> Vec<String> {
        let mut all = vec![plain(words).join(" ")];
        let mut add = |name: &str| all.push(plain(&names::key(name)).join(" "));
        add(words);
        for id in self.snapshot.names().of(Kind::Skill, words) {
            if let Some(entry) = self.snapshot.entry(id)
                && let Facts::Skill(card) = entry.facts()
            {
                add(&entry.name);
                card.also.iter().for_each(|also| add(&also.value));
            }
        }
        if let Some(skill) = skills::find(words) {
            add(skill.name);
            skill.also.iter().for_each(|also| add(also));
        }
        all
    }
}

/// Whether these words stand somewhere in what is said.
fn found(said: &[Said<String>], words: &str) -> bool {
    let wanted = plain(bare(words));
    said.iter().any(|one| {
        plain(&one.value)
            .windows(wanted.len().max(1))
            .any(|window| window == wanted.as_slice())
    })
}

fn all(said: &[Said<String>]) -> String {
    said.iter()
        .map(|one| one.value.as_str())
        .collect::<Vec<_>>()
        .join(", ")
}

fn holds(said: &[Said<String>], words: &str, missing: &str, verb: &str) -> Truth {
    let certain: Vec<Said<String>> = said.iter().filter(|one| one.is_certain()).cloned().collect();
    match (
        found(&certain, words),
        said.is_empty(),
        certain.len() == said.len(),
    ) {
        (true, _, _) => Truth::Yes(format!("{verb} {}", all(said))),
        (false, false, true) => Truth::No(format!("{verb} {}", all(said))),
        _ => Truth::Unknown(missing.to_owned()),
    }
}

fn says(field: Saying, words: &str, subject: &Subject<'_>) -> Truth {
    let piece = subject.piece;
    match field {
        Saying::Liked if words.is_empty() => match piece.liked.is_empty() {
            true => Truth::Unknown("who liked it".to_owned()),
            false => Truth::Yes(format!("was liked by {}", all(&piece.liked))),
        },
        Saying::Features => holds(&piece.features, words, "what it features", "features"),
        // Cards name what is worth naming, so that what is not named of these is not denied.
        Saying::Techniques => only_yes(&piece.techniques, words, "all its techniques", "has"),
        Saying::Suits => only_yes(&piece.suits, words, "whom else it suits", "suits"),
        Saying::Liked => only_yes(&piece.liked, words, "who else liked it", "was liked by"),
        Saying::Texture => only_yes(&piece.techniques, words, "its texture", "has"),
    }
}

fn only_yes(said: &[Said<String>], words: &str, missing: &str, verb: &str) -> Truth {
    match holds(said, words, missing, verb) {
        Truth::No(_) => Truth::Unknown(missing.to_owned()),
        truth => truth,
    }
}

fn published(amount: Amount, subject: &Subject<'_>) -> Truth {
    const MISSING: &str = "when it was published";
    let year = subject.piece.publisher.iter().find_map(|said| {
        let year: u64 = said.value.trim().parse().ok()?;
        (said.is_certain() && (1500..=2200).contains(&year)).then_some(year)
    });
    year.map_or_else(
        || Truth::Unknown(MISSING.to_owned()),
        |year| Truth::of(amount.holds(year), format!("was published in {year}")),
    )
}

/// A strong section is wanted where the card says `strong` of it: in whom it suits, in what it needs, or
/// beside a part.
fn strong(section: &str, subject: &Subject<'_>) -> Truth {
    let piece = subject.piece;
    let wanted = plain(section);
    let speaks = |words: &str| {
        let words = plain(words);
        words.iter().any(|word| word == "strong")
            && words
                .windows(wanted.len().max(1))
                .any(|window| window == wanted.as_slice())
    };
    let yes = || Truth::Yes(format!("wants a strong {section} section"));
    let said = piece.suits.iter().chain(&piece.features);
    if said.into_iter().any(|one| one.is_certain() && speaks(&one.value))
        || piece
            .needs
            .iter()
            .any(|said| said.is_certain() && needs_strong(&said.value, &wanted))
    {
        return yes();
    }
    let rows = subject.bodies().into_iter().flat_map(|body| &body.parts);
    for row in rows {
        let own = row
            .names
            .iter()
            .any(|name| plain(&name.one_form()).starts_with(&wanted));
        let says = row.facts.iter().any(|fact| match &fact.what {
            Fact::Strong => fact.is_certain(),
            _ => false,
        });
        if own && says {
            return yes();
        }
    }
    Truth::Unknown("whether it wants a strong section".to_owned())
}

/// Whether a need is a strong section of these words.
fn needs_strong(needs: &Needs, wanted: &[String]) -> bool {
    match needs {
        Needs::Players {
            able: Some("strong" | "good" | "advanced"),
            any_of,
            ..
        } => any_of.iter().any(|name| plain(name).starts_with(wanted)),
        _ => false,
    }
}

fn scores(amount: Amount, subject: &Subject<'_>) -> Truth {
    const MISSING: &str = "how many original scores there are";
    let library = &subject.piece.library;
    let copies = library
        .copies
        .iter()
        .filter(|said| said.is_certain() && plain(&said.value.part).iter().any(|word| word == "score"));
    let counts: Vec<Option<u32>> = copies.map(|said| said.value.count).collect();
    match counts.as_slice() {
        [] => Truth::Unknown(MISSING.to_owned()),
        counts => {
            let sum: u64 = counts.iter().map(|count| u64::from(count.unwrap_or(1))).sum();
            let open = counts.iter().any(Option::is_none);
            let why = match sum {
                1 => "has 1 score in the library".to_owned(),
                _ => format!("has {sum} scores in the library"),
            };
            Truth::within(amount.holds_in(sum, (!open).then_some(sum), true), why, MISSING)
        }
    }
}

fn went_well(subject: &Subject<'_>) -> Truth {
    let mut all = Vec::new();
    let certain = subject.piece.performed.iter().filter(|said| said.is_certain());
    for said in certain.flat_map(|said| &said.value.said) {
        match said {
            Played::Went(went) if ["went well", "went very well", "well received"].contains(went) => {
                return Truth::Yes((*went).to_owned());
            }
            Played::Went(went) => all.push(*went),
            _ => {}
        }
    }
    match all.is_empty() {
        true => Truth::Unknown("how it went".to_owned()),
        false => Truth::No(sentence(format!("the card says: {}", all.join(", ")))),
    }
}

fn memorized(subject: &Subject<'_>) -> Truth {
    let piece = subject.piece;
    let is = |words: &str| {
        let small = words.to_lowercase();
        small.contains("memoriz") || small.contains("memoris") || small.contains("from memory")
    };
    let said = piece
        .asks
        .iter()
        .any(|said| said.is_certain() && is(&said.value.name));
    match said {
        true => Truth::Yes("is played from memory".to_owned()),
        false => Truth::Unknown("whether it is played from memory".to_owned()),
    }
}
