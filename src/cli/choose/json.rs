//! A choice for programs: one object. `outcome` is `program`, `clash` or `not found`; seconds and points are whole
//! numbers, money is in hundredths.

use std::io::{self, Write};

use serde::Serialize;

use crate::assist::programmed;
use crate::catalogue::Snapshot;
use crate::cli::report::lines;
use crate::planning::choose::{Choice, Outcome, Program};

#[derive(Serialize)]
struct ChoiceLine<'c> {
    about: &'static str,
    outcome: &'static str,
    asked: &'c [String],
    allowed: Option<u32>,
    pieces: Vec<PieceLine<'c>>,
    value: Option<i64>,
    bound: Option<i64>,
    proven: Option<bool>,
    music: Option<u32>,
    between: Option<u32>,
    buy: Option<BuyLine<'c>>,
    new_skills: &'c [String],
    given_up: Vec<GivenUpLine<'c>>,
    left_out: Vec<LeftOutLine<'c>>,
    next: Vec<NextLine<'c>>,
    not_preferred: &'c [String],
    clash: &'c [String],
    smallest: Option<bool>,
    ruled_out: Vec<RuledOutLine<'c>>,
    not_known: Vec<NotKnownLine<'c>>,
}

#[derive(Serialize)]
struct PieceLine<'c> {
    piece: &'c str,
    title: String,
    band: Option<&'c str>,
    kept: bool,
    seconds: Option<u32>,
    points: Vec<PointsLine<'c>>,
    not_known: &'c [String],
    misses: Vec<&'c str>,
    last_time: &'c [String],
}

#[derive(Serialize)]
struct LeftOutLine<'c> {
    piece: &'c str,
    /// How many points fewer the best program with it has; nothing where there is none with it.
    points: Option<i64>,
    instead_of: &'c [String],
}

#[derive(Serialize)]
struct NextLine<'c> {
    value: i64,
    proven: bool,
    comes: &'c [String],
    goes: &'c [String],
}

#[derive(Serialize)]
struct PointsLine<'c> {
    points: i64,
    because: &'c str,
}

#[derive(Serialize)]
struct BuyLine<'c> {
    hundredths: u64,
    postage: u64,
    offers: Vec<OfferLine<'c>>,
}

#[derive(Serialize)]
struct OfferLine<'c> {
    name: &'c str,
    bundle: bool,
    seller: &'c str,
    hundredths: u64,
}

#[derive(Serialize)]
struct GivenUpLine<'c> {
    how: &'c str,
    points: i64,
    pieces: &'c [String],
}

#[derive(Serialize)]
struct RuledOutLine<'c> {
    by: &'c str,
    pieces: Vec<[&'c str; 2]>,
}

#[derive(Serialize)]
struct NotKnownLine<'c> {
    piece: &'c str,
    missing: &'c [String],
}

/// Writes the object.
pub fn tell(snapshot: &Snapshot, choice: &Choice, out: &mut dyn Write) -> io::Result<()> {
    let program: Option<&Program> = match &choice.outcome {
        Outcome::Program(program) => Some(program),
        _ => None,
    };
    let pieces = program
        .into_iter()
        .flat_map(|program| &program.picks)
        .map(|pick| PieceLine {
            piece: &pick.name,
            title: programmed::title(snapshot, pick.id),
            band: pick
                .band
                .and_then(|id| snapshot.entry(id))
                .map(|band| band.name.as_str()),
            last_time: &pick.remembered,
            kept: pick.kept,
            seconds: pick.seconds,
            points: pick
                .points
                .iter()
                .map(|(points, because)| PointsLine {
                    points: *points,
                    because,
                })
                .collect(),
            not_known: &pick.unsure,
            misses: pick.misses.iter().map(|(demand, _)| demand.as_str()).collect(),
        });
    let buy = program
        .and_then(|program| program.purchase.as_ref())
        .map(|(offers, purchase)| BuyLine {
            hundredths: purchase.cents,
            postage: purchase.postage,
            offers: offers
                .iter()
                .map(|offer| OfferLine {
                    name: &offer.name,
                    bundle: offer.bundle,
                    seller: &offer.seller,
                    hundredths: offer.cents,
                })
                .collect(),
        });
    let given_up = program
        .into_iter()
        .flat_map(|program| &program.given_up)
        .map(|one| GivenUpLine {
            how: &one.how,
            points: one.points,
            pieces: &one.pieces,
        });
    let (clash, smallest): (&[String], Option<bool>) = match &choice.outcome {
        Outcome::Clash(demands, smallest) => (demands, Some(*smallest)),
        _ => (&[], None),
    };
    let line = ChoiceLine {
        about: "choice",
        outcome: match &choice.outcome {
            Outcome::Program(_) => "program",
            Outcome::Clash(..) => "clash",
            Outcome::NotFound => "not found",
        },
        asked: &choice.demands,
        allowed: choice.allowed,
        pieces: pieces.collect(),
        value: program.map(|program| program.value),
        bound: program.map(|program| program.bound),
        proven: program.map(|program| program.bound <= program.value),
        music: program.map(|program| program.music),
        between: program.map(|program| program.gaps),
        buy,
        new_skills: program.map_or(&[], |program| program.new_skills.as_slice()),
        given_up: given_up.collect(),
        left_out: program
            .into_iter()
            .flat_map(|program| &program.left_out)
            .map(|one| LeftOutLine {
                piece: &one.name,
                points: one.points,
                instead_of: &one.instead_of,
            })
            .collect(),
        next: program
            .into_iter()
            .flat_map(|program| &program.others)
            .map(|one| NextLine {
                value: one.value,
                proven: one.proven,
                comes: &one.comes,
                goes: &one.goes,
            })
            .collect(),
        not_preferred: program.map_or(&[], |program| program.not_preferred.as_slice()),
        clash,
        smallest,
        ruled_out: choice
            .ruled_out
            .iter()
            .map(|(by, pieces)| RuledOutLine {
                by,
                pieces: pieces
                    .iter()
                    .map(|(name, why)| [name.as_str(), why.as_str()])
                    .collect(),
            })
            .collect(),
        not_known: choice
            .apart
            .iter()
            .map(|(piece, missing)| NotKnownLine { piece, missing })
            .collect(),
    };
    lines::line(&line, out)
}
