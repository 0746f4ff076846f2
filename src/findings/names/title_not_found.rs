//! A name in quotation marks that has no card.

use crate::catalogue::EntryId;
use crate::catalogue::NameUse;
use crate::catalogue::Wants;
use crate::catalogue::names::{self, nearly_alike};
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying, Severity};
use crate::findings::rule::{Notice, Noticed};
use crate::findings::slips;
use crate::notation::Kind;
use crate::rule;
use crate::text::Edit;

use super::super::notation::name_without_quotes::is_quote;
use super::writers::told_by;

rule! {
    /// A piece or a band that a card names and that has no card of its own. Lists, bundles and grades name many
    /// things that nobody has a card for, and so does the program of a concert that is over; there only a name
    /// that is nearly one of yours is noticed.
    ///
    /// # Why it matters
    ///
    /// A piece that is not found counts for nothing: not for the length of the evening, not for its percussion,
    /// not for what must be taught by then.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Copper Kettle Jig"
    ///
    /// ensemble "Seventh Grade Band"
    ///
    /// concert "Spring concert"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Copper Kettel Jig"
    ///      ^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///
    /// concert "Winter evening"
    ///   program
    ///     Harbor Parades
    ///     ^^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Winter Roads"
    ///   grade           2 "Four County list"
    ///                      ^^^^^^^^^^^^^^^^
    ///
    /// list "Four Counties list"
    ///   year            2026
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// list "Thrum Hollow list"
    ///   holds           "A Piece by Somebody Else" grade 2
    ///
    /// piece "Winter Roads"
    ///   listed          "Green spiral binder"
    ///   performed       2019-05-10 "A Band of Long Ago"
    ///
    /// concert "Spring concert two years ago"
    ///   on              2024-05-14
    ///   program
    ///     "A March That Was Rented"
    /// ```
    ///
    /// # What to do
    ///
    /// Fix the name, or write a card for it; a name alone is enough.
    TitleNotFound: "title not found", Names, Error, reads Catalogue, looks at Any
}

/// A name without a card.
pub struct NotFound {
    name: NameUse,
    kind: Kind,
    /// Names that are nearly alike, the nearest first.
    near: Vec<String>,
    /// On a card that the names were meant for and that has a slip itself: how many cards use the name.
    users: usize,
    /// Who wrote the pieces of that very title, when the writer is what does not fit.
    writers: Vec<String>,
    /// Whether it stands without quotation marks.
    bare: bool,
}

/// For so many titles of a card the nearest of all titles is looked for; the others are still told, with those
/// that are a slip or two away. A program of as many titles as there are cards would take the square of them.
const MOST_SEARCHED: usize = 100;

impl Notice for TitleNotFound {
    type What = NotFound;

    fn severity(what: &NotFound) -> Option<Severity> {
        what.bare.then_some(Severity::Warning)
    }

    fn notice(card: &Card<'_>) -> Vec<Noticed<NotFound>> {
        let uses = card.entry.uses.iter();
        let mut found: Vec<Noticed<NotFound>> = uses
            .filter(|name| !name.name.is_empty() && card.snapshot.meant(name).is_empty())
            // A card's first line that nobody could read is told there, and one of a card's own name too.
            .filter(|name| !card.snapshot.is_lost(&name.name) && slip_in_a_head(card, name).is_none())
            .enumerate()
            .filter_map(|(before, name)| not_found(card, name, before < MOST_SEARCHED))
            .collect();
        found.extend(own_slip(card));
        found
    }

