//! A card a player for the folder: what he or she has in each piece of a concert. Four cards of A6 size on a sheet, to be
//! cut apart along the dashes.

use crate::catalogue::Snapshot;
use crate::planning::percussion::ConcertPlan;

use super::letters;
use super::paper::{Area, Face, Paper, Sheet, page};

/// What stands on one player's card.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PlayerCard {
    /// The seat or initials.
    pub name: String,
    /// The concert, and its day where that is known.
    pub concert: String,
    /// The pieces of the player's band, in the order of the program.
    pub pieces: Vec<CardPiece>,
    /// What is to be taken along and laid ready, a line each.
    pub notes: Vec<String>,
}

/// One piece on a card.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CardPiece {
    /// Its number in the program and its title.
    pub title: String,
    /// What the player has in it, a line each: `snare 1-40, snare sticks`; `free` where that is nothing.
    pub says: Vec<String>,
}

/// The edge that printers leave white, in points; common practice, no source.
const EDGE: f64 = 22.0;
/// The largest and the smallest type in points. The smallest is still read from a music stand (from memory).
const LARGEST: f64 = 13.0;
const SMALLEST: f64 = 9.0;
/// The height of a line, in parts of the type size.
const LEAD: f64 = 1.22;
/// How far what a player has stands in from the title, in points.
const IN: f64 = 12.0;
/// The height of a card's head.
const HEAD: f64 = 30.0;

/// The cards of everybody who is there.
pub fn of_concert(snapshot: &Snapshot, plan: &ConcertPlan) -> Vec<PlayerCard> {
    let entry = snapshot.entry(plan.concert);
    let name = entry.map_or("", |entry| entry.name.as_str());
    let on = entry.and_then(|entry| entry.concert()?.on.as_ref());
    let concert = match on {
        Some(on) => format!("{name}, {}", on.value),
        None => name.to_owned(),
    };
    let there = plan
        .players
        .iter()
        .enumerate()
        .filter(|(_, one)| !one.seat.absent);
    there
        .map(|(player, _)| PlayerCard {
            name: plan.name(snapshot, player),
            concert: concert.clone(),
            pieces: pieces(plan, player),
            notes: notes(snapshot, plan, player),
        })
        .collect()
}

fn pieces(plan: &ConcertPlan, player: usize) -> Vec<CardPiece> {
    let mine = plan
        .pieces
        .iter()
        .enumerate()
        .filter(|(_, piece)| piece.who.contains(&player));
    mine.map(|(at, piece)| {
        let duties = piece.duties.get(player).map_or(&[][..], Vec::as_slice);
        let mut says: Vec<String> = duties
            .iter()
            .map(|duty| {
                let movement = duty.movement.map(|number| format!("movement {number}"));
                let place = [
                    movement,
                    Some(duty.measures.clone()),
                    duty.sticks.clone(),
                    duty.page.clone(),
                ];
                let place: Vec<String> = place
                    .into_iter()
                    .flatten()
                    .filter(|words| !words.is_empty())
                    .collect();
                match place.is_empty() {
                    true => duty.name.clone(),
                    false => format!("{}  {}", duty.name, place.join(", ")),
                }
            })
            .collect();
        let ways = piece.ways.get(player).map_or(&[][..], Vec::as_slice);
        says.extend(ways.iter().filter_map(|way| {
            let (after, before) = (way.after?, way.before?);
            Some(format!("after {after} to the {}, ready at {before}", way.to))
        }));
        if says.is_empty() {
            says.push("free".to_owned());
        }
        CardPiece {
            title: format!("{}. {}", at + 1, piece.title),
            says,
        }
    })
    .collect()
}

fn notes(snapshot: &Snapshot, plan: &ConcertPlan, player: usize) -> Vec<String> {
    let mut bag: Vec<&str> = Vec::new();
    for duty in plan
        .pieces
        .iter()
        .filter_map(|piece| piece.duties.get(player))
        .flatten()
    {
        for sticks in &duty.bag {
            if !bag.contains(&sticks.as_str()) {
                bag.push(sticks);
            }
        }
    }
    let mut notes = Vec::new();
    if !bag.is_empty() {
        notes.push(format!("Stick bag: {}.", bag.join(", ")));
    }
    for gap in &plan.gaps {
        for pass in gap.passes.iter().filter(|pass| pass.from == player) {
            notes.push(format!(
                "Before {} lay the {} ready for {}.",
                gap.after + 2,
                pass.name,
                plan.name(snapshot, pass.to)
            ));
        }
    }
    notes
}

/// A line of a card as it is set.
struct Line {
    words: String,
    bold: bool,
    from_left: f64,
}

/// All lines of a card in a type so large.
fn lines(card: &PlayerCard, size: f64, wide: f64) -> Vec<Line> {
    let mut all = Vec::new();
    let mut add = |words: &str, bold: bool, from_left: f64| {
        for words in letters::lines(words, size, bold, wide - from_left) {
            all.push(Line {
                words,
                bold,
                from_left,
            });
        }
    };
    for piece in &card.pieces {
        add(&piece.title, true, 0.0);
        for says in &piece.says {
            add(says, false, IN);
        }
    }
    for note in &card.notes {
        add(note, false, 0.0);
    }
    all
}

