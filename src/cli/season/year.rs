//! Who has which percussion instruments over a season.

use std::io::{self, Write};

use crate::catalogue::{EntryId, Snapshot};
use crate::cli::color::Paint;
use crate::cli::say::{item, say};
use crate::cli::wrap;
use crate::planning::assign::Limits;
use crate::planning::choose::season::Evening;
use crate::planning::percussion::{YearPiece, YearPlayer, year};

/// Far more steps for a piece than a school band needs.
const LIMITS: Limits<'static> = Limits {
    steps: 1_000_000,
    stop: &|| false,
};

/// Who has what, by the programs of a season; and whether all trades were looked at.
pub(super) fn of(
    snapshot: &Snapshot,
    evenings: &[Evening],
    bands: &[Vec<EntryId>],
) -> (Vec<YearPlayer>, bool) {
    let pieces: Vec<YearPiece> = evenings
        .iter()
        .zip(bands)
        .flat_map(|(evening, bands)| {
            evening.program.picks.iter().map(|pick| YearPiece {
                concert: evening.concert,
                piece: pick.id,
                title: pick.name.clone(),
                movements: pick.movements.clone(),
                bands: pick.band.map_or_else(|| bands.clone(), |band| vec![band]),
            })
        })
        .collect();
    year(snapshot, &pieces, LIMITS)
}

/// Tells it, band by band; nothing where no percussion is known.
pub(super) fn tell(
    snapshot: &Snapshot,
    players: &[YearPlayer],
    in_full: bool,
    paint: Paint,
    out: &mut dyn Write,
) -> io::Result<()> {
    let plays = |player: &YearPlayer| player.had.iter().any(|(_, had)| !had.is_empty());
    if !players.iter().any(plays) {
        return Ok(());
    }
    writeln!(out, "{}", paint.bold("Percussion over all of them"))?;
    let name = |id: EntryId| snapshot.entry(id).map_or("", |entry| entry.name.as_str());
    for band in players.chunk_by(|one, other| one.band == other.band) {
        if let Some(first) = band.first() {
            writeln!(out, "{}", wrap::plain(name(first.band)))?;
        }
        for player in band {
            let mut said: Vec<String> = Vec::new();
            for (concert, had) in player.had.iter().filter(|(_, had)| !had.is_empty()) {
                let all: Vec<String> = had
                    .iter()
                    .map(|(name, count)| match count {
                        1 => name.clone(),
                        count => format!("{name} in {count} pieces"),
                    })
                    .collect();
                said.push(format!("\"{}\": {}", name(*concert), all.join(", ")));
            }
            let said = match said.is_empty() {
                true => "nothing".to_owned(),
                false => said.join("; "),
            };
            let minutes = match player.plays {
                Some(tenths) if tenths > 0 => format!(" ({} min in all)", (tenths + 300) / 600),
                _ => String::new(),
            };
            item(&format!("{}  {said}{minutes}", player.seat), out)?;
        }
    }
    let traded = match in_full {
        true => {
            "Players trade whole sets of parts as long as that shares the playing more fairly, or spares somebody the same instrument again."
        }
        false => "There were too many trades to look at all of them.",
    };
    say(
        &format!(
            "{traded} \"levare assign\" shares out each concert by itself; to keep it this way, write who plays what beside the titles."
        ),
        out,
    )
}