    fn say(what: &NotFound, _card: &Card<'_>) -> Saying {
        let name = &what.name.name;
        if what.users > 0 {
            return Saying {
                place: String::new(),
                says: format!(
                    "{} other cards say \"{name}\", and no {} card is called that. Was this one meant?",
                    what.users, what.kind
                ),
                why: "What they say about it does not reach this card.".to_owned(),
                todo: "Write the name here as the other cards do, or fix it there.".to_owned(),
            };
        }
        let says = match (
            what.name.by.as_deref(),
            what.writers.as_slice(),
            what.near.first(),
        ) {
            (Some(by), [first, ..], _) => format!("\"{name}\" has a card, but by {first}, and none by {by}."),
            (_, _, Some(near)) => format!("No {} card is called \"{name}\". Perhaps \"{near}\"?", what.kind),
            _ => format!("No {} card is called \"{name}\".", what.kind),
        };
        let why = match what.kind {
            Kind::Piece if what.bare => {
                "Words without quotation marks are a title only where a card has it, so these count for nothing."
            }
            Kind::Piece if what.name.field == "assigned" => {
                "So what you decided counts for no piece, and you believe it is settled."
            }
            Kind::Piece => {
                "A piece without a card counts neither for the length of the evening nor for its players."
            }
            Kind::Ensemble => "Without the band's card nobody can be counted for what it plays.",
            _ => "What the other card says does not count here.",
        };
        Saying {
            place: what.name.field.to_owned(),
            says,
            why: why.to_owned(),
            todo: match (what.near.first(), what.writers.is_empty()) {
                (Some(_), true) => "Fix the name, or write a card for it.".to_owned(),
                (_, false) => "Fix the composer's name, or write a card for the other piece.".to_owned(),
                _ if what.bare => format!(
                    "Write the title as its card has it, or write piece \"{name}\" at the margin of a file; a remark goes in parentheses."
                ),
                _ => format!(
                    "Write {} \"{name}\" at the margin of a file; a name alone is enough.",
                    what.kind
                ),
            },
        }
    }

    fn repairs(noticed: &Noticed<NotFound>, card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        if what.users > 0 {
            let name = what.name.name.clone();
            return vec![Repair::to_decide(
                format!("Write \"{name}\""),
                vec![Edit::replace(noticed.span, name)],
            )];
        }
        if let Some(by) = what.name.by.as_deref() {
            let after = card.text().get(noticed.span.end as usize..).unwrap_or("");
            let Some(at) = after.find(by).filter(|_| !what.writers.is_empty()) else {
                return Vec::new();
            };
            let span = crate::text::Span::long(noticed.span.end + at as u32, by.len() as u32);
            let writers = what.writers.iter();
            return writers
                .map(|writer| {
                    Repair::to_decide(
                        format!("Write by {writer}"),
                        vec![Edit::replace(span, writer.clone())],
                    )
                })
                .collect();
        }
        let only = what.near.len() == 1 && what.name.name.chars().count() > 7;
        let near = what.near.iter();
        near.map(|near| Repair {
            title: format!("Write \"{near}\""),
            safe: only && slips::slips(near, &what.name.name) == 1,
            edits: vec![Edit::replace(noticed.span, near.clone())],
        })
        .collect()
    }
}

/// The card that a name was meant for, where several cards use the name and none uses that card's own: then the
/// slip is in its first line.
fn slip_in_a_head(card: &Card<'_>, name: &NameUse) -> Option<EntryId> {
    let key = names::key(&name.name);
    let mut unfound = card.snapshot.unfound();
    unfound.find(|(used, users)| *users > 1 && names::key(&used.name) == key)?;
    let kinds = Kind::ALL.into_iter().filter(|kind| name.wants.takes(*kind));
    let kind = kinds.into_iter().next()?;
    let near = near(card, name, kind, false);
    let [only] = near.as_slice() else { return None };
    let id = card.snapshot.names().of(kind, only).next()?;
    card.snapshot.uses_of(id).is_empty().then_some(id)
}

/// Whether other cards have another name for this one, which is told here.
pub(super) fn has_own_slip(card: &Card<'_>) -> bool {
    own_slip(card).is_some()
}

