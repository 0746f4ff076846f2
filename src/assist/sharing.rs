//! Who plays the percussion of a piece or a concert, as an editor shows it beside the card.

use crate::catalogue::{EntryId, Snapshot};
use crate::planning::assign::Limits;
use crate::planning::percussion::{
    Brief, PieceAssigned, Question, Sharing, Wishes, fewest_of, settings, words,
};
use crate::text::Span;
use crate::text::sentences::joined;

/// Words that belong beside a row of the percussion table.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Beside {
    /// The row's names, in bytes from the start of the card.
    pub span: Span,
    /// Who plays it: `P1`, `P1 and P4`, `left out`.
    pub who: String,
    /// The same with the measures and the next move, a line a player, in Markdown.
    pub says: String,
}

/// A piece shared out.
#[derive(Debug)]
pub struct Shared {
    question: Question,
    answer: Brief,
}

impl Shared {
    /// A piece as it is played in the next concert that lists it, else by itself; none where no percussion part
    /// stands on its card.
    pub fn of_piece(snapshot: &Snapshot, piece: EntryId) -> Option<Shared> {
        let one = PieceAssigned::of(snapshot, piece, Wishes::default(), Limits::USUAL)?;
        let answer = one.brief(snapshot.instruments(), Limits::WHILE_SOMEBODY_TYPES);
        let question = one.question;
        (!question.parts.is_empty()).then_some(Shared { question, answer })
    }

    /// `needs 4 of your 6 percussionists; bells may be left out`.
    pub fn in_short(&self) -> String {
        let mut told = count(&self.question, self.answer.all.players);
        let left: Vec<String> = match &self.answer.sharing {
            Some(sharing) => sharing.left.iter().map(|left| self.part(left.part)).collect(),
            None => Vec::new(),
        };
        if !left.is_empty() {
            return format!("{told}; {} left out", joined(&left));
        }
        let spare: Vec<String> = self
            .question
            .parts
            .iter()
            .filter(|part| part.spare.is_some())
            .map(|part| part.name.clone())
            .collect();
        if !spare.is_empty() {
            told.push_str(&format!("; {} may be left out", joined(&spare)));
        }
        told
    }

    fn part(&self, at: usize) -> String {
        words::part(&self.question, at)
    }

    /// What stands beside each row of the percussion table, in the order of the card; nothing where no card
    /// says who there is.
    pub fn rows(&self) -> Vec<Beside> {
        let Some(sharing) = &self.answer.sharing else {
            return Vec::new();
        };
        let mut rows: Vec<Beside> = Vec::new();
        for (at, part) in self.question.parts.iter().enumerate() {
            let who: Vec<String> = self.players(sharing, at).collect();
            if who.is_empty() && sharing.instead.contains(&at) {
                continue;
            }
            let says = match who.is_empty() {
                true => format!("Nobody plays {}: it is left out.", part.name),
                false => self.says(sharing, at),
            };
            match rows.iter_mut().find(|row| row.span == part.name_span) {
                // Several players have a row of several instruments, or of one that stands there twice.
                Some(row) => {
                    if !who.is_empty() {
                        row.who = format!("{}, {}", row.who, joined(&who));
                    }
                    row.says.push_str(&format!("  \n{says}"));
                }
                None => rows.push(Beside {
                    span: part.name_span,
                    who: match who.is_empty() {
                        true => "left out".to_owned(),
                        false => joined(&who),
                    },
                    says,
                }),
            }
        }
        rows
    }

    /// The seats of those who have something of a part.
    fn players<'a>(&'a self, sharing: &'a Sharing, at: usize) -> impl Iterator<Item = String> + 'a {
        let seats = self.question.seats.iter().zip(&sharing.turns);
        seats
            .filter(move |(_, turns)| turns.iter().any(|turn| turn.part == at))
            .map(|(seat, _)| seat.name.clone())
    }

    fn says(&self, sharing: &Sharing, at: usize) -> String {
        let mut lines = Vec::new();
        for (who, (seat, turns)) in self.question.seats.iter().zip(&sharing.turns).enumerate() {
            for turn in turns.iter().filter(|turn| turn.part == at) {
                let measures = words::measures(&self.question, turn);
                let when = if measures.is_empty() {
                    String::new()
                } else {
                    format!(", {measures}")
                };
                let mut line = format!("**{}** plays {}{when}", seat.name, self.part(at));
                let mut ways = sharing
                    .moves
                    .iter()
                    .filter(|way| way.player == who && way.from == at);
                if let Some(way) = ways.next() {
                    line.push_str(&format!(", then goes {}", words::way(&self.question, way)));
                }
                lines.push(line + ".");
            }
        }
        lines.join("  \n")
    }
}

