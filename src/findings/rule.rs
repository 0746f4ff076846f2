//! What a rule is. Noticing, wording and mending are three functions, so that each can be read alone.

use crate::text::Span;

use super::card::Card;
use super::finding::{Finding, Related, Repair, Saying, Severity};
use super::looks::Looks;

/// What a rule is about; also the folder its file lies in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Family {
    /// How a card is written.
    Notation,
    /// Titles and other names.
    Names,
    /// Keys and key signatures.
    Keys,
    /// Measures, meters, tempos, lengths and the roadmap.
    Time,
    /// The parts a piece is made of.
    Form,
    /// Ranges and the break.
    Ranges,
    /// Percussion.
    Percussion,
    /// Who covers which part.
    Coverage,
    /// Grades, and what they stand for.
    Grade,
    /// Programs of concerts.
    Concert,
    /// Copies, loans and what else the library keeps.
    Library,
    /// Wind parts against each other: doublings, part numbers, divided parts.
    Voices,
    /// What is asked against what is taught, and in which order.
    Skills,
    /// Prices, bundles and budgets.
    Buying,
    /// Names of students.
    Privacy,
    /// What has been performed, graded and counted.
    Records,
}

impl Family {
    /// All families in the order of the manual.
    pub const ALL: [Family; 16] = [
        Family::Notation,
        Family::Names,
        Family::Keys,
        Family::Time,
        Family::Form,
        Family::Ranges,
        Family::Percussion,
        Family::Coverage,
        Family::Grade,
        Family::Concert,
        Family::Library,
        Family::Voices,
        Family::Skills,
        Family::Buying,
        Family::Privacy,
        Family::Records,
    ];

    /// The family's word.
    pub fn word(self) -> &'static str {
        match self {
            Family::Notation => "notation",
            Family::Names => "names",
            Family::Keys => "keys",
            Family::Time => "time",
            Family::Form => "form",
            Family::Ranges => "ranges",
            Family::Percussion => "percussion",
            Family::Coverage => "coverage",
            Family::Grade => "grade",
            Family::Concert => "concert",
            Family::Library => "library",
            Family::Voices => "voices",
            Family::Skills => "skills",
            Family::Buying => "buying",
            Family::Privacy => "privacy",
            Family::Records => "records",
        }
    }
}

/// What a rule reads beyond the card itself, so that only what an edit can have changed runs again.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Reads {
    /// This card alone.
    Card,
    /// Also the handbook, the bands that judge it, and other cards by name.
    Catalogue,
}

/// A rule as the table holds it.
#[derive(Debug)]
pub struct Rule {
    /// A short plain phrase that a director would say.
    pub phrase: &'static str,
    /// What it is about.
    pub family: Family,
    /// How strongly its findings are shown unless the handbook says otherwise.
    pub severity: Severity,
    /// What it reads.
    pub reads: Reads,
    /// What it looks at: cards that have none of it are passed over.
    pub looks: Looks,
    /// Its manual page: what it notices, why it matters, examples, what to do.
    pub page: &'static str,
    /// Runs it on one card and adds what it finds.
    pub run: fn(&Card<'_>, &Rule, &mut Vec<Finding>),
}

/// Something noticed, with its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Noticed<T> {
    /// Where, in bytes from the start of the card's text.
    pub span: Span,
    /// Whether it is only a hint, since the piece is left in peace on the shelf.
    pub hint: bool,
    /// What the rule needs to say it.
    pub what: T,
}

impl<T> Noticed<T> {
    /// Something noticed, as strong as the rule is.
    pub fn new(span: Span, what: T) -> Noticed<T> {
        Noticed {
            span,
            hint: false,
            what,
        }
    }

    /// Something noticed that is only a hint unless it is to be told in full strength.
    pub fn judged(span: Span, in_full: bool, what: T) -> Noticed<T> {
        Noticed {
            span,
            hint: !in_full,
            what,
        }
    }
}

/// How a rule works.
pub trait Notice {
    /// What it needs to say what it noticed.
    type What;

    /// Looks at a card.
    fn notice(card: &Card<'_>) -> Vec<Noticed<Self::What>>;

    /// Puts it in words.
    fn say(what: &Self::What, card: &Card<'_>) -> Saying;

    /// Other places that explain it.
    fn related(_what: &Self::What, _card: &Card<'_>) -> Vec<Related> {
        Vec::new()
    }

    /// Ways to mend it, the likeliest first.
    fn repairs(_noticed: &Noticed<Self::What>, _card: &Card<'_>) -> Vec<Repair> {
        Vec::new()
    }

    /// How strongly this one is shown, where that is not the rule's own severity.
    fn severity(_what: &Self::What) -> Option<Severity> {
        None
    }

    /// Whether the words marked do nothing anymore.
    const IDLE: bool = false;
}

/// Runs a rule on a card and adds what it finds.
pub fn run<N: Notice>(card: &Card<'_>, rule: &Rule, found: &mut Vec<Finding>) {
    found.extend(N::notice(card).into_iter().map(|noticed| Finding {
        phrase: rule.phrase,
        severity: match noticed.hint {
            true => Severity::Hint,
            false => N::severity(&noticed.what).unwrap_or(rule.severity),
        },
        span: noticed.span,
        saying: N::say(&noticed.what, card),
        related: N::related(&noticed.what, card),
        repairs: N::repairs(&noticed, card),
        idle: N::IDLE,
    }));
}

/// Declares a rule: its doc comment becomes its manual page.
#[macro_export]
macro_rules! rule {
    (
        $(#[doc = $doc:expr])*
        $name:ident: $phrase:literal, $family:ident, $severity:ident, reads $reads:ident,
        looks at $($looks:ident)|+
    ) => {
        $(#[doc = $doc])*
        pub struct $name;

        impl $name {
            /// The rule for the table.
            pub const RULE: $crate::findings::Rule = $crate::findings::Rule {
                phrase: $phrase,
                family: $crate::findings::Family::$family,
                severity: $crate::findings::Severity::$severity,
                reads: $crate::findings::Reads::$reads,
                looks: $crate::findings::Looks::NONE$(.or($crate::findings::Looks::$looks))+,
                page: concat!($($doc, "\n"),*),
                run: $crate::findings::run_rule::<$name>,
            };
        }
    };
}
