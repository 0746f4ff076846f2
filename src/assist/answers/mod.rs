//! What is answered about evenings, bands and shelves: which pieces make a concert or a season, what to teach, what
//! to buy, what the library holds. The command line and the page of a browser ask here.

pub mod buy;
pub mod choose;
pub mod grade;
pub mod library;
pub mod limits;
pub mod season;
pub mod teach;

use crate::catalogue::conditions::Condition;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;
use crate::planning::buy::{Scope, Wish as ToBuy, order, wanting};
use crate::planning::choose::season::{Others, Season, SeasonWish, season as together};
use crate::planning::choose::{OTHERS, Outcome, RESTS, Wish, budget_of, choose as chosen};
use crate::planning::library::shelf;
use crate::text::Edit;
use crate::text::said::Answer;

use super::{planned, programmed, recorded};
use limits::Limits;

/// Edits of several files, by their numbers.
pub type Files = Vec<(usize, Vec<Edit>)>;

/// What can be asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Asked {
    /// Which pieces make a good concert.
    Choose,
    /// What to teach, and in which week.
    Teach,
    /// What to order.
    Buy,
    /// Where each set is, and what is missing.
    Library,
    /// Which pieces make all coming concerts.
    Season,
}

impl Asked {
    /// All, with the words by which a page asks.
    pub const ALL: [(&'static str, Asked); 5] = [
        ("choose", Asked::Choose),
        ("teach", Asked::Teach),
        ("buy", Asked::Buy),
        ("library", Asked::Library),
        ("season", Asked::Season),
    ];

    /// The question of a word.
    pub fn of_word(word: &str) -> Option<Asked> {
        Asked::ALL
            .iter()
            .find(|(one, _)| *one == word)
            .map(|(_, asked)| *asked)
    }
}

/// An answer, and what can be written because of it.
#[derive(Debug, Clone, Default)]
pub struct Told {
    /// What it is about: a name, or a few words.
    pub about: String,
    /// What is said.
    pub answer: Answer,
    /// What to do about it, in words for a button, and the edits that do it.
    pub write: Option<(&'static str, Files)>,
}

/// What is answered about a card, as a command that names it would; where the question is not about such a card,
/// about the whole catalogue. In words for the director why there is no answer. Programs keep all limits, orders the
/// budget.
pub fn of_card(
    snapshot: &Snapshot,
    card: Option<EntryId>,
    asked: Asked,
    limits: Limits,
) -> Result<Told, String> {
    let entry = card.and_then(|id| snapshot.entry(id));
    let kind = entry.and_then(|entry| entry.kind);
    let name = entry.map_or("", |entry| entry.name.as_str());
    match asked {
        Asked::Choose => {
            let (concert, bands) = match (card, kind) {
                (Some(id), Some(Kind::Concert)) => (Some(id), choose::bands(snapshot, id)?),
                (Some(id), Some(Kind::Ensemble)) => (None, vec![id]),
                _ => return Err("Put the cursor on the card of a concert, or of a band, and Levare chooses pieces for it.".to_owned()),
            };
            Ok(choosing(snapshot, name, concert, &bands, limits))
        }
        Asked::Teach => {
            let (whom, about) = match (card, kind) {
                (Some(id), Some(Kind::Concert)) => (teach::Whom::Concert(id), name),
                (Some(id), Some(Kind::Ensemble)) => (teach::Whom::Band(id), name),
                _ => (teach::Whom::All, "All that is to come"),
            };
            teaching(snapshot, about, whom)
        }
        Asked::Buy => {
            let (scope, about) = match (card, kind) {
                (Some(id), Some(Kind::Concert)) => (Scope::Concert(id), name),
                (Some(id), Some(Kind::Piece)) => (Scope::Pieces(vec![id]), name),
                _ => (Scope::Everything, "All that is needed and wanted"),
            };
            buying(snapshot, about, &scope, limits)
        }
        Asked::Library => {
            let (only, about) = match (card, kind) {
                (Some(id), Some(Kind::Piece)) => (vec![id], name),
                _ => (Vec::new(), "The library"),
            };
            Ok(Told {
                about: about.to_owned(),
                answer: library::tell(snapshot, &shelf(snapshot, &only), !only.is_empty()),
                write: None,
            })
        }
        Asked::Season => seasonal(snapshot, limits),
    }
}

fn choosing(
    snapshot: &Snapshot,
    about: &str,
    concert: Option<EntryId>,
    bands: &[EntryId],
    limits: Limits,
) -> Told {
    let wish = Wish {
        concert,
        conditions: limits.conditions,
        budget: limits.budget.or_else(|| budget_of(snapshot, concert)),
        others: OTHERS as usize,
        ..Wish::usual(bands)
    };
    let choice = chosen(snapshot, &wish);
    let write = match (&choice.outcome, concert) {
        (Outcome::Program(program), Some(concert)) => {
            let pieces = programmed::played(program);
            let edits = programmed::edit(snapshot, concert, &pieces).unwrap_or_default();
            let files = vec![(concert.file as usize, edits)];
            some("Write this program on the card", files)
        }
        _ => None,
    };
    Told {
        about: about.to_owned(),
        answer: choose::tell(snapshot, &wish, &choice),
        write,
    }
}

/// What can be done, where it changes anything.
fn some(title: &'static str, files: Files) -> Option<(&'static str, Files)> {
    files
        .iter()
        .any(|(_, edits)| !edits.is_empty())
        .then_some((title, files))
}

fn teaching(snapshot: &Snapshot, about: &str, whom: teach::Whom) -> Result<Told, String> {
    let (plans, none) = teach::plans(snapshot, whom)?;
    let mut answer = teach::tell(snapshot, &plans);
    none.iter().for_each(|none| answer.say(none.says()));
    Ok(Told {
        about: about.to_owned(),
        answer,
        write: some(
            "Write these days on the bands' cards",
            planned::edits(snapshot, &plans),
        ),
    })
}

fn buying(snapshot: &Snapshot, about: &str, scope: &Scope, limits: Limits) -> Result<Told, String> {
    let wish = ToBuy {
        budget: limits.budget,
        ..ToBuy::default()
    };
    let lacking = wanting(snapshot, scope);
    let found = order(snapshot, &lacking, &wish).map_err(|why| why.says("USD"))?;
    Ok(Told {
        about: about.to_owned(),
        answer: buy::tell(snapshot, &lacking, &wish, &found),
        write: None,
    })
}

fn seasonal(snapshot: &Snapshot, limits: Limits) -> Result<Told, String> {
    let concerts = season::concerts(snapshot, &[])?;
    let wish = SeasonWish {
        budget: limits.budget,
        ..SeasonWish::default()
    };
    let found = of_season(snapshot, &concerts, RESTS, &limits.conditions, &wish);
    let write = match &found.others {
        Others::Programs { evenings, .. } => {
            let mut files = Files::new();
            for evening in evenings {
                let pieces = programmed::played(&evening.program);
                let edits = programmed::edit(snapshot, evening.concert, &pieces).unwrap_or_default();
                recorded::add(&mut files, evening.concert.file as usize, edits);
            }
            some("Write these programs on the cards", files)
        }
        _ => None,
    };
    let mut answer = season::tell(snapshot, &found, season::players(snapshot, &found).as_ref());
    season::left_out(snapshot, &mut answer);
    Ok(Told {
        about: "All concerts to come".to_owned(),
        answer,
        write,
    })
}

/// The programs of several concerts; a piece rests `rests` years after it was performed, and meets the `conditions`.
pub fn of_season(
    snapshot: &Snapshot,
    concerts: &[EntryId],
    rests: u32,
    conditions: &[Condition],
    wish: &SeasonWish,
) -> Season {
    let bands: Vec<Vec<EntryId>> = concerts
        .iter()
        .map(|concert| crate::planning::choose::bands_of(snapshot, *concert))
        .collect();
    let wishes: Vec<Wish<'_>> = concerts
        .iter()
        .zip(&bands)
        .map(|(concert, bands)| Wish {
            concert: Some(*concert),
            rests,
            conditions: conditions.to_vec(),
            ..Wish::usual(bands)
        })
        .collect();
    together(snapshot, &wishes, wish)
}