/// `needs 4 of your 6 percussionists`.
fn count(question: &Question, all: Option<usize>) -> String {
    let there = question.seats.iter().filter(|seat| !seat.absent).count();
    let coarse = match question.clock.coarse.is_some() || question.all_at_once {
        true => "about ",
        false => "",
    };
    match (all, question.knows_players) {
        (Some(all), true) if all > there => {
            format!("needs {coarse}{}, you have {there}", percussionists(all))
        }
        (Some(2), true) if there == 2 && coarse.is_empty() => "needs both of your percussionists".to_owned(),
        (Some(all), true) if all == there && all > 1 => {
            format!("needs {coarse}all {there} of your percussionists")
        }
        (Some(all), true) => format!("needs {coarse}{all} of your {}", percussionists(there)),
        (Some(all), false) => format!("needs {coarse}{}", percussionists(all)),
        (None, _) => "percussion not counted".to_owned(),
    }
}

/// What the piece that takes the most players needs: `most in "Harbor Parade": needs 5 of your 6
/// percussionists`; none where no piece of it has percussion, or the concert is over.
pub fn of_concert(snapshot: &Snapshot, concert: EntryId) -> Option<String> {
    let mut most: Option<(usize, String)> = None;
    for (title, setting) in settings(snapshot, concert) {
        let Some(question) = setting.question(snapshot).filter(|one| !one.parts.is_empty()) else {
            continue;
        };
        let all = fewest_of(&question, Limits::WHILE_SOMEBODY_TYPES).players;
        let players = all.unwrap_or(0);
        if most.as_ref().is_none_or(|(known, _)| *known < players) {
            most = Some((players, format!("most in \"{title}\": {}", count(&question, all))));
        }
    }
    most.map(|(_, told)| told)
}

fn percussionists(count: usize) -> String {
    match count {
        1 => "1 percussionist".to_owned(),
        count => format!("{count} percussionists"),
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::assist::lens;
    use crate::catalogue::CardFile;

    const PIECE: &str = "piece \"Drum Hill\"
  meter           4/4
  tempo           quarter = 120
  measures        60
  percussion
    bells           5-12, same as flute 1
    snare           1-40
    bass drum       20-40
    timpani         50-60
";

    fn shared(band: &str, piece: &str) -> (Shared, String) {
        let text = format!("{band}\n{piece}");
        let file = Arc::new(CardFile::read("cards.levare", &text));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let (id, entry) = snapshot
            .entries()
            .find(|(_, entry)| entry.piece().is_some())
            .expect("a piece");
        let card = entry.text.to_string();
        (Shared::of_piece(&snapshot, id).expect("percussion"), card)
    }

    #[test]
    fn in_short() {
        for (band, cut, told) in [
            (
                "ensemble \"Band\"\n  percussionists  4\n",
                "",
                "needs 2 of your 4 percussionists; bells may be left out",
            ),
            (
                "ensemble \"Band\"\n  percussionists  1\n",
                "",
                "needs 2 percussionists, you have 1; snare left out",
            ),
            ("", "", "needs 2 percussionists; bells may be left out"),
            (
                "ensemble \"Band\"\n  percussionists  4\n",
                "  tempo           quarter = 120\n",
                "needs about 2 of your 4 percussionists; bells may be left out",
            ),
        ] {
            let (shared, _) = shared(band, &PIECE.replace(cut, ""));
            assert_eq!(shared.in_short(), told, "{band}{cut}");
        }
    }

    /// Who plays a piece rests on what else is played in its concert, so an editor asks anew when that changes.
    #[test]
    fn what_a_piece_rests_on() {
        let piece = |title: &str| format!("{}\n", PIECE.replace("Drum Hill", title));
        let concert = "concert \"Evening\"\n  program\n    \"Drum Hill\"\n    \"Weir\"\n";
        let cards = format!(
            "{}{}{}{concert}",
            piece("Drum Hill"),
            piece("Weir"),
            piece("Rill")
        );
        let rests = |text: &str| {
            let file = Arc::new(CardFile::read("cards.levare", text));
            let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
            lens::rests_on(&snapshot, EntryId { file: 0, entry: 0 })
        };
        let edited = |title: &str| {
            let longer = piece(title).replace("50-60", "50-58");
            rests(&cards.replace(&piece(title), &longer))
        };
        assert_ne!(edited("Weir"), rests(&cards));
        assert_eq!(edited("Rill"), rests(&cards));
    }

    #[test]
    fn beside_the_rows() {
        let (shared, card) = shared("ensemble \"Band\"\n  percussionists\n    P1\n    P2\n", PIECE);
        let rows: Vec<String> = shared
            .rows()
            .iter()
            .map(|row| format!("{}: {}: {}", row.span.slice(&card), row.who, row.says))
            .collect();
        assert_eq!(
            rows,
            [
                "bells: P2: **P2** plays bells, 5-12, then goes after 12 to bass drum: 7 measures, 14 s there, 3 s needed.",
                "snare: P1: **P1** plays snare, 1-40.",
                "bass drum: P2: **P2** plays bass drum, 20-40, then goes after 40 to timpani: 9 measures, 18 s there, 8 s needed.",
                "timpani: P2: **P2** plays timpani, 50-60.",
            ]
        );
    }
}
