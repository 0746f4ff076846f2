//! A line that wants indenting.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Kind;
use crate::notation::fields;
use crate::notation::tree::StrayWhy;
use crate::rule;
use crate::text::{Edit, Span};

use super::walk::indent_of;
use crate::findings::slips;

rule! {
    /// A line that starts at the left margin and starts no card there.
    ///
    /// # Why it matters
    ///
    /// The margin is where cards begin. A line that slipped there is easily taken for one, by you and by anybody
    /// who reads the file after you.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Jump Rope Rag"
    ///   style           rag
    /// tempo             quarter = 88
    /// ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Jump Rope Rag"
    ///   style           rag
    /// peice "Fogbell"
    /// ^^^^^^^^^^^^^^^
    ///   style           novelty
    /// ```
    ///
    /// ```levare
    /// piece "Jump Rope Rag"
    ///   style           rag
    ///
    /// handbook "Band room"
    /// ^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// (Pieces for the spring)
    /// piece "Jump Rope Rag"
    ///   style           rag
    /// ```
    ///
    /// # What to do
    ///
    /// Put spaces in front of the line, or write `piece` and a name in quotation marks if a card was meant.
    LineAtTheMargin: "line at the margin", Notation, Warning, reads Card, looks at Any
}

/// A line at the margin.
pub struct AtMargin {
    /// Whether it was read all the same.
    read: bool,
    /// The kind of card that its first word was probably meant for, and where that word stands.
    kind: Option<(Kind, Span)>,
    /// The name that a handbook was given, where that is why it starts no card.
    name: Option<Span>,
}

impl Notice for LineAtTheMargin {
    type What = AtMargin;

    fn notice(card: &Card<'_>) -> Vec<Noticed<AtMargin>> {
        let tree = &card.reading.tree;
        let fields = tree.fields.iter().filter(|field| field.at_margin);
        let fields = fields.filter_map(|field| {
            let line = tree.lines.get(field.line)?;
            Some(Noticed::new(
                line.body,
                AtMargin {
                    read: true,
                    kind: None,
                    name: None,
                },
            ))
        });
        let strays = tree.strays.iter().filter(|stray| stray.why == StrayWhy::AtMargin);
        let strays = strays.map(|stray| {
            let kind = kind_meant(card, stray.body);
            let name = handbook_named(card, stray.body);
            Noticed::new(
                stray.body,
                AtMargin {
                    read: false,
                    kind,
                    name,
                },
            )
        });
        fields.chain(strays).collect()
    }

    fn say(what: &AtMargin, _card: &Card<'_>) -> Saying {
        if what.name.is_some() {
            return Saying {
                place: String::new(),
                says: "The handbook has no name, so this line starts no card, and nothing below it is read."
                    .to_owned(),
                why: "What it says is meant for the whole catalog, and no card goes by it now.".to_owned(),
                todo: "Write handbook alone.".to_owned(),
            };
        }
        let says = match (what.kind, what.read) {
            (Some((kind, _)), _) => format!("This line starts no card; was {kind} meant?"),
            (None, true) => "This line is at the margin, where only cards begin.".to_owned(),
            (None, false) => "This line is at the margin and starts no card, so it is not read.".to_owned(),
        };
        Saying {
            place: String::new(),
            says,
            why: "A line at the margin looks like a new card, and lines under it can end up on the wrong piece."
                .to_owned(),
            todo: match what.kind {
                Some((kind, _)) => format!("Write {kind} at the start of the line."),
                None => "Put spaces in front of it, like the lines around it.".to_owned(),
            },
        }
    }

    fn repairs(noticed: &Noticed<AtMargin>, card: &Card<'_>) -> Vec<Repair> {
        if let Some(name) = noticed.what.name {
            return vec![Repair::to_decide(
                "Write handbook alone".to_owned(),
                vec![Edit::replace(name, "")],
            )];
        }
        if let Some((kind, span)) = noticed.what.kind {
            let certain = slips::slips(card.words(span), kind.word()) == 1;
            return vec![Repair {
                title: format!("Write {kind}"),
                safe: certain,
                edits: vec![Edit::replace(span, kind.word())],
            }];
        }
        vec![Repair {
            title: "Indent the line".to_owned(),
            safe: noticed.what.read,
            edits: vec![Edit::insert(noticed.span.start, indent_of(card))],
        }]
    }
}

/// The name behind the word `handbook`, with the blanks before it.
fn handbook_named(card: &Card<'_>, body: Span) -> Option<Span> {
    let text = card.words(body);
    let word = Kind::Handbook.word();
    let (head, rest) = text.split_at_checked(word.len())?;
    let named = rest.starts_with([' ', '\t'])
        && rest
            .trim_start()
            .starts_with(super::name_without_quotes::is_quote);
    (head.eq_ignore_ascii_case(word) && named).then(|| Span::new(body.start + word.len() as u32, body.end))
}

/// The kind that the first word of a line was meant for, when a quoted name follows it.
pub(super) fn kind_meant(card: &Card<'_>, body: Span) -> Option<(Kind, Span)> {
    let text = card.words(body);
    let end = text.find([' ', '\t'])?;
    let rest = text.get(end..)?.trim_start();
    if !rest.starts_with(super::name_without_quotes::is_quote) {
        return None;
    }
    let word = text.get(..end)?;
    if card
        .kind()
        .is_some_and(|kind| fields::find(fields::fields_of(kind), text).is_some())
    {
        return None;
    }
    let kinds = Kind::ALL
        .iter()
        .filter(|kind| kind.is_named())
        .map(|kind| kind.word());
    let meant = MEANT
        .iter()
        .find(|(said, _)| word.eq_ignore_ascii_case(said))
        .map(|(_, kind)| *kind)
        .or_else(|| Kind::of_word(&slips::near(word, kinds)?.word))?;
    Some((meant, Span::long(body.start, end as u32)))
}

/// What directors call a card, and the kind that they mean.
const MEANT: [(&str, Kind); 14] = [
    ("band", Kind::Ensemble),
    ("group", Kind::Ensemble),
    ("roster", Kind::Ensemble),
    ("class", Kind::Ensemble),
    ("song", Kind::Piece),
    ("tune", Kind::Piece),
    ("work", Kind::Piece),
    ("title", Kind::Piece),
    ("performance", Kind::Concert),
    ("program", Kind::Concert),
    ("gig", Kind::Concert),
    ("pack", Kind::Bundle),
    ("set", Kind::Bundle),
    ("syllabus", Kind::List),
];