/// Lays the cards out, four on a sheet; a card that does not hold everything goes on on the next.
pub fn sheets(cards: &[PlayerCard], paper: Paper) -> Vec<Sheet> {
    let (wide, high) = paper.size();
    let (each_wide, each_high) = (wide / 2.0, high / 2.0);
    let inside = Area::new(0.0, 0.0, each_wide, each_high).within(EDGE);
    let room = inside.high - HEAD;
    let mut filled: Vec<(String, String, f64, Vec<Line>)> = Vec::new();
    for card in cards {
        let fits = |size: f64| lines(card, size, inside.wide).len() as f64 * size * LEAD <= room;
        let mut size = LARGEST;
        while size > SMALLEST && !fits(size) {
            size -= 0.25;
        }
        let most = ((room / (size * LEAD)).floor() as usize).max(1);
        let mut left = lines(card, size, inside.wide);
        let mut more = "";
        loop {
            let rest = left.split_off(left.len().min(most));
            filled.push((format!("{}{more}", card.name), card.concert.clone(), size, left));
            if rest.is_empty() {
                break;
            }
            left = rest;
            more = ", continued";
        }
    }
    let mut all: Vec<Sheet> = Vec::new();
    for (at, (name, concert, size, lines)) in filled.iter().enumerate() {
        if at % 4 == 0 {
            let mut sheet = Sheet::new(paper);
            sheet.dashes((each_wide, 1.0), (each_wide, high - 1.0), 0.5);
            sheet.dashes((1.0, each_high), (wide - 1.0, each_high), 0.5);
            all.push(sheet);
        }
        let Some(sheet) = all.last_mut() else { continue };
        let x = inside.x + if at % 2 == 1 { each_wide } else { 0.0 };
        let y = inside.y + if at % 4 > 1 { each_high } else { 0.0 };
        let drawn = sheet.words(x, y + 16.0, Face::bold(20.0), name, inside.wide * 0.5);
        sheet.words_before(
            x + inside.wide,
            y + 16.0,
            Face::plain(9.5),
            concert,
            inside.wide - drawn - 10.0,
        );
        sheet.rule((x, y + 22.0), (x + inside.wide, y + 22.0), 1.0);
        let mut below = y + HEAD;
        for line in lines {
            let face = if line.bold {
                Face::bold(*size)
            } else {
                Face::plain(*size)
            };
            sheet.words(
                x + line.from_left,
                below + size * 0.9,
                face,
                &line.words,
                inside.wide - line.from_left,
            );
            below += size * LEAD;
        }
    }
    all
}

/// The whole page.
pub fn html(title: &str, cards: &[PlayerCard], paper: Paper) -> String {
    page(title, paper, &sheets(cards, paper))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::checked;

    fn card(at: usize, pieces: usize, long: bool) -> PlayerCard {
        let words = if long {
            "suspended cymbal and wood block on a stand of its own  "
        } else {
            "snare  "
        };
        PlayerCard {
            name: format!("P{at}"),
            concert: "An evening of some length, 2026-12-10".to_owned(),
            pieces: (1..=pieces)
                .map(|number| CardPiece {
                    title: format!("{number}. A title that goes on for a while"),
                    says: vec![format!("{words}1-40, 60-88, snare sticks"), "free".to_owned()],
                })
                .collect(),
            notes: vec!["Stick bag: snare sticks.".to_owned()],
        }
    }

    #[test]
    fn no_words_meet_and_everything_is_there() {
        for (cards, pieces, long) in [
            (0, 0, false),
            (1, 1, false),
            (3, 5, true),
            (7, 12, true),
            (2, 60, true),
        ] {
            let all: Vec<PlayerCard> = (0..cards).map(|at| card(at, pieces, long)).collect();
            for paper in [Paper::Letter, Paper::A4, Paper::A3] {
                let sheets = sheets(&all, paper);
                let (wide, high) = (paper.size().0 / 2.0, paper.size().1 / 2.0);
                let places = [(0.0, 0.0), (wide, 0.0), (0.0, high), (wide, high)];
                let places = places.map(|(x, y)| Area::new(x, y, wide, high).within(EDGE / 2.0));
                let mut titles = 0;
                for sheet in &sheets {
                    assert_eq!(checked::misplaced(sheet, &places), Vec::<String>::new());
                    let words = checked::words(sheet);
                    titles += words
                        .iter()
                        .filter(|(_, words)| words.contains("A title that"))
                        .count();
                }
                assert_eq!(titles, cards * pieces, "{cards} cards of {pieces} pieces");
            }
            assert_eq!(
                checked::faults(&html("Cards", &all, Paper::Letter)),
                Vec::<String>::new()
            );
        }
    }
}
