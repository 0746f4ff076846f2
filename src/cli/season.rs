//! `levare season`: several concerts built together.

use std::io::{self, Write};

use serde::Serialize;

use super::args::{PlainForm, Season as Asked};
use super::assign::meant;
use super::color::Paint;
use super::find::open_room;
use super::report::lines;
use super::say::tell;
use super::{Status, complain, written};
use crate::assist::answers::{of_season, season as told};
use crate::assist::{programmed, recorded};
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;
use crate::notation::values::Money;
use crate::planning::choose::season::{Alone, Because, Others, Season, SeasonWish};
use crate::planning::percussion::YearPlayer;
use crate::text::Edit;
use crate::text::sentences::joined;

/// Runs the command.
pub fn run(asked: &Asked, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let Some(room) = open_room(&asked.at) else {
        return Ok(Status::CouldNot);
    };
    let snapshot = &room.snapshot;
    let found = concerts(snapshot, &asked.name).and_then(|concerts| Ok((concerts, wish(asked)?)));
    let (concerts, wish) = match found {
        Ok(found) => found,
        Err(words) => {
            complain(&words);
            return Ok(Status::CouldNot);
        }
    };
    let found = of_season(snapshot, &concerts, asked.rest, &[], &wish);
    let players = told::players(snapshot, &found);
    match asked.form {
        PlainForm::Table => {
            let mut answer = told::tell(snapshot, &found, players.as_ref());
            if asked.name.is_empty() {
                told::left_out(snapshot, &mut answer);
            }
            tell(&answer, paint, out)?;
        }
        PlainForm::Json => json(
            snapshot,
            &found,
            players.iter().flat_map(|(players, _)| players),
            out,
        )?,
    }
    let Others::Programs { evenings, .. } = &found.others else {
        return Ok(Status::Found);
    };
    let ended = match found.alone.is_empty() {
        true => Status::Nothing,
        false => Status::Found,
    };
    if !asked.write || evenings.is_empty() {
        return Ok(ended);
    }
    let mut files: Vec<(usize, Vec<Edit>)> = Vec::new();
    for evening in evenings {
        let pieces = programmed::played(&evening.program);
        match programmed::edit(snapshot, evening.concert, &pieces) {
            Ok(edits) if edits.is_empty() => {}
            Ok(edits) => recorded::add(&mut files, evening.concert.file as usize, edits),
            Err(why) => {
                let name = name(snapshot, evening.concert);
                complain(&format!("Nothing was written. \"{name}\": {}", why.says()));
                return Ok(Status::CouldNot);
            }
        }
    }
    if files.is_empty() {
        complain("The programs are on the cards already.");
        return Ok(ended);
    }
    Ok(match written::all(&room, &files) {
        Ok(names) => {
            let names: Vec<String> = names.iter().map(|name| format!("\"{name}\"")).collect();
            complain(&format!("The programs were written into {}.", joined(&names)));
            ended
        }
        Err(words) => {
            complain(&words);
            Status::CouldNot
        }
    })
}

fn name(snapshot: &Snapshot, id: EntryId) -> String {
    snapshot
        .entry(id)
        .map_or_else(String::new, |entry| entry.name.clone())
}

/// The concerts, in the order of their days.
fn concerts(snapshot: &Snapshot, names: &[String]) -> Result<Vec<EntryId>, String> {
    let mut found = Vec::new();
    for said in names {
        let bare = meant::bare(said);
        let id = snapshot.names().of(Kind::Concert, bare).next();
        let id = id.ok_or_else(|| {
            let perhaps = meant::perhaps(snapshot, &[Kind::Concert], bare);
            format!("There is no concert called \"{bare}\" here.{perhaps} Each name stands in quotation marks of its own.")
        })?;
        found.push(id);
    }
    told::concerts(snapshot, &found)
}

fn wish(asked: &Asked) -> Result<SeasonWish, String> {
    let money = |said: &Option<String>, what: &str| match said {
        None => Ok(None),
        Some(words) => Money::read(words).map(Some).ok_or_else(|| {
            format!("\"{words}\" is not a sum of money. Type --{what} \"120 USD\" or --{what} '$120'.")
        }),
    };
    let (budget, postage) = (money(&asked.budget, "budget")?, money(&asked.postage, "postage")?);
    if let (Some(budget), Some(postage)) = (&budget, &postage)
        && budget.currency != postage.currency
    {
        return Err(format!(
            "The budget is in {} and the postage in {}. Levare does not exchange money: give both in one.",
            budget.currency, postage.currency
        ));
    }
    Ok(SeasonWish {
        new_skills: asked.new_skills,
        budget,
        postage: postage.map(|money| money.high),
    })
}