/// The name that other cards have for this one, where only this one has it otherwise.
fn own_slip(card: &Card<'_>) -> Option<Noticed<NotFound>> {
    let kind = card.kind().filter(|_| !card.entry.name.is_empty())?;
    if !card.snapshot.uses_of(card.id).is_empty() {
        return None;
    }
    let mut unfound = card.snapshot.unfound().filter(|(name, _)| name.wants.takes(kind));
    let (name, users) = unfound.find(|(name, users)| {
        *users > 1
            && slips::slips(&name.name, &card.entry.name) <= 3
            && slip_in_a_head(card, name) == Some(card.id)
    })?;
    let what = NotFound {
        name: name.clone(),
        kind,
        near: Vec::new(),
        users,
        writers: Vec::new(),
        bare: false,
    };
    Some(Noticed::new(card.head_span(), what))
}

/// Whether a name stands without quotation marks.
fn is_bare(card: &Card<'_>, name: &NameUse) -> bool {
    let before = card.text().get(..name.span.start as usize).unwrap_or("");
    !before.ends_with(is_quote)
}

fn not_found(card: &Card<'_>, name: &NameUse, among_all: bool) -> Option<Noticed<NotFound>> {
    let kind = match name.wants {
        Wants::Card(kind) => kind,
        Wants::ListOrBook => Kind::List,
        Wants::CriteriaOrList => Kind::Criteria,
        Wants::PastEnsemble => Kind::Ensemble,
        Wants::Skill => return None,
    };
    let shelf = matches!(card.kind(), Some(Kind::List | Kind::Bundle));
    // What was played once may have left the shelf since.
    // Words without quotation marks are a title only where a card bears it, and are told otherwise.
    let bare = is_bare(card, name);
    let must = name.wants.must_be_there() && !shelf && (bare || !card.is_over());
    let near = near(card, name, kind, must && among_all);
    let writers: Vec<String> = match kind {
        Kind::Piece => {
            let pieces = card.snapshot.pieces_titled(&name.name, None).into_iter();
            pieces
                .filter_map(|id| told_by(&card.snapshot.entry(id)?.face.by).map(str::to_owned))
                .collect()
        }
        _ => Vec::new(),
    };
    if !must && near.is_empty() && writers.is_empty() {
        return None;
    }
    let what = NotFound {
        name: name.clone(),
        kind,
        near,
        users: 0,
        writers,
        bare,
    };
    Some(Noticed::judged(name.span, must, what))
}

/// Names of cards that this one may have been meant for, at most three.
fn near(card: &Card<'_>, name: &NameUse, kind: Kind, must: bool) -> Vec<String> {
    let snapshot = card.snapshot;
    let title = |id| snapshot.entry(id).map(|entry| entry.name.clone());
    let mut found: Vec<String> = match kind {
        Kind::Piece => snapshot
            .names()
            .near(&name.name)
            .into_iter()
            .filter_map(title)
            .collect(),
        _ => {
            let kinds = Kind::ALL.into_iter().filter(|kind| name.wants.takes(*kind));
            kinds
                .flat_map(|kind| snapshot.names().all(kind))
                .filter_map(|(_, id)| title(id))
                .collect()
        }
    };
    let figures = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    // A band of the past may be called nearly like one of today: there only one letter may differ.
    let slips_allowed = if name.wants == Wants::PastEnsemble { 1 } else { 3 };
    found.retain(|other| {
        let alike = nearly_alike(other, &name.name)
            || (kind != Kind::Piece && crate::notation::nearest(&name.name, [other.as_str()]).is_some());
        alike && slips::slips(other, &name.name) <= slips_allowed && figures(other) == figures(&name.name)
    });
    if found.is_empty() && must && kind == Kind::Piece {
        // Of titles of very different length none is near.
        let length = name.name.chars().count();
        let all: Vec<&str> = snapshot
            .names()
            .all(kind)
            .filter_map(|(_, id)| Some(snapshot.entry(id)?.name.as_str()))
            .filter(|title| title.chars().count().abs_diff(length) <= 3)
            .collect();
        let nearest = crate::notation::nearest(&name.name, all);
        found.extend(
            nearest
                .filter(|near| figures(near) == figures(&name.name))
                .map(str::to_owned),
        );
    }
    found.sort_by_cached_key(|other| (slips::slips(other, &name.name), other.clone()));
    found.dedup();
    found.truncate(3);
    found
}
