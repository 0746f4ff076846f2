//! How long each question about a piece's percussion takes, in milliseconds.
//!
//! `assign_times FILE...`, each file a catalogue by itself. For every piece in it a line with its name, then, parted by
//! tabs: the time to read the cards into a snapshot, to put the question together, and to answer: all parts, handing
//! over, of this roster, of this roster handing over; then for all that stands beside the card in an editor (cards read,
//! question put together, the count of all parts and who plays what) and whether that was proven, 1 or 0; then the same
//! two for every count there is, parts handed over. Each time is the least of three runs.

use std::io::{self, Write as _};
use std::sync::Arc;
use std::time::Instant;

use levare::catalogue::{CardFile, EntryId, Snapshot};
use levare::planning::assign::{Fewest, Limits, fewest};
use levare::planning::percussion::{Answer, Brief, Setting, answer, brief};

/// The least time of three runs, in milliseconds.
fn least(mut work: impl FnMut()) -> f64 {
    let mut best = f64::INFINITY;
    for _ in 0..3 {
        let start = Instant::now();
        work();
        best = best.min(start.elapsed().as_secs_f64() * 1e3);
    }
    best
}

fn snapshot(text: &str) -> Snapshot {
    let file = Arc::new(CardFile::read("cards.levare", text));
    Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20))
}

/// From the text of the cards to all that is told beside them while somebody types.
fn beside(text: &str, id: EntryId) -> Option<Brief> {
    let cards = snapshot(text);
    let question = Setting::of_piece(&cards, id, None).question(&cards)?;
    Some(brief(
        &question,
        cards.instruments(),
        Limits::WHILE_SOMEBODY_TYPES,
    ))
}

/// The same with every count, and parts that may be handed over.
fn whole(text: &str, id: EntryId) -> Option<Answer> {
    let cards = snapshot(text);
    let question = Setting::of_piece(&cards, id, None).question(&cards)?;
    let limits = Limits::WHILE_SOMEBODY_TYPES;
    Some(answer(&question, cards.instruments(), true, limits))
}

fn proven(answer: &Answer) -> bool {
    let counts = [&answer.all, &answer.without_spares, &answer.handing_over];
    let of_these = [&answer.of_these, &answer.of_these_handing_over];
    counts.iter().all(|count| count.proven)
        && of_these.into_iter().flatten().all(|count| count.proven)
        && answer.sharing.as_ref().is_none_or(|sharing| sharing.proven)
}

fn main() -> io::Result<()> {
    let mut out = io::stdout().lock();
    for path in std::env::args_os().skip(1) {
        let text = std::fs::read_to_string(&path)?;
        let cards = snapshot(&text);
        let read = least(|| drop(snapshot(&text)));
        for (id, entry) in cards.entries().filter(|(_, entry)| entry.piece().is_some()) {
            let setting = Setting::of_piece(&cards, id, None);
            let Some(question) = setting.question(&cards) else {
                continue;
            };
            let asked = least(|| drop(setting.question(&cards)));
            let players = question.knows_players.then_some(question.players.as_slice());
            write!(out, "{}\t{read:.4}\t{asked:.4}", entry.name)?;
            for (hand_over, players) in [(false, None), (true, None), (false, players), (true, players)] {
                let ask = Fewest {
                    hand_over,
                    players,
                    without_spares: false,
                };
                let took = least(|| drop(fewest(&question.music, ask, Limits::USUAL)));
                write!(out, "\t{took:.4}")?;
            }
            let took = least(|| drop(beside(&text, id)));
            let of_beside = beside(&text, id)
                .is_some_and(|found| found.all.proven && found.sharing.is_none_or(|sharing| sharing.proven));
            write!(out, "\t{took:.4}\t{}", u8::from(of_beside))?;
            let took = least(|| drop(whole(&text, id)));
            let of_whole = whole(&text, id).is_some_and(|found| proven(&found));
            write!(out, "\t{took:.4}\t{}", u8::from(of_whole))?;
            writeln!(out)?;
        }
    }
    Ok(())
}