#[derive(Serialize)]
struct SeasonLine {
    about: &'static str,
    outcome: &'static str,
    because: Option<&'static str>,
    concerts: Vec<EveningLine>,
    /// The concerts that have no program by themselves, each with the demands that clash.
    impossible: Vec<(String, Vec<String>)>,
    value: Option<i64>,
    bound: Option<i64>,
    hundredths: Option<u64>,
    buy: Vec<String>,
    percussion: Vec<PlayerLine>,
}

#[derive(Serialize)]
struct PlayerLine {
    band: String,
    seat: String,
    /// For each concert that the player plays in, each instrument with the number of its pieces.
    concerts: Vec<(String, Vec<(String, usize)>)>,
    /// Tenths of a second; nothing where that is not known.
    plays: Option<i64>,
}

#[derive(Serialize)]
struct EveningLine {
    concert: String,
    pieces: Vec<String>,
    seconds: u32,
    new_skills: Vec<String>,
    not_known: Vec<(String, Vec<String>)>,
}

/// A concert without a program.
fn nothing(concert: String) -> EveningLine {
    EveningLine {
        concert,
        pieces: Vec::new(),
        seconds: 0,
        new_skills: Vec::new(),
        not_known: Vec::new(),
    }
}

/// One object: money in hundredths, `outcome` is `programs`, `none by itself`, `none together` or `not found`.
fn json<'p>(
    snapshot: &Snapshot,
    found: &Season,
    players: impl Iterator<Item = &'p YearPlayer>,
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut line = SeasonLine {
        about: "season",
        outcome: "programs",
        because: None,
        concerts: Vec::new(),
        impossible: found
            .alone
            .iter()
            .map(|Alone { concert, clash }| {
                let demands = clash.clone().map_or(Vec::new(), |(demands, _)| demands);
                (name(snapshot, *concert), demands)
            })
            .collect(),
        value: None,
        bound: None,
        hundredths: None,
        buy: Vec::new(),
        percussion: players
            .map(|player| PlayerLine {
                band: name(snapshot, player.band),
                seat: player.seat.clone(),
                concerts: player
                    .had
                    .iter()
                    .filter(|(_, had)| !had.is_empty())
                    .map(|(concert, had)| (name(snapshot, *concert), had.clone()))
                    .collect(),
                plays: player.plays,
            })
            .collect(),
    };
    match &found.others {
        Others::Programs { evenings, .. } if evenings.is_empty() => line.outcome = "none by itself",
        Others::Programs {
            evenings,
            value,
            bound,
            purchase,
        } => {
            line.concerts = evenings
                .iter()
                .map(|evening| EveningLine {
                    concert: name(snapshot, evening.concert),
                    pieces: evening
                        .program
                        .picks
                        .iter()
                        .map(|pick| pick.name.clone())
                        .collect(),
                    seconds: evening.program.music.saturating_add(evening.program.gaps),
                    new_skills: evening.program.new_skills.clone(),
                    not_known: {
                        let unsure = evening
                            .program
                            .picks
                            .iter()
                            .filter(|pick| !pick.unsure.is_empty());
                        unsure
                            .map(|pick| (pick.name.clone(), pick.unsure.clone()))
                            .collect()
                    },
                })
                .collect();
            (line.value, line.bound) = (Some(*value), Some(*bound));
            line.hundredths = purchase.as_ref().map(|(_, purchase)| purchase.cents);
            let offers = purchase.iter().flat_map(|(offers, _)| offers);
            line.buy = offers.map(|offer| offer.name.clone()).collect();
        }
        Others::Clash(clash, because) => {
            line.because = Some(match because {
                Because::Pieces => "too few pieces",
                Because::Money => "budget",
                Because::Skills => "new skills",
                Because::Several => "budget and new skills",
            });
            line.outcome = "none together";
            line.concerts = clash.iter().map(|id| nothing(name(snapshot, *id))).collect();
        }
        Others::NotFound => line.outcome = "not found",
    }
    lines::line(&line, out)
}
